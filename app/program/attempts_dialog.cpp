// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/program/attempts_dialog.h"

#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/rows_model.h"
#include "app/support/table_view.h"
#include "app/support/text_widgets.h"
#include "db/program_file.h"

#include <QDialogButtonBox>
#include <QPushButton>
#include <QVBoxLayout>

#include <map>

namespace markerlamp::app {

namespace {

std::map<std::string, QString> namesOf(db::ProgramFile& file) {
    std::map<std::string, QString> names;
    if (const auto trainees = file.trainees())
        for (const core::Trainee& one : *trainees) names["t/" + one.key] = qs(one.name);
    if (const auto instructors = file.instructors())
        for (const core::Instructor& one : *instructors) names["i/" + one.key] = qs(one.name);
    return names;
}

}  // namespace

AttemptsDialog::AttemptsDialog(const Theme& theme, Session& session, const QString& title,
                               const std::vector<std::string>& attempts, QWidget* parent)
    : QDialog(parent),
      m_rows(new RowsModel({{tr("date")},
                            {tr("trainee")},
                            {tr("instructor")},
                            {tr("bus")},
                            {tr("satisfied"), true},
                            {tr("result")}},
                           this)),
      m_table(new TableView(theme, title)) {
    setWindowTitle(tr("Attempts"));
    const auto names = namesOf(session.file());
    const auto nameOf = [&](const std::string& kind, const std::string& key) {
        const auto found = names.find(kind + key);
        return found == names.end() || found->second.isEmpty() ? qs(key) : found->second;
    };
    std::vector<Row> rows;
    for (const std::string& id : attempts) {
        const auto info = session.file().attemptInfo(id);
        if (!info || !*info) continue;
        const db::AttemptInfo& one = **info;
        rows.push_back({qs(id),
                        {Cell{longDate(startedAt(one.started).date())}, longCell(nameOf("t/", one.trainee)),
                         mutedCell(nameOf("i/", one.instructor)), mutedCell(qs(one.bus)),
                         Cell{percentText(one.percent)}, longCell(resultWord(one.result))}});
    }
    m_rows->setRows(std::move(rows));
    m_table->setModel(m_rows);
    m_table->setWidths({104, 190, 170, 70, 90, 0});
    m_table->selectRowAt(0);
    connect(m_table, &TableView::opened, this, &AttemptsDialog::choose);
    auto* column = new QVBoxLayout(this);
    auto* head = new Text(theme, 18, true, Ink::Full, title);
    head->setWordWrap(true);
    column->addWidget(head);
    column->addWidget(m_table, 1);
    auto* buttons = new QDialogButtonBox;
    QPushButton* open = buttons->addButton(tr("&See the marks"), QDialogButtonBox::AcceptRole);
    open->setEnabled(m_rows->rowCount() > 0);
    open->setDefault(true);
    buttons->addButton(tr("&Close"), QDialogButtonBox::RejectRole);
    connect(buttons, &QDialogButtonBox::accepted, this, &AttemptsDialog::choose);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    resize(qRound(theme.s(780)), qRound(theme.s(420)));
    m_table->setFocus();
}

void AttemptsDialog::choose() {
    m_chosen = m_table->currentId();
    if (!m_chosen.isEmpty()) accept();
}

}  // namespace markerlamp::app
