// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The demo that the window keeps: never stale on its own, never taken from somebody who works in it.

#include "app/shell/demo_file.h"
#include "../window_fixture.h"
#include "db/event_writer.h"
#include "db/writer/spill_file.h"

#include <QDir>

#include <algorithm>

namespace markerlamp::app {
namespace {

/// A Wednesday; the demo that is made on it ends with Tuesday the 24th.
const QDate kToday(2026, 11, 25);

class DemoFileTest : public testing::WindowFixture {
protected:
    [[nodiscard]] QString demo() const { return path(QStringLiteral("kept.markerlamp")); }

    /// Opens it as the window does and closes it again.
    std::string openOn(const QDate& today, const std::function<void(Session&)>& look = {}) {
        const auto session = Session::openDemo(demo(), today);
        EXPECT_TRUE(session) << (session ? std::string() : session.error().message);
        if (!session) return {};
        if (look) look(**session);
        return until(**session);
    }
    static std::string until(Session& session) {
        return session.file().fact(kDemoUntilFact).value().value_or(std::string());
    }
    [[nodiscard]] QStringList filesInFolder() const {
        return QDir(m_dir.path()).entryList(QDir::AllEntries | QDir::Hidden | QDir::NoDotAndDotDot);
    }
};

TEST_F(DemoFileTest, EndsWithTheLastWorkingDayBeforeToday) {
    // Monday to Sunday.
    for (const auto& [today, day] : std::map<QDate, std::string>{{QDate(2026, 11, 23), "2026-11-20"},
                                                                 {QDate(2026, 11, 24), "2026-11-23"},
                                                                 {QDate(2026, 11, 25), "2026-11-24"},
                                                                 {QDate(2026, 11, 28), "2026-11-27"},
                                                                 {QDate(2026, 11, 29), "2026-11-27"},
                                                                 {QDate(2027, 1, 1), "2026-12-31"}})
        EXPECT_EQ(demoDay(today), day);
    EXPECT_EQ(openOn(kToday,
                     [](Session& session) {
                         EXPECT_EQ(session.file().attempts()->front().started.substr(0, 10), "2026-11-24");
                     }),
              "2026-11-24");
}

TEST_F(DemoFileTest, IsOpenedAsItIsForTwoWeeksAndThenMadeAfresh) {
    EXPECT_EQ(openOn(kToday), "2026-11-24");
    const QStringList before = filesInFolder();
    EXPECT_EQ(openOn(QDate(2026, 12, 8)), "2026-11-24") << "14 days after its last day";
    EXPECT_EQ(openOn(QDate(2026, 12, 9),
                     [](Session& session) {
                         EXPECT_EQ(session.file().attempts()->front().started.substr(0, 10), "2026-12-08");
                         EXPECT_GE(session.file().attempts()->size(), 90u);
                     }),
              "2026-12-08");
    EXPECT_EQ(filesInFolder(), before) << "nothing is left lying about";
    // A clock that was set back is no reason to make it again.
    EXPECT_EQ(openOn(kToday), "2026-12-08");
}

TEST_F(DemoFileTest, StaysWhenSomebodyChangedIt) {
    openOn(kToday, [](Session& session) {
        core::Trainee trainee = *session.file().trainee("t-01").value();
        trainee.note = "Drives on Thursday";
        ASSERT_TRUE(session.file().saveTrainee(trainee));
    });
    openOn(QDate(2027, 6, 1), [](Session& session) {
        EXPECT_EQ(until(session), "2026-11-24");
        EXPECT_EQ(session.file().trainee("t-01").value()->note, "Drives on Thursday");
    });
}

TEST_F(DemoFileTest, StaysWhenAPressIsStillWaitingToBeStored) {
    std::string open;
    int last = 0;
    openOn(kToday, [&](Session& session) {
        const auto attempts = session.file().attempts();
        open = std::ranges::find(*attempts, db::AttemptState::Open, &db::AttemptInfo::state)->id;
        last = session.file().attempt(open)->events.back().n;
    });
    db::Press press;
    press.ticket = 1;
    press.attempt = open;
    core::Event& event = press.events.emplace_back();
    event.n = last + 1;
    event.t = 3000;
    event.kind = core::EventKind::Note;
    event.text = "the stick was pulled out here";
    ASSERT_TRUE(db::appendPresses(db::EventWriter::spillPath(ss(demo())), {press}));
    openOn(QDate(2027, 6, 1), [&](Session& session) {
        EXPECT_EQ(until(session), "2026-11-24");
        EXPECT_EQ(session.file().attempt(open)->events.back().text, event.text);
    });
}

TEST_F(DemoFileTest, StaysWhileAnotherProgramReadsIt) {
    openOn(kToday);
    {
        const auto reader = db::ProgramFile::open(ss(demo()));
        ASSERT_TRUE(reader);
        EXPECT_EQ(openOn(QDate(2027, 6, 1)), "2026-11-24");
    }
    EXPECT_EQ(openOn(QDate(2027, 6, 1)), "2027-05-31");
}

TEST_F(DemoFileTest, AFileThatDoesNotSayThatItIsADemoStays) {
    ASSERT_TRUE(makeProgram(ss(demo())));
    EXPECT_EQ(openOn(QDate(2027, 6, 1)), "");
    ASSERT_TRUE(db::ProgramFile::open(ss(demo())).value()->setFact(kDemoUntilFact, "last spring"));
    EXPECT_EQ(openOn(QDate(2027, 6, 1)), "last spring");
}

TEST_F(DemoFileTest, TheWindowOpensAFreshOneInPlaceOfTheOldOne) {
    makeWindow();
    QFile::remove(MainWindow::demoPath());
    ASSERT_TRUE(m_window->openDemo(kToday));
    EXPECT_EQ(until(*m_window->session()), "2026-11-24");
    // The one that is open is not taken away from under the pages.
    ASSERT_TRUE(m_window->openDemo(QDate(2027, 6, 1)));
    EXPECT_EQ(until(*m_window->session()), "2026-11-24");
    m_window->closeFile();
    ASSERT_TRUE(m_window->openDemo(QDate(2027, 6, 1)));
    EXPECT_EQ(until(*m_window->session()), "2027-05-31");
    m_window->closeFile();
    QFile::remove(MainWindow::demoPath());
}

TEST_F(DemoFileTest, TheWindowRenewsItsDemoHoweverItIsOpenedAndNoOtherFile) {
    makeWindow();
    ASSERT_TRUE(QDir().mkpath(QFileInfo(MainWindow::demoPath()).absolutePath()));
    QFile::remove(MainWindow::demoPath());
    ASSERT_TRUE(makeProgram(ss(MainWindow::demoPath()), "2026-03-13"));
    ASSERT_TRUE(QFile::copy(MainWindow::demoPath(), demo()));
    ASSERT_TRUE(m_window->openFile(MainWindow::demoPath()));
    EXPECT_EQ(until(*m_window->session()), demoDay(QDate::currentDate()));
    ASSERT_TRUE(m_window->openFile(demo()));
    EXPECT_EQ(until(*m_window->session()), "2026-03-13") << "made by somebody for a purpose of their own";
    QFile::remove(MainWindow::demoPath());
    EXPECT_EQ(m_window->openFile(MainWindow::demoPath()).error().kind, core::ErrorKind::NotFound);
    ASSERT_TRUE(m_window->createFile(path(QStringLiteral("mine.markerlamp")), true));
    EXPECT_EQ(until(*m_window->session()), demoDay(QDate::currentDate()));
}

}  // namespace
}  // namespace markerlamp::app
