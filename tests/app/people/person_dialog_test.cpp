// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "../window_fixture.h"

#include "app/people/keeping_dialog.h"
#include "app/people/person_dialog.h"
#include "app/people/record_forms.h"
#include "app/program/program_page.h"
#include "app/settings/people_settings_dialog.h"
#include "app/support/block_tabs.h"
#include "app/support/table_view.h"
#include "app/trainees/trainee_page.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDir>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPushButton>

#include <algorithm>

namespace markerlamp::testing {
namespace {

using app::PersonDialog;
using app::qs;

class People : public WindowFixture {
protected:
    void SetUp() override {
        openDemo();
        m_key = busiest();
        m_window->findChild<app::TraineePage*>()->showTrainee(m_key);
        m_window->showPage(app::MainWindow::PageId::Trainee);
        settle();
    }
    db::ProgramFile& file() { return m_window->session()->file(); }
    core::PersonFile person() { return file().personFile(app::ss(m_key)).value().value(); }

    /// A link or button by its words, mnemonics left out.
    static QPushButton* button(QWidget& in, const QString& words) {
        for (QPushButton* one : in.findChildren<QPushButton*>())
            if (one->text().remove(QLatin1Char('&')) == words) return one;
        return nullptr;
    }
    static QPushButton* shownButton(QWidget& in, const QString& words) {
        for (QPushButton* one : in.findChildren<QPushButton*>())
            if (one->isVisible() && one->text() == words) return one;
        return nullptr;
    }
    static app::TableView* shownTable(QWidget& in) {
        for (app::TableView* one : in.findChildren<app::TableView*>())
            if (one->isVisible()) return one;
        return nullptr;
    }
    /// The field behind a label of a form.
    static QLineEdit* field(QDialog& form, const QString& label) {
        for (QLabel* one : form.findChildren<QLabel*>())
            if (QString(one->text()).remove(QLatin1Char('&')) == label)
                return qobject_cast<QLineEdit*>(one->buddy());
        return nullptr;
    }
    static bool says(QWidget& in, const QString& words) {
        for (QLabel* one : in.findChildren<QLabel*>())
            if (one->isVisibleTo(&in) && one->text().replace(QChar::Nbsp, QLatin1Char(' ')).contains(words))
                return true;
        return false;
    }
    /// Does something that opens a second dialog over the first one.
    static void over(QDialog& first, const std::function<void()>& act,
                     const std::function<void(QDialog&)>& look) {
        QTimer watch;
        bool seen = false;
        QObject::connect(&watch, &QTimer::timeout, &watch, [&] {
            auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
            if (dialog == nullptr || dialog == &first) return;
            watch.stop();
            seen = true;
            look(*dialog);
            if (dialog->isVisible()) dialog->reject();
        });
        watch.start(5);
        act();
        EXPECT_TRUE(seen) << "no second dialog";
    }
    QString m_key;
};

TEST_F(People, AnInstructorIsToldBeforeAFormOpensThatOnlyACoordinatorMay) {
    const std::string mine = m_window->session()->file().instructors()->front().key;
    m_window->session()->file().actAs({"Ann", core::Role::Instructor, mine});
    withDialog("program.person", [&](QDialog& dialog) {
        for (const char* words : {"book a test", "change what it says", "change the number"})
            over(
                dialog, [&] { button(dialog, QLatin1String(words))->click(); },
                [&](QDialog& told) {
                    auto* box = qobject_cast<QMessageBox*>(&told);
                    ASSERT_NE(box, nullptr) << words << " opens a form";
                    EXPECT_TRUE(box->text().contains(QStringLiteral("only a coordinator may")))
                        << box->text().toStdString();
                });
        // Hours are theirs to note, of what they taught themselves.
        over(
            dialog, [&] { button(dialog, QStringLiteral("add hours"))->click(); },
            [&](QDialog& form) {
                const auto* instructors = form.findChildren<QComboBox*>().back();
                ASSERT_EQ(instructors->count(), 2);
                EXPECT_EQ(instructors->itemData(1).toString(), app::qs(mine));
            });
    });
}

TEST_F(People, HoursAreAddedCorrectedAndTakenOutWithoutLosingWhatWasThere) {
    const auto before = person().hours.size();
    withDialog("program.person", [&](QDialog& dialog) {
        over(
            dialog, [&] { button(dialog, QStringLiteral("add hours"))->click(); },
            [&](QDialog& form) {
                field(form, QStringLiteral("Hours"))->setText(QStringLiteral("25:00"));
                form.accept();
                EXPECT_TRUE(form.isVisible()) << "a day has 24 hours";
                field(form, QStringLiteral("Hours"))->setText(QStringLiteral("1:20"));
                form.findChildren<QComboBox*>().back()->setCurrentIndex(1);
                form.accept();
            });
        EXPECT_EQ(person().hours.size(), before + 1);
        auto* table = shownTable(dialog);
        ASSERT_NE(table, nullptr);
        over(
            dialog, [&] { QTest::keyClick(table, Qt::Key_Return); },
            [&](QDialog& form) {
                EXPECT_EQ(field(form, QStringLiteral("Hours"))->text(), QStringLiteral("1:20"));
                field(form, QStringLiteral("Hours"))->setText(QStringLiteral("2"));
                form.accept();
            });
        EXPECT_EQ(person().hours.size(), before + 1);
        EXPECT_EQ(person().hours.back().minutes, 120);
        over(
            dialog, [&] { shownButton(dialog, QStringLiteral("take out"))->click(); },
            [&](QDialog& form) {
                form.accept();
                EXPECT_TRUE(form.isVisible()) << "not without a reason";
                field(form, QStringLiteral("Reason"))->setText(QStringLiteral("wrong person"));
                form.accept();
            });
    });
    EXPECT_EQ(person().hours.size(), before);
    int written = 0;
    const auto log = file().clockHours(app::ss(m_key)).value();
    for (const core::ClockHours& one : log)
        if (one.at.starts_with(app::ss(QDate::currentDate().toString(Qt::ISODate)))) ++written;
    EXPECT_GE(written, 3) << "every step is still on file";
}

TEST_F(People, TheProgramPageOpensItWhereActionIsNeeded) {
    auto* page = m_window->findChild<app::ProgramPage*>();
    const auto blockOf = [](QDialog& dialog) {
        EXPECT_NE(qobject_cast<PersonDialog*>(&dialog), nullptr);
        return dialog.findChild<app::BlockTabs*>()->current();
    };
    whileDialog([&] { emit page->bookTestRequested(m_key); },
                [&](QDialog& dialog) { EXPECT_EQ(blockOf(dialog), PersonDialog::Tests); });
    whileDialog([&] { emit page->recordRequested(m_key); },
                [&](QDialog& dialog) { EXPECT_EQ(blockOf(dialog), PersonDialog::Record); });
}

TEST_F(People, ALineOfTheRecordOpensTheFormInWhichItIsWritten) {
    withDialog("program.person", [&](QDialog& dialog) {
        qobject_cast<PersonDialog*>(&dialog)->showBlock(PersonDialog::Record);
        auto* table = shownTable(dialog);
        ASSERT_NE(table, nullptr);
        for (const auto& [item, title] : {std::pair("licence-number", "License or permit"),
                                          {"proficient", "What the training record says"},
                                          {"provider-number", "Dates and records"}}) {
            int row = 0;
            while (row < table->model()->rowCount() &&
                   table->model()->index(row, 0).data(app::RowsModel::IdRole).toString() !=
                       QLatin1String(item))
                ++row;
            ASSERT_LT(row, table->model()->rowCount()) << item;
            table->selectRowAt(row);
            over(
                dialog, [&] { QTest::keyClick(table, Qt::Key_Return); },
                [&, item = item, title = title](QDialog& form) {
                    EXPECT_EQ(form.windowTitle(), QLatin1String(title)) << item;
                });
        }
    });
}

TEST_F(People, ATestIsBookedCancelledAndToldOnTheTraineePage) {
    const QString day = QDate::currentDate().addDays(3).toString(Qt::ISODate);
    withDialog("program.person", [&](QDialog& dialog) {
        qobject_cast<PersonDialog*>(&dialog)->showBlock(PersonDialog::Tests);
        over(
            dialog, [&] { button(dialog, QStringLiteral("book a test"))->click(); },
            [&](QDialog& form) {
                field(form, QStringLiteral("Date"))->setText(day);
                field(form, QStringLiteral("Time"))->setText(QStringLiteral("8.30"));
                form.accept();
                EXPECT_TRUE(form.isVisible());
                field(form, QStringLiteral("Time"))->setText(QStringLiteral("08:30"));
                form.accept();
            });
        EXPECT_TRUE(says(dialog, QStringLiteral("(in 3 days): vehicle inspection")));
    });
    settle();
    auto* page = m_window->findChild<app::TraineePage*>();
    button(*page, QStringLiteral("On file"))->click();
    settle();
    EXPECT_TRUE(says(*page, QStringLiteral("(in 3 days): vehicle inspection")));
    withDialog("program.person", [&](QDialog& dialog) {
        qobject_cast<PersonDialog*>(&dialog)->showBlock(PersonDialog::Tests);
        button(dialog, QStringLiteral("cancel"))->click();
    });
    const auto bookings = person().bookings;
    ASSERT_FALSE(bookings.empty());
    EXPECT_EQ(std::ranges::find(bookings, app::ss(day), &core::BookedTest::date)->state,
              core::BookingState::Cancelled);
}

TEST_F(People, WhoLeftIsAwayUntilTheReturn) {
    withDialog("program.person", [&](QDialog& dialog) {
        qobject_cast<PersonDialog*>(&dialog)->showBlock(PersonDialog::Away);
        over(
            dialog, [&] { button(dialog, QStringLiteral("left the program"))->click(); },
            [&](QDialog& form) {
                field(form, QStringLiteral("Left on"))->setText(QStringLiteral("2020-03-02"));
                field(form, QStringLiteral("Returned on"))->setText(QStringLiteral("2020-03-01"));
                form.accept();
                EXPECT_TRUE(form.isVisible()) << "back before leaving";
                field(form, QStringLiteral("Returned on"))->clear();
                form.accept();
            });
    });
    EXPECT_TRUE(core::isAway(person().absences, "2026-01-01"));
}

TEST_F(People, AResultIsStruckWithAReason) {
    ASSERT_TRUE(file().addTestResult({"r-99", app::ss(m_key), "2020-01-01", "road", true, ""}));
    const auto before = person().results.size();
    withDialog("program.person", [&](QDialog& dialog) {
        auto* own = qobject_cast<PersonDialog*>(&dialog);
        own->showBlock(PersonDialog::Results);
        QPushButton* out = shownButton(dialog, QStringLiteral("take out"));
        ASSERT_NE(out, nullptr);
        shownTable(dialog)->selectRowAt(static_cast<int>(before) - 1);  // the oldest
        over(
            dialog, [&] { out->click(); },
            [&](QDialog& form) {
                field(form, QStringLiteral("Reason"))->setText(QStringLiteral("wrong person"));
                form.accept();
            });
    });
    EXPECT_EQ(person().results.size(), before - 1);
    EXPECT_EQ(file().struckResults()->back().result, "r-99");
}

TEST_F(People, TheLicenceNumberIsHiddenUntilSomebodyAsks) {
    ASSERT_TRUE(file().saveLicence({app::ss(m_key), "S 778-99", "OH"}));
    withDialog("program.person", [&](QDialog& dialog) {
        qobject_cast<PersonDialog*>(&dialog)->showBlock(PersonDialog::Record);
        settle();
        EXPECT_TRUE(says(dialog, QStringLiteral("on file, hidden")));
        EXPECT_FALSE(says(dialog, QStringLiteral("778-99")));
        button(dialog, QStringLiteral("show the number"))->click();
        EXPECT_TRUE(says(dialog, QStringLiteral("S 778-99")));
        button(dialog, QStringLiteral("hide the number"))->click();
        EXPECT_FALSE(says(dialog, QStringLiteral("778-99")));
    });
}

TEST_F(People, TheRecordListsWhatIsMissingAndIsPrinted) {
    withDialog("program.person", [&](QDialog& dialog) {
        qobject_cast<PersonDialog*>(&dialog)->showBlock(PersonDialog::Record);
        settle();
        EXPECT_TRUE(says(dialog, QStringLiteral("made elsewhere")));
        EXPECT_TRUE(says(dialog, QStringLiteral("missing")));
        over(
            dialog, [&] { button(dialog, QStringLiteral("change what it says"))->click(); },
            [&](QDialog& form) {
                field(form, QStringLiteral("Range completed"))->setText(QStringLiteral("2020-11-20"));
                field(form, QStringLiteral("Public road completed"))->setText(QStringLiteral("2020-11-25"));
                form.accept();
            });
        // 49 CFR 380.717: Thanksgiving and a weekend lie between.
        EXPECT_TRUE(says(dialog, QStringLiteral("due by the end of 30 Nov 2020")));
        over(
            dialog, [&] { button(dialog, QStringLiteral("print"))->click(); },
            [](QDialog& preview) { EXPECT_TRUE(preview.isVisible()); });
    });
    EXPECT_EQ(person().course.roadDone, "2020-11-25");
}

TEST_F(People, SettingsOfDatesAreKeptInTheFileAndRefusedWithTheirField) {
    withDialog("program.dates", [&](QDialog& dialog) {
        QLineEdit* years = nullptr;
        for (QLineEdit* one : dialog.findChildren<QLineEdit*>())
            if (one->accessibleName().startsWith(QStringLiteral("Keep records for"))) years = one;
        ASSERT_NE(years, nullptr);
        EXPECT_EQ(years->text(), QStringLiteral("3"));
        years->setText(QStringLiteral("many"));
        dialog.accept();
        EXPECT_TRUE(dialog.isVisible());
        EXPECT_TRUE(says(dialog, QStringLiteral("Keep records for")));
        years->setText(QStringLiteral("5"));
        dialog.accept();
    });
    EXPECT_EQ(file().fact("program.keep.years").value(), "5");
    EXPECT_FALSE(file().fact("program.keep.nothing").value());
}

TEST_F(People, APersonIsErasedOnlyByTypingTheKey) {
    const std::string name = person().trainee.name;
    withDialog("program.keeping", [&](QDialog& dialog) {
        auto* table = dialog.findChild<app::TableView*>();
        for (int row = 0; row < table->model()->rowCount() && table->currentId() != m_key; ++row)
            table->selectRowAt(row);
        ASSERT_EQ(table->currentId(), m_key);
        over(
            dialog, [&] { button(dialog, QStringLiteral("Erase..."))->click(); },
            [&](QDialog& form) {
                auto* erase = button(form, QStringLiteral("Erase for good"));
                EXPECT_FALSE(erase->isEnabled());
                EXPECT_FALSE(erase->isDefault()) << "Enter cancels";
                EXPECT_TRUE(button(form, QStringLiteral("Cancel"))->isDefault());
                form.accept();
                EXPECT_TRUE(form.isVisible());
                EXPECT_TRUE(says(form, QStringLiteral("are to be kept until")));
                field(form, QStringLiteral("Key of the person"))->setText(m_key + QLatin1Char('x'));
                EXPECT_FALSE(erase->isEnabled());
                field(form, QStringLiteral("Key of the person"))->setText(m_key);
                EXPECT_TRUE(erase->isEnabled());
                erase->click();
            });
        EXPECT_NE(table->currentId(), m_key);
    });
    EXPECT_FALSE(file().trainee(app::ss(m_key)).value());
    for (const QString& beside : QDir(m_dir.path()).entryList(QDir::Files)) {
        if (!beside.startsWith(QStringLiteral("demo.markerlamp"))) continue;
        QFile bytes(path(beside));
        ASSERT_TRUE(bytes.open(QIODevice::ReadOnly));
        EXPECT_FALSE(bytes.readAll().contains(QByteArray::fromStdString(name))) << beside.toStdString();
    }
}

}  // namespace
}  // namespace markerlamp::testing
