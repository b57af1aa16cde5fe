// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a person does on the Agreement page: choosing, settling, copying.

#include "app/agreement/agreement_page.h"
#include "app/agreement/agreement_tables.h"
#include "app/agreement/agreement_views.h"
#include "app/agreement/difference_table.h"
#include "app/agreement/settle_dialogs.h"
#include "app/shell/session.h"
#include "app/support/clipboard.h"
#include "app/support/data_table_dialog.h"
#include "app/support/display.h"

#include <QMessageBox>

namespace markerlamp::app {

void AgreementPage::choose(core::Choice choice) {
    const PairOnFile* pair = m_model->pair();
    const std::string id = step();
    if (pair == nullptr || id.empty()) return;
    if (choice != core::Choice::Other) {
        m_model->choose(id, choice);
    } else {
        const core::Step* known = pair->first.rubric->step(id);
        core::OtherMarks marks = m_model->settling(id).other;
        if (m_model->settling(id).choice != core::Choice::Other)
            for (const core::StepDifference& one : m_model->compared().differences)
                if (one.step == id) marks = core::otherMarksOf(*known, one.first.marks);
        OtherMarksDialog dialog(m_theme, *known, marks, this);
        if (dialog.exec() == QDialog::Accepted) m_model->chooseOther(id, dialog.marks());
    }
    showStep();                        // a button that was pressed is checked only if it was chosen
    if (!m_notKept.isEmpty()) return;  // that was said already
    emit said(tr("%1: %2", "step: settled as")
                  .arg(qs(pair->first.rubric->step(id)->title),
                       choiceWord(*m_model, m_model->settling(id).choice)));
}

void AgreementPage::settle() {
    const auto instructors = m_session.file().instructors();
    if (!instructors) {
        emit said(errorText(instructors.error(), 1));
        return;
    }
    const int all = static_cast<int>(m_model->compared().differences.size());
    SettleDialog dialog(m_theme, *instructors, all - m_model->open(), m_model->open(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    if (auto done = settleBy(dialog.by()); !done)
        QMessageBox::warning(this, tr("Not settled"), errorText(done.error()));
}

core::Result<void> AgreementPage::settleBy(const std::string& instructor) {
    auto made = m_model->settle(instructor, nowIso());
    if (!made) return core::fail(made.error());
    const auto& [attempt, record] = *made;
    if (auto stored = storeSettlement(m_session.file(), attempt, record); !stored) return stored;
    const int open = m_model->open();
    m_session.noteAttemptChanged(qs(record.settled));
    emit said(open == 0 ? tr("Settled; both scorings stay as they are")
                        : tr("Settled, %n left open; both scorings stay as they are", nullptr, open));
    return {};
}

bool AgreementPage::canPerform(PageCommand command) const {
    switch (command) {
        case PageCommand::DataTable:
        case PageCommand::CopyTable:
        case PageCommand::CopyImage:
            return m_model->pair() != nullptr;
        default:
            return false;
    }
}

void AgreementPage::perform(PageCommand command) {
    switch (command) {
        case PageCommand::DataTable:
            showDataTable();
            break;
        case PageCommand::CopyTable: {
            // The painted cells are said in words.
            std::vector<Row> rows = differenceRows(*m_model);
            for (Row& row : rows)
                for (Cell& cell : row.cells)
                    if (cell.text.isEmpty()) cell.text = cell.tip;
            RowsModel plain(settlingColumns());
            plain.setRows(std::move(rows));
            emit said(tr("%n row(s) copied", nullptr,
                         copyTable(m_disputedTable->hasFocus() ? *m_disputed : plain)));
            break;
        }
        case PageCommand::CopyImage: {
            QWidget* chart = m_strictness->isVisible() && m_strictness->hasFocus()
                                 ? static_cast<QWidget*>(m_strictness)
                             : m_ofAll->isVisible() ? static_cast<QWidget*>(m_ofAll)
                                                    : m_ofPair;
            copyImage(*chart);
            emit said(tr("Chart copied as an image"));
            break;
        }
        default:
            break;
    }
}

void AgreementPage::showDataTable() {
    const ProgramAgreement* agreement = m_model->agreement();
    if (agreement == nullptr) return;
    std::vector<DataTable> tables{
        agreementTable(tr("This attempt"), m_model->shown(), m_model->said()),
        agreementTable(tr("All shared attempts"), agreement->shown, agreement->said), pairsTable(*m_model),
        strictnessTable(*m_model)};
    DataTableDialog dialog(m_theme, tr("Figures of agreement"), std::move(tables), this);
    dialog.exec();
}

}  // namespace markerlamp::app
