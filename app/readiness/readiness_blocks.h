#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Readiness and next drill as blocks of a page, with the controls in their heads: the same on the debrief and
// on the trainee's page.

#include "app/readiness/drill_panel.h"
#include "app/readiness/readiness_card.h"
#include "app/support/block_tabs.h"

#include <QObject>

namespace markerlamp::app {

class ReadinessBlocks final : public QObject {
    Q_OBJECT

public:
    ReadinessBlocks(const Theme& theme, Settings& settings, ReadinessDesk& desk, ReadinessCard::Width width,
                    QObject* parent);

    void addReadiness(BlockTabs& tabs);
    void addDrill(BlockTabs& tabs);
    /// Empty: nobody.
    void showTrainee(const QString& key);
    [[nodiscard]] const QString& trainee() const { return m_trainee; }
    [[nodiscard]] ReadinessCard& card() const { return *m_card; }
    [[nodiscard]] DrillPanel& drill() const { return *m_drill; }

    void overrideWord();
    void sendToTest();

signals:
    void marksRequested(QString attempt, QString step);
    void startRequested(markerlamp::app::DrillAttempt attempt);
    void printRequested();
    void said(QString message);

private:
    void updateReadiness();
    void updateDrill();

    const Theme& m_theme;
    ReadinessDesk& m_desk;
    QString m_trainee;
    ReadinessCard* m_card;
    DrillPanel* m_drill;
    BlockTabs* m_readinessTabs = nullptr;
    BlockTabs* m_drillTabs = nullptr;
    int m_readinessBlock = 0;
    int m_drillBlock = 0;
    QPushButton* m_override = nullptr;
    QPushButton* m_send = nullptr;
};

}  // namespace markerlamp::app
