#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The coordinator's page: who needs action this week, where everybody stands, what the group misses, who
// scores how much. Readiness is worked out in the background and comes in as it is known.

#include "app/program/program_view.h"
#include "app/shell/page.h"
#include "app/support/file_reader.h"
#include "core/program/class_steps.h"

#include <memory>

class QComboBox;
class QLineEdit;
class QStackedWidget;
class QTimer;

namespace markerlamp::app {

class BlockHead;
class BlockTabs;
class ReadinessDesk;
class RosterHeader;
class RunwayDelegate;
class Session;
class TableView;
class Text;
class Theme;

class ProgramPage final : public Page {
    Q_OBJECT

public:
    ProgramPage(const Theme& theme, Session& session, ReadinessDesk& desk, QWidget* parent = nullptr);
    ~ProgramPage() override;

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;
    /// The trainee of the current row of the list in front; empty: none.
    [[nodiscard]] QString current() const;
    [[nodiscard]] const ProgramView* view() const { return m_view.get(); }

signals:
    void traineeRequested(QString key);
    void attemptRequested(QString id);
    void startRequested(QString key);
    void editRequested(QString key);
    void bookTestRequested(QString key);
    void drillRequested(QString key);
    void recordRequested(QString key);
    void settleRequested(QString secondScoring);
    void trackRequested();
    void importRequested();
    void settingsRequested();

private:
    QWidget* makePage();
    QWidget* makeWeek();
    QWidget* makeCounts();
    QWidget* makeRoster();
    QWidget* makeClass();
    QWidget* makeLoad();
    void connectTables();
    void load();
    void rebuild();
    void fillAttention();
    void fillCounts();
    void fillRoster();
    void fillLoad();
    void showClass(const core::Result<std::vector<core::ClassStep>>& reading);
    void readClassSteps();
    void readOpenPairs();
    void sortBy(int column, bool descending);
    void act(const QString& trainee);
    void openRoster(const QString& trainee);
    void openAttempts(const QString& title, const std::vector<std::string>& attempts);
    void openLoad(const QModelIndex& index);
    void filterByWord(int row);
    void updateProgress();
    [[nodiscard]] RosterFilter filter() const;
    [[nodiscard]] TableView* front() const;

    const Theme& m_theme;
    Session& m_session;
    ReadinessDesk& m_desk;
    QTimer* m_again;
    int m_gatherMs;
    FileReader<std::vector<core::ClassStep>> m_classReader;
    FileReader<std::vector<OpenPair>> m_pairReader;
    bool m_stale = true, m_classStale = true, m_pairsStale = true;
    ProgramData m_data;
    std::unique_ptr<ProgramView> m_view;
    std::vector<OpenPair> m_openPairs;
    std::vector<core::ClassStep> m_class;
    std::optional<core::ReadinessWord> m_word;  ///< the roster shows these only

    QStackedWidget* m_stack;
    BlockHead *m_weekHead = nullptr, *m_countsHead = nullptr, *m_testsHead = nullptr;
    RowsModel *m_weekRows = nullptr, *m_countRows = nullptr, *m_testRows = nullptr, *m_rosterRows = nullptr,
              *m_classRows = nullptr, *m_loadRows = nullptr;
    TableView *m_weekTable = nullptr, *m_countTable = nullptr, *m_testTable = nullptr,
              *m_rosterTable = nullptr, *m_classTable = nullptr, *m_loadTable = nullptr;
    Text *m_weekNothing = nullptr, *m_classNote = nullptr, *m_rosterNote = nullptr;
    BlockTabs* m_tabs = nullptr;
    int m_rosterBlock = 0, m_classBlock = 0, m_loadBlock = 0;
    QLineEdit* m_find = nullptr;
    RosterOrder m_order;
    QComboBox *m_grouping = nullptr, *m_sorting = nullptr;
    RunwayDelegate* m_runway = nullptr;
    RosterHeader* m_header = nullptr;
};

}  // namespace markerlamp::app
