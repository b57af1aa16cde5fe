// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The window and the file it works on: which it opens, what it remembers of it, and what it says when
// writing fails or the file is gone.

#include "../window_fixture.h"

#include "app/scoring/scoring_page.h"
#include "app/start/resume_card.h"
#include "app/start/start_page.h"
#include "app/support/text_widgets.h"
#include "app/trainees/trainee_page.h"

#include "../../support/sample_attempt.h"

#include <QLabel>
#include <QLocale>
#include <QMenu>
#include <QMenuBar>
#include <QMessageBox>
#include <QSignalSpy>
#include <QSysInfo>
#include <QThread>

#include <filesystem>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class WindowFiles : public WindowFixture {
protected:
    [[nodiscard]] QMenu* recentMenu() {
        for (auto* menu : m_window->menuBar()->findChildren<QMenu*>())
            if (menu->title() == QLatin1String("Used &lately")) return menu;
        ADD_FAILURE() << "no menu of recent files";
        return nullptr;
    }
    [[nodiscard]] std::vector<std::string> everybody() {
        std::vector<std::string> names;
        const auto trainees = m_window->session()->file().trainees();
        const auto instructors = m_window->session()->file().instructors();
        for (const auto& one : *trainees) names.push_back(one.name);
        for (const auto& one : *instructors) names.push_back(one.name);
        return names;
    }
    /// A new attempt of the first trainee on the first rubric, with nothing scored.
    [[nodiscard]] core::AttemptHeader newHeader() {
        auto& file = m_window->session()->file();
        const auto rubric = builtInRubric("air-brake-school-bus");
        core::AttemptHeader header =
            wholeAttempt(rubric, equipmentWithout(rubric), {rubric.zones.front().id}).header;
        header.trainee = file.trainees()->front().key;
        header.instructor = file.instructors()->front().key;
        header.bus = file.buses()->front().key;
        return header;
    }
    [[nodiscard]] core::Event note(int n, const char* text) const {
        core::Event event;
        event.n = n;
        event.t = n;
        event.kind = core::EventKind::Note;
        event.text = text;
        return event;
    }
};

TEST_F(WindowFiles, RecentFilesAreTheTenNewestThatAreStillThere) {
    QStringList files;
    for (int i = 0; i < 12; ++i) {
        files.prepend(write(QStringLiteral("file-%1.markerlamp").arg(i), "x"));
        m_settings.noteRecentFile(files.first());
    }
    m_settings.noteRecentFile(files.at(3));  // used again: first, and once
    files.prepend(files.takeAt(3));
    makeWindow();
    const auto listed = [this] {
        QStringList paths;
        for (QAction* action : recentMenu()->actions())
            paths << action->text().section(QLatin1String("  "), 1);
        return paths.join(QLatin1Char('\n')).toStdString();
    };
    const auto first = [&files](int count) {
        return QStringList(files.mid(0, count)).join(QLatin1Char('\n')).toStdString();
    };
    EXPECT_EQ(listed(), first(10));
    EXPECT_EQ(recentMenu()->actions().first()->text().left(2), QStringLiteral("&1"));
    EXPECT_EQ(recentMenu()->actions().last()->text().left(2), QStringLiteral("&0"));

    // One goes while the window is open: the menu that opens next does not list it.
    QFile::remove(files.at(4));
    files.removeAt(4);
    emit m_window->menuBar()->actions().first()->menu()->aboutToShow();
    EXPECT_EQ(listed(), first(9)) << "what had fallen off the end does not come back";
}

TEST_F(WindowFiles, ARecentFileOpensAndOneThatIsNoProgramIsRefusedInWords) {
    openEmpty();
    const QString mine = m_window->session()->path();
    m_settings.noteRecentFile(write(QStringLiteral("letter.markerlamp"), "Dear driver,"));
    trigger("file.close");
    emit m_window->menuBar()->actions().first()->menu()->aboutToShow();
    const QList<QAction*> entries = recentMenu()->actions();
    ASSERT_EQ(entries.size(), 2);
    whileDialog([&] { entries[0]->trigger(); },
                [](QDialog& dialog) {
                    auto* box = qobject_cast<QMessageBox*>(&dialog);
                    ASSERT_NE(box, nullptr);
                    EXPECT_TRUE(box->text().contains(QStringLiteral("letter.markerlamp")))
                        << box->text().toStdString();
                });
    EXPECT_EQ(m_window->session(), nullptr);
    entries[1]->trigger();
    ASSERT_NE(m_window->session(), nullptr);
    EXPECT_EQ(m_window->session()->path(), mine);
}

