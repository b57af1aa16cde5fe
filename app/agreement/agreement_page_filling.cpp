// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the Agreement page shows of its model.

#include "app/agreement/agreement_page.h"
#include "app/agreement/agreement_tables.h"
#include "app/agreement/agreement_views.h"
#include "app/agreement/difference_table.h"
#include "app/start/start_widgets.h"
#include "app/support/block_tabs.h"
#include "app/support/display.h"
#include "app/support/table_view.h"
#include "core/agreement/attempt_code.h"

#include <QAbstractItemView>
#include <QLineEdit>
#include <QStackedWidget>

namespace markerlamp::app {

void AgreementPage::fill() {
    const ProgramAgreement* agreement = m_model->agreement();
    const bool hadFocus = m_stack->currentIndex() == 2 && isVisible();
    m_stack->setCurrentIndex(agreement == nullptr ? 2 : m_model->pair() == nullptr ? 0 : 1);
    fillHead();
    fillDifferences();
    m_differencesTable->selectRowAt(0);
    fillAgreement();
    fillStrictness();
    if (hadFocus && m_stack->currentIndex() == 1) m_differencesTable->setFocus();
    emit commandsChanged();
}

void AgreementPage::fillHead() {
    const PairOnFile* pair = m_model->pair();
    m_filling = true;
    m_pairs->clear();
    for (int i = 0; i < m_model->pairs(); ++i) m_pairs->addItem(m_model->pairTitle(i));
    m_pairs->setCurrentIndex(m_model->current());
    // The list shows whole what the closed box cuts off.
    m_pairs->view()->setMinimumWidth(m_pairs->view()->sizeHintForColumn(0) + qRound(m_theme.s(40)));
    m_filling = false;
    for (QWidget* part :
         {static_cast<QWidget*>(m_pairs), static_cast<QWidget*>(m_names), static_cast<QWidget*>(m_settle)})
        part->setVisible(pair != nullptr);
    m_title->setText(pair == nullptr
                         ? tr("Agreement")
                         : tr("Attempt %1").arg(qs(core::attemptCode(pair->first.attempt.header.id))));
    m_facts->setText(factLine(pairFacts(*m_model)));
    m_names->setText(m_model->namesHidden() ? tr("Show names") : tr("Hide names"));
    m_waiting->setText(m_model->agreement() == nullptr ? QString()
                                                       : waitingWords(m_model->agreement()->waiting));
    m_waiting->setVisible(!m_waiting->text().isEmpty());
}

void AgreementPage::fillDifferences() {
    const QString row = m_differencesTable->currentId();
    m_differences->setRows(differenceRows(*m_model));
    m_differencesTable->setWidths(
        {0, 62, 118, 60,
         qRound(m_delegate->settledWidth(m_model->firstMark(), m_model->secondMark()) / m_theme.scale())});
    m_differencesHead->setRemark(differenceRemark(m_model->compared()));
    fillState();
    if (const int kept = m_differences->rowOf(row); kept >= 0) m_differencesTable->selectRowAt(kept);
    showStep();
}

/// How far the settling is; choices are none of the record before it is settled.
void AgreementPage::fillState() {
    const int open = m_model->open();
    const PairOnFile* pair = m_model->pair();
    const bool changed = m_model->changed();
    m_settle->setEnabled(changed);
    m_differencesHead->setRight(!m_notKept.isEmpty()                      ? m_notKept
                                : m_model->compared().differences.empty() ? QString()
                                : changed && open > 0 ? tr("%n still open, not settled", nullptr, open)
                                : changed             ? tr("all chosen, not settled")
                                : pair != nullptr && pair->settled && open == 0
                                    ? tr("all settled")
                                    : tr("%n still open", nullptr, open));
}

std::string AgreementPage::step() const {
    return ss(m_differencesTable->currentId());
}

void AgreementPage::showStep() {
    const core::StepDifference* now = nullptr;
    for (const core::StepDifference& one : m_model->compared().differences)
        if (one.step == step()) now = &one;
    m_reason->setEnabled(now != nullptr);
    const core::Settling settling = m_model->settling(step());
    for (std::size_t i = 0; i < kChoices.size(); ++i) {
        const QString word = choiceWord(*m_model, kChoices[i]);
        m_choices[i]->setText(kChoices[i] == core::Choice::Other ? word + QStringLiteral("...") : word);
        m_choices[i]->setAccessibleName(
            now == nullptr ? word : tr("%1: %2", "step: choice").arg(qs(now->title), word));
        m_choices[i]->setEnabled(now != nullptr);
        const bool on = now != nullptr && settling.choice == kChoices[i];
        m_choices[i]->setChecked(on);
        m_choices[i]->setProperty("primary", on);  // filled, as the choice in the row
        m_choices[i]->update();
    }
    if (m_reason->text().trimmed() != qs(settling.reason)) m_reason->setText(qs(settling.reason));
    m_stepWords->setText(
        now == nullptr ? tr("The two do not differ.")
                       : tr("%1. %2", "step, marks").arg(qs(now->title), differenceWords(*m_model, *now)));
}

void AgreementPage::fillAgreement() {
    m_ofPair->setAgreement(m_model->shown(), m_model->said(), m_model->firstMark(), m_model->secondMark());
    m_pairFoot->setText(resampledWords(m_model->shown()));
    m_upper->setRemark(m_pairBlock,
                       tr("%n step(s) that both observed", nullptr, m_model->compared().observedByBoth));
    const ProgramAgreement* agreement = m_model->agreement();
    if (agreement == nullptr) return;
    m_ofAll->setAgreement(agreement->shown, agreement->said, tr("first"), tr("second"));
    m_allFoot->setText(resampledWords(agreement->shown));
    m_upper->setRemark(m_allBlock, tr("%n pair(s) of scorings", nullptr, m_model->pairs()));
    m_disputed->setRows(disputedRows(agreement->disputed));
    m_disputedTable->selectRowAt(0);
    m_lower->setRemark(m_disputedBlock, agreement->disputed.empty() ? tr("none") : tr("wording to mend"));
}

void AgreementPage::fillStrictness() {
    const ProgramAgreement* agreement = m_model->agreement();
    const bool alone = agreement != nullptr && agreement->instructors < 2;
    const auto& funnel = m_model->funnel();
    const bool known = funnel && !funnel->instructors.empty() && !alone;
    m_strictness->setVisible(known);
    m_luck->setVisible(known);
    m_one->setVisible(!known);
    m_lower->setRemark(
        m_strictnessBlock,
        known ? tr("credited above or below the average, steps in 100; no ranking") : QString());
    m_one->setText(alone         ? tr("Only one instructor has scored here: there is nobody to compare with.")
                   : isReading() ? tr("Being worked out from all first scorings.")
                   : m_stopped   ? tr("Stopped before it was worked out.")
                   : !known      ? tr("The attempts on file do not tell instructors apart yet.")
                                 : QString());
    if (!known) return;
    m_luck->setText(luckWords(*funnel));
    m_strictness->setFunnel(
        *funnel, [this](const std::string& key) { return m_model->letters(key); }, m_luck->text());
    m_strictness->update();
}

}  // namespace markerlamp::app
