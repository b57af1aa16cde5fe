// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The list of trainees in the window: find, sort, add, edit, take in a CSV file.

#include "../window_fixture.h"

#include "app/support/table_view.h"
#include "app/trainees/trainee_page.h"
#include "app/trainees/trainees_page.h"

#include <QAbstractItemModelTester>
#include <QClipboard>
#include <QFileDialog>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTextBrowser>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class TraineesPageTest : public WindowFixture {
protected:
    [[nodiscard]] app::TraineesPage& page() { return *m_window->findChild<app::TraineesPage*>(); }
    [[nodiscard]] db::ProgramFile& file() { return m_window->session()->file(); }
    [[nodiscard]] app::TableView& table() { return *page().findChild<app::TableView*>(); }
    [[nodiscard]] QLineEdit& find() { return *page().findChild<QLineEdit*>(); }
    [[nodiscard]] QStringList column(int number) {
        QStringList all;
        for (int row = 0; row < table().model()->rowCount(); ++row)
            all << table().model()->index(row, number).data().toString();
        return all;
    }
    void clickButton(const char* words) {
        for (auto* one : page().findChildren<QPushButton*>())
            if (one->isVisible() && one->text() == QLatin1String(words)) {
                one->click();
                settle();
                return;
            }
        ADD_FAILURE() << "no button " << words;
    }
    void showList() {
        m_window->showPage(PageId::Trainees);
        settle();
    }
    /// Types into the field that stands beside the label.
    static void fill(QDialog& dialog, const char* label, const QString& text) {
        for (auto* one : dialog.findChildren<QLabel*>())
            if (QString(one->text()).remove(QLatin1Char('&')) == QLatin1String(label)) {
                auto* field = qobject_cast<QLineEdit*>(one->buddy());
                ASSERT_NE(field, nullptr) << label;
                field->setText(text);
                return;
            }
        ADD_FAILURE() << "no field " << label;
    }
    /// What the form says is wrong; empty: nothing.
    static QString problem(QDialog& dialog) {
        for (auto* one : dialog.findChildren<app::Text*>())
            if (one->isVisible()) return one->text();
        return {};
    }
    static void accept(QDialog& dialog) { QMetaObject::invokeMethod(&dialog, "accept"); }
};

TEST_F(TraineesPageTest, FindsByNameKeyAndGroupAndNothingElse) {
    openDemo();
    core::Trainee odd = file().trainees()->front();
    odd.key = "zq-77";
    odd.name = "Quentin Invented";
    odd.group = "Yard Seven";
    ASSERT_TRUE(file().saveTrainee(odd));
    m_window->session()->notePeopleChanged();
    showList();
    QAbstractItemModelTester tester(table().model(), QAbstractItemModelTester::FailureReportingMode::Fatal);
    const int all = table().model()->rowCount();
    for (const char* words : {"quentin", "ZQ-77", "yard sev", "  Quentin "}) {
        find().setText(QLatin1String(words));
        EXPECT_EQ(column(0), QStringList{QStringLiteral("Quentin Invented")}) << words;
        EXPECT_EQ(page().current(), QStringLiteral("zq-77")) << words;
    }
    find().setText(QStringLiteral("days"));
    EXPECT_EQ(table().model()->rowCount(), 0) << "the words of a date are no name, key or group";
    EXPECT_TRUE(page().current().isEmpty());
    EXPECT_FALSE(m_window->action(QStringLiteral("edit.edit"))->isEnabled());
    find().clear();
    EXPECT_EQ(table().model()->rowCount(), all);
    EXPECT_FALSE(page().current().isEmpty());
    // Enter in the field opens the first that was found.
    trigger("edit.find");
    EXPECT_TRUE(find().hasFocus());
    QTest::keyClicks(&find(), QStringLiteral("zq-77"));
    QTest::keyClick(&find(), Qt::Key_Return);
    settle();
    EXPECT_EQ(m_window->currentPageId(), PageId::Trainee);
    EXPECT_EQ(m_window->findChild<app::TraineePage*>()->trainee(), QStringLiteral("zq-77"));
}

