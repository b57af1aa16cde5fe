#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Takes blocks into the drill and out of it; what it comes to is shown at once.

#include "app/readiness/drill_work.h"
#include "app/support/text_widgets.h"

#include <QDialog>

#include <memory>

class QLineEdit;
class QTreeWidget;
class QTreeWidgetItem;

namespace markerlamp::app {

class DrillDialog final : public QDialog {
    Q_OBJECT

public:
    DrillDialog(const Theme& theme, std::shared_ptr<const DrillView> view, int minutesLeft, QWidget* parent);

    /// The plan as chosen; the one that came in until something was changed.
    [[nodiscard]] const std::shared_ptr<const DrillView>& view() const { return m_view; }

private:
    void makeTree();
    void ask();
    void take(std::shared_ptr<const DrillView> view);
    void fill();
    [[nodiscard]] std::vector<int> chosen() const;

    const Theme& m_theme;
    std::shared_ptr<const DrillView> m_view;
    int m_minutesLeft;
    DrillWork* m_work;
    QTreeWidget* m_tree;
    Text* m_time;
    Text* m_worth;
    Text* m_cautions;
    QPushButton* m_take = nullptr;
};

}  // namespace markerlamp::app
