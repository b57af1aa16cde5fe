// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/debrief/amend_dialog.h"
#include "app/support/small_screens.h"

#include "app/support/display.h"
#include "app/support/rows_model.h"
#include "app/support/sign_widgets.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QGridLayout>
#include <QLineEdit>
#include <QVBoxLayout>

#include <array>
#include <utility>

namespace markerlamp::app {

namespace {

using Choice = OutcomeChange;

const std::array kChoices{Choice{{}, core::Outcome::Both},      Choice{{}, core::Outcome::Both, true},
                          Choice{{}, core::Outcome::Partly},    Choice{{}, core::Outcome::ShownOnly},
                          Choice{{}, core::Outcome::SaidOnly},  Choice{{}, core::Outcome::Both, false, true},
                          Choice{{}, core::Outcome::Omitted},   Choice{{}, core::Outcome::NotObserved},
                          Choice{{}, core::Outcome::NotReached}};
constexpr int kChoicesInRow = 5;

}  // namespace

QString outcomeButtonWord(const OutcomeChange& change) {
    if (change.wrong) return AmendDialog::tr("wrong");
    if (change.prompted) return AmendDialog::tr("with help");
    switch (change.outcome) {
        case core::Outcome::Both:
            return AmendDialog::tr("shown and said");
        case core::Outcome::Partly:
            return AmendDialog::tr("partly said");
        case core::Outcome::ShownOnly:
            return AmendDialog::tr("shown only");
        case core::Outcome::SaidOnly:
            return AmendDialog::tr("said only");
        case core::Outcome::Omitted:
            return AmendDialog::tr("omitted");
        case core::Outcome::NotObserved:
            return AmendDialog::tr("not observed");
        case core::Outcome::NotReached:
            return AmendDialog::tr("not reached");
    }
    return {};
}

AmendDialog::AmendDialog(const Theme& theme, const core::ScoredAttempt& scored,
                         const std::vector<core::Instructor>& instructors, const QString& firstStep,
                         QWidget* parent)
    : QDialog(parent),
      m_scored(scored),
      m_reason(new QLineEdit),
      m_by(new QComboBox),
      m_model(new RowsModel({{tr("Step")}, {tr("Zone")}, {tr("Marks")}, {tr("Recorded")}, {tr("Change to")}},
                            this)),
      m_table(new TableView(theme, tr("Steps of the attempt"))),
      m_hint(new Text(theme, 13, false, Ink::Muted)) {
    setWindowTitle(tr("Amend the attempt"));
    resizeToScreen(*this, {qRound(theme.s(900)), qRound(theme.s(620))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    auto* intro = new Text(theme, 15, false, Ink::Full,
                           tr("The record made during the attempt is kept. What you change here is added to "
                              "it with your name, the time and the reason, and is marked on screen and on "
                              "paper."));
    intro->setWordWrap(true);
    column->addWidget(intro);
    auto* form = new QFormLayout;
    m_reason->setPlaceholderText(tr("for example: seen again on the recording"));
    m_reason->setMaxLength(500);
    form->addRow(tr("&Reason"), m_reason);
    for (const core::Instructor& instructor : instructors)
        m_by->addItem(qs(instructor.name.empty() ? instructor.key : instructor.name), qs(instructor.key));
    const int scorer = m_by->findData(qs(scored.attempt.header.instructor));
    m_by->setCurrentIndex(qMax(0, scorer));
    form->addRow(tr("Amended &by"), m_by);
    column->addLayout(form);
    m_table->setModel(m_model);
    m_table->setItemDelegateForColumn(2, new SignDelegate(theme, m_table));
    m_table->setWidths({0, 170, 150, 110, 140});
    column->addWidget(m_table, 1);
    auto* outcomes = new QGridLayout;
    outcomes->setSpacing(qRound(theme.s(6)));
    outcomes->setColumnStretch(kChoicesInRow, 1);
    int at = 0;
    const auto place = [&](QPushButton* button) {
        outcomes->addWidget(button, at / kChoicesInRow, at % kChoicesInRow, Qt::AlignLeft);
        ++at;
    };
    for (const Choice& choice : kChoices) {
        auto* button = new KeyButton(theme, outcomeButtonWord(choice));
        connect(button, &QPushButton::clicked, this, [this, choice] { change(choice); });
        place(button);
    }
    auto* back = new KeyButton(theme, tr("Leave as it is"));
    connect(back, &QPushButton::clicked, this, &AmendDialog::takeBack);
    place(back);
    column->addLayout(outcomes);
    column->addWidget(m_hint);
    auto* buttons = new QDialogButtonBox;
    m_amend = buttons->addButton(tr("A&mend"), QDialogButtonBox::AcceptRole);
    m_amend->setProperty("primary", true);
    buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(m_reason, &QLineEdit::textChanged, this, &AmendDialog::updateButtons);
    fill();
    const int row = m_model->rowOf(firstStep);
    m_table->selectRowAt(qMax(0, row));
    updateButtons();
    m_reason->setFocus();
}

QString AmendDialog::reason() const {
    return m_reason->text().trimmed();
}
QString AmendDialog::by() const {
    return m_by->currentData().toString();
}

std::vector<OutcomeChange> AmendDialog::changes() const {
    std::vector<OutcomeChange> list;
    for (const core::StepScore& step : m_scored.card.steps)
        if (const auto found = m_changes.find(qs(step.step)); found != m_changes.end())
            list.push_back(found->second);
    return list;
}

void AmendDialog::fill() {
    std::vector<Row> rows;
    const auto marks = core::foldMarks(*m_scored.rubric, m_scored.attempt);
    for (std::size_t i = 0; i < m_scored.card.steps.size(); ++i) {
        const core::StepScore& score = m_scored.card.steps[i];
        const core::Step* step = m_scored.rubric->step(score.step);
        const core::Zone* zone = m_scored.rubric->zone(score.zone);
        const auto changed = m_changes.find(qs(score.step));
        rows.push_back(
            {qs(score.step),
             {longCell(qs(step->title)), mutedCell(qs(zone->title)),
              paintedCell(QVariant::fromValue(forms::signState(marks[i], step->mustPass)),
                          marksWords(marks[i])),
              Cell{outcomeWord(score.outcome)},
              boldCell(changed == m_changes.end() ? QString() : outcomeButtonWord(changed->second))}});
    }
    m_model->setRows(std::move(rows));
}

void AmendDialog::change(OutcomeChange to) {
    const QString id = m_table->currentId();
    if (id.isEmpty()) return;
    to.step = id;
    m_changes[id] = std::move(to);
    fill();
    m_table->selectRowAt(m_model->rowOf(id));
    updateButtons();
}

void AmendDialog::takeBack() {
    const QString id = m_table->currentId();
    m_changes.erase(id);
    fill();
    m_table->selectRowAt(m_model->rowOf(id));
    updateButtons();
}

void AmendDialog::updateButtons() {
    const int count = static_cast<int>(m_changes.size());
    m_amend->setEnabled(count > 0 && !reason().isEmpty() && !by().isEmpty());
    m_hint->setText(by().isEmpty()       ? tr("Add an instructor first (Program menu).")
                    : reason().isEmpty() ? tr("Give the reason once; it goes with every change.")
                    : count == 0         ? tr("Choose a step in the table, then what it should be.")
                                         : tr("%n step(s) will change.", nullptr, count));
}

}  // namespace markerlamp::app