TEST_F(TraineesPageTest, SortsDatesAndNumbersByValue) {
    openDemo();
    showList();
    QStringList names = column(0);
    QStringList sorted = names;
    std::sort(sorted.begin(), sorted.end(),
              [](const QString& a, const QString& b) { return a.toLower() < b.toLower(); });
    EXPECT_EQ(names, sorted);
    table().sortByColumn(2, Qt::DescendingOrder);
    std::vector<int> attempts;
    for (const QString& text : column(2)) attempts.push_back(text.toInt());
    EXPECT_TRUE(std::is_sorted(attempts.rbegin(), attempts.rend()));
    table().sortByColumn(3, Qt::AscendingOrder);
    std::vector<QDate> dates;
    for (const QString& text : column(3))
        if (const QDate date = QLocale().toDate(text, QStringLiteral("d MMM yyyy")); date.isValid())
            dates.push_back(date);
    EXPECT_GT(dates.size(), 5u);
    EXPECT_TRUE(std::is_sorted(dates.begin(), dates.end()));
}

TEST_F(TraineesPageTest, RowsSayWhatTheFileHolds) {
    openDemo();
    showList();
    std::map<std::string, int> ended;
    const auto infos = file().attempts();
    for (const auto& info : *infos)
        if (info.state == db::AttemptState::Ended && info.of.empty()) ++ended[info.trainee];
    for (int row = 0; row < table().model()->rowCount(); ++row) {
        const QModelIndex first = table().model()->index(row, 0);
        const std::string key = first.data(app::RowsModel::IdRole).toString().toStdString();
        const core::Trainee trainee = **file().trainee(key);
        EXPECT_EQ(first.data().toString().toStdString(), trainee.name);
        EXPECT_EQ(first.siblingAtColumn(1).data().toString().toStdString(), trainee.group);
        EXPECT_EQ(first.siblingAtColumn(2).data().toString().toInt(), ended[key]);
        EXPECT_EQ(first.siblingAtColumn(5).data().toString(),
                  trainee.permitExpires.empty()
                      ? QStringLiteral("-")
                      : app::endsText(app::isoDate(trainee.permitExpires), QDate::currentDate()));
    }
    trigger("edit.copy");
    EXPECT_EQ(QApplication::clipboard()->text().split(QLatin1Char('\n'), Qt::SkipEmptyParts).size(),
              table().model()->rowCount() + 1);
}

TEST_F(TraineesPageTest, AddsOnlyWhatIsSoundAndSelectsIt) {
    openDemo();
    showList();
    const auto before = *file().trainees();
    withDialog("edit.add", [&](QDialog& dialog) {
        accept(dialog);
        EXPECT_TRUE(problem(dialog).startsWith(QLatin1String("Name:"))) << problem(dialog).toStdString();
        fill(dialog, "Name", QStringLiteral("Wanda Invented"));
        fill(dialog, "Key", app::qs(before.front().key));
        accept(dialog);
        EXPECT_TRUE(problem(dialog).contains(QLatin1String("in use already")));
        fill(dialog, "Key", QStringLiteral("w 1"));
        accept(dialog);
        EXPECT_TRUE(problem(dialog).startsWith(QLatin1String("Key:")));
        fill(dialog, "Key", QStringLiteral("w-1"));
        fill(dialog, "Permit ends", QStringLiteral("2027-02-30"));
        accept(dialog);
        EXPECT_TRUE(problem(dialog).startsWith(QLatin1String("Permit ends:"))) << "no such day";
        fill(dialog, "Permit issued", QStringLiteral("2027-01-01"));
        fill(dialog, "Permit ends", QStringLiteral("2026-12-31"));
        accept(dialog);
        EXPECT_TRUE(problem(dialog).contains(QLatin1String("before it was issued")));
        fill(dialog, "Permit ends", QStringLiteral("2027-06-30"));
        fill(dialog, "Theory result", QStringLiteral("101"));
        accept(dialog);
        EXPECT_TRUE(problem(dialog).startsWith(QLatin1String("Theory result:")));
        EXPECT_EQ(file().trainees()->size(), before.size()) << "nothing was stored so far";
        fill(dialog, "Theory result", QStringLiteral("88.5"));
        dialog.findChild<QPlainTextEdit*>()->setPlainText(QStringLiteral("early shift"));
        accept(dialog);
        EXPECT_FALSE(dialog.isVisible());
    });
    const auto added = file().trainee("w-1");
    ASSERT_TRUE(added && *added);
    EXPECT_EQ((**added).name, "Wanda Invented");
    EXPECT_EQ((**added).permitIssued, "2027-01-01");
    EXPECT_EQ((**added).permitExpires, "2027-06-30");
    EXPECT_EQ((**added).theoryPercent, 88.5);
    EXPECT_EQ((**added).note, "early shift");
    EXPECT_EQ(page().current(), QStringLiteral("w-1"));
    EXPECT_EQ(table().model()->rowCount(), static_cast<int>(before.size()) + 1);
}

