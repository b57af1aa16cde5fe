// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a screen half as large as the drawn one shows (1366x768 at twice the scale): nothing lies over
// anything else, no button is squeezed under its words, and no dialog is larger than the screen.

#include "dialogs_of_the_window.h"

#include "app/debrief/debrief_page.h"

#include <QAbstractButton>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QMenuBar>
#include <QScreen>
#include <QTabWidget>

#include <map>

namespace markerlamp::testing {
namespace {

class SmallWindow : public DialogsOfTheWindow {
protected:
    /// Widgets of one parent that show words stand beside or below each other.
    static void expectApart(QWidget& root, const char* what) {
        std::vector<QWidget*> all;
        for (QWidget* widget : root.findChildren<QWidget*>()) {
            const bool words = qobject_cast<QAbstractButton*>(widget) != nullptr ||
                               qobject_cast<QLabel*>(widget) != nullptr ||
                               qobject_cast<QLineEdit*>(widget) != nullptr ||
                               qobject_cast<QComboBox*>(widget) != nullptr;
            if (words && widget->isVisible()) all.push_back(widget);
        }
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (qobject_cast<QPushButton*>(all[i]) != nullptr) {
                EXPECT_GE(all[i]->width(), all[i]->minimumSizeHint().width())
                    << what << ": " << nameOf(*all[i]) << " is squeezed";
            }
            for (std::size_t j = i + 1; j < all.size(); ++j) {
                if (all[i]->parent() != all[j]->parent()) continue;
                EXPECT_FALSE(all[i]->geometry().intersects(all[j]->geometry()))
                    << what << ": " << nameOf(*all[i]) << " lies over " << nameOf(*all[j]);
            }
        }
    }
    static std::string nameOf(const QWidget& widget) {
        QString name = widget.accessibleName();
        if (const auto* button = qobject_cast<const QAbstractButton*>(&widget)) name = button->text();
        if (const auto* label = qobject_cast<const QLabel*>(&widget)) name = label->text();
        return '"' + app::ss(name) + '"';
    }
    void makeSmall() {
        m_window->resize(683, 384);
        settle();
        ASSERT_EQ(m_window->size(), QSize(683, 384)) << "a page asks for more than the screen has";
    }
};

TEST_F(SmallWindow, NothingLiesOverAnythingOnThePages) {
    openDemo();
    makeSmall();
    showBusiest();
    for (const PageId page : kPages) {
        m_window->showPage(page);
        settle();
        expectApart(*m_window, std::to_string(static_cast<int>(page)).c_str());
    }
    openDraft();
    expectApart(*m_window, "rubric editor");
}

TEST_F(SmallWindow, NothingLiesOverAnythingOnTheFirstPage) {
    makeWindow();
    makeSmall();
    expectApart(*m_window, "first page");
}

TEST_F(SmallWindow, TheKeysOfTheWindowActWhereTheCardLeavesNoRoomForTheMenu) {
    openDemo();
    makeSmall();
    beginAttempt();
    ASSERT_FALSE(m_window->menuBar()->isVisible());
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_2, Qt::ControlModifier);
    settle();
    EXPECT_NE(qobject_cast<app::DebriefPage*>(m_window->currentPage()), nullptr);
}

TEST_F(SmallWindow, TheFirstWindowIsNoLargerThanTheScreen) {
    const app::MainWindow window(m_theme, m_settings);
    const QSize screen = window.screen()->availableSize();
    EXPECT_EQ(window.size(), QSize(1366, 768).boundedTo(screen));
}

TEST_F(SmallWindow, NoTwoThingsOfADialogAnswerToTheSameLetter) {
    openDemo();
    forEachDialog([&](const char* name, QDialog& dialog) {
        auto* tabs = dialog.findChild<QTabWidget*>();
        for (int tab = 0; tab < (tabs == nullptr ? 1 : tabs->count()); ++tab) {
            std::map<QString, QString> taken;
            const auto take = [&](const QString& text) {
                const QString letter = QKeySequence::mnemonic(text).toString();
                if (letter.isEmpty()) return;
                EXPECT_TRUE(taken.emplace(letter, text).second)
                    << name << ": " << app::ss(letter) << " is that of \"" << app::ss(taken[letter])
                    << "\" and of \"" << app::ss(text) << '"';
            };
            if (tabs != nullptr) {
                tabs->setCurrentIndex(tab);
                settle();
                for (int i = 0; i < tabs->count(); ++i) take(tabs->tabText(i));
            }
            for (const auto* button : dialog.findChildren<QAbstractButton*>())
                if (button->isVisible()) take(button->text());
            for (const auto* label : dialog.findChildren<QLabel*>())
                if (label->isVisible() && label->buddy() != nullptr) take(label->text());
        }
    });
}

TEST_F(SmallWindow, NoDialogIsLargerThanTheScreen) {
    openDemo();
    const QSize screen = m_window->screen()->availableSize();
    forEachDialog([&](const char* name, QDialog& dialog) {
        EXPECT_LE(dialog.width(), screen.width()) << name;
        EXPECT_LE(dialog.height(), screen.height()) << name;
    });
}

}  // namespace
}  // namespace markerlamp::testing
