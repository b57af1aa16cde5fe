#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The readiness of one trainee as a card: the word with its shape, the sentence, the number line; the gates,
// shut ones first and bold; what holds back as links to the marks; what would change the word. Never a bare
// number.

#include "app/readiness/readiness_desk.h"
#include "app/support/text_widgets.h"

#include <QWidget>

class QHBoxLayout;
class QProgressBar;
class QScrollArea;
class QVBoxLayout;

namespace markerlamp::app {

/// The shape beside the word.
class ReadinessShape final : public QWidget {
    Q_OBJECT

public:
    ReadinessShape(const Theme& theme, core::ReadinessWord word, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    core::ReadinessWord m_word;
};

/// Number line of 0 to 10 with the 90 % interval; empty where there is too little data.
class OfTenLine final : public QWidget {
    Q_OBJECT

public:
    OfTenLine(const Theme& theme, const core::Forecast& forecast, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    bool m_known;
    double m_chance, m_low, m_high;
};

class ReadinessCard final : public QWidget {
    Q_OBJECT

public:
    /// How many columns of design pixels there are for it; the content scrolls where it needs more height.
    enum class Width { Wide, Narrow };

    ReadinessCard(const Theme& theme, ReadinessDesk& desk, Width width, QWidget* parent = nullptr);

    /// Whose card it is; asks the desk. Empty: nobody's.
    void showTrainee(const QString& key);
    [[nodiscard]] QString trainee() const { return m_trainee; }
    /// Where the figures stand in time, or what they wait for; for the head over the card.
    [[nodiscard]] QString remark() const;
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

signals:
    /// A link: these marks say so. step empty: none in particular.
    void marksRequested(QString attempt, QString step);
    /// The card shows something else; see remark().
    void filled();

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    void fill();
    void fillWaiting(const ReadinessStanding& standing);
    void fillKnown(const ReadinessStanding& standing);
    void addWord(QVBoxLayout* column, const core::Readiness& readiness);
    void addGates(QVBoxLayout* column, const core::Readiness& readiness);
    void addGate(QVBoxLayout* column, const core::Gate& gate);
    void addHolding(QVBoxLayout* column, const core::Readiness& readiness);
    QPushButton* addLinkRow(QVBoxLayout* column, const QString& words, const QString& figure);
    Text* addText(QVBoxLayout* column, const QString& words, bool bold = false, bool muted = false);
    [[nodiscard]] QString stepOf(const core::Holding& holding, const QString& attempt) const;

    const Theme& m_theme;
    ReadinessDesk& m_desk;
    Width m_width;
    QString m_trainee;
    QScrollArea* m_scroll;
    QVBoxLayout* m_content;
    QProgressBar* m_bar = nullptr;
};

}  // namespace markerlamp::app
