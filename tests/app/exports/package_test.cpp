// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A package goes out of one window's program and into another's.

#include "../readiness/readiness_support.h"
#include "../window_fixture.h"
#include "app/exports/export_dialog.h"
#include "app/exports/package_dialog.h"
#include "app/shell/report_dialogs.h"

#include <QLineEdit>
#include <QPushButton>

namespace markerlamp {
namespace {

class PackageTest : public testing::WindowFixture {
protected:
    static QLineEdit& field(QDialog& dialog, const char* name) {
        for (QLineEdit* one : dialog.findChildren<QLineEdit*>())
            if (one->accessibleName() == QLatin1String(name)) return *one;
        ADD_FAILURE() << name;
        return *dialog.findChild<QLineEdit*>();
    }
};

TEST_F(PackageTest, GoesOutSealedAndComesInWithItsPassphrase) {
    makeWindow();
    ASSERT_TRUE(m_window->openFile(demoFile()));
    const auto trainees = m_window->session()->file().trainees();
    const QString out = path(QStringLiteral("yard.mlpack"));
    withDialog("file.export", [&](QDialog& dialog) {
        auto& form = dynamic_cast<app::ExportDialog&>(dialog);
        form.choose(app::ExportWhat::Package);
        field(dialog, "File to write").setText(out);
        field(dialog, "Passphrase of the package").setText(QStringLiteral("short"));
        form.accept();
        EXPECT_FALSE(form.isRunning()) << "too short";
        field(dialog, "Passphrase of the package").setText(QStringLiteral("four words or more"));
        field(dialog, "The same passphrase again").setText(QStringLiteral("four words or mere"));
        form.accept();
        EXPECT_FALSE(form.isRunning()) << "not the same";
        EXPECT_FALSE(QFileInfo::exists(out));
        field(dialog, "The same passphrase again").setText(QStringLiteral("four words or more"));
        form.accept();
        EXPECT_TRUE(testing::eventually([&] { return !form.outcome().isEmpty(); }));
        dialog.reject();
    });
    ASSERT_TRUE(QFileInfo::exists(out));
    m_window->closeFile();

    ASSERT_TRUE(m_window->createFile(path(QStringLiteral("other.markerlamp")), false));
    testing::whileDialog([&] { m_window->importFiles({out}); },
                         [&](QDialog& dialog) {
                             auto* ask = dynamic_cast<app::PackageDialog*>(&dialog);
                             ASSERT_NE(ask, nullptr);
                             auto* passphrase = dialog.findChild<QLineEdit*>();
                             EXPECT_EQ(passphrase->echoMode(), QLineEdit::Password);
                             passphrase->setText(QStringLiteral("other words"));
                             ask->accept();
                             EXPECT_TRUE(dialog.isVisible()) << "another passphrase does not open it";
                             dialog.reject();
                         });
    EXPECT_TRUE(m_window->session()->file().trainees()->empty()) << "cancelled";
    testing::whileDialogs([&] { m_window->importFiles({out}); },
                          {[](QDialog& dialog) {
                               dialog.findChild<QLineEdit*>()->setText(QStringLiteral("four words or more"));
                               dialog.accept();
                           },
                           [](QDialog& dialog) {
                               EXPECT_NE(dynamic_cast<app::ImportDialog*>(&dialog), nullptr)
                                   << "what became of each document";
                           }});
    EXPECT_EQ(m_window->session()->file().trainees()->size(), trainees->size());
}

}  // namespace
}  // namespace markerlamp
