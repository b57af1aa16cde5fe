// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The page of one trainee in the window: cells that open the marks, tables that say what the charts show, and
// what a page without attempts offers.

#include "../window_fixture.h"

#include "app/debrief/debrief_page.h"
#include "app/start/start_page.h"
#include "app/support/table_view.h"
#include "app/trainees/learning_panel.h"
#include "app/trainees/trainee_page.h"

#include <QAbstractItemModelTester>
#include <QClipboard>
#include <QLabel>
#include <QPushButton>
#include <QTabWidget>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class TraineePageTest : public WindowFixture {
protected:
    [[nodiscard]] app::TraineePage& page() { return *m_window->findChild<app::TraineePage*>(); }
    [[nodiscard]] app::DebriefPage& debrief() { return *m_window->findChild<app::DebriefPage*>(); }
    [[nodiscard]] app::TableView* table(const char* name) {
        for (auto* view : page().findChildren<app::TableView*>())
            if (view->accessibleName() == QLatin1String(name)) return view;
        ADD_FAILURE() << "no table " << name;
        return nullptr;
    }
    [[nodiscard]] app::TableView* zones() { return table("Zones now and zones by attempts"); }
    [[nodiscard]] QPushButton* button(const char* words) {
        for (auto* one : page().findChildren<QPushButton*>())
            if (one->isVisible() && one->text() == QLatin1String(words)) return one;
        ADD_FAILURE() << "no button " << words;
        return nullptr;
    }
    void show(const QString& key) {
        page().showTrainee(key);
        m_window->showPage(PageId::Trainee);
        settle();
    }
    void showBusiest() {
        openDemo();
        show(busiest());
        m_history = *m_window->session()->history(busiest());
        ASSERT_GT(m_history.size(), 6u) << "more attempts than columns";
    }
    [[nodiscard]] QString idOf(int number) const {
        return app::qs(m_history[static_cast<std::size_t>(number) - 1].attempt.header.id);
    }
    std::vector<core::ScoredAttempt> m_history;
};

TEST_F(TraineePageTest, EnterOnACellOpensTheMarksOfThatAttempt) {
    showBusiest();
    const int attempts = static_cast<int>(m_history.size());
    QAbstractItemModelTester tester(zones()->model(), QAbstractItemModelTester::FailureReportingMode::Fatal);
    EXPECT_EQ(zones()->currentIndex().column(), 8) << "the newest is current";
    for (const int column : {3, 5, 8}) {
        show(page().trainee());
        zones()->setFocus();
        zones()->setCurrentIndex(zones()->model()->index(1, column));
        QTest::keyClick(zones(), Qt::Key_Return);
        settle();
        EXPECT_EQ(m_window->currentPageId(), PageId::Debrief);
        EXPECT_EQ(debrief().attempt(), idOf(attempts - 6 + column - 2));
    }
}

TEST_F(TraineePageTest, ArrowsWalkTheCellsAndEarlierGoesBack) {
    showBusiest();
    zones()->setFocus();
    zones()->setCurrentIndex(zones()->model()->index(0, 8));
    QTest::keyClick(zones(), Qt::Key_Left);
    QTest::keyClick(zones(), Qt::Key_Down);
    EXPECT_EQ(zones()->currentIndex(), zones()->model()->index(1, 7));
    button("earlier")->click();
    const int attempts = static_cast<int>(m_history.size());
    const int first = std::max(0, attempts - 12);
    EXPECT_TRUE(zones()
                    ->model()
                    ->headerData(3, Qt::Horizontal)
                    .toString()
                    .startsWith(QStringLiteral("%1\n").arg(first + 1)));
    zones()->setCurrentIndex(zones()->model()->index(0, 3));
    QTest::keyClick(zones(), Qt::Key_Return);
    settle();
    EXPECT_EQ(debrief().attempt(), idOf(first + 1));
}

TEST_F(TraineePageTest, WeakestFirstSortsTheZones) {
    showBusiest();
    // By the chance of lying under the pass mark, not by the raw share: few steps prove little.
    std::map<std::string, double> below;
    for (const core::ZoneNow& zone : core::zonesNow(m_history)) below[zone.title] = zone.below;
    button("weakest first")->click();
    std::vector<double> chances;
    for (int row = 0; row < zones()->model()->rowCount(); ++row)
        if (!zones()->model()->index(row, 2).data().toString().endsWith(QLatin1String("/0")))
            chances.push_back(below.at(zones()->model()->index(row, 0).data().toString().toStdString()));
    EXPECT_GT(chances.size(), 4u);
    EXPECT_TRUE(std::is_sorted(chances.rbegin(), chances.rend()));
    button("walk order")->click();
    for (std::size_t i = 0; i < m_history.back().rubric->zones.size(); ++i)
        EXPECT_EQ(zones()->model()->index(static_cast<int>(i), 0).data().toString().toStdString(),
                  m_history.back().rubric->zones[i].title);
}

