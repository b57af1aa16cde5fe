#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of the debrief: result strip, "say next time", plan, order picture, and the page for the
// trainee's own eyes.

#include "app/debrief/debrief_presenter.h"
#include "app/support/text_widgets.h"

#include <QWidget>

class QGridLayout;
class QHBoxLayout;
class QVBoxLayout;

namespace markerlamp::app {

class ResultStrip final : public QWidget {
    Q_OBJECT

public:
    explicit ResultStrip(const Theme& theme, QWidget* parent = nullptr);
    void setDebrief(const Debrief& debrief);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    QHBoxLayout* m_row;
};

/// Ranks 1 to 5.
class SayNextList final : public QWidget {
    Q_OBJECT

public:
    explicit SayNextList(const Theme& theme, QWidget* parent = nullptr);
    void setDebrief(const Debrief& debrief);
    /// A bar beside the row of this step; empty, or not among them: none.
    void mark(const QString& step);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QWidget* makeRow(const MissedLine& line);

    const Theme& m_theme;
    QVBoxLayout* m_rows;
    QString m_marked;
};

/// The bus from above, its nose at the left: satisfied of observed in each zone.
class PlanView final : public QWidget {
    Q_OBJECT

public:
    explicit PlanView(const Theme& theme, QWidget* parent = nullptr);
    void setDebrief(const Debrief& debrief);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    void paintCell(QPainter& painter, const QRectF& cell, const PlanFact& fact) const;

    const Theme& m_theme;
    std::vector<PlanFact> m_plan;
    int m_rows = 3;
};

class OrderView final : public QWidget {
    Q_OBJECT

public:
    explicit OrderView(const Theme& theme, QWidget* parent = nullptr);
    void setDebrief(const Debrief& debrief);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    OrderPicture m_picture;
};

/// For the trainee's eyes: large type, no other names, no private notes, no number that forecasts.
class TraineeView final : public QWidget {
    Q_OBJECT

public:
    explicit TraineeView(const Theme& theme, QWidget* parent = nullptr);
    void setDebrief(const Debrief& debrief);

private:
    const Theme& m_theme;
    QVBoxLayout* m_column;
};

}  // namespace markerlamp::app
