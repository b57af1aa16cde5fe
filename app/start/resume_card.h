#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The card of an attempt that was not ended: what there is, and the three ways to go on.

#include "app/start/start_data.h"
#include "app/support/text_widgets.h"

#include <QWidget>

class QBoxLayout;

namespace markerlamp::app {

class FitText;

class ResumeCard final : public QWidget {
    Q_OBJECT

public:
    explicit ResumeCard(const Theme& theme, QWidget* parent = nullptr);

    /// Shows the newest one first; hides itself when there is none.
    void setAttempts(const StartForm& form);
    [[nodiscard]] bool isEmpty() const { return m_ids.isEmpty(); }
    [[nodiscard]] KeyButton* resumeButton() const { return m_resume; }
    /// Buttons below the words instead of beside them.
    void setNarrow(bool narrow);

signals:
    void resumeRequested(QString attemptId);
    void finishRequested(QString attemptId);
    void setAsideRequested(QString attemptId);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    void showAt(qsizetype index);

    const Theme& m_theme;
    QStringList m_ids;
    QStringList m_words;
    QStringList m_whys;
    qsizetype m_index = 0;
    QBoxLayout* m_row;
    Text* m_why;
    FitText* m_what;
    QPushButton* m_next;
    KeyButton* m_resume;
    KeyButton* m_finish;
    KeyButton* m_aside;
};

}  // namespace markerlamp::app