TEST_F(TraineePageTest, DataTableSaysWhatTheChartsShow) {
    showBusiest();
    QAbstractItemModel* shown = zones()->model();
    withDialog("view.data", [&](QDialog& dialog) {
        auto* tabs = dialog.findChild<QTabWidget*>();
        ASSERT_EQ(tabs->count(), 2);
        const auto* all = qobject_cast<QTableView*>(tabs->widget(0))->model();
        const int attempts = static_cast<int>(m_history.size());
        ASSERT_EQ(all->rowCount(), shown->rowCount());
        ASSERT_EQ(all->columnCount(), 3 + attempts) << "every attempt, not only the last six";
        const auto heat = core::zonesByAttempts(m_history);
        for (int row = 0; row < all->rowCount(); ++row) {
            EXPECT_EQ(all->index(row, 2).data(), shown->index(row, 2).data());
            EXPECT_EQ(all->index(row, 1).data(), shown->index(row, 1).data(Qt::AccessibleTextRole))
                << "the interval in words";
            for (int attempt = 0; attempt < attempts; ++attempt) {
                const auto& cell =
                    heat.cells[static_cast<std::size_t>(row)][static_cast<std::size_t>(attempt)];
                const QString text = all->index(row, 3 + attempt).data().toString();
                if (cell.inScope && cell.observed > 0) {
                    EXPECT_EQ(text, QStringLiteral("%1/%2").arg(cell.satisfied).arg(cell.observed));
                } else {
                    EXPECT_FALSE(text.isEmpty()) << "words where the chart has a hatch or nothing";
                }
            }
        }
        EXPECT_EQ(qobject_cast<QTableView*>(tabs->widget(1))->model()->rowCount(), attempts);
        // Copy takes the table in front.
        for (auto* one : dialog.findChildren<QPushButton*>())
            if (one->text() == QLatin1String("&Copy the table")) one->click();
        const QStringList lines =
            QApplication::clipboard()->text().split(QLatin1Char('\n'), Qt::SkipEmptyParts);
        ASSERT_EQ(lines.size(), all->rowCount() + 1);
        EXPECT_EQ(lines[1].split(QLatin1Char('\t')).size(), all->columnCount());
    });
}

TEST_F(TraineePageTest, CopyTakesTheTableOrChartWithTheFocus) {
    showBusiest();
    const int attempts = static_cast<int>(m_history.size());
    const auto copied = [&](QWidget* focus) {
        focus->setFocus();
        trigger("edit.copy");
        return QApplication::clipboard()->text().split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    };
    EXPECT_EQ(copied(zones()).size(), zones()->model()->rowCount() + 1);
    EXPECT_GE(copied(table("Attempts")).size(), attempts + 1);
    const QStringList learning = copied(page().findChildren<app::LearningPanel*>().front());
    ASSERT_EQ(learning.size(), attempts + 1);
    const auto points = core::learningPoints(m_history);
    EXPECT_TRUE(learning.back().contains(
        QStringLiteral("%1 of %2").arg(points.back().shownCount).arg(points.back().shownOf)));
}

TEST_F(TraineePageTest, ChartsSayTheirSummaryToAssistiveTechnology) {
    showBusiest();
    const auto points = core::learningPoints(m_history);
    const auto panels = page().findChildren<app::LearningPanel*>();
    ASSERT_EQ(panels.size(), 2);
    EXPECT_EQ(panels[0]->accessibleDescription(),
              app::learningSummary(points, app::LearningPanel::What::Shown));
    EXPECT_EQ(panels[1]->accessibleDescription(),
              app::learningSummary(points, app::LearningPanel::What::Said));
    QStringList weak;
    for (const auto& zone : core::zonesNow(m_history))
        if (zone.weak) weak << app::qs(zone.title);
    for (const QString& zone : weak) EXPECT_TRUE(zones()->accessibleDescription().contains(zone));
    EXPECT_FALSE(zones()->accessibleDescription().isEmpty());
}

TEST_F(TraineePageTest, AttemptsAreListedNewestFirstAndOpenTheirDebrief) {
    showBusiest();
    auto* attempts = table("Attempts");
    QAbstractItemModelTester tester(attempts->model(), QAbstractItemModelTester::FailureReportingMode::Fatal);
    const auto infos = *m_window->session()->file().attempts(app::ss(page().trainee()));
    ASSERT_EQ(attempts->model()->rowCount(), static_cast<int>(infos.size()));
    for (int row = 0; row < attempts->model()->rowCount(); ++row) {
        const auto& info = infos[static_cast<std::size_t>(row)];
        EXPECT_EQ(attempts->model()->index(row, 0).data(app::RowsModel::IdRole).toString().toStdString(),
                  info.id);
        if (info.state == db::AttemptState::Ended) {
            EXPECT_EQ(attempts->model()->index(row, 5).data().toString(), app::percentText(info.percent));
        }
    }
    attempts->setFocus();
    attempts->selectRowAt(2);
    QTest::keyClick(attempts, Qt::Key_Return);
    settle();
    EXPECT_EQ(debrief().attempt().toStdString(), infos[2].id);
}

TEST_F(TraineePageTest, WithoutAttemptsItOffersToStartOne) {
    openEmpty();
    core::Trainee trainee;
    trainee.key = "t-1";
    trainee.name = "Wanda Invented";
    ASSERT_TRUE(m_window->session()->file().saveTrainee(trainee));
    m_window->session()->notePeopleChanged();
    show(QStringLiteral("t-1"));
    button("Start an attempt")->click();
    settle();
    EXPECT_EQ(m_window->currentPage(), m_window->findChild<app::StartPage*>());
}

}  // namespace
}  // namespace markerlamp::testing
