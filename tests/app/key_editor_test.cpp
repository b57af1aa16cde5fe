// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Changing the keys of the scoring page in the settings.

#include "app/settings/key_editor.h"

#include "app/settings/settings.h"
#include "app/support/table_view.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QPushButton>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

namespace markerlamp {
namespace {

using app::KeyAction;

class KeyEditorTest : public ::testing::Test {
protected:
    KeyEditorTest()
        : m_settings(m_dir.filePath(QStringLiteral("settings.ini"))), m_editor(m_theme, m_settings) {
        m_editor.show();
        QApplication::setActiveWindow(&m_editor);
    }
    void choose(KeyAction action) {
        m_editor.findChild<app::TableView*>()->selectRowAt(static_cast<int>(action));
        m_editor.findChild<app::KeyField*>()->setFocus();
    }
    void press(Qt::Key key, Qt::KeyboardModifiers modifiers = {}) {
        QTest::keyClick(m_editor.findChild<app::KeyField*>(), key, modifiers);
    }
    [[nodiscard]] QString stored(KeyAction action) {
        app::KeyMap keys;
        keys.load(m_settings.store());
        return keys.key(action).toString(QKeySequence::PortableText);
    }

    QTemporaryDir m_dir;
    app::Theme m_theme;
    app::Settings m_settings;
    app::KeyEditor m_editor;
};

TEST_F(KeyEditorTest, TakesTheNextKeyForTheChosenRowAndStoresItOnlyWhenKept) {
    choose(KeyAction::Omitted);
    press(Qt::Key_G);
    EXPECT_EQ(m_editor.keys().key(KeyAction::Omitted), QKeySequence(Qt::Key_G));
    EXPECT_EQ(stored(KeyAction::Omitted), QStringLiteral("O"));
    QSignalSpy changed(&m_settings, &app::Settings::changed);
    m_editor.keep();
    EXPECT_EQ(changed.count(), 1);
    EXPECT_EQ(stored(KeyAction::Omitted), QStringLiteral("G"));
}

TEST_F(KeyEditorTest, AKeyThatIsTakenIsRefused) {
    choose(KeyAction::Omitted);
    press(Qt::Key_L);  // partly
    press(Qt::Key_E);  // a zone
    press(Qt::Key_4);  // a point
    EXPECT_EQ(m_editor.keys().key(KeyAction::Omitted), QKeySequence(Qt::Key_O));
    m_editor.keep();
    EXPECT_EQ(stored(KeyAction::Omitted), QStringLiteral("O"));
}

TEST_F(KeyEditorTest, UsualKeysComeBack) {
    choose(KeyAction::Finish);
    press(Qt::Key_F12, Qt::ControlModifier);
    EXPECT_EQ(m_editor.keys().key(KeyAction::Finish), QKeySequence(Qt::CTRL | Qt::Key_F12));
    QTest::mouseClick(m_editor.findChild<QPushButton*>(), Qt::LeftButton);
    EXPECT_EQ(m_editor.keys().key(KeyAction::Finish), QKeySequence(Qt::CTRL | Qt::Key_Return));
}

TEST_F(KeyEditorTest, TheFieldIsNoTrapForTheKeyboard) {
    choose(KeyAction::Both);
    QTest::keyClick(m_editor.findChild<app::KeyField*>(), Qt::Key_Tab);
    EXPECT_NE(QApplication::focusWidget(), m_editor.findChild<app::KeyField*>());
    EXPECT_EQ(m_editor.keys().key(KeyAction::Both), QKeySequence(Qt::Key_Space));
}

}  // namespace
}  // namespace markerlamp