TEST_F(WindowFiles, TitleAndRecentFilesCarryNoNames) {
    openDemo();
    m_window->showPage(PageId::Trainees);
    page<app::TraineePage>().showTrainee(busiest());
    for (const PageId id :
         {PageId::Scoring, PageId::Debrief, PageId::Trainees, PageId::Trainee, PageId::Rubric}) {
        m_window->showPage(id);
        settle();
        QStringList open{m_window->windowTitle(), m_window->windowFilePath(), m_window->windowIconText()};
        for (QAction* action : recentMenu()->actions()) open << action->text();
        for (const std::string& name : everybody())
            EXPECT_FALSE(open.join(QLatin1Char('|')).contains(app::qs(name))) << name;
    }
    EXPECT_EQ(m_window->windowTitle(), m_window->session()->title() + QStringLiteral(" - Markerlamp"));
}

TEST_F(WindowFiles, AFileBesideAnothersLogIsNotOpenedAndLeftAsItIs) {
    makeWindow();
    const std::string file = path(QStringLiteral("demo.markerlamp")).toStdString();
    const std::string other = path(QStringLiteral("other.markerlamp")).toStdString();
    std::filesystem::copy_file(demoFile().toStdString(), file);
    {
        auto open = db::ProgramFile::create(other).value();
        ASSERT_TRUE(open->setFact("program.title", "Other"));
        std::filesystem::copy_file(other + "-wal", file + "-wal");
    }
    const auto size = std::filesystem::file_size(file + "-wal");
    const auto opened = m_window->openFile(app::qs(file));
    ASSERT_FALSE(opened);
    EXPECT_NE(opened.error().message.find("is the log of another file"), std::string::npos)
        << opened.error().message;
    EXPECT_EQ(m_window->session(), nullptr);
    EXPECT_EQ(std::filesystem::file_size(file + "-wal"), size);
    std::filesystem::remove(file + "-wal");
    EXPECT_TRUE(m_window->openFile(app::qs(file)));
}

