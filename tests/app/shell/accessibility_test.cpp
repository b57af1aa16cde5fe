// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What assistive technology and the keyboard find on every page and in every dialog: a name and a role for
// each thing that can take the focus, a way to it by Tab, and Esc as the way out.

#include "../window_fixture.h"
#include "dialogs_of_the_window.h"

#include "app/help/help_window.h"
#include "app/rubrics/edition_preview.h"
#include "app/scoring/scoring_page.h"
#include "app/start/start_page.h"

#include <QAbstractButton>
#include <QAbstractItemView>
#include <QAccessible>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QLabel>
#include <QLineEdit>
#include <QListView>
#include <QMetaEnum>
#include <QRadioButton>
#include <QScrollBar>
#include <QSlider>
#include <QStatusBar>
#include <QTabBar>
#include <QTextBrowser>

#include <set>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

/// "QPushButton 'Keep' in QDialog 'Settings'", for messages.
std::string describe(const QWidget* widget) {
    const auto one = [](const QWidget* w) {
        QString name = w->accessibleName();
        if (const auto* button = qobject_cast<const QAbstractButton*>(w)) name = button->text();
        return QStringLiteral("%1 '%2'").arg(QLatin1String(w->metaObject()->className()), name);
    };
    QString text = one(widget);
    if (widget->parentWidget() != nullptr) text += QStringLiteral(" in ") + one(widget->parentWidget());
    return text.toStdString();
}

class Walk {
public:
    /// Every focusable thing below `one` has a name and a role. Returns how many there were.
    static int names(QAccessibleInterface* one) {
        if (one == nullptr || !one->isValid()) return 0;
        const QAccessible::State state = one->state();
        if (state.invisible) return 0;
        int count = 0;
        const auto* widget = qobject_cast<QWidget*>(one->object());
        const bool window = widget != nullptr && widget->isWindow();
        if (state.focusable && !window) {
            ++count;
            const std::string who = widget != nullptr ? describe(widget) : "a part without widget";
            EXPECT_FALSE(one->text(QAccessible::Name).trimmed().isEmpty()) << who << " has no name";
            EXPECT_NE(one->role(), QAccessible::NoRole) << who;
        }
        if (auto* table = one->tableInterface(); table != nullptr && widget != nullptr) {
            cells(*qobject_cast<const QAbstractItemView*>(widget), widget->accessibleName().toStdString());
            return count;
        }
        for (int i = 0; i < one->childCount(); ++i) count += names(one->child(i));
        return count;
    }
    static int names(QWidget& root) { return names(QAccessible::queryAccessibleInterface(&root)); }

private:
    /// What a delegate paints is said in words, too; and there is a current cell, without which some
    /// assistive technology comes to grief.
    static void cells(const QAbstractItemView& view, const std::string& name) {
        const QAbstractItemModel* model = view.model();
        if (model == nullptr || model->rowCount() == 0) return;
        // Nobody is chosen in the list of the start form before the instructor does so.
        if (qobject_cast<const QListView*>(&view) == nullptr) {
            EXPECT_TRUE(view.currentIndex().isValid()) << name << " has no current cell";
        }
        for (int row = 0; row < model->rowCount(); ++row)
            for (int column = 0; column < model->columnCount(); ++column) {
                const QModelIndex index = model->index(row, column);
                if (!index.data(app::RowsModel::PayloadRole).isValid()) continue;
                EXPECT_FALSE(index.data(Qt::AccessibleTextRole).toString().isEmpty())
                    << name << ", row " << row << ", column " << column;
            }
    }
};

/// Follows Tab from where the focus is until it comes round.
class TabRound {
public:
    explicit TabRound(QWidget& root) : m_root(root) {
        QWidget* first = QApplication::focusWidget();
        EXPECT_NE(first, nullptr) << "nothing has the focus in " << describe(&root);
        if (first == nullptr) return;
        constexpr int kMany = 400;
        for (int i = 0; i < kMany; ++i) {
            QWidget* here = QApplication::focusWidget();
            if (here == nullptr || (i > 0 && here == first)) break;
            if (!m_seen.insert(here).second) break;
            m_order.push_back(here);
            QTest::keyClick(here, Qt::Key_Tab);
            // Inside a text Tab goes from link to link first.
            for (int link = 0; link < 60 && QApplication::focusWidget() == here &&
                               qobject_cast<QTextBrowser*>(here) != nullptr;
                 ++link)
                QTest::keyClick(here, Qt::Key_Tab);
            if (QApplication::focusWidget() == here) {
                if (m_order.size() == 1) return;  // it is the only control
                ADD_FAILURE() << describe(here) << " keeps the focus when Tab is pressed";
                break;
            }
        }
        EXPECT_EQ(QApplication::focusWidget(), first) << "Tab does not come round in " << describe(&root);
    }

