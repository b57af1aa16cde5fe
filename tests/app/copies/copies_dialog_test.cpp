// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "../window_fixture.h"

#include "app/copies/copies_dialog.h"
#include "app/support/folders.h"
#include "app/support/rows_model.h"
#include "app/support/table_view.h"
#include "db/copies/restore.h"

#include <QDir>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPushButton>
#include <QSet>

#include <fstream>

namespace markerlamp {
namespace {

using namespace testing;
using app::ss;

class CopiesInTheWindow : public WindowFixture {
protected:
    static QPushButton* button(QDialog& dialog, const QString& text) {
        for (auto* one : dialog.findChildren<QPushButton*>())
            if (one->text().remove(QLatin1Char('&')) == text) return one;
        ADD_FAILURE() << "no button " << text.toStdString();
        return nullptr;
    }
    static void waitFor(const app::CopiesDialog& dialog) {
        EXPECT_TRUE(QTest::qWaitFor([&] { return dialog.isComplete(); }, 20000));
    }
    static QStringList row(const app::CopiesDialog& dialog, int at) {
        const auto* model = dialog.findChild<app::RowsModel*>();
        QStringList cells;
        for (int column = 0; column < model->columnCount(); ++column)
            cells << model->index(at, column).data().toString();
        return cells;
    }
    static int rows(const app::CopiesDialog& dialog) {
        return dialog.findChild<app::RowsModel*>()->rowCount();
    }
    void addTrainee(const char* key) {
        ASSERT_TRUE(m_window->session()->file().saveTrainee(
            {key, "Invented", "", "", "", "", {}, "", "", "", false}));
    }
    [[nodiscard]] std::vector<db::CopyFile> copies() const {
        return db::copiesOf(app::fsPath(path(QStringLiteral("empty.markerlamp"))));
    }
    void withCopies(const std::function<void(app::CopiesDialog&)>& look) {
        withDialog("file.copies", [&](QDialog& dialog) {
            auto* copiesDialog = qobject_cast<app::CopiesDialog*>(&dialog);
            ASSERT_NE(copiesDialog, nullptr);
            waitFor(*copiesDialog);
            look(*copiesDialog);
        });
    }
    /// Answers the dialog of this kind that opens over another one.
    template <class Kind>
    static void answering(const std::function<void()>& act, const std::function<void(Kind&)>& answer) {
        QTimer watch;
        bool seen = false;
        QObject::connect(&watch, &QTimer::timeout, &watch, [&] {
            auto* asked = qobject_cast<Kind*>(QApplication::activeModalWidget());
            if (asked == nullptr) return;
            watch.stop();
            seen = true;
            answer(*asked);
        });
        watch.start(5);
        act();
        EXPECT_TRUE(seen) << "nothing was asked";
    }
};

TEST_F(CopiesInTheWindow, CopyNowShowsWhatIsInIt) {
    openEmpty();
    addTrainee("n-1");
    withCopies([&](app::CopiesDialog& dialog) {
        EXPECT_EQ(rows(dialog), 0);
        EXPECT_FALSE(button(dialog, QStringLiteral("Restore..."))->isEnabled());
        button(dialog, QStringLiteral("Copy now"))->click();
        waitFor(dialog);
        ASSERT_EQ(rows(dialog), 1);
        const QStringList first = row(dialog, 0);
        EXPECT_EQ(first[1], QStringLiteral("by hand"));
        EXPECT_EQ(first[2], QStringLiteral("beside the file"));
        EXPECT_EQ(first[3], QStringLiteral("1"));
        EXPECT_EQ(first[5], QStringLiteral("nothing"));
        EXPECT_EQ(first[6], QStringLiteral("nothing"));
        EXPECT_EQ(first[7], QStringLiteral("sound"));
        EXPECT_TRUE(button(dialog, QStringLiteral("Restore..."))->isEnabled());
    });
    EXPECT_EQ(copies().size(), 1u);
}

TEST_F(CopiesInTheWindow, ADamagedCopyIsToldAndCannotBeRestored) {
    openEmpty();
    ASSERT_TRUE(db::keepCopy(app::fsPath(m_window->session()->path()), {}));
    {
        const auto path = copies()[0].path;
        const std::size_t half = std::filesystem::file_size(path) / 8192 * 4096;
        std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
        file.seekp(static_cast<std::streamoff>(half));
        file << std::string(half, '\xa5');
    }
    withCopies([&](app::CopiesDialog& dialog) {
        EXPECT_EQ(row(dialog, 0)[7], QStringLiteral("damaged"));
        EXPECT_FALSE(button(dialog, QStringLiteral("Restore..."))->isEnabled());
    });
}

TEST_F(CopiesInTheWindow, RestoringAsksAndPutsTheFileAside) {
    openEmpty();
    addTrainee("n-1");
    ASSERT_TRUE(db::keepCopy(app::fsPath(m_window->session()->path()), {}));
    addTrainee("n-2");
    QString question;
    withCopies([&](app::CopiesDialog& dialog) {
        EXPECT_EQ(row(dialog, 0)[6], QStringLiteral("1 trainee"));
        answering<app::RestoreDialog>([&] { button(dialog, QStringLiteral("Restore..."))->click(); },
                                      [&](app::RestoreDialog& sure) {
                                          for (auto* label : sure.findChildren<QLabel*>())
                                              question += label->text();
                                          sure.accept();
                                      });
    });
    EXPECT_TRUE(question.contains(QStringLiteral("1 trainee"))) << ss(question);
    ASSERT_NE(m_window->session(), nullptr) << "the file is open again";
    EXPECT_TRUE(m_window->session()->file().trainee("n-1")->has_value());
    EXPECT_FALSE(m_window->session()->file().trainee("n-2")->has_value());
    ASSERT_EQ(copies().size(), 2u);
    EXPECT_EQ(copies()[0].name.reason, core::CopyReason::Restore);
}

TEST_F(CopiesInTheWindow, TheSecondPlaceIsSetShownAndUsed) {
    openEmpty();
    addTrainee("n-1");
    ASSERT_TRUE(QDir().mkpath(path(QStringLiteral("stick"))));
    withCopies([&](app::CopiesDialog& dialog) {
        dialog.setPlace(path(QStringLiteral("stick")));
        waitFor(dialog);
        ASSERT_EQ(rows(dialog), 2);
        const QStringList places{row(dialog, 0)[2], row(dialog, 1)[2]};
        EXPECT_EQ(places.filter(QStringLiteral("second place")).size(), 1);
    });
    QDir(path(QStringLiteral("stick"))).removeRecursively();
    addTrainee("n-2");
    QString told;
    withCopies([&](app::CopiesDialog& dialog) {
        answering<QMessageBox>([&] { button(dialog, QStringLiteral("Copy now"))->click(); },
                               [&](QMessageBox& box) {
                                   told = box.text();
                                   box.accept();
                               });
        waitFor(dialog);
        EXPECT_EQ(rows(dialog), 2) << "made beside the file all the same";
        bool unreachable = false;
        for (auto* label : dialog.findChildren<QLabel*>())
            unreachable |= label->text().contains(QStringLiteral("cannot be reached now"));
        EXPECT_TRUE(unreachable);
        button(dialog, QStringLiteral("No second place"))->click();
    });
    EXPECT_TRUE(told.contains(QStringLiteral("stick"))) << ss(told);
    EXPECT_TRUE(db::secondPlaceOf(m_window->session()->file())->empty());
}

TEST_F(CopiesInTheWindow, AreMadeBeforeAnImport) {
    openEmpty();
    whileDialog(
        [&] {
            m_window->importFiles({write(QStringLiteral("people.csv"), "key,name\nn-1,Wanda Invented\n")});
        },
        [](QDialog&) {});
    ASSERT_EQ(copies().size(), 1u);
    EXPECT_EQ(copies()[0].name.reason, core::CopyReason::Import);
    EXPECT_EQ(db::verifyProgram(copies()[0].path)->trainees, 0);
}

TEST_F(CopiesInTheWindow, TheKeeperCopiesWhatWasChangedAndNothingElse) {
    openEmpty();
    const QString file = m_window->session()->path();
    {
        app::CopyKeeper keeper(file);
        keeper.end();
        EXPECT_TRUE(copies().empty()) << "a file that was only looked into";
        keeper.begin();
        EXPECT_TRUE(QTest::qWaitFor([&] { return !keeper.isRunning(); }, 20000));
        EXPECT_EQ(copies().size(), 1u);
        keeper.end();
        EXPECT_EQ(copies().size(), 1u) << "nothing was changed";
        addTrainee("n-1");
        keeper.end();
    }
    const auto made = copies();
    ASSERT_EQ(made.size(), 2u);
    std::set<core::CopyReason> reasons;
    for (const db::CopyFile& copy : made) reasons.insert(copy.name.reason);
    EXPECT_EQ(reasons, (std::set{core::CopyReason::Start, core::CopyReason::Day}));
    const QDateTime now = QDateTime::currentDateTime();
    EXPECT_EQ(app::reasonAtOpening(file, now), core::CopyReason::Start);
    EXPECT_EQ(app::reasonAtOpening(file, now.addDays(1)), core::CopyReason::Day);
}

TEST_F(CopiesInTheWindow, TheKeeperSaysWhatWentWrong) {
    openEmpty();
    const QString file = m_window->session()->path();
    ASSERT_TRUE(QDir().mkpath(path(QStringLiteral("stick"))));
    ASSERT_TRUE(db::setSecondPlace(m_window->session()->file(), app::fsPath(path(QStringLiteral("stick")))));
    QDir(path(QStringLiteral("stick"))).removeRecursively();
    app::CopyKeeper keeper(file);
    QString said;
    QObject::connect(&keeper, &app::CopyKeeper::said, &keeper, [&](const QString& words) { said = words; });
    keeper.begin();
    EXPECT_TRUE(QTest::qWaitFor([&] { return !said.isEmpty(); }, 20000));
    EXPECT_TRUE(said.contains(QStringLiteral("stick"))) << ss(said);
}

TEST(CopyWords, CountsAndStates) {
    EXPECT_EQ(app::countsText({}), QStringLiteral("nothing"));
    EXPECT_EQ(app::countsText({1, 3, 0, 1}), QStringLiteral("1 attempt, 3 events, 1 other record"));
    const db::CopyFile copy;
    EXPECT_EQ(app::stateText(copy, {}), QStringLiteral("looking ..."));
    for (int reason = 0; reason <= static_cast<int>(core::CopyReason::Damaged); ++reason)
        EXPECT_FALSE(app::whyText(static_cast<core::CopyReason>(reason)).isEmpty());
}

TEST_F(CopiesInTheWindow, TheSecondPlaceIsSealedAndASealedCopyIsRestored) {
    openEmpty();
    addTrainee("n-1");
    QDir().mkpath(path(QStringLiteral("stick")));
    QString copy;
    withCopies([&](app::CopiesDialog& dialog) {
        EXPECT_FALSE(button(dialog, QStringLiteral("Seal..."))->isEnabled()) << "there is no second place";
        dialog.setPlace(path(QStringLiteral("stick")));
        waitFor(dialog);
        answering<app::CopySealDialog>([&] { button(dialog, QStringLiteral("Seal..."))->click(); },
                                       [&](app::CopySealDialog& asked) {
                                           const auto fields = asked.findChildren<QLineEdit*>();
                                           ASSERT_EQ(fields.size(), 2);
                                           EXPECT_EQ(fields[0]->echoMode(), QLineEdit::Password);
                                           fields[0]->setText(QStringLiteral("four words of it"));
                                           fields[1]->setText(QStringLiteral("four words of if"));
                                           button(asked, QStringLiteral("Set"))->click();
                                           EXPECT_TRUE(asked.isVisible()) << "the two differ";
                                           fields[1]->setText(QStringLiteral("four words of it"));
                                           button(asked, QStringLiteral("Set"))->click();
                                       });
        waitFor(dialog);
        ASSERT_EQ(rows(dialog), 2);
        EXPECT_EQ((QSet<QString>{row(dialog, 0)[2], row(dialog, 1)[2]}),
                  (QSet<QString>{QStringLiteral("beside the file"), QStringLiteral("second, sealed")}));
        EXPECT_EQ(row(dialog, 0)[7], QStringLiteral("sound"));
        EXPECT_EQ(row(dialog, 1)[7], QStringLiteral("sound"));
        // The one beside the file is taken away: what is left is the sealed one.
        for (const db::CopyFile& one : copies()) std::filesystem::remove(one.path);
    });
    addTrainee("n-2");
    withCopies([&](app::CopiesDialog& dialog) {
        ASSERT_EQ(rows(dialog), 1);
        EXPECT_EQ(row(dialog, 0)[6], QStringLiteral("1 trainee"));
        answering<app::RestoreDialog>([&] { button(dialog, QStringLiteral("Restore..."))->click(); },
                                      [&](app::RestoreDialog& asked) { asked.accept(); });
    });
    EXPECT_EQ(m_window->session()->file().trainees()->size(), 1u);
}

}  // namespace
}  // namespace markerlamp
