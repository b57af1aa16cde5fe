#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One trainee: where the zones stand, how they moved over the attempts, how showing and saying were learned,
// the list of attempts and what is on file.

#include "app/readiness/drill_panel.h"
#include "app/shell/page.h"
#include "app/support/rows_model.h"
#include "app/support/text_widgets.h"
#include "core/history/history.h"
#include "core/people/person_file.h"

class QGridLayout;
class QStackedWidget;

namespace markerlamp::db {
struct AttemptInfo;
}

namespace markerlamp::app {

class BlockTabs;
class HeatLegend;
class LearningPanel;
class ReadinessBlocks;
class Session;
class TableView;
class ZonesHeader;

class TraineePage final : public Page {
    Q_OBJECT

public:
    TraineePage(const Theme& theme, Settings& settings, Session& session, ReadinessDesk& desk,
                QWidget* parent = nullptr);

    void showTrainee(const QString& key);
    [[nodiscard]] QString trainee() const { return m_key; }
    [[nodiscard]] ReadinessBlocks& readiness() const { return *m_blocks; }

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;

signals:
    void attemptRequested(QString id);
    /// The marks of one step in an attempt.
    void marksRequested(QString attempt, QString step);
    void drillRequested(markerlamp::app::DrillAttempt attempt);
    /// The sheet of the last attempt with readiness and the drill as it is on the page.
    void drillPrintRequested(QString attempt);
    void startRequested(QString trainee);
    void signingRequested(QString attempt);
    void printRequested(QString attempt, bool preview);
    void listRequested();
    void resultRequested(QString trainee);
    /// Hours, booked tests, results, times away, training record.
    void papersRequested(QString trainee);

private:
    QWidget* makePage();
    QWidget* makeHead();
    QWidget* makeLeft();
    QWidget* makeRight();
    void load();
    void fillZones();
    void fillAttempts(const std::vector<db::AttemptInfo>& infos);
    void fillOnFile();
    void fillPapers(const core::PersonFile& person, const core::PeopleSettings& settings, int& row);
    void addOnFile(int& row, const QString& what, const QString& value, bool known, bool bold = false);
    void fillLearning();
    void moveWindow(int by);
    void showDataTable();
    void openCurrentCell();
    [[nodiscard]] QString lastAttempt() const;

    const Theme& m_theme;
    Session& m_session;
    QString m_key;
    core::Trainee m_trainee;
    std::vector<core::ScoredAttempt> m_history;
    bool m_stale = true;
    bool m_weakestFirst = false;
    int m_firstShown = 0;
    QStackedWidget* m_stack;
    EmptyState* m_none;
    EmptyState* m_empty;
    Text* m_name = nullptr;
    Text* m_facts = nullptr;
    KeyButton* m_dataButton = nullptr;
    KeyButton* m_printButton = nullptr;
    BlockHead* m_zonesHead = nullptr;
    QPushButton *m_earlier = nullptr, *m_later = nullptr, *m_sort = nullptr;
    RowsModel* m_zones = nullptr;
    TableView* m_zonesTable = nullptr;
    ZonesHeader* m_zonesHeader = nullptr;
    Text* m_zonesFoot = nullptr;
    HeatLegend* m_legend = nullptr;
    ReadinessBlocks* m_blocks;
    BlockTabs* m_lower = nullptr;
    BlockTabs* m_lowerRight = nullptr;
    int m_attemptsBlock = 0;
    RowsModel* m_attempts = nullptr;
    TableView* m_attemptsTable = nullptr;
    LearningPanel *m_shown = nullptr, *m_said = nullptr;
    Text* m_learningFoot = nullptr;
    QGridLayout* m_onFile = nullptr;
};

}  // namespace markerlamp::app
