#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Lamps and small outcome signs as widgets and table cells. Painting itself is in forms/signs.

#include "app/support/table_view.h"
#include "core/scoring/scorecard.h"
#include "forms/signs/signs.h"

#include <QMetaType>
#include <QWidget>

#include <vector>

namespace markerlamp::app {

/// Small sign of one outcome: satisfied solid ink, partial half, prompted solid with a cut corner, wrong
/// crossed, omitted barred, not observed hatched, not reached dotted. In ink: it is neither shown nor said.
void paintOutcome(QPainter& painter, const QRectF& square, core::StepOutcome outcome,
                  const forms::Roles& roles, double scale = 1);

/// Lamp and capsule of a step in small type; `square` is the lamp's place.
void paintSign(QPainter& painter, const QRectF& square, const forms::SignState& sign,
               const forms::Roles& roles, double scale = 1);

/// Line of a chart's grid: quiet under every palette (Sun has no light tone, so it is dotted there).
void paintGridLine(QPainter& painter, const QLineF& line, const Theme& theme);

class SignWidget final : public QWidget {
    Q_OBJECT

public:
    /// words: the same for assistive technology.
    SignWidget(const Theme& theme, forms::SignState sign, const QString& words, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    forms::SignState m_sign;
};

/// The last outcomes of a step, newest at the right.
class RecentWidget final : public QWidget {
    Q_OBJECT

public:
    RecentWidget(const Theme& theme, std::vector<core::StepOutcome> outcomes, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    std::vector<core::StepOutcome> m_outcomes;
};

/// Ink square of a must-pass fact.
class GateWidget final : public QWidget {
    Q_OBJECT

public:
    GateWidget(const Theme& theme, forms::LampState state, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    forms::LampState m_state;
};

/// Paints a forms::SignState payload.
class SignDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;

protected:
    void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const override;
};

/// A part of the page on panel ground: one on each page.
class Panel final : public QWidget {
    Q_OBJECT

public:
    explicit Panel(const Theme& theme, QWidget* parent = nullptr);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
};

}  // namespace markerlamp::app

Q_DECLARE_METATYPE(markerlamp::forms::SignState)
