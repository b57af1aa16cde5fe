// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/override_dialog.h"

#include "app/readiness/readiness_words.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/names.h"
#include "app/support/rows_model.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"

#include <QButtonGroup>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QRadioButton>
#include <QVBoxLayout>

#include <array>

namespace markerlamp::app {

namespace {

constexpr std::array kWords{core::ReadinessWord::Ready, core::ReadinessWord::Close,
                            core::ReadinessWord::NotYet};

}  // namespace

OverrideDialog::OverrideDialog(const Theme& theme, ReadinessDesk& desk, const QString& trainee,
                               QWidget* parent)
    : QDialog(parent),
      m_theme(theme),
      m_desk(desk),
      m_trainee(trainee),
      m_now(new Text(theme, 15, true)),
      m_words(new QButtonGroup(this)),
      m_reason(new QLineEdit),
      m_by(new QComboBox),
      m_entries(new RowsModel({{tr("When")}, {tr("Word")}, {tr("By")}, {tr("Reason")}}, this)),
      m_table(new TableView(theme, tr("What was said before"))),
      m_hint(new Text(theme, 13, false, Ink::Muted)) {
    setWindowTitle(tr("Your own word on readiness"));
    resizeToScreen(*this, {qRound(theme.s(720)), qRound(theme.s(520))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    m_now->setWordWrap(true);
    column->addWidget(m_now);
    auto* intro =
        new Text(theme, 15, false, Ink::Full,
                 tr("Your word is shown in place of the computed one, with your name, the date and "
                    "the reason, and the computed word stays beside it. The official test decides."));
    intro->setWordWrap(true);
    column->addWidget(intro);
    auto* form = new QFormLayout;
    form->addRow(tr("Word"), makeWords());
    m_reason->setPlaceholderText(tr("for example: two clean inspections seen on another bus"));
    m_reason->setMaxLength(500);
    form->addRow(tr("&Reason"), m_reason);
    if (const auto instructors = desk.session().file().instructors())
        for (const core::Instructor& one : *instructors)
            m_by->addItem(qs(one.name.empty() ? one.key : one.name), qs(one.key));
    m_by->setCurrentIndex(m_by->count() == 1 ? 0 : -1);
    m_by->setPlaceholderText(tr("choose who decides it"));
    form->addRow(tr("&By"), m_by);
    column->addLayout(form);
    m_table->setModel(m_entries);
    m_table->setWidths({150, 130, 150, 0});
    column->addWidget(m_table, 1);
    m_hint->setWordWrap(true);
    column->addWidget(m_hint);
    auto* buttons = new QDialogButtonBox;
    m_keep = buttons->addButton(tr("&Keep this word"), QDialogButtonBox::ActionRole);
    m_keep->setProperty("primary", true);
    m_withdraw = buttons->addButton(tr("&Take it back"), QDialogButtonBox::ActionRole);
    buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(m_keep, &QPushButton::clicked, this, [this] { keep(false); });
    connect(m_withdraw, &QPushButton::clicked, this, [this] { keep(true); });
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(m_reason, &QLineEdit::textChanged, this, &OverrideDialog::updateButtons);
    connect(m_by, &QComboBox::currentIndexChanged, this, &OverrideDialog::updateButtons);
    connect(m_words, &QButtonGroup::idToggled, this, &OverrideDialog::updateButtons);
    fill();
    updateButtons();
    m_reason->setFocus();
}

QWidget* OverrideDialog::makeWords() {
    auto* widget = new QWidget;
    auto* row = new QHBoxLayout(widget);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(qRound(m_theme.s(16)));
    const core::ReadinessSettings settings = m_desk.settings();
    for (const core::ReadinessWord word : kWords) {
        auto* button = new QRadioButton(qs(core::shownWord(word, settings)));
        m_words->addButton(button, static_cast<int>(word));
        row->addWidget(button);
    }
    row->addStretch(1);
    return widget;
}

void OverrideDialog::fill() {
    const ReadinessStanding& standing = m_desk.of(m_trainee);
    const core::ReadinessSettings settings = m_desk.settings();
    m_now->setText(standing.known
                       ? tr("The figures say: %1. %2")
                             .arg(qs(core::shownWord(standing.answer.readiness.computed, settings)),
                                  qs(core::chanceInWords(standing.answer.readiness.forecast)))
                       : tr("The figures are not worked out yet."));
    std::vector<Row> rows;
    const auto entries = m_desk.overridesOf(m_trainee);
    for (auto entry = entries.rbegin(); entry != entries.rend(); ++entry) {
        const QString word = qs(core::shownWord(entry->word, settings));
        const QDateTime at = startedAt(entry->at);
        rows.push_back(
            {qs(entry->id),
             {Cell{tr("%1 %2", "date, time")
                       .arg(longDate(at.date()), at.time().toString(QStringLiteral("HH:mm")))},
              Cell{entry->withdrawn ? tr("%1 taken back").arg(word) : word},
              longCell(instructorName(m_desk.session().file(), entry->by)), longCell(qs(entry->reason))}});
    }
    m_table->setVisible(!rows.empty());
    m_entries->setRows(std::move(rows));
    m_table->selectRowAt(0);
    const bool stands = !entries.empty() && !entries.back().withdrawn;
    m_withdraw->setVisible(stands);
    if (stands)
        if (auto* button = m_words->button(static_cast<int>(entries.back().word))) button->setChecked(true);
}

void OverrideDialog::updateButtons() {
    const bool reason = !m_reason->text().trimmed().isEmpty();
    const bool by = m_by->currentIndex() >= 0;
    const bool word = m_words->checkedId() >= 0;
    m_keep->setEnabled(reason && by && word);
    m_withdraw->setEnabled(reason && by);
    m_hint->setText(m_by->count() == 0 ? tr("Add an instructor first (Program menu).")
                    : !word            ? tr("Choose a word.")
                    : !reason          ? tr("Write what you saw that the figures do not.")
                    : !by              ? tr("Choose who decides it.")
                                       : QString());
}

void OverrideDialog::keep(bool withdraw) {
    const QString reason = m_reason->text();
    const QString by = m_by->currentData().toString();
    const auto done =
        withdraw ? m_desk.withdrawOverride(m_trainee, reason, by)
                 : m_desk.setOverride(m_trainee, static_cast<core::ReadinessWord>(m_words->checkedId()),
                                      reason, by);
    if (done)
        accept();
    else
        m_hint->setText(errorText(done.error()));
}

}  // namespace markerlamp::app
