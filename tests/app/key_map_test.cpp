// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which key means what. Key codes from linux/input-event-codes.h.

#include "app/scoring/key_map.h"

#include "scoring_support.h"

#include <gtest/gtest.h>

#include <QSettings>
#include <QTemporaryDir>

namespace markerlamp {
namespace {

using app::KeyAction;
using app::KeyMap;
using testing::keyEvent;

std::pair<KeyAction, int> meaning(KeyMap& keys, const QKeyEvent& event) {
    return keys.meaning(event).value_or(std::pair{KeyAction::Back, -1});
}

TEST(KeyMap, LettersFollowTheDefaults) {
    KeyMap keys;
    const std::vector<std::pair<int, KeyAction>> plain{
        {Qt::Key_Space, KeyAction::Both},     {Qt::Key_L, KeyAction::Partly},
        {Qt::Key_J, KeyAction::Shown},        {Qt::Key_K, KeyAction::Said},
        {Qt::Key_O, KeyAction::Omitted},      {Qt::Key_U, KeyAction::NotObserved},
        {Qt::Key_M, KeyAction::Wrong},        {Qt::Key_P, KeyAction::ArmPrompt},
        {Qt::Key_T, KeyAction::Brake},        {Qt::Key_N, KeyAction::Note},
        {Qt::Key_Up, KeyAction::MarkerUp},    {Qt::Key_Down, KeyAction::MarkerDown},
        {Qt::Key_PageUp, KeyAction::PageUp},  {Qt::Key_PageDown, KeyAction::PageDown},
        {Qt::Key_Home, KeyAction::FirstDark}, {Qt::Key_Slash, KeyAction::Find},
        {Qt::Key_Backspace, KeyAction::Undo}, {Qt::Key_F8, KeyAction::Pause},
        {Qt::Key_F9, KeyAction::Cover},       {Qt::Key_Escape, KeyAction::Back}};
    for (const auto& [key, action] : plain) EXPECT_EQ(meaning(keys, keyEvent(key)).first, action) << key;
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_P, {}, Qt::ShiftModifier)).first, KeyAction::PromptLast);
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_Down, {}, Qt::ShiftModifier)).first, KeyAction::SlideDown);
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_Up, {}, Qt::ShiftModifier)).first, KeyAction::SlideUp);
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_F, {}, Qt::ControlModifier)).first, KeyAction::FindChord);
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_Z, {}, Qt::ControlModifier)).first, KeyAction::UndoChord);
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_Z, {}, Qt::ControlModifier | Qt::ShiftModifier)).first,
              KeyAction::Redo);
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_Enter, {}, Qt::ControlModifier)).first, KeyAction::Finish);
}

TEST(KeyMap, ZoneKeysArePlacesNotLetters) {
    KeyMap keys;
    // A French keyboard: the key at the place of Q writes A.
    const auto first = meaning(keys, keyEvent(Qt::Key_A, QStringLiteral("a"), Qt::NoModifier, 16));
    EXPECT_EQ(first, (std::pair{KeyAction::Zone, 0}));
    EXPECT_EQ(keys.zoneCaption(0), QStringLiteral("A"));
    const quint32 codes[] = {16, 17, 18, 19, 30, 31, 32, 33, 44, 45, 46, 47};
    for (int i = 0; i < 12; ++i)
        EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_unknown, {}, Qt::NoModifier, codes[i])),
                  (std::pair{KeyAction::Zone, i}));
    // Without a code the letter has to do.
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_V)), (std::pair{KeyAction::Zone, 11}));
}

TEST(KeyMap, DigitsNamePointsOnEveryLayout) {
    KeyMap keys;
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_3)), (std::pair{KeyAction::Point, 2}));
    // French: digits need Shift; the key for 1 writes &.
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_Ampersand, QStringLiteral("&"), Qt::NoModifier, 2)),
              (std::pair{KeyAction::Point, 0}));
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_9, {}, Qt::KeypadModifier)), (std::pair{KeyAction::Point, 8}));
}

TEST(KeyMap, RepeatsAndBouncesAreDropped) {
    KeyMap keys;
    EXPECT_TRUE(keys.accepts(keyEvent(Qt::Key_Space), 10));
    EXPECT_FALSE(keys.accepts(keyEvent(Qt::Key_Space, {}, Qt::NoModifier, 0, true), 10.5));
    EXPECT_FALSE(keys.accepts(keyEvent(Qt::Key_Space), 10.1));
    EXPECT_TRUE(keys.accepts(keyEvent(Qt::Key_L), 10.11));  // another key is no bounce
    EXPECT_TRUE(keys.accepts(keyEvent(Qt::Key_Space), 10.25));
}

TEST(KeyMap, PressesThatWaitedForABusyMachineAllCount) {
    KeyMap keys;
    // Handled 5 ms apart, but made 200 ms apart.
    for (int press = 0; press < 4; ++press) {
        QKeyEvent event = keyEvent(Qt::Key_J);
        event.setTimestamp(5000 + 200 * static_cast<quint64>(press));
        EXPECT_TRUE(keys.accepts(event, 10 + 0.005 * press)) << press;
    }
    QKeyEvent bounce = keyEvent(Qt::Key_J);
    bounce.setTimestamp(5000 + 600 + 20);
    EXPECT_FALSE(keys.accepts(bounce, 10.02));
}

TEST(KeyMap, ChangedKeysAreKeptAndClashesRefused) {
    const QTemporaryDir dir;
    KeyMap keys;
    EXPECT_EQ(keys.setKey(KeyAction::Omitted, QKeySequence(QStringLiteral("G"))), QString());
    EXPECT_TRUE(
        keys.setKey(KeyAction::Partly, QKeySequence(QStringLiteral("G"))).contains(QLatin1String("G")));
    EXPECT_FALSE(keys.setKey(KeyAction::Partly, QKeySequence(QStringLiteral("E"))).isEmpty());  // a zone
    EXPECT_FALSE(keys.setKey(KeyAction::Partly, QKeySequence(QStringLiteral("2"))).isEmpty());  // a point
    EXPECT_FALSE(keys.setKey(KeyAction::Partly, QKeySequence(QStringLiteral("Esc"))).isEmpty());
    {
        QSettings settings(dir.filePath(QStringLiteral("s.ini")), QSettings::IniFormat);
        keys.save(settings);
    }
    QSettings settings(dir.filePath(QStringLiteral("s.ini")), QSettings::IniFormat);
    KeyMap again;
    again.load(settings);
    EXPECT_EQ(meaning(again, keyEvent(Qt::Key_G)).first, KeyAction::Omitted);
    EXPECT_FALSE(again.meaning(keyEvent(Qt::Key_O)));
    again.reset();
    EXPECT_EQ(meaning(again, keyEvent(Qt::Key_O)).first, KeyAction::Omitted);
}

TEST(KeyMap, SingleLettersCanBeSwitchedOff) {
    KeyMap keys;
    keys.setSingleKeys(false);
    EXPECT_FALSE(keys.meaning(keyEvent(Qt::Key_L)));
    EXPECT_FALSE(keys.meaning(keyEvent(Qt::Key_Q)));
    EXPECT_FALSE(keys.meaning(keyEvent(Qt::Key_1)));
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_Space)).first, KeyAction::Both);
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_L, {}, Qt::ControlModifier | Qt::AltModifier)).first,
              KeyAction::Partly);
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_Down)).first, KeyAction::MarkerDown);
    EXPECT_EQ(meaning(keys, keyEvent(Qt::Key_Z, {}, Qt::ControlModifier)).first, KeyAction::UndoChord);
}

}  // namespace
}  // namespace markerlamp
