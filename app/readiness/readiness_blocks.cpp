// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/readiness_blocks.h"

#include "app/readiness/override_dialog.h"
#include "app/readiness/readiness_words.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "forms/signs/readiness_sign.h"

#include <QMessageBox>

namespace markerlamp::app {

ReadinessBlocks::ReadinessBlocks(const Theme& theme, Settings& settings, ReadinessDesk& desk,
                                 ReadinessCard::Width width, QObject* parent)
    : QObject(parent),
      m_theme(theme),
      m_desk(desk),
      m_card(new ReadinessCard(theme, desk, width)),
      m_drill(new DrillPanel(theme, settings, desk)) {
    connect(m_card, &ReadinessCard::marksRequested, this, &ReadinessBlocks::marksRequested);
    connect(m_card, &ReadinessCard::filled, this, &ReadinessBlocks::updateReadiness);
    connect(m_drill, &DrillPanel::filled, this, &ReadinessBlocks::updateDrill);
    connect(m_drill, &DrillPanel::startRequested, this, &ReadinessBlocks::startRequested);
    connect(m_drill, &DrillPanel::printRequested, this, &ReadinessBlocks::printRequested);
    connect(m_drill, &DrillPanel::said, this, &ReadinessBlocks::said);
}

void ReadinessBlocks::addReadiness(BlockTabs& tabs) {
    m_override = makeSmallLink(m_theme, tr("own word"),
                               tr("Set your own word in place of the computed one, or take it back"));
    m_send = makeSmallLink(m_theme, tr("send to the test"),
                           tr("Keep this forecast with today's date before the official test"));
    connect(m_override, &QPushButton::clicked, this, &ReadinessBlocks::overrideWord);
    connect(m_send, &QPushButton::clicked, this, &ReadinessBlocks::sendToTest);
    m_readinessTabs = &tabs;
    m_readinessBlock = tabs.add(tr("Readiness"), m_card, {m_override, m_send});
    updateReadiness();
}

void ReadinessBlocks::addDrill(BlockTabs& tabs) {
    m_drillTabs = &tabs;
    m_drillBlock = tabs.add(tr("Next drill"), m_drill, m_drill->controls());
    updateDrill();
}

void ReadinessBlocks::showTrainee(const QString& key) {
    m_trainee = key;
    m_card->showTrainee(key);
    m_drill->showTrainee(key);
}

void ReadinessBlocks::updateReadiness() {
    if (m_readinessTabs == nullptr) return;
    const ReadinessStanding& standing = m_desk.of(m_trainee);
    m_readinessTabs->setRemark(m_readinessBlock, m_card->remark());
    BlockTab* tab = m_readinessTabs->tab(m_readinessBlock);
    m_send->setEnabled(standing.known && standing.state == ReadinessStanding::State::Known);
    m_override->setEnabled(!m_trainee.isEmpty());
    if (!standing.known) {
        tab->setText(tr("Readiness"));
        tab->setSign({});
        return;
    }
    // The word stays in sight whichever block is in front.
    const core::ReadinessWord word = standing.answer.readiness.word;
    tab->setText(tr("Readiness: %1").arg(qs(core::shownWord(word, m_desk.settings()))));
    tab->setSign([this, word](QPainter& painter, const QRectF& square) {
        forms::paintReadiness(painter, square, word, m_theme.roles(), m_theme.scale());
    });
}

void ReadinessBlocks::updateDrill() {
    if (m_drillTabs != nullptr) m_drillTabs->setRemark(m_drillBlock, m_drill->remark());
}

void ReadinessBlocks::overrideWord() {
    if (const auto good = m_desk.session().file().may(core::Deed::KeepRecords); !good) {
        QMessageBox::warning(m_card->window(), tr("Not yours to decide"), errorText(good.error()));
        return;
    }
    OverrideDialog dialog(m_theme, m_desk, m_trainee, m_card->window());
    if (dialog.exec() == QDialog::Accepted) emit said(tr("Kept; the computed word stays beside it"));
}

void ReadinessBlocks::sendToTest() {
    const ReadinessStanding& standing = m_desk.of(m_trainee);
    if (!standing.known) return;
    QMessageBox box(
        QMessageBox::Question, tr("Send to the test"),
        tr("This forecast is kept with today's date, so that it can be held against the result:\n\n"
           "%1\n\nIt is not changed afterwards. The official test decides.")
            .arg(readinessSentence(standing.answer.readiness, m_desk.settings())),
        QMessageBox::NoButton, m_card->window());
    auto* keep = box.addButton(tr("&Keep the forecast"), QMessageBox::AcceptRole);
    box.addButton(tr("&Cancel"), QMessageBox::RejectRole);
    box.setDefaultButton(keep);
    box.exec();
    if (box.clickedButton() != keep) return;
    const auto kept = m_desk.sendToTest(m_trainee);
    if (kept)
        emit said(tr("Forecast kept, model version %1").arg(kept->modelVersion));
    else
        QMessageBox::warning(m_card->window(), tr("Not kept"), errorText(kept.error()));
}

}  // namespace markerlamp::app
