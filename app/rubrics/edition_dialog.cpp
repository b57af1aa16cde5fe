// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/edition_dialog.h"

#include "app/support/display.h"
#include "app/support/rows_model.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

QString bounds(const core::Limit& limit) {
    return boundsText(limit.low, limit.high, qs(limit.unit), limit.exclusive);
}

}  // namespace

EditionDialog::EditionDialog(const Theme& theme, const core::Rubric& rubric, std::vector<core::LimitSet> sets,
                             int edition, QWidget* parent)
    : QDialog(parent),
      m_rubric(rubric),
      m_sets(std::move(sets)),
      m_edition(edition),
      m_choice(new QComboBox),
      m_model(new RowsModel({{tr("limit")}, {tr("now")}, {tr("new")}, {tr("source now")}, {tr("new source")}},
                            this)),
      m_table(new TableView(theme, tr("Limits that change"))),
      m_remark(new Text(theme, 13, false, Ink::Muted)) {
    setWindowTitle(tr("New edition with these limits"));
    resizeToScreen(*this, {qRound(theme.s(940)), qRound(theme.s(520))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    auto* intro =
        new Text(theme, 15, false, Ink::Full,
                 tr("Edition %1 of %2 stays as it is, and so do the attempts scored with it. The new one is "
                    "edition %3. Check every limit against your state's manual and the makers of your buses.")
                     .arg(rubric.edition)
                     .arg(qs(rubric.id))
                     .arg(edition));
    intro->setWordWrap(true);
    column->addWidget(intro);
    auto* form = new QFormLayout;
    for (const core::LimitSet& set : m_sets) m_choice->addItem(qs(set.title), qs(set.id));
    form->addRow(tr("&Limit set"), m_choice);
    column->addLayout(form);
    m_table->setModel(m_model);
    m_table->setWidths({130, 140, 140, 0, 250});
    column->addWidget(m_table, 1);
    m_remark->setWordWrap(true);
    column->addWidget(m_remark);
    auto* buttons = new QDialogButtonBox;
    m_make = buttons->addButton(tr("&Make the edition"), QDialogButtonBox::AcceptRole);
    m_make->setProperty("primary", true);
    m_write = buttons->addButton(tr("&Write on it first"), QDialogButtonBox::ActionRole);
    m_write->setToolTip(tr("Begins a draft with these limits"));
    buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    connect(m_write, &QPushButton::clicked, this, [this] {
        m_writeFirst = true;
        accept();
    });
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(m_choice, &QComboBox::currentIndexChanged, this, &EditionDialog::show);
    show();
    m_choice->setFocus();
}

core::Result<core::Rubric> EditionDialog::newRubric() const {
    const auto at = static_cast<std::size_t>(m_choice->currentIndex());
    if (at >= m_sets.size())
        return core::fail(core::ErrorKind::Refused, ss(tr("the file has no limit set; import one first")));
    return core::newEdition(m_rubric, m_sets[at], m_edition);
}

void EditionDialog::show() {
    core::LimitComparison comparison;
    const auto at = static_cast<std::size_t>(m_choice->currentIndex());
    if (at < m_sets.size()) comparison = core::compareLimits(m_rubric, m_sets[at]);
    std::vector<Row> rows;
    for (const core::LimitChange& change : comparison.changes)
        rows.push_back({qs(change.before.id),
                        {longCell(qs(change.before.id)), longCell(bounds(change.before)),
                         boldCell(bounds(change.after), bounds(change.before) != bounds(change.after)),
                         mutedCell(qs(change.before.source)), longCell(qs(change.after.source))}});
    m_model->setRows(std::move(rows));
    m_table->selectRowAt(0);
    const auto made = newRubric();
    m_make->setEnabled(made.has_value());
    m_write->setEnabled(made.has_value());
    QStringList remarks;
    if (!made) remarks << errorText(made.error());
    if (!comparison.same.empty())
        remarks << tr("%n limit(s) of the set are in the rubric already.", nullptr,
                      static_cast<int>(comparison.same.size()));
    if (!comparison.unknown.empty()) {
        QStringList ids;
        for (const std::string& id : comparison.unknown) ids << qs(id);
        remarks << tr("Left out, the rubric does not have them: %1.").arg(ids.join(tr(", ")));
    }
    m_remark->setText(remarks.join(QLatin1Char('\n')));
}

}  // namespace markerlamp::app