// A stick that is plugged in again: the same bytes under other numbers.
TEST_F(WindowFiles, AFileThatCameBackElsewhereIsReadFromThere) {
    openDemo();
    std::string ended;
    for (const auto all = m_window->session()->file().attempts().value(); const db::AttemptInfo& info : all)
        if (info.state == db::AttemptState::Ended) ended = info.id;
    const core::Attempt before = m_window->session()->file().attempt(ended).value();
    core::Event note;
    note.n = static_cast<int>(before.events.size()) + 1;
    note.t = before.events.back().t;
    note.kind = core::EventKind::Note;
    note.text = "after the stick came back";
    note.by = before.header.instructor;
    note.at = "2026-11-02T07:00:00-05:00";
    ASSERT_TRUE(m_window->session()->flush());
    const QString file = path(QStringLiteral("demo.markerlamp"));
    for (const char* tail : {"-wal", ""}) {
        const std::string name = file.toStdString() + tail;
        std::filesystem::copy_file(name, path(QStringLiteral("copy")).toStdString());
        std::filesystem::rename(path(QStringLiteral("copy")).toStdString(), name);
    }
    QSignalSpy trouble(m_window->session(), &app::Session::trouble);
    m_window->session()->append(app::qs(ended), {note});
    ASSERT_TRUE(QTest::qWaitFor(
        [&] { return !trouble.isEmpty() && trouble.last().at(0).toString().isEmpty(); }, 60'000));
    EXPECT_EQ(m_window->session()->file().attempt(ended)->events.size(), before.events.size() + 1);
    EXPECT_TRUE(m_window->session()->file().setFact("program.title", "Written to where it is now"));
}

// A key may be somebody's number: it stands in the program file, which only its owner may read.
TEST_F(WindowFiles, WhatAnAttemptWasStartedWithStandsInTheProgramFileAlone) {
    m_settings.setValue(QStringLiteral("start/trainee"), QStringLiteral("as an older program did"));
    app::Settings(m_settings.store().fileName());
    openDemo();
    const QString trainee = busiest();
    trigger("attempt.start");
    auto* start = m_window->findChild<app::StartPage*>();
    start->chooseTrainee(trainee);
    QTest::keyClick(start, Qt::Key_Return, Qt::ControlModifier);
    settle();
    ASSERT_TRUE(m_window->findChild<app::ScoringPage*>()->isActive());
    EXPECT_EQ(m_window->session()->file().fact("ui.start.trainee").value(), app::ss(trainee));
    m_settings.store().sync();
    QFile kept(m_settings.store().fileName());
    ASSERT_TRUE(kept.open(QIODevice::ReadOnly));
    const QByteArray bytes = kept.readAll();
    EXPECT_FALSE(bytes.contains(trainee.toUtf8())) << bytes.toStdString();
    EXPECT_FALSE(bytes.contains("older program")) << bytes.toStdString();
}

TEST_F(WindowFiles, AFileWithAnOpenAttemptOffersToGoOnFirst) {
    openDemo();
    EXPECT_EQ(m_window->currentPage(), &page<app::StartPage>());
    const auto& unfinished = page<app::StartPage>().form().data().unfinished;
    ASSERT_EQ(unfinished.size(), 1u);
    auto* card = page<app::StartPage>().findChild<app::ResumeCard*>();
    ASSERT_NE(card, nullptr);
    EXPECT_TRUE(card->isVisible());
    QString words;
    for (auto* label : card->findChildren<QLabel*>()) words += label->text();
    EXPECT_TRUE(words.contains(unfinished.front().traineeName)) << words.toStdString();
    EXPECT_TRUE(words.contains(QString::number(unfinished.front().scored))) << words.toStdString();

    // Set aside, it is not offered again.
    const std::string id = app::ss(unfinished.front().id);
    ASSERT_TRUE(m_window->session()->file().setAside(id));
    trigger("file.close");
    ASSERT_TRUE(m_window->openFile(path(QStringLiteral("demo.markerlamp"))));
    EXPECT_EQ(m_window->currentPageId(), PageId::Trainees);
}

TEST_F(WindowFiles, AFileThatAnotherWindowHasOpenIsRefusedAndTheOpenOneStays) {
    openEmpty();
    const QString mine = m_window->session()->path();
    const QString other = path(QStringLiteral("other.markerlamp"));
    const auto elsewhere = app::Session::create(other, false);
    ASSERT_TRUE(elsewhere);
    const auto opened = m_window->openFile(other);
    ASSERT_FALSE(opened);
    EXPECT_EQ(opened.error().kind, core::ErrorKind::Busy);
    const QString told = app::qs(opened.error().message);
    for (const QString& word :
         {QSysInfo::machineHostName(), QString::number(QCoreApplication::applicationPid()),
          QLocale().toString(QDate::currentDate(), QLocale::ShortFormat)})
        EXPECT_TRUE(told.contains(word)) << told.toStdString() << " lacks " << word.toStdString();
    EXPECT_NE(opened.error().message.find("other.markerlamp"), std::string::npos) << opened.error().message;
    EXPECT_EQ(m_window->session()->path(), mine);
}

TEST_F(WindowFiles, ANewProgramInPlaceOfTheOpenOneIsRefusedByThatReason) {
    openEmpty();
    const QString mine = m_window->session()->path();
    const auto made = m_window->createFile(mine, false);
    ASSERT_FALSE(made);
    EXPECT_EQ(made.error().kind, core::ErrorKind::Refused);
    EXPECT_NE(made.error().message.find("open in this window"), std::string::npos) << made.error().message;
    EXPECT_EQ(m_window->session()->path(), mine);
}

TEST_F(WindowFiles, ANewProgramNeverTakesThePlaceOfAFile) {
    makeWindow();
    const QString file = write(QStringLiteral("letter.markerlamp"), "Dear driver,");
    EXPECT_FALSE(m_window->createFile(file, false));
    QFile letter(file);
    ASSERT_TRUE(letter.open(QIODevice::ReadOnly));
    EXPECT_EQ(letter.readAll(), QByteArray("Dear driver,"));
}

TEST_F(WindowFiles, PressesAreToldOnTheThreadOfTheWindow) {
    openDemo();
    auto& session = *m_window->session();
    QThread* teller = nullptr;
    quint64 upTo = 0;
    QObject::connect(
        &session, &app::Session::stored, &session,
        [&](quint64 ticket) {
            teller = QThread::currentThread();
            upTo = ticket;
        },
        Qt::DirectConnection);
    const core::AttemptHeader header = newHeader();
    session.startAttempt(header);
    const quint64 last = session.append(app::qs(header.id), {note(1, "level ground, chocks set")});
    ASSERT_TRUE(session.flush());
    EXPECT_EQ(upTo, 0u) << "told by the writer's thread";
    ASSERT_TRUE(QTest::qWaitFor([&] { return upTo == last; }));
    EXPECT_EQ(teller, QCoreApplication::instance()->thread());
    EXPECT_EQ(session.storedUpTo(), last);
    EXPECT_TRUE(status().contains(QStringLiteral("saved "))) << status().toStdString();
}

TEST_F(WindowFiles, AFailingDiskIsSaidInWordsAndWhenItWorksAgainThatToo) {
    openDemo();
    auto& session = *m_window->session();
    QThread* teller = nullptr;
    QString message;
    int waiting = 0;
    bool told = false;
    QObject::connect(
        &session, &app::Session::trouble, &session,
        [&](const QString& words, int count) {
            teller = QThread::currentThread();
            message = words;
            waiting = count;
            told = true;
        },
        Qt::DirectConnection);
    const core::AttemptHeader header = newHeader();
    // The stick is pulled out before the first press.
    const QString file = path(QStringLiteral("demo.markerlamp"));
    const QString away = path(QStringLiteral("away.markerlamp"));
    ASSERT_TRUE(QFile::rename(file, away));
    session.startAttempt(header);
    session.append(app::qs(header.id), {note(1, "level ground, chocks set")});
    ASSERT_TRUE(QTest::qWaitFor([&] { return told && waiting == 2; }));
    EXPECT_EQ(teller, QCoreApplication::instance()->thread());
    EXPECT_FALSE(message.isEmpty());
    EXPECT_TRUE(status().contains(QStringLiteral("NOT SAVED"))) << status().toStdString();
    // Why, and what to do, stands over the page, wrapped: it may be long, and makes no window wider.
    const auto* warning = m_window->findChild<app::Text*>(QStringLiteral("warning"));
    EXPECT_TRUE(warning->isVisible());
    const auto* said = m_window->findChild<QLabel*>(QStringLiteral("said"));
    ASSERT_NE(said, nullptr);
    EXPECT_FALSE(said->text().contains(message)) << "said once";
    EXPECT_TRUE(warning->text().contains(message)) << warning->text().toStdString();
    EXPECT_TRUE(warning->text().contains(QStringLiteral("2 waiting"))) << warning->text().toStdString();
    EXPECT_LE(m_window->minimumSizeHint().width(), 1366);
    EXPECT_EQ(m_window->width(), 1366);
    trigger("file.save");
    EXPECT_TRUE(status().contains(QStringLiteral("kept in memory"))) << status().toStdString();

    told = false;
    ASSERT_TRUE(QFile::rename(away, file));
    ASSERT_TRUE(QTest::qWaitFor([&] { return told && message.isEmpty(); }, 20000));
    EXPECT_FALSE(status().contains(QStringLiteral("NOT SAVED"))) << status().toStdString();
    EXPECT_FALSE(warning->isVisible());
    EXPECT_TRUE(status().contains(QStringLiteral("Writing works again"))) << status().toStdString();
    const auto stored = session.file().attempt(header.id);
    ASSERT_TRUE(stored);
    EXPECT_EQ(stored->events.size(), 1u);
}

TEST_F(WindowFiles, SavingSaysThatEverythingIsSaved) {
    openEmpty();
    trigger("file.save");
    EXPECT_TRUE(status().contains(QStringLiteral("Everything is saved already"))) << status().toStdString();
}

}  // namespace
}  // namespace markerlamp::testing
