#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A window over a program file of its own, in a folder that goes away.

#include "app/settings/settings.h"
#include "app/shell/main_window.h"
#include "app/shell/new_program.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/theme.h"
#include "demo/generator/demo_program.h"

#include <gtest/gtest.h>

#include <QAction>
#include <QApplication>
#include <QDialog>
#include <QFile>
#include <QLabel>
#include <QProgressDialog>
#include <QStatusBar>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>

#include <functional>

namespace markerlamp::testing {

/// Does something that opens a modal dialog and hands that dialog to look(); what look() leaves open is
/// rejected. Waits for the dialog itself, not for a time.
inline void whileDialog(const std::function<void()>& act, const std::function<void(QDialog&)>& look) {
    bool seen = false;
    QTimer watch;
    QObject::connect(&watch, &QTimer::timeout, &watch, [&] {
        auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
        if (dialog == nullptr || qobject_cast<QProgressDialog*>(dialog) != nullptr) return;
        watch.stop();
        seen = true;
        QApplication::setActiveWindow(dialog);
        look(*dialog);
        if (dialog->isVisible()) dialog->reject();
    });
    watch.start(5);
    act();
    EXPECT_TRUE(seen) << "no dialog came";
}

/// The same for a command that opens several dialogs one after the other.
inline void whileDialogs(const std::function<void()>& act,
                         const std::vector<std::function<void(QDialog&)>>& looks) {
    std::size_t seen = 0;
    QDialog* last = nullptr;
    QTimer watch;
    QObject::connect(&watch, &QTimer::timeout, &watch, [&] {
        auto* dialog = qobject_cast<QDialog*>(QApplication::activeModalWidget());
        if (dialog == nullptr || qobject_cast<QProgressDialog*>(dialog) != nullptr) return;
        if (dialog == last && dialog->isVisible() && seen > 0) return;
        last = dialog;
        QApplication::setActiveWindow(dialog);
        if (seen < looks.size()) looks[seen](*dialog);
        ++seen;
        if (dialog->isVisible()) dialog->reject();
    });
    watch.start(5);
    act();
    EXPECT_EQ(seen, looks.size()) << "dialogs";
}

class WindowFixture : public ::testing::Test {
protected:
    WindowFixture() : m_settings(m_dir.filePath(QStringLiteral("settings.ini"))) {}
    /// The window goes before the test does: what a test gave it, a clock say, is part of the test.
    void TearDown() override { m_window.reset(); }

    void makeWindow() {
        m_window = std::make_unique<app::MainWindow>(m_theme, m_settings);
        m_window->resize(1366, 768);
        m_window->show();
        QApplication::setActiveWindow(m_window.get());
        settle();
    }
    void openDemo() {
        makeWindow();
        const QString file = path(QStringLiteral("demo.markerlamp"));
        ASSERT_TRUE(QFile::copy(demoFile(), file));
        const auto opened = m_window->openFile(file);
        ASSERT_TRUE(opened) << opened.error().message;
        copyNothingByItself();
        settle();
    }
    void openEmpty() {
        makeWindow();
        const auto made = m_window->createFile(path(QStringLiteral("empty.markerlamp")), false);
        ASSERT_TRUE(made) << made.error().message;
        copyNothingByItself();
        settle();
    }
    /// Copies are made by tests alone, however long they take.
    void copyNothingByItself() { m_window->findChild<QTimer*>(QStringLiteral("first-copy"))->stop(); }
    template <class P>
    P& page() {
        return *m_window->findChild<P*>();
    }
    /// All words of the status bar.
    [[nodiscard]] QString status() {
        QStringList words;
        for (auto* label : m_window->statusBar()->findChildren<QLabel*>()) words << label->text();
        return words.join(QLatin1Char('|'));
    }
    [[nodiscard]] QString path(const QString& name) const { return m_dir.filePath(name); }
    /// Writes a text into the folder of the test.
    QString write(const QString& name, const std::string& text) {
        QFile file(path(name));
        EXPECT_TRUE(file.open(QIODevice::WriteOnly));
        file.write(text.data(), static_cast<qint64>(text.size()));
        return file.fileName();
    }
    static void settle() { QTest::qWait(20); }
    void trigger(const char* name) {
        QAction* action = m_window->action(QLatin1String(name));
        ASSERT_NE(action, nullptr) << name;
        ASSERT_TRUE(action->isEnabled()) << name;
        action->trigger();
        settle();
    }
    /// Triggers a command that opens a modal dialog and hands that dialog to look().
    void withDialog(const char* name, const std::function<void(QDialog&)>& look) {
        SCOPED_TRACE(name);
        whileDialog([&] { trigger(name); }, look);
        QApplication::setActiveWindow(m_window.get());
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

    /// Made once for all tests of a run: making it takes longer than most of them.
    static QString demoFile() {
        static const QTemporaryDir dir;
        static const QString file = [] {
            QString made = dir.filePath(QStringLiteral("demo.markerlamp"));
            const auto done = app::makeProgram(made.toStdString(), demo::DemoOptions{}.lastDay);
            EXPECT_TRUE(done) << (done ? std::string() : done.error().message);
            return made;
        }();
        return file;
    }

    QTemporaryDir m_dir;
    app::Settings m_settings;
    app::Theme m_theme;
    std::unique_ptr<app::MainWindow> m_window;
};

}  // namespace markerlamp::testing
