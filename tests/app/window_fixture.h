#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A window over a program file of its own, in a folder that goes away.

#include "app/settings/settings.h"
#include "app/shell/main_window.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/theme.h"

#include <gtest/gtest.h>

#include <QAction>
#include <QApplication>
#include <QDialog>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>

#include <functional>

namespace markerlamp::testing {

class WindowFixture : public ::testing::Test {
protected:
    WindowFixture() : m_settings(m_dir.filePath(QStringLiteral("settings.ini"))) {}

    void makeWindow() {
        m_window = std::make_unique<app::MainWindow>(m_theme, m_settings);
        m_window->resize(1366, 768);
        m_window->show();
        QApplication::setActiveWindow(m_window.get());
        settle();
    }
    void openDemo() {
        makeWindow();
        const auto made = m_window->createFile(path(QStringLiteral("demo.markerlamp")), true);
        ASSERT_TRUE(made) << made.error().message;
        settle();
    }
    void openEmpty() {
        makeWindow();
        const auto made = m_window->createFile(path(QStringLiteral("empty.markerlamp")), false);
        ASSERT_TRUE(made) << made.error().message;
        settle();
    }
    [[nodiscard]] QString path(const QString& name) const { return m_dir.filePath(name); }
    static void settle() { QTest::qWait(20); }
    void trigger(const char* name) {
        QAction* action = m_window->action(QLatin1String(name));
        ASSERT_NE(action, nullptr) << name;
        ASSERT_TRUE(action->isEnabled()) << name;
        action->trigger();
        settle();
    }
    /// Triggers a command that opens a modal dialog and hands that dialog to look(), which must end it.
    void withDialog(const char* name, const std::function<void(QDialog&)>& look) {
        bool seen = false;
        QTimer::singleShot(60, m_window.get(), [&] {
            auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
            ASSERT_NE(dialog, nullptr) << name;
            seen = true;
            look(*dialog);
            if (dialog->isVisible()) dialog->reject();
        });
        trigger(name);
        EXPECT_TRUE(seen) << name;
    }
    /// The trainee with the most attempts.
    QString busiest() {
        std::map<std::string, int> counts;
        const auto attempts = m_window->session()->file().attempts();
        for (const auto& info : *attempts) ++counts[info.trainee];
        std::string best;
        for (const auto& [key, count] : counts)
            if (best.empty() || count > counts[best]) best = key;
        return app::qs(best);
    }

    QTemporaryDir m_dir;
    app::Settings m_settings;
    app::Theme m_theme;
    std::unique_ptr<app::MainWindow> m_window;
};

}  // namespace markerlamp::testing
