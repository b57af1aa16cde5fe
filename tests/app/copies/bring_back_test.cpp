// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A copy that is brought to where no program is, or where one does not open any more.

#include "../window_fixture.h"

#include "app/copies/bring_back_dialog.h"
#include "app/copies/copies_view.h"
#include "app/support/folders.h"

#include <QDir>
#include <QLabel>
#include <QLineEdit>
#include <QStatusBar>

#include <algorithm>
#include <fstream>

namespace markerlamp {
namespace {

using namespace testing;
using app::fsPath;

class BringingBack : public WindowFixture {
protected:
    /// A program with one trainee, closed again, and a copy of it on a stick.
    void makeCopy(bool sealed) {
        openEmpty();
        ASSERT_TRUE(m_window->session()->file().saveTrainee(
            {"n-1", "Invented", "", "", "", "", {}, "", "", "", false}));
        trigger("file.close");
        ASSERT_TRUE(QDir().mkpath(path(QStringLiteral("stick"))));
        const auto program = fsPath(path(QStringLiteral("empty.markerlamp")));
        if (sealed) {
            m_copy = path(QStringLiteral("stick/empty.sealed"));
            const auto key = db::SealKey::of("four old bus lamps", db::SealCost{1, 8 << 20});
            ASSERT_TRUE(key);
            ASSERT_TRUE(db::sealedCopyTo(program, fsPath(m_copy), *key));
        } else {
            m_copy = path(QStringLiteral("stick/empty.markerlamp"));
            ASSERT_TRUE(db::copyTo(program, fsPath(m_copy)));
        }
    }
    void bringBack(const std::function<void(app::BringBackDialog&)>& act) {
        withDialog("file.bring-back", [&](QDialog& dialog) {
            auto* asked = qobject_cast<app::BringBackDialog*>(&dialog);
            ASSERT_NE(asked, nullptr);
            act(*asked);
        });
    }
    static QLineEdit* field(const QDialog& dialog, const char* label) {
        for (auto* one : dialog.findChildren<QLabel*>())
            if (one->text().remove(QLatin1Char('&')) == QLatin1String(label))
                if (auto* found = qobject_cast<QLineEdit*>(one->buddy())) return found;
        ADD_FAILURE() << "no field " << label;
        return nullptr;
    }
    static QString shown(const QDialog& dialog) {
        QStringList words;
        for (auto* label : dialog.findChildren<QLabel*>())
            if (label->isVisible()) words << label->text();
        return words.join(QLatin1Char('\n'));
    }
    void expectTheTraineeIsBack(const QString& file) {
        ASSERT_NE(m_window->session(), nullptr);
        EXPECT_EQ(QFileInfo(m_window->session()->path()), QFileInfo(file));
        EXPECT_TRUE(hasTrainee("n-1"));
    }

    bool hasTrainee(const std::string& key) {
        const auto trainees = m_window->session()->file().trainees();
        return trainees && std::ranges::any_of(*trainees, [&](const auto& one) { return one.key == key; });
    }

