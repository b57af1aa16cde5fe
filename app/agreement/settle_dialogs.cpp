// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/agreement/settle_dialogs.h"

#include "app/support/display.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

OtherMarksDialog::OtherMarksDialog(const Theme& theme, const core::Step& step, const core::OtherMarks& marks,
                                   QWidget* parent)
    : QDialog(parent),
      m_unseen(new QCheckBox(tr("&Nobody could observe it"))),
      m_prompted(new QCheckBox(tr("&With help"))),
      m_hint(new Text(theme, 13, false, Ink::Muted)) {
    setWindowTitle(tr("What it was: %1").arg(qs(step.title)));
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(8)));
    auto* intro = new Text(theme, 15, false, Ink::Full,
                           tr("Check what the trainee did. With nothing checked it was omitted."));
    intro->setWordWrap(true);
    column->addWidget(intro);
    if (!step.show.empty()) {
        m_shown =
            new QCheckBox(tr("&Shown: %1").arg(qs(step.show).replace(QLatin1Char('&'), QLatin1String("&&"))));
        m_shown->setChecked(marks.shown);
        column->addWidget(m_shown);
    }
    for (const core::Point& point : step.say) {
        auto* box =
            new QCheckBox(tr("Said: %1").arg(qs(point.text).replace(QLatin1Char('&'), QLatin1String("&&"))));
        box->setChecked(std::ranges::count(marks.points, point.id) > 0);
        m_points.emplace_back(point.id, box);
        column->addWidget(box);
    }
    m_prompted->setChecked(marks.prompted);
    m_unseen->setChecked(!marks.observed);
    column->addWidget(m_prompted);
    column->addWidget(m_unseen);
    m_hint->setWordWrap(true);
    column->addWidget(m_hint);
    auto* buttons = new QDialogButtonBox;
    buttons->addButton(tr("&Take this"), QDialogButtonBox::AcceptRole)->setProperty("primary", true);
    buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    for (QCheckBox* box : findChildren<QCheckBox*>())
        connect(box, &QCheckBox::toggled, this, &OtherMarksDialog::update);
    update();
}

void OtherMarksDialog::update() {
    const bool seen = !m_unseen->isChecked();
    if (m_shown != nullptr) m_shown->setEnabled(seen);
    for (const auto& [id, box] : m_points) box->setEnabled(seen);
    m_prompted->setEnabled(seen);
    const core::OtherMarks now = marks();
    m_hint->setText(!now.observed                      ? tr("Neither credit nor fault.")
                    : !now.shown && now.points.empty() ? tr("Omitted.")
                    : now.prompted                     ? tr("With help: no credit of the trainee's own.")
                                                       : tr("Credit of the trainee's own."));
}

core::OtherMarks OtherMarksDialog::marks() const {
    core::OtherMarks marks;
    marks.observed = !m_unseen->isChecked();
    if (!marks.observed) return marks;
    marks.shown = m_shown != nullptr && m_shown->isChecked();
    marks.prompted = m_prompted->isChecked();
    for (const auto& [id, box] : m_points)
        if (box->isChecked()) marks.points.push_back(id);
    return marks;
}

SettleDialog::SettleDialog(const Theme& theme, const std::vector<core::Instructor>& instructors, int settled,
                           int open, QWidget* parent)
    : QDialog(parent), m_by(new QComboBox) {
    setWindowTitle(tr("Settle record"));
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    const QString counts =
        open == 0
            ? tr("All %n difference(s) are settled.", nullptr, settled)
            : tr("%n difference(s) are settled.", nullptr, settled) + QLatin1Char(' ') +
                  tr("Left open: %n. What is open counts neither as credit nor as fault.", nullptr, open);
    auto* words =
        new Text(theme, 15, false, Ink::Full,
                 counts + QLatin1Char(' ') +
                     tr("The settled record is a third one beside the two scorings, which stay as they "
                        "are. Neither it nor the second scoring counts as practice of the trainee."));
    words->setWordWrap(true);
    words->setMinimumWidth(qRound(theme.s(460)));
    column->addWidget(words);
    auto* form = new QFormLayout;
    m_by->addItem(tr("(choose)"), QString());
    for (const core::Instructor& one : instructors)
        m_by->addItem(qs(one.name.empty() ? one.key : one.name), qs(one.key));
    form->addRow(tr("Settled &by"), m_by);
    column->addLayout(form);
    auto* buttons = new QDialogButtonBox;
    auto* settle = buttons->addButton(tr("&Settle"), QDialogButtonBox::AcceptRole);
    settle->setProperty("primary", true);
    settle->setEnabled(false);
    buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(m_by, &QComboBox::currentIndexChanged, this,
            [this, settle] { settle->setEnabled(!by().empty()); });
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    m_by->setFocus();
}

std::string SettleDialog::by() const {
    return ss(m_by->currentData().toString());
}

}  // namespace markerlamp::app
