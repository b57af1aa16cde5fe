// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// File > Export: what a person does with keys and buttons, and what lies on the disk then.

#include "../window_fixture.h"

#include "app/exports/export_dialog.h"
#include "app/exports/sheet_batch.h"
#include "core/base/csv.h"

#include <QButtonGroup>
#include <QCheckBox>
#include <QComboBox>
#include <QDir>
#include <QLineEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QRadioButton>

namespace markerlamp::app {
namespace {

class Export : public testing::WindowFixture {
protected:
    void withExport(const std::function<void(ExportDialog&)>& look) {
        m_settings.setValue(QStringLiteral("export/folder"), m_dir.path());
        withDialog("file.export", [&](QDialog& dialog) {
            auto* own = qobject_cast<ExportDialog*>(&dialog);
            ASSERT_NE(own, nullptr);
            look(*own);
        });
    }
    static QPushButton* button(ExportDialog& dialog, const QString& text) {
        for (auto* one : dialog.findChildren<QPushButton*>())
            if (one->text() == text) return one;
        ADD_FAILURE() << "no button " << text.toStdString();
        return nullptr;
    }
    static QLineEdit* place(ExportDialog& dialog) {
        for (auto* field : dialog.findChildren<QLineEdit*>())
            if (field->accessibleName() == QLatin1String("File to write") ||
                field->accessibleName() == QLatin1String("Folder to make"))
                return field;
        return nullptr;
    }
    static QString said(ExportDialog& dialog) {
        for (auto* label : dialog.findChildren<QLabel*>())
            if (label->accessibleName() == QLatin1String("What became of it")) return label->text();
        return {};
    }
    /// Alt and a letter; a button takes a moment to be pressed.
    static void press(ExportDialog& dialog, Qt::Key letter, const std::function<bool()>& then) {
        QTest::keyClick(&dialog, letter, Qt::AltModifier);
        EXPECT_TRUE(QTest::qWaitFor(then)) << static_cast<char>(letter);
    }
    /// Presses Export and waits for the end.
    static void run(ExportDialog& dialog) {
        QTest::mouseClick(button(dialog, QStringLiteral("&Export")), Qt::LeftButton);
        EXPECT_TRUE(dialog.isRunning());
        EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog.isRunning(); }, 300'000));
        settle();
    }
    [[nodiscard]] QStringList entries(const QString& folder = {}) const {
        QStringList names =
            QDir(path(folder)).entryList(QDir::AllEntries | QDir::Hidden | QDir::NoDotAndDotDot);
        // The window copies its file by itself some seconds after it came up.
        names.removeIf([](const QString& name) { return name.endsWith(QLatin1String(".copies")); });
        return names;
    }
};

TEST_F(Export, WritesASpreadsheetWithOnePressAndSaysWhatIsInIt) {
    openDemo();
    withExport([&](ExportDialog& dialog) {
        EXPECT_EQ(dialog.plan().what, ExportWhat::Spreadsheet);
        EXPECT_EQ(place(dialog)->text(), path(QStringLiteral("demo-tables.xlsx")));
        run(dialog);
        EXPECT_TRUE(said(dialog).contains(QStringLiteral("demo-tables.xlsx"))) << said(dialog).toStdString();
        EXPECT_TRUE(said(dialog).contains(QStringLiteral("trainees 16"))) << said(dialog).toStdString();
        // The next one would not write over it.
        EXPECT_EQ(place(dialog)->text(), path(QStringLiteral("demo-tables-2.xlsx")));
    });
    QFile file(path(QStringLiteral("demo-tables.xlsx")));
    ASSERT_TRUE(file.open(QIODevice::ReadOnly));
    EXPECT_EQ(file.read(4), QByteArray("PK\x03\x04"));
    EXPECT_FALSE(entries().filter(QStringLiteral("part")).size() > 0) << "nothing lies beside it";
}

TEST_F(Export, WritesTablesAndAStudyByTheKeys) {
    openDemo();
    withExport([&](ExportDialog& dialog) {
        press(dialog, Qt::Key_T, [&] { return dialog.plan().what == ExportWhat::Tables; });
        EXPECT_EQ(place(dialog)->text(), path(QStringLiteral("demo-tables")));
        run(dialog);
        press(dialog, Qt::Key_U, [&] { return dialog.plan().what == ExportWhat::Study; });
        EXPECT_EQ(place(dialog)->text(), path(QStringLiteral("demo-study")));
        press(dialog, Qt::Key_K, [&] { return !dialog.plan().saltFile.isEmpty(); });
        EXPECT_EQ(dialog.plan().saltFile, path(QStringLiteral("demo.salt")));
        run(dialog);
        EXPECT_TRUE(said(dialog).contains(QStringLiteral("recognized"))) << said(dialog).toStdString();
        EXPECT_TRUE(said(dialog).contains(QStringLiteral("demo.salt")));
    });
    const auto sorted = [this](const char* folder) {
        QStringList names = entries(QLatin1String(folder));
        names.sort();
        return names.join(QLatin1Char(' '));
    };
    EXPECT_EQ(sorted("demo-tables"), QStringLiteral("attempts.csv roster.csv steps.csv weak-zones.csv"));
    EXPECT_EQ(sorted("demo-study"),
              QStringLiteral("README.txt attempts.csv dictionary.json roster.csv steps.csv weak-zones.csv"));
    EXPECT_TRUE(QFile::exists(path(QStringLiteral("demo.salt"))));
    QFile roster(path(QStringLiteral("demo-study/roster.csv")));
    ASSERT_TRUE(roster.open(QIODevice::ReadOnly));
    const QByteArray text = roster.readAll();
    const auto trainees = m_window->session()->file().trainees();
    ASSERT_TRUE(trainees);
    for (const core::Trainee& one : *trainees) EXPECT_FALSE(text.contains(one.name.c_str())) << one.name;
}

TEST_F(Export, StopLeavesNothing) {
    openDemo();
    for (const ExportWhat what : {ExportWhat::Spreadsheet, ExportWhat::Tables, ExportWhat::Study,
                                  ExportWhat::Sheets, ExportWhat::Documents}) {
        const QStringList before = entries();
        withExport([&](ExportDialog& dialog) {
            dialog.choose(what);
            QTest::mouseClick(button(dialog, QStringLiteral("&Export")), Qt::LeftButton);
            EXPECT_TRUE(dialog.findChild<QProgressBar*>()->isVisible());
            QTest::mouseClick(button(dialog, QStringLiteral("Sto&p")), Qt::LeftButton);
            EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog.isRunning(); }, 60'000));
            settle();
            EXPECT_EQ(said(dialog), QStringLiteral("Stopped. Nothing was written."));
            EXPECT_TRUE(dialog.outcome().isEmpty());
            EXPECT_FALSE(dialog.findChild<QProgressBar*>()->isVisible());
        });
        EXPECT_EQ(entries(), before) << static_cast<int>(what);
    }
}