    /// Every control that can be worked by a mouse is on the round.
    void expectAllControls() const {
        for (QWidget* one : m_root.findChildren<QWidget*>()) {
            if (!one->isVisible() || !one->isEnabled() || one->window() != m_root.window()) continue;
            if (one->focusProxy() != nullptr) continue;  // another one takes the focus for it
            if (!isControl(one) || m_seen.contains(one) || reachedThroughAnother(one)) continue;
            ADD_FAILURE() << describe(one) << " cannot be reached by Tab";
        }
    }
    [[nodiscard]] const std::vector<QWidget*>& order() const { return m_order; }

private:
    static bool isControl(QWidget* one) {
        if (qobject_cast<QScrollBar*>(one) != nullptr) return false;  // its view scrolls by keys
        return qobject_cast<QAbstractButton*>(one) != nullptr || qobject_cast<QLineEdit*>(one) != nullptr ||
               qobject_cast<QComboBox*>(one) != nullptr || qobject_cast<QAbstractSlider*>(one) != nullptr ||
               (qobject_cast<QAbstractItemView*>(one) != nullptr && one->focusPolicy() != Qt::NoFocus) ||
               (one->focusPolicy() & Qt::TabFocus) != 0;
    }
    /// Arrow keys lead through a group of radio buttons; scroll buttons of tabs are the mouse's way only.
    [[nodiscard]] bool reachedThroughAnother(QWidget* one) const {
        if (qobject_cast<QTabBar*>(one->parentWidget()) != nullptr) return true;
        const auto* radio = qobject_cast<QRadioButton*>(one);
        if (radio == nullptr) return false;
        return std::any_of(m_order.begin(), m_order.end(), [&](QWidget* other) {
            return qobject_cast<QRadioButton*>(other) != nullptr &&
                   other->parentWidget() == one->parentWidget();
        });
    }

    QWidget& m_root;
    std::set<QWidget*> m_seen;
    std::vector<QWidget*> m_order;
};

/// The focus shows: with it a control looks otherwise than without. Push buttons of a dialog are left to the
/// desktop's own style under System, which marks the one that Enter presses.
void expectFocusShows(const TabRound& round, bool ownStyle = true) {
    for (QWidget* one : round.order()) {
        if (!one->isVisible() || qobject_cast<QTabBar*>(one) != nullptr) continue;
        if (!ownStyle && qobject_cast<QDialogButtonBox*>(one->parentWidget()) != nullptr) continue;
        one->setFocus(Qt::TabFocusReason);
        const QImage with = one->grab().toImage();
        one->clearFocus();
        const QImage without = one->grab().toImage();
        EXPECT_FALSE(with == without) << describe(one) << " does not show that it has the focus";
    }
    if (!round.order().empty()) round.order().front()->setFocus(Qt::TabFocusReason);
}

class AccessibilityTest : public DialogsOfTheWindow {
protected:
    void checkPage(const char* name) {
        SCOPED_TRACE(name);
        settle();
        EXPECT_GT(Walk::names(*m_window), 5);
        TabRound round(*m_window);
        round.expectAllControls();
        expectFocusShows(round);
    }
};

TEST_F(AccessibilityTest, FirstPage) {
    makeWindow();
    checkPage("first page");
}

TEST_F(AccessibilityTest, EmptyPages) {
    openEmpty();
    for (const PageId id : kPages) {
        m_window->showPage(id);
        checkPage(QMetaEnum::fromType<PageId>().valueToKey(static_cast<int>(id)));
    }
}

