// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A file with accounts in the window: the cover, roles, the lock over pages, dialogs and a running attempt.

#include "../shell/dialogs_of_the_window.h"

#include "app/access/accounts_dialog.h"
#include "app/access/command_deeds.h"
#include "app/access/cover.h"
#include "app/access/idle_watch.h"
#include "app/access/own_passphrase_dialog.h"
#include "app/access/recovery_dialog.h"
#include "app/debrief/debrief_page.h"
#include "app/start/start_data.h"
#include "app/trainees/trainees_page.h"

#include <QAccessible>
#include <QComboBox>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QMenuBar>
#include <QMessageBox>
#include <QSpinBox>
#include <QStatusBar>

#include <set>

namespace markerlamp::testing {
namespace {

using core::Role;

const QString kCora = QStringLiteral("four words are best");
const QString kAnn = QStringLiteral("another long phrase");

class AccessWindow : public DialogsOfTheWindow {
protected:
    /// The demo with accounts of a coordinator and of its most active instructor.
    void openWithAccounts() {
        m_path = path(QStringLiteral("guarded.markerlamp"));
        ASSERT_TRUE(QFile::copy(demoFile(), m_path));
        {
            auto file = db::ProgramFile::open(m_path.toStdString()).value();
            file->setPassphraseCost(db::PassphraseCost::Least);
            m_code = file->startSignIn({"Cora", Role::Coordinator, {}}, app::ss(kCora)).value();
            std::map<std::string, int> counts;
            for (const auto all = file->attempts().value(); const db::AttemptInfo& info : all)
                ++counts[info.instructor];
            ASSERT_GT(counts.size(), 1u);
            m_own = counts.begin()->first;
            for (const auto& [key, count] : counts)
                if (count > counts[m_own]) m_own = key;
            ASSERT_TRUE(file->saveAccount({"Ann", Role::Instructor, m_own}, app::ss(kAnn)));
        }
        makeWindow();
        cover().setClock([this] { return m_now; });
        m_window->idleWatch().setClock([this] { return m_now; });
        const auto opened = m_window->openFile(m_path);
        ASSERT_TRUE(opened) << opened.error().message;
        m_window->session()->file().setPassphraseCost(db::PassphraseCost::Least);
        settle();
    }
    app::Cover& cover() { return *m_window->findChild<app::Cover*>(); }
    QLineEdit* field(const char* label) {
        for (auto* one : cover().findChildren<QLabel*>())
            if (one->text().remove(QLatin1Char('&')) == QLatin1String(label) && one->buddy() != nullptr)
                return qobject_cast<QLineEdit*>(one->buddy());
        ADD_FAILURE() << "no field " << label;
        return nullptr;
    }
    QPushButton* button(const char* words) {
        for (auto* one : m_window->findChildren<QPushButton*>())
            if (one->isVisible() && one->text() == QLatin1String(words)) return one;
        return nullptr;
    }
    void signIn(const QString& name, const QString& passphrase) {
        field("Name")->setText(name);
        field("Passphrase")->setText(passphrase);
        QTest::keyClick(field("Passphrase"), Qt::Key_Return);
        settle();
    }
    /// All that the visible labels of the cover say.
    QString coverWords() {
        QStringList words;
        for (auto* one : cover().findChildren<QLabel*>())
            if (one->isVisible()) words << one->text();
        return words.join(QLatin1Char('|'));
    }
    QString said() {
        QStringList words;
        for (auto* one : m_window->statusBar()->findChildren<QLabel*>()) words << one->text();
        return words.join(QLatin1Char('|'));
    }
    void pass(int minutes) { m_now += minutes * 60'000; }

    QString m_path;
    std::string m_code, m_own;
    qint64 m_now = 1'800'000'000'000;
};

TEST_F(AccessWindow, NothingOfTheFileIsShownBeforeSomebodySignedIn) {
    openWithAccounts();
    EXPECT_TRUE(m_window->isCovered());
    EXPECT_FALSE(m_window->isLocked());
    EXPECT_EQ(m_window->findChild<app::TraineesPage*>(), nullptr) << "no page is made";
    EXPECT_FALSE(m_window->menuBar()->isVisible());
    EXPECT_FALSE(m_window->centralWidget()->isVisible());
    EXPECT_EQ(m_window->windowTitle(), QStringLiteral("Markerlamp"));
    EXPECT_EQ(cover().geometry(), m_window->rect());
    m_window->resize(900, 600);
    settle();
    EXPECT_EQ(cover().geometry(), m_window->rect());
    for (const char* name : {"file.import", "file.export", "view.trainees", "attempt.start", "program.title",
                             "file.sign-in", "file.lock", "edit.find"})
        EXPECT_FALSE(m_window->action(QLatin1String(name))->isEnabled()) << name;
    for (const char* name : {"file.open", "file.close", "file.quit"})
        EXPECT_TRUE(m_window->action(QLatin1String(name))->isEnabled()) << name;
    for (auto* widget : cover().findChildren<QWidget*>())
        if (widget->focusPolicy() & Qt::TabFocus && widget->isVisible()) {
            auto* known = QAccessible::queryAccessibleInterface(widget);
            EXPECT_FALSE(known->text(QAccessible::Name).isEmpty()) << widget->metaObject()->className();
        }
    button("close the program file")->click();
    EXPECT_EQ(m_window->session(), nullptr);
    EXPECT_FALSE(m_window->isCovered());
}

TEST_F(AccessWindow, TheCoordinatorComesInByNameAndPassphrase) {
    openWithAccounts();
    signIn(QStringLiteral("Cora"), kAnn);
    EXPECT_TRUE(m_window->isCovered());
    EXPECT_TRUE(coverWords().contains(QStringLiteral("do not go together"))) << coverWords().toStdString();
    EXPECT_TRUE(field("Passphrase")->text().isEmpty());
    signIn(QStringLiteral("Cora"), kCora);
    EXPECT_FALSE(m_window->isCovered());
    EXPECT_TRUE(m_window->menuBar()->isVisible());
    EXPECT_EQ(m_window->session()->file().acting().name, "Cora");
    EXPECT_TRUE(field("Name")->text().isEmpty()) << "what was typed is forgotten";
    for (const auto& [name, deed] : app::commandDeeds()) {
        ASSERT_NE(m_window->action(name), nullptr) << name.toStdString();
        // The rest depends on the page in front.
        if (name.startsWith(QLatin1String("edit")) || name == QLatin1String("program.edition")) continue;
        EXPECT_TRUE(m_window->action(name)->isEnabled()) << name.toStdString();
    }
}

TEST_F(AccessWindow, TheWaitIsCountedDownInWords) {
    openWithAccounts();
    for (int i = 0; i < 4; ++i) {
        signIn(QStringLiteral("Nobody"), kCora);
        m_now += 1000;
    }
    EXPECT_TRUE(coverWords().contains(QStringLiteral("wait"))) << coverWords().toStdString();
    EXPECT_FALSE(button("Sign in")->isEnabled());
    signIn(QStringLiteral("Cora"), kCora);
    EXPECT_TRUE(m_window->isCovered()) << "not while it waits";
    m_now += 60'000;
    EXPECT_TRUE(QTest::qWaitFor([&] { return button("Sign in")->isEnabled(); }));
    EXPECT_FALSE(coverWords().contains(QStringLiteral("wait")));
    signIn(QStringLiteral("Cora"), kCora);
    EXPECT_FALSE(m_window->isCovered());
    EXPECT_EQ(app::Gate::waitWords(0), QString());
    EXPECT_EQ(app::Gate::waitWords(125'000), QStringLiteral("Too many tries failed: wait 2:05 minutes."));
}

TEST_F(AccessWindow, TheRecoveryCodeLetsACoordinatorInAndShowsTheNextOne) {
    openWithAccounts();
    button("use the recovery code")->click();
    field("Recovery code")->setText(app::qs(m_code).toLower());
    field("Coordinator's name")->setText(QStringLiteral("Cora"));
    field("New passphrase")->setText(QStringLiteral("quite another phrase"));
    field("The same again")->setText(QStringLiteral("quite another phrasf"));
    QTest::keyClick(field("The same again"), Qt::Key_Return);
    EXPECT_TRUE(coverWords().contains(QStringLiteral("two passphrases differ")));
    field("The same again")->setText(QStringLiteral("quite another phrase"));
    QString next;
    whileDialog(
        [&] {
            QTest::keyClick(field("The same again"), Qt::Key_Return);
            settle();
        },
        [&](QDialog& dialog) {
            auto* code = qobject_cast<app::RecoveryDialog*>(&dialog);
            ASSERT_NE(code, nullptr);
            next = code->code();
            EXPECT_EQ(code->sheet().pages(), 1);
            bool onPaper = false;
            for (const auto& text : code->sheet().texts(0)) onPaper = onPaper || text.text == next;
            EXPECT_TRUE(onPaper);
        });
    EXPECT_FALSE(m_window->isCovered());
    EXPECT_NE(next, app::qs(m_code));
    auto& file = m_window->session()->file();
    EXPECT_TRUE(file.signIn("Cora", "quite another phrase", m_now));
    EXPECT_FALSE(file.recover(m_code, "Cora", app::ss(kCora), m_now));
}

TEST_F(AccessWindow, AnInstructorFindsTheirOwnWorkAndWhyTheRestIsClosed) {
    openWithAccounts();
    signIn(QStringLiteral("Ann"), kAnn);
    ASSERT_FALSE(m_window->isCovered());
    for (const auto& [name, deed] : app::commandDeeds()) {
        const QAction* action = m_window->action(name);
        EXPECT_FALSE(action->isEnabled()) << name.toStdString();
        EXPECT_TRUE(action->toolTip().startsWith(QLatin1String("only a coordinator may")))
            << name.toStdString();
        EXPECT_EQ(action->statusTip(), action->toolTip());
    }
    for (const char* name :
         {"attempt.start", "attempt.second", "view.trainees", "view.rubric", "file.lock", "file.sign-out"})
        EXPECT_TRUE(m_window->action(QLatin1String(name))->isEnabled()) << name;
    std::set<PageId> seen;
    for (int i = 0; i < 12; ++i) {
        trigger("view.next");
        seen.insert(m_window->currentPageId());
    }
    EXPECT_FALSE(seen.contains(PageId::Program));
    EXPECT_FALSE(seen.contains(PageId::Agreement));
    EXPECT_FALSE(seen.contains(PageId::Track));
    EXPECT_TRUE(seen.contains(PageId::Rubric));
    // The start form offers themself only.
    m_window->showPage(PageId::Scoring);
    settle();
    const auto loaded = app::startDataLoader(*m_window->session())();
    ASSERT_TRUE(loaded);
    ASSERT_EQ(loaded->instructors.size(), 1u);
    EXPECT_EQ(loaded->instructors[0].key, m_own);
    for (const auto all = m_window->session()->file().attempts().value(); const db::AttemptInfo& info : all)
        EXPECT_EQ(info.instructor, m_own);
    // What comes in by the mouse is refused too.
    m_window->importFiles({write(QStringLiteral("people.csv"), "key,name\nnew-1,Wanda Invented\n")});
    EXPECT_FALSE(m_window->session()->file().trainee("new-1").value());
}

TEST_F(AccessWindow, WhoeverIsSignedInChangesTheirOwnPassphraseByTheOneTheyHave) {
    const QString next = QStringLiteral("quiet lamp under seven");
    openWithAccounts();
    EXPECT_FALSE(m_window->action(QStringLiteral("file.passphrase"))->isEnabled());
    signIn(QStringLiteral("Ann"), kAnn);
    withDialog("file.passphrase", [&](QDialog& dialog) {
        auto& form = dynamic_cast<app::OwnPassphraseDialog&>(dialog);
        const auto fields = form.findChildren<QLineEdit*>();
        ASSERT_EQ(fields.size(), 3);
        const auto fill = [&](const QString& present, const QString& first, const QString& again) {
            fields[0]->setText(present);
            fields[1]->setText(first);
            fields[2]->setText(again);
            form.accept();
            return form.isVisible();
        };
        EXPECT_TRUE(fill(kAnn, next, next + QLatin1Char('x'))) << "typed differently";
        EXPECT_TRUE(fill(kAnn, QStringLiteral("short"), QStringLiteral("short")));
        EXPECT_TRUE(fill(kAnn, kAnn, kAnn)) << "the one they have";
        EXPECT_TRUE(fill(kCora, next, next)) << "not theirs";
        EXPECT_FALSE(fill(kAnn, next, next));
    });
    const core::Acting ann{"Ann", core::Role::Instructor, m_own};
    EXPECT_EQ(m_window->session()->file().acting(), ann) << "and nothing else of them has changed";
    m_window->session()->file().actAs({"Cora", core::Role::Coordinator, {}});
    const auto trail = m_window->session()->file().trail();
    ASSERT_TRUE(trail);
    ASSERT_FALSE(trail->empty());
    EXPECT_EQ(trail->back().by, "Ann");
    EXPECT_EQ(trail->back().what, "account.changed");
    m_window->session()->file().actAs(ann);
    trigger("file.sign-out");
    signIn(QStringLiteral("Ann"), kAnn);
    EXPECT_TRUE(m_window->isCovered());
    pass(10);
    signIn(QStringLiteral("Ann"), next);
    EXPECT_FALSE(m_window->isCovered());
}

TEST_F(AccessWindow, ASignedOutFileIsCoveredAgain) {
    openWithAccounts();
    signIn(QStringLiteral("Ann"), kAnn);
    trigger("file.sign-out");
    EXPECT_TRUE(m_window->isCovered());
    EXPECT_FALSE(m_window->isLocked());
    EXPECT_EQ(m_window->findChild<app::TraineesPage*>(), nullptr);
    signIn(QStringLiteral("Cora"), kCora);
    EXPECT_EQ(m_window->session()->file().acting().name, "Cora");
    EXPECT_TRUE(m_window->action(QStringLiteral("file.export"))->isEnabled());
    EXPECT_FALSE(
        m_window->action(QStringLiteral("file.export"))->toolTip().startsWith(QLatin1String("only")));
}

TEST_F(AccessWindow, LocksAfterTheMinutesWithoutATouchAndComesBackAsItWas) {
    openWithAccounts();
    signIn(QStringLiteral("Cora"), kCora);
    EXPECT_EQ(m_window->idleWatch().minutes(), 10);
    showBusiest();
    QStringList before;
    for (const QAction* action : m_window->commands())
        if (action->isEnabled()) before << action->objectName();
    pass(9);
    QTest::keyClick(m_window.get(), Qt::Key_Shift);
    pass(9);
    m_window->idleWatch().look();
    EXPECT_FALSE(m_window->isLocked()) << "a key counts";
    pass(1);
    m_window->idleWatch().look();
    ASSERT_TRUE(m_window->isLocked());
    EXPECT_TRUE(m_window->isCovered());
    EXPECT_EQ(m_window->windowTitle(), QStringLiteral("Markerlamp"));
    EXPECT_FALSE(m_window->centralWidget()->isVisible());
    EXPECT_FALSE(m_window->action(QStringLiteral("file.open"))->isEnabled());
    EXPECT_TRUE(m_window->action(QStringLiteral("file.quit"))->isEnabled());
    EXPECT_FALSE(coverWords().contains(QStringLiteral("Cora"))) << "the next one is given no name";
    signIn(QStringLiteral("Cora"), kCora);
    EXPECT_FALSE(m_window->isCovered());
    EXPECT_EQ(m_window->currentPageId(), PageId::Trainee);
    EXPECT_TRUE(m_window->currentPage()->isVisible());
    QStringList shut;
    for (const QAction* action : m_window->commands())
        if (action->isEnabled() != before.contains(action->objectName())) shut << action->objectName();
    EXPECT_TRUE(shut.isEmpty()) << shut.join(QLatin1Char(' ')).toStdString();
}

TEST_F(AccessWindow, ATouchThatComesTooLateOnlyLocks) {
    openWithAccounts();
    signIn(QStringLiteral("Cora"), kCora);
    m_window->showPage(PageId::Trainees);
    settle();
    pass(600);  // the computer slept
    QTest::keyClick(m_window->currentPage(), Qt::Key_2, Qt::ControlModifier);
    EXPECT_TRUE(m_window->isLocked());
    EXPECT_EQ(m_window->currentPageId(), PageId::Trainees);
}

TEST_F(AccessWindow, ALockedAttemptGoesOnAndTakesNoKeys) {
    openWithAccounts();
    signIn(QStringLiteral("Ann"), kAnn);
    beginAttempt();
    auto* scoring = m_window->findChild<app::ScoringPage*>();
    ASSERT_TRUE(scoring->isActive());
    QTest::keyClick(scoring, Qt::Key_Space);
    m_window->session()->flush();
    const auto newest = [this] {
        for (const auto all = m_window->session()->file().attempts().value();
             const db::AttemptInfo& info : all)
            if (info.state == db::AttemptState::Open)
                return m_window->session()->file().attempt(info.id).value();
        ADD_FAILURE() << "no open attempt";
        return core::Attempt{};
    };
    const auto before = newest();
    pass(10);
    m_window->idleWatch().look();
    ASSERT_TRUE(m_window->isLocked());
    for (const int key : {Qt::Key_Space, Qt::Key_U, Qt::Key_F8, Qt::Key_M})
        QTest::keyClick(m_window.get(), static_cast<Qt::Key>(key));
    m_window->session()->flush();
    EXPECT_TRUE(scoring->isActive()) << "not ended, not paused";
    EXPECT_EQ(newest().events.size(), before.events.size());
    // Another person has to wait, and is told so.
    signIn(QStringLiteral("Cora"), kCora);
    EXPECT_TRUE(m_window->isLocked());
    EXPECT_TRUE(coverWords().contains(QStringLiteral("an attempt is in progress")))
        << coverWords().toStdString();
    EXPECT_EQ(m_window->session()->file().acting().name, "Ann");
    EXPECT_EQ(button("use the recovery code"), nullptr);
    signIn(QStringLiteral("Ann"), kAnn);
    EXPECT_FALSE(m_window->isCovered());
    EXPECT_TRUE(scoring->isActive());
    EXPECT_EQ(m_window->currentPage(), scoring);
    EXPECT_EQ(newest().events.size(), before.events.size());
}

TEST_F(AccessWindow, PressesAreStoredWhileItIsLocked) {
    openWithAccounts();
    signIn(QStringLiteral("Ann"), kAnn);
    beginAttempt();
    auto* scoring = m_window->findChild<app::ScoringPage*>();
    ASSERT_TRUE(scoring->isActive());
    m_window->session()->flush();
    std::string id;
    for (const auto all = m_window->session()->file().attempts().value(); const db::AttemptInfo& info : all)
        if (info.state == db::AttemptState::Open && id.empty()) id = info.id;
    const std::size_t before = m_window->session()->file().attempt(id)->events.size();
    core::Event note;
    note.n = static_cast<int>(before) + 1;
    note.t = 3600;
    note.kind = core::EventKind::Note;
    note.text = "late";
    m_window->session()->append(app::qs(id), {note});
    m_window->lock();
    EXPECT_TRUE(m_window->isLocked());
    EXPECT_TRUE(m_window->session()->flush());
    EXPECT_EQ(m_window->session()->file().attempt(id)->events.size(), before + 1);
}

TEST_F(AccessWindow, OpenDialogsGoAwayAndComeBackWithWhatWasTyped) {
    openWithAccounts();
    signIn(QStringLiteral("Cora"), kCora);
    m_window->showPage(PageId::Trainees);
    settle();
    QString typed;
    withDialog("edit.add", [&](QDialog& dialog) {
        auto* name = dialog.findChild<QLineEdit*>();
        name->setText(QStringLiteral("Half Written"));
        m_window->lock();
        settle();
        EXPECT_FALSE(dialog.isVisible());
        EXPECT_EQ(QApplication::activeModalWidget(), nullptr);
        QMessageBox late(m_window.get());
        late.setText(QStringLiteral("something has ended"));
        late.show();
        settle();
        EXPECT_FALSE(late.isVisible()) << "what comes now stays away too";
        signIn(QStringLiteral("Cora"), kCora);
        EXPECT_FALSE(m_window->isLocked());
        EXPECT_TRUE(late.isVisible());
        late.reject();
        EXPECT_TRUE(dialog.isVisible());
        EXPECT_EQ(dialog.windowOpacity(), 1.0);
        typed = name->text();
    });
    EXPECT_EQ(typed, QStringLiteral("Half Written"));
}

TEST_F(AccessWindow, AnotherPersonComesInOverADialogThatIsDropped) {
    openWithAccounts();
    signIn(QStringLiteral("Cora"), kCora);
    m_window->showPage(PageId::Trainees);
    settle();
    const std::size_t before = m_window->session()->file().trainees()->size();
    withDialog("edit.add", [&](QDialog& dialog) {
        dialog.findChild<QLineEdit*>()->setText(QStringLiteral("Half Written"));
        m_window->lock();
        settle();
        field("Name")->setText(QStringLiteral("Ann"));
        field("Passphrase")->setText(kAnn);
        QTest::keyClick(field("Passphrase"), Qt::Key_Return);
    });
    settle();
    EXPECT_FALSE(m_window->isCovered());
    EXPECT_EQ(m_window->session()->file().acting().name, "Ann");
    EXPECT_EQ(m_window->session()->file().trainees()->size(), before);
    EXPECT_FALSE(m_window->action(QStringLiteral("file.export"))->isEnabled());
}

TEST_F(AccessWindow, ClosingALockedWindowLetsGoOfItsDialogsFirst) {
    openWithAccounts();
    signIn(QStringLiteral("Cora"), kCora);
    m_window->showPage(PageId::Trainees);
    settle();
    withDialog("edit.add", [&](QDialog&) {
        m_window->lock();
        settle();
        EXPECT_FALSE(m_window->close());
    });
    settle();
    EXPECT_EQ(m_window->session(), nullptr);
    EXPECT_FALSE(m_window->isVisible());
}

TEST_F(AccessWindow, AnotherInstructorsAttemptIsNotAmended) {
    openWithAccounts();
    signIn(QStringLiteral("Ann"), kAnn);
    std::string others;
    {
        auto file = db::ProgramFile::open(m_path.toStdString()).value();
        for (const auto all = file->attempts().value(); const db::AttemptInfo& info : all)
            if (info.instructor != m_own && info.state == db::AttemptState::Ended) others = info.id;
    }
    ASSERT_FALSE(others.empty());
    auto* debrief = m_window->findChild<app::DebriefPage*>();
    m_window->showPage(PageId::Debrief);
    debrief->showAttempt(app::qs(others));
    settle();
    EXPECT_NE(debrief->attempt(), app::qs(others)) << "it is not even shown";
}

TEST_F(AccessWindow, AnAmendmentStandsInTheTrailUnderTheNameOfWhoSignedIn) {
    openWithAccounts();
    signIn(QStringLiteral("Ann"), kAnn);
    std::string own;
    for (const auto all = m_window->session()->file().attempts().value(); const db::AttemptInfo& info : all)
        if (info.state == db::AttemptState::Ended) own = info.id;
    ASSERT_FALSE(own.empty());
    const core::Attempt before = m_window->session()->file().attempt(own).value();
    core::Event note;
    note.n = static_cast<int>(before.events.size()) + 1;
    note.t = before.events.back().t;
    note.kind = core::EventKind::Note;
    note.text = "seen again on the way home";
    note.by = m_own;
    note.at = "2026-11-02T07:00:00-05:00";
    m_window->session()->append(app::qs(own), {note});
    ASSERT_TRUE(m_window->session()->flush());
    auto file = db::ProgramFile::open(m_path.toStdString()).value();
    const core::TrailEntry last = file->trail().value().back();
    EXPECT_EQ(last.what, "attempt.amended");
    EXPECT_EQ(last.subject, own);
    EXPECT_EQ(last.by, "Ann");
}

TEST_F(AccessWindow, SignInIsSwitchedOnAndOffInTheWindow) {
    openDemo();
    EXPECT_FALSE(m_window->action(QStringLiteral("file.lock"))->isEnabled());
    m_window->session()->file().setPassphraseCost(db::PassphraseCost::Least);
    const auto press = [](QDialog& dialog, const QString& words) {
        for (auto* one : dialog.findChildren<QPushButton*>())
            if (one->text() == words && one->isVisible()) {
                one->click();
                return;
            }
        ADD_FAILURE() << "no button " << words.toStdString();
    };
    // The list, over it the form of the first coordinator, over that the code.
    withDialog("file.sign-in", [&](QDialog& list) {
        std::vector<QString> opened;
        QTimer watch;
        QDialog* last = &list;
        QObject::connect(&watch, &QTimer::timeout, &watch, [&] {
            auto* top = qobject_cast<QDialog*>(QApplication::activeModalWidget());
            if (top == nullptr || top == last) return;
            last = top;
            opened.push_back(top->windowTitle());
            if (qobject_cast<app::AccountDialog*>(top) != nullptr) {
                const auto fields = top->findChildren<QLineEdit*>();
                fields[0]->setText(QStringLiteral("Cora"));
                for (auto* one : fields)
                    if (one->echoMode() == QLineEdit::Password) one->setText(kCora);
                QMetaObject::invokeMethod(top, "accept");
            } else {
                top->reject();
            }
        });
        watch.start(5);
        press(list, QStringLiteral("&Switch sign-in on..."));
        EXPECT_EQ(opened, (std::vector<QString>{QStringLiteral("Switch sign-in on"),
                                                QStringLiteral("Recovery code")}));
        list.findChild<QSpinBox*>()->setValue(3);
    });
    auto& file = m_window->session()->file();
    ASSERT_EQ(file.accounts()->size(), 1u);
    EXPECT_EQ(file.acting().name, "Cora");
    EXPECT_EQ(m_window->idleWatch().minutes(), 3);
    EXPECT_TRUE(m_window->action(QStringLiteral("file.lock"))->isEnabled());
    withDialog("file.sign-in", [&](QDialog& list) {
        QTimer::singleShot(50, &list, [] {
            auto* sure = qobject_cast<app::SignInOffDialog*>(QApplication::activeModalWidget());
            ASSERT_NE(sure, nullptr);
            sure->accept();
        });
        press(list, QStringLiteral("Switch &off..."));
    });
    EXPECT_TRUE(file.accounts()->empty());
    EXPECT_EQ(file.acting(), core::Acting{});
    EXPECT_EQ(m_window->idleWatch().minutes(), 0);
    EXPECT_FALSE(m_window->action(QStringLiteral("file.lock"))->isEnabled());
}

TEST_F(AccessWindow, AFormOfAnAccountSaysWhatIsMissing) {
    openDemo();
    app::AccountDialog dialog(m_theme, {}, {QStringLiteral("Ann")}, {{"i-1", "Ivy Invented", false}}, false,
                              m_window.get());
    dialog.show();
    const auto fields = dialog.findChildren<QLineEdit*>();
    const auto boxes = dialog.findChildren<QComboBox*>();
    const auto problem = [&] {
        QMetaObject::invokeMethod(&dialog, "accept");
        QStringList words;
        for (auto* one : dialog.findChildren<app::Text*>())
            if (one->isVisible()) words << one->text();
        return words.join(QLatin1Char('|'));
    };
    EXPECT_TRUE(problem().contains(QStringLiteral("name must be one line")));
    fields[0]->setText(QStringLiteral("Ann"));
    EXPECT_TRUE(problem().contains(QStringLiteral("instructor whose attempts are theirs")));
    boxes[1]->setCurrentIndex(1);
    EXPECT_TRUE(problem().contains(QStringLiteral("account of this name already")));
    fields[0]->setText(QStringLiteral("Ben"));
    EXPECT_TRUE(problem().contains(QStringLiteral("too short")));
    for (auto* one : fields)
        if (one->echoMode() == QLineEdit::Password) one->setText(kAnn);
    QMetaObject::invokeMethod(&dialog, "accept");
    EXPECT_FALSE(dialog.isVisible());
    EXPECT_EQ(dialog.account(), (core::Account{"Ben", Role::Instructor, "i-1"}));
    EXPECT_EQ(dialog.passphrase(), app::ss(kAnn));
}

TEST(Gate, OnePassphraseHoweverAKeyboardMakesItsLetters) {
    // U+00E9, and e with U+0301 (Unicode Standard Annex 15).
    EXPECT_EQ(app::Gate::spelled(QString::fromUtf8("caf\xC3\xA9")),
              app::Gate::spelled(QString::fromUtf8("cafe\xCC\x81")));
}

}  // namespace
}  // namespace markerlamp::testing