TEST_F(TraineesPageTest, EditsKeepTheKeyAndCompleteAnEntry) {
    openDemo();
    core::Trainee open;
    open.key = "o-1";
    open.toComplete = true;
    ASSERT_TRUE(file().saveTrainee(open));
    m_window->session()->notePeopleChanged();
    showList();
    find().setText(QStringLiteral("o-1"));
    ASSERT_EQ(page().current(), QStringLiteral("o-1"));
    EXPECT_TRUE(column(7).front().contains(QLatin1String("to be completed")));
    withDialog("edit.edit", [&](QDialog& dialog) {
        for (auto* one : dialog.findChildren<QLineEdit*>()) {
            EXPECT_EQ(one->isReadOnly(), one->text() == QLatin1String("o-1")) << "attempts name the key";
        }
        fill(dialog, "Name", QStringLiteral("Olive Invented"));
        accept(dialog);
    });
    const auto changed = file().trainee("o-1");
    ASSERT_TRUE(changed && *changed);
    EXPECT_EQ((**changed).name, "Olive Invented");
    EXPECT_FALSE((**changed).toComplete);
    EXPECT_EQ(column(0), QStringList{QStringLiteral("Olive Invented")});
    EXPECT_FALSE(column(7).front().contains(QLatin1String("to be completed")));
    // Leaving the form by Esc changes nothing.
    withDialog("edit.edit", [&](QDialog& dialog) {
        fill(dialog, "Name", QStringLiteral("Somebody Else"));
        QTest::keyClick(&dialog, Qt::Key_Escape);
    });
    EXPECT_EQ((**file().trainee("o-1")).name, "Olive Invented");
}

class CsvFromThePage : public TraineesPageTest {
protected:
    /// Chooses the file in the dialog for files and reads what became of it.
    QStringList importFrom(const char* way, const QString& path) {
        QStringList told;
        whileDialogs([&] { clickButton(way); },
                     {[&](QDialog& dialog) {
                          ASSERT_NE(qobject_cast<QFileDialog*>(&dialog), nullptr);
                          dialog.findChild<QLineEdit*>()->setText(path);
                          accept(dialog);
                      },
                      [&](QDialog& dialog) {
                          for (auto* label : dialog.findChildren<QLabel*>()) told << label->text();
                          for (auto* text : dialog.findChildren<QTextBrowser*>()) told << text->toPlainText();
                          for (auto* view : dialog.findChildren<QTableView*>())
                              for (int row = 0; row < view->model()->rowCount(); ++row)
                                  for (int at = 0; at < view->model()->columnCount(); ++at)
                                      told << view->model()->index(row, at).data().toString();
                      }});
        QApplication::setActiveWindow(m_window.get());
        settle();
        return told;
    }
};

TEST_F(CsvFromThePage, TakesPeopleIntoAnEmptyFile) {
    openEmpty();
    showList();
    const QString csv = write(QStringLiteral("people.csv"),
                              "key,name,permit_expires,group\n"
                              "t-1,Wanda Invented,2027-03-12,Yard 1\n"
                              "t-2,\"Invented, Olive\",,\n");
    importFrom("import a CSV file", csv);
    EXPECT_EQ(column(0), (QStringList{QStringLiteral("Invented, Olive"), QStringLiteral("Wanda Invented")}));
    const auto wanda = file().trainee("t-1");
    ASSERT_TRUE(wanda && *wanda);
    EXPECT_EQ((**wanda).permitExpires, "2027-03-12");
    EXPECT_EQ((**wanda).group, "Yard 1");
}

TEST_F(CsvFromThePage, RefusesAWholeFileAndNamesThePlace) {
    openDemo();
    showList();
    const auto before = *file().trainees();
    const QString csv = write(QStringLiteral("people.csv"),
                              "key,name,permit_expires\n"
                              "n-1,Wanda Invented,2027-03-12\n"
                              "n-2,Olive Invented,12 March\n");
    const QString told = importFrom("Import", csv).join(QLatin1Char('\n'));
    EXPECT_TRUE(told.contains(QLatin1String("refused"))) << told.toStdString();
    EXPECT_TRUE(told.contains(QLatin1String("12 March"))) << told.toStdString();
    EXPECT_TRUE(told.contains(QLatin1String("line 3")) || told.contains(QLatin1String(":3:")))
        << told.toStdString();
    EXPECT_EQ(*file().trainees(), before);
}

}  // namespace
}  // namespace markerlamp::testing