TEST_F(AccessibilityTest, PagesOfTheDemo) {
    openDemo();
    showBusiest();
    for (const PageId id : kPages) {
        m_window->showPage(id);
        checkPage(QMetaEnum::fromType<PageId>().valueToKey(static_cast<int>(id)));
    }
    m_window->showPage(PageId::Debrief);
    trigger("attempt.trainee-view");
    checkPage("trainee view");
    openDraft();
    checkPage("rubric editor, a step");
    auto* tree = m_window->findChild<app::EditorPage*>()->findChild<app::StepTree*>();
    tree->select(QStringLiteral("air-brakes"), {});
    checkPage("rubric editor, a zone");
    tree->select({}, {});
    checkPage("rubric editor, the whole");
}

TEST_F(AccessibilityTest, TheFocusShowsUnderEveryPalette) {
    openDemo();
    showBusiest();
    for (int i = 0; i < 3; ++i) {
        trigger("view.palette");
        SCOPED_TRACE(m_theme.choiceName().toStdString());
        for (const PageId id : kPages) {
            m_window->showPage(id);
            settle();
            expectFocusShows(TabRound(*m_window));
        }
        const bool own = m_theme.choice() != app::Theme::Choice::System;
        for (const char* name : {"edit.settings", "help.keys"})
            withDialog(name, [own](QDialog& dialog) { expectFocusShows(TabRound(dialog), own); });
    }
    EXPECT_EQ(m_theme.choice(), app::Theme::Choice::System);
}

TEST_F(AccessibilityTest, ScoringPageNamesItsTargets) {
    openDemo();
    beginAttempt();
    ASSERT_TRUE(m_window->findChild<app::ScoringPage*>()->isActive());
    EXPECT_GT(Walk::names(*m_window), 30) << "pads, tiles and zones are targets of their own";
}

TEST_F(AccessibilityTest, EveryDialogIsNamedWalkedByTabAndLeftByEsc) {
    openDemo();
    const auto trainees = m_window->session()->file().trainees();
    ASSERT_TRUE(trainees && trainees->size() > 10);
    forEachDialog([&](const char* name, QDialog& dialog) {
        SCOPED_TRACE(name);
        EXPECT_FALSE(dialog.windowTitle().isEmpty());
        // Titles stand in task lists and in what the desktop writes down.
        for (const core::Trainee& one : *trainees)
            EXPECT_FALSE(dialog.windowTitle().contains(app::qs(one.name))) << one.name;
        EXPECT_GT(Walk::names(dialog), 0);
        // The scoring page shows by its marker where the keys are.
        if (qobject_cast<app::ScoringPreview*>(&dialog) == nullptr) {
            TabRound round(dialog);
            round.expectAllControls();
            expectFocusShows(round);
        }
        QWidget* focus = QApplication::focusWidget();
        QTest::keyClick(focus != nullptr ? focus : &dialog, Qt::Key_Escape);
        EXPECT_FALSE(dialog.isVisible()) << "Esc does not close it";
    });
}

TEST_F(AccessibilityTest, ThePagesOfASettingsTabAreReachedByArrows) {
    openDemo();
    withDialog("edit.settings", [](QDialog& dialog) {
        auto* bar = dialog.findChild<QTabBar*>();
        ASSERT_NE(bar, nullptr);
        ASSERT_GE(bar->count(), 4);
        bar->setFocus();
        for (int tab = 0; tab < bar->count(); ++tab) {
            SCOPED_TRACE(bar->tabText(tab).toStdString());
            EXPECT_EQ(bar->currentIndex(), tab);
            EXPECT_GT(Walk::names(dialog), 3);
            TabRound(dialog).expectAllControls();
            bar->setFocus();
            QTest::keyClick(bar, Qt::Key_Right);
        }
    });
}

TEST_F(AccessibilityTest, TheLastActionIsReadAloudFromTheStatusBar) {
    makeWindow();
    m_window->say(QStringLiteral("Rims: shown, 2 of 3 points"));
    const auto labels = m_window->statusBar()->findChildren<QLabel*>();
    EXPECT_TRUE(std::any_of(labels.begin(), labels.end(), [](QLabel* label) {
        return QAccessible::queryAccessibleInterface(label)->text(QAccessible::Name) ==
               QLatin1String("Rims: shown, 2 of 3 points");
    }));
}

}  // namespace
}  // namespace markerlamp::testing
