// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/start/second_scoring_dialog.h"

#include "app/support/display.h"
#include "app/support/rows_model.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"
#include "core/agreement/attempt_code.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QUuid>
#include <QVBoxLayout>

#include <algorithm>
#include <map>

namespace markerlamp::app {

std::vector<FirstChoice> firstChoices(const std::vector<db::AttemptInfo>& infos,
                                      const std::vector<core::Trainee>& trainees,
                                      const std::vector<core::Instructor>& instructors) {
    std::map<std::string, QString> names, scorers;
    for (const core::Trainee& one : trainees) names[one.key] = qs(one.name.empty() ? one.key : one.name);
    for (const core::Instructor& one : instructors)
        scorers[one.key] = qs(one.name.empty() ? one.key : one.name);
    const auto named = [](const std::map<std::string, QString>& all, const std::string& key) {
        const auto found = all.find(key);
        return found == all.end() ? qs(key) : found->second;
    };
    std::vector<FirstChoice> choices;
    for (const db::AttemptInfo& info : infos)
        if (info.of.empty() && info.state == db::AttemptState::Ended)
            choices.push_back({info.id, qs(core::attemptCode(info.id)), named(names, info.trainee),
                               longDate(startedAt(info.started).date()), qs(info.bus),
                               named(scorers, info.instructor), info.instructor});
    return choices;
}

std::vector<FirstChoice> findChoices(const std::vector<FirstChoice>& all, const QString& typed) {
    const QString code = qs(core::typedCode(ss(typed)));
    const QStringList words = typed.split(QLatin1Char(' '), Qt::SkipEmptyParts);
    std::vector<FirstChoice> found;
    for (const FirstChoice& one : all) {
        const QString text = QStringList{one.trainee, one.date, one.bus, one.scorer}.join(QLatin1Char(' '));
        if (one.code.startsWith(code) || std::ranges::all_of(words, [&](const QString& w) {
                return text.contains(w, Qt::CaseInsensitive);
            }))
            found.push_back(one);
    }
    return found;
}

core::Result<core::AttemptHeader> secondHeader(const core::AttemptHeader& first,
                                               const std::string& instructor, const std::string& started) {
    if (instructor.empty())
        return core::fail(core::ErrorKind::Refused,
                          ss(SecondScoringDialog::tr("say who scores: choose an instructor")));
    if (instructor == first.instructor)
        return core::fail(
            core::ErrorKind::Refused,
            ss(SecondScoringDialog::tr("this instructor scored it first; a second scoring needs "
                                       "another one")));
    core::AttemptHeader header = first;
    header.id = ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
    header.of = first.id;
    header.instructor = instructor;
    header.started = started;
    return header;
}

SecondScoringDialog::SecondScoringDialog(const Theme& theme, std::vector<FirstChoice> choices,
                                         const std::vector<core::Instructor>& instructors,
                                         const QString& firstId, QWidget* parent)
    : QDialog(parent),
      m_choices(std::move(choices)),
      m_typed(new QLineEdit),
      m_rows(
          new RowsModel({{tr("Code")}, {tr("Trainee")}, {tr("Date")}, {tr("Bus")}, {tr("Scored by")}}, this)),
      m_table(new TableView(theme, tr("Attempts on file"))),
      m_by(new QComboBox),
      m_hint(new Text(theme, 13, false, Ink::Muted)) {
    setWindowTitle(tr("Second scoring"));
    resizeToScreen(*this, {qRound(theme.s(760)), qRound(theme.s(560))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    auto* intro = new Text(theme, 15, false, Ink::Full,
                           tr("Another instructor scores the same performance: now, on this second "
                              "workstation, by the code that the "
                              "first one's screen shows; or later, from a video, an attempt of the list. "
                              "Neither sees the other's marks "
                              "before both have finished."));
    intro->setWordWrap(true);
    column->addWidget(intro);
    auto* form = new QFormLayout;
    m_typed->setPlaceholderText(tr("six letters; or words of the list"));
    m_typed->setClearButtonEnabled(true);
    form->addRow(tr("&Attempt code"), m_typed);
    m_by->addItem(tr("(choose)"), QString());
    for (const core::Instructor& one : instructors)
        m_by->addItem(qs(one.name.empty() ? one.key : one.name), qs(one.key));
    form->addRow(tr("Scored &by"), m_by);
    column->addLayout(form);
    m_table->setModel(m_rows);
    m_table->setWidths({92, 0, 120, 70, 180});
    column->addWidget(m_table, 1);
    m_hint->setWordWrap(true);
    column->addWidget(m_hint);
    auto* buttons = new QDialogButtonBox;
    m_start = buttons->addButton(tr("&Go on"), QDialogButtonBox::AcceptRole);
    m_start->setProperty("primary", true);
    buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(m_typed, &QLineEdit::textChanged, this, &SecondScoringDialog::fill);
    connect(m_by, &QComboBox::currentIndexChanged, this, &SecondScoringDialog::refresh);
    connect(m_table->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            &SecondScoringDialog::refresh);
    fill();
    if (const int row = m_rows->rowOf(firstId); row >= 0) m_table->selectRowAt(row);
    m_typed->setFocus();
}

void SecondScoringDialog::fill() {
    std::vector<Row> rows;
    for (const FirstChoice& one : findChoices(m_choices, m_typed->text()))
        rows.push_back({qs(one.id),
                        {boldCell(one.code), longCell(one.trainee), Cell{one.date}, longCell(one.bus),
                         mutedCell(one.scorer)}});
    m_rows->setRows(std::move(rows));
    m_table->selectRowAt(0);
    refresh();
}

const FirstChoice* SecondScoringDialog::chosen() const {
    // A whole code that the list does not have is of an attempt on another workstation.
    const QString id = m_rows->rowCount() == 0 ? QString() : m_table->currentId();
    const auto found =
        std::ranges::find_if(m_choices, [&](const FirstChoice& one) { return qs(one.id) == id; });
    return found == m_choices.end() ? nullptr : &*found;
}

std::string SecondScoringDialog::first() const {
    return chosen() != nullptr ? chosen()->id : std::string();
}
QString SecondScoringDialog::code() const {
    return chosen() != nullptr ? chosen()->code : qs(core::typedCode(ss(m_typed->text())));
}
std::string SecondScoringDialog::instructor() const {
    return ss(m_by->currentData().toString());
}

void SecondScoringDialog::refresh() {
    if (m_start == nullptr) return;
    const FirstChoice* first = chosen();
    const bool known = first != nullptr || core::isAttemptCode(ss(code()));
    QString hint;
    if (!known)
        hint =
            tr("No attempt on file has these words. The code of an attempt on another workstation has six "
               "letters, "
               "without vowels and Q.");
    else if (instructor().empty())
        hint = tr("Choose who scores.");
    else if (first != nullptr && first->instructor == instructor())
        hint = tr("%1 scored it first; a second scoring needs another instructor.").arg(first->scorer);
    m_start->setEnabled(hint.isEmpty());
    if (hint.isEmpty())
        hint = first != nullptr
                   ? tr("%1 of %2 is scored again with the same bus, zones and limits.")
                         .arg(first->code, first->trainee)
                   : tr("%1 is not on file here: choose trainee, bus and zones as the first instructor did. "
                        "The two "
                        "come together when the documents of one are imported where the other is.")
                         .arg(code());
    m_hint->setText(hint);
}

}  // namespace markerlamp::app
