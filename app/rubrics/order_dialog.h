#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One order rule: steps and zones one after the other, or all of these before all of those. Says at once
// whether the rules now go in a circle.

#include "app/rubrics/draft.h"
#include "app/trainees/people_dialogs.h"

class QCheckBox;
class QComboBox;
class QListWidget;
class QRadioButton;

namespace markerlamp::app {

class OrderDialog final : public FormDialog {
    Q_OBJECT

public:
    /// rule nullptr: a new one, which begins with `entry` where that is given.
    OrderDialog(const Theme& theme, const Draft& draft, const core::OrderRule* rule, const QString& entry,
                QWidget* parent);
    [[nodiscard]] const core::OrderRule& rule() const { return m_rule; }

protected:
    core::Result<void> check() override;
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QWidget* makeLists();
    void fillChoice(const QString& entry);
    void add(QListWidget& list, const std::string& entry);
    void addChosen(QListWidget& list);
    void removeCurrent();
    void moveCurrent(int by);
    void showKind();
    void showCircle();
    [[nodiscard]] core::OrderRule entered() const;
    /// The list that was last used.
    [[nodiscard]] QListWidget& list() const;

    const Draft& m_draft;
    core::OrderRule m_rule;
    bool m_isNew;
    QRadioButton *m_chain, *m_sides;
    QComboBox* m_choice;
    QLabel *m_firstLabel, *m_secondLabel;
    QListWidget *m_first, *m_second;
    QListWidget* m_last;
    QPushButton *m_addFirst, *m_addSecond;
    QCheckBox *m_strict, *m_mustPass;
    QLineEdit* m_why;
    Text* m_circle;
};

}  // namespace markerlamp::app