TEST_F(Export, PrintsTheSheetsOfAClass) {
    openDemo();
    withExport([&](ExportDialog& dialog) {
        dialog.choose(ExportWhat::Sheets);
        auto* group = dialog.findChild<QComboBox*>();
        ASSERT_GT(group->count(), 1);
        EXPECT_EQ(group->accessibleName(), QStringLiteral("Whose sheets"));
        group->setCurrentIndex(1);
        run(dialog);
        EXPECT_TRUE(said(dialog).contains(QStringLiteral("Sheets: "))) << said(dialog).toStdString();
        // They wait for their signatures now.
        const auto made = m_window->session()->file().sheetRecords();
        ASSERT_TRUE(made);
        EXPECT_TRUE(said(dialog).contains(QStringLiteral("Sheets: %1,").arg(made->size())))
            << said(dialog).toStdString();
        ASSERT_FALSE(made->empty());
        EXPECT_EQ(made->front().what, core::SheetEvent::Made);
        for (auto* box : dialog.findChildren<QCheckBox*>())
            if (box->text() == QLatin1String("&One PDF for all")) box->click();
        EXPECT_EQ(place(dialog)->text(), path(QStringLiteral("demo-sheets")));
        run(dialog);
    });
    auto& file = m_window->session()->file();
    const auto trainees = file.trainees();
    std::set<std::string> groups;
    for (const core::Trainee& one : *trainees)
        if (!one.group.empty()) groups.insert(one.group);
    // Counted from the lists: who of the first group has an attempt that is finished.
    QStringList expected;
    for (const core::Trainee& one : *trainees) {
        if (one.group != *groups.begin()) continue;
        const auto attempts = file.attempts(one.key);
        if (std::ranges::any_of(*attempts, [](const db::AttemptInfo& info) {
                return info.state == db::AttemptState::Ended && info.of.empty();
            }))
            expected << QStringLiteral("progress-sheet-%1.pdf").arg(qs(one.key));
    }
    expected.sort();
    EXPECT_GT(expected.size(), 1);
    EXPECT_EQ(entries(QStringLiteral("demo-sheets")), expected);
    QFile joined(path(QStringLiteral("demo-sheets.pdf")));
    ASSERT_TRUE(joined.open(QIODevice::ReadOnly));
    const QByteArray pdf = joined.readAll();
    EXPECT_TRUE(pdf.startsWith("%PDF-"));
    EXPECT_GE(pdf.count("/Type /Page\n"), expected.size());
}

TEST_F(Export, ARefusalIsSaidAndTheFormStays) {
    openDemo();
    withExport([&](ExportDialog& dialog) {
        place(dialog)->setText(path(QStringLiteral("none/here.xlsx")));
        run(dialog);
        EXPECT_TRUE(said(dialog).startsWith(QStringLiteral("there is no folder")))
            << said(dialog).toStdString();
        EXPECT_TRUE(dialog.isVisible());
        // A name that somebody typed stays when another kind is chosen.
        place(dialog)->setText(path(QStringLiteral("mine")));
        dialog.choose(ExportWhat::Documents);
        EXPECT_EQ(place(dialog)->text(), path(QStringLiteral("mine")));
        place(dialog)->clear();
        QTest::mouseClick(button(dialog, QStringLiteral("&Export")), Qt::LeftButton);
        EXPECT_FALSE(dialog.isRunning());
        EXPECT_EQ(said(dialog), QStringLiteral("Say where the export goes."));
        place(dialog)->setText(path(QStringLiteral("mine")));
        run(dialog);
        EXPECT_TRUE(said(dialog).contains(QStringLiteral("documents written to")));
    });
    EXPECT_TRUE(QFile::exists(path(QStringLiteral("mine/people.csv"))));
}

TEST_F(Export, AGroupThatNobodyIsInIsRefusedWithThoseThatThereAre) {
    openDemo();
    auto& file = m_window->session()->file();
    const auto none = traineesOfGroup(file, "Nowhere");
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().kind, core::ErrorKind::NotFound);
    EXPECT_NE(none.error().message.find("the groups on file are"), std::string::npos) << none.error().message;
    EXPECT_EQ(traineesOfGroup(file, std::nullopt)->size(), file.trainees()->size());
}

}  // namespace
}  // namespace markerlamp::app