    QString m_copy;
};

TEST_F(BringingBack, ASealedCopyOpensOnAMachineThatHasNoProgram) {
    makeCopy(true);
    const QString fresh = path(QStringLiteral("new machine/training"));
    ASSERT_TRUE(QDir().mkpath(path(QStringLiteral("new machine"))));
    bringBack([&](app::BringBackDialog& dialog) {
        EXPECT_FALSE(field(dialog, "Passphrase")->isEnabled());
        dialog.setCopy(m_copy);
        EXPECT_TRUE(field(dialog, "Passphrase")->isEnabled());
        dialog.setProgram(fresh);
        field(dialog, "Passphrase")->setText(QStringLiteral("four old bus lamp"));
        dialog.accept();
        EXPECT_TRUE(dialog.isVisible());
        EXPECT_TRUE(shown(dialog).contains(QStringLiteral("passphrase"))) << shown(dialog).toStdString();
        EXPECT_EQ(QDir(path(QStringLiteral("new machine"))).entryList(QDir::Files | QDir::Hidden).size(), 0);
        field(dialog, "Passphrase")->setText(QStringLiteral("four old bus lamps"));
        dialog.accept();
        EXPECT_FALSE(dialog.isVisible());
    });
    expectTheTraineeIsBack(fresh + QLatin1String(".markerlamp"));
    QStringList said;
    for (auto* label : m_window->statusBar()->findChildren<QLabel*>()) said << label->text();
    EXPECT_TRUE(said.join(QLatin1Char('\n')).contains(QStringLiteral("Restored: 0 attempt")))
        << said.join(QLatin1Char('\n')).toStdString();
}

TEST_F(BringingBack, AFileThatDoesNotOpenIsPutAsideAndTheCopyTakesItsPlace) {
    makeCopy(false);
    const QString program = path(QStringLiteral("empty.markerlamp"));
    std::ofstream(fsPath(program), std::ios::binary | std::ios::trunc) << std::string(4096, 'x');
    EXPECT_FALSE(m_window->openFile(program));
    bringBack([&](app::BringBackDialog& dialog) {
        dialog.setCopy(m_copy);
        dialog.setProgram(program);
        EXPECT_TRUE(shown(dialog).contains(QStringLiteral("put aside"))) << shown(dialog).toStdString();
        EXPECT_FALSE(field(dialog, "Passphrase")->isEnabled());
        dialog.accept();
    });
    expectTheTraineeIsBack(program);
    EXPECT_EQ(
        QDir(program + QLatin1String(".copies")).entryList({QStringLiteral("*damaged*")}, QDir::Files).size(),
        1);
}

TEST_F(BringingBack, ADamagedCopyAndTheOpenProgramAreRefusedAndNothingChanges) {
    makeCopy(false);
    std::ofstream(fsPath(path(QStringLiteral("stick/torn.markerlamp"))), std::ios::binary)
        << std::string(4096, 'x');
    const QString program = path(QStringLiteral("empty.markerlamp"));
    ASSERT_TRUE(m_window->openFile(program));
    bringBack([&](app::BringBackDialog& dialog) {
        dialog.accept();
        EXPECT_TRUE(shown(dialog).contains(QStringLiteral("no copy is named")))
            << shown(dialog).toStdString();
        dialog.setCopy(path(QStringLiteral("stick/torn.markerlamp")));
        dialog.setProgram(path(QStringLiteral("other.markerlamp")));
        dialog.accept();
        EXPECT_TRUE(dialog.isVisible());
        EXPECT_FALSE(QFileInfo::exists(path(QStringLiteral("other.markerlamp"))));
        dialog.setCopy(m_copy);
        dialog.setProgram(program);
        dialog.accept();
        EXPECT_TRUE(shown(dialog).contains(QStringLiteral("open in this window")))
            << shown(dialog).toStdString();
        dialog.setProgram(m_copy);
        dialog.accept();
        EXPECT_TRUE(shown(dialog).contains(QStringLiteral("into itself"))) << shown(dialog).toStdString();
        dialog.reject();
    });
    expectTheTraineeIsBack(program);
}

TEST_F(BringingBack, ThePlaceFollowsTheCopyUntilItIsChosen) {
    makeCopy(false);
    const QString program = path(QStringLiteral("empty.markerlamp"));
    const QString beside = program + QLatin1String(".copies/2026-03-02T061240Z-day.markerlamp");
    EXPECT_EQ(app::BringBackDialog::programOf(beside), program);
    const QString second =
        path(QStringLiteral("stick/empty.markerlamp.copies-8f2c/2026-03-02T061240Z-day.markerlamp"));
    EXPECT_EQ(QFileInfo(app::BringBackDialog::programOf(second)).fileName(),
              QStringLiteral("empty.markerlamp"));
    ASSERT_TRUE(QFile::remove(program));
    EXPECT_EQ(QFileInfo(app::BringBackDialog::programOf(beside)).fileName(),
              QStringLiteral("empty.markerlamp"));
    EXPECT_NE(app::BringBackDialog::programOf(beside), program);
    bringBack([&](app::BringBackDialog& dialog) {
        dialog.setCopy(m_copy);
        EXPECT_EQ(QFileInfo(dialog.program()).fileName(), QStringLiteral("training.markerlamp"));
        dialog.setProgram(program);
        dialog.setCopy(m_copy + QLatin1String("x"));
        EXPECT_EQ(dialog.program(), program);
        dialog.reject();
    });
}

}  // namespace
}  // namespace markerlamp
