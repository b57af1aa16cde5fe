#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The two questions of settling: what it was where neither had it right, and who writes the record down.

#include "app/support/text_widgets.h"
#include "core/agreement/scoring_pair.h"
#include "core/people/people.h"

#include <QDialog>

#include <string>
#include <utility>
#include <vector>

class QCheckBox;
class QComboBox;

namespace markerlamp::app {

class OtherMarksDialog final : public QDialog {
    Q_OBJECT

public:
    OtherMarksDialog(const Theme& theme, const core::Step& step, const core::OtherMarks& marks,
                     QWidget* parent);
    [[nodiscard]] core::OtherMarks marks() const;

private:
    void update();

    QCheckBox* m_unseen;
    QCheckBox* m_shown = nullptr;
    QCheckBox* m_prompted;
    std::vector<std::pair<std::string, QCheckBox*>> m_points;
    Text* m_hint;
};

class SettleDialog final : public QDialog {
    Q_OBJECT

public:
    SettleDialog(const Theme& theme, const std::vector<core::Instructor>& instructors, int settled, int open,
                 QWidget* parent);
    [[nodiscard]] std::string by() const;  ///< key of an instructor

private:
    QComboBox* m_by;
};

}  // namespace markerlamp::app
