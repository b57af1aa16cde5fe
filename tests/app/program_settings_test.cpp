// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Gates, thresholds and words of a program: what is wrong stands beside its field, what is right is kept.

#include "window_fixture.h"

#include "app/settings/program_settings_dialog.h"

#include <QCheckBox>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

namespace markerlamp::testing {
namespace {

class ProgramSettings : public WindowFixture {
protected:
    static QLineEdit* edit(QDialog& dialog, const char* name) {
        for (auto* one : dialog.findChildren<QLineEdit*>())
            if (one->accessibleName() == QLatin1String(name)) return one;
        throw std::out_of_range(name);
    }
    static QStringList said(QDialog& dialog) {
        QStringList words;
        for (auto* label : dialog.findChildren<QLabel*>())
            if (label->isVisible()) words << label->text();
        return words;
    }
    [[nodiscard]] core::ReadinessSettings stored() {
        return core::settingsFromFacts(m_window->session()->file().facts().value()).value();
    }
};

TEST_F(ProgramSettings, KeepsWhatWasChangedAndNothingElse) {
    openEmpty();
    const auto before = m_window->session()->file().facts().value();
    withDialog("program.readiness", [](QDialog& dialog) { dialog.accept(); });
    EXPECT_EQ(m_window->session()->file().facts().value(), before) << "nothing was changed";
    withDialog("program.readiness", [](QDialog& dialog) {
        edit(dialog, "Days for an attempt over all zones")->setText(QStringLiteral("30"));
        edit(dialog, "Wording for ready")->setText(QStringLiteral("Fit to go"));
        dialog.findChild<QComboBox*>()->setCurrentIndex(1);
        dialog.findChildren<QCheckBox*>().constLast()->setChecked(false);
        dialog.accept();
        EXPECT_FALSE(dialog.isVisible());
    });
    core::ReadinessSettings expected;
    expected.fullAttemptDays = 30;
    expected.wordReady = "Fit to go";
    expected.permitDayRule = core::PermitDayRule::IssuePlusDays;
    expected.askTheory = false;
    EXPECT_EQ(stored(), expected);
    EXPECT_EQ(m_window->session()->file().facts().value().size(), before.size() + 4);
    withDialog("program.readiness", [](QDialog& dialog) {
        EXPECT_EQ(edit(dialog, "Wording for ready")->text(), QStringLiteral("Fit to go"));
        for (auto* button : dialog.findChildren<QPushButton*>())
            if (button->text().contains(QLatin1String("usual"))) button->click();
        dialog.accept();
    });
    EXPECT_EQ(stored(), core::ReadinessSettings());
}

TEST_F(ProgramSettings, WhatIsWrongStandsBesideItsField) {
    openEmpty();
    withDialog("program.readiness", [](QDialog& dialog) {
        edit(dialog, "Days the permit must be held")->setText(QStringLiteral("a fortnight"));
        edit(dialog, "Ready: least chance, 0 to 1")->setText(QStringLiteral("80"));
        dialog.accept();
        EXPECT_TRUE(dialog.isVisible());
        int beside = 0;
        for (const QString& words : said(dialog))
            if (words.contains(QLatin1String("write a "))) ++beside;
        EXPECT_EQ(beside, 2);
        EXPECT_TRUE(edit(dialog, "Days the permit must be held")->hasFocus()) << "the first one";
        // Mended, the words go away and another mistake shows: close may not lie above ready.
        edit(dialog, "Days the permit must be held")->setText(QStringLiteral("14"));
        edit(dialog, "Ready: least chance, 0 to 1")->setText(QStringLiteral("0.7"));
        edit(dialog, "Close: least chance, 0 to 1")->setText(QStringLiteral("0.9"));
        dialog.accept();
        EXPECT_TRUE(dialog.isVisible());
        EXPECT_EQ(said(dialog).filter(QLatin1String("write a number")).size(), 0);
        EXPECT_EQ(said(dialog).filter(QLatin1String("at most 0.7")).size(), 1);
        dialog.reject();
    });
    EXPECT_EQ(stored(), core::ReadinessSettings()) << "nothing was kept";
}

}  // namespace
}  // namespace markerlamp::testing
