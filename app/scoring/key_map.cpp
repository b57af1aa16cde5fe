// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/key_map.h"

#include <QGuiApplication>
#include <QInputMethod>
#include <QKeyEvent>
#include <QLocale>
#include <QSettings>

namespace markerlamp::app {

namespace {

// X11 and Wayland report the kernel's key code + 8; the codes name places, not letters
// (linux/input-event-codes.h: KEY_Q is 16, KEY_A 30, KEY_Z 44, KEY_1 2).
constexpr quint32 kOffset = 8;
constexpr std::array<quint32, KeyMap::kZoneKeys> kZoneCodes{16, 17, 18, 19, 30, 31, 32, 33, 44, 45, 46, 47};
constexpr std::array<Qt::Key, KeyMap::kZoneKeys> kZoneLetters{Qt::Key_Q, Qt::Key_W, Qt::Key_E, Qt::Key_R,
                                                              Qt::Key_A, Qt::Key_S, Qt::Key_D, Qt::Key_F,
                                                              Qt::Key_Z, Qt::Key_X, Qt::Key_C, Qt::Key_V};
constexpr quint32 kFirstDigitCode = 2;

struct Default {
    const char* id;
    const char* name;
    const char* key;
};

// In the order of KeyAction.
constexpr std::array<Default, KeyMap::kActions> kDefaults{{
    {"both", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Both: shown and every point said"), "Space"},
    {"partly", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Partly explained"), "L"},
    {"shown", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Shown only"), "J"},
    {"said", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Said only"), "K"},
    {"omitted", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Omitted"), "O"},
    {"not-observed", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Not observed"), "U"},
    {"wrong", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Said wrongly"), "M"},
    {"prompt-next", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Next outcome was prompted"), "P"},
    {"prompt-last", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Just-scored step was prompted"), "Shift+P"},
    {"note", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Note"), "N"},
    {"fault", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Trainee called out a real defect"), "B"},
    {"slide-down", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Slide the last outcome to the next step"),
     "Shift+Down"},
    {"slide-up", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Slide the last outcome to the step before"),
     "Shift+Up"},
    {"undo", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Undo"), "Backspace"},
    {"undo-chord", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Undo (second key)"), "Ctrl+Z"},
    {"redo", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Redo"), "Ctrl+Shift+Z"},
    {"find", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Find a step"), "/"},
    {"find-chord", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Find a step (second key)"), "Ctrl+F"},
    {"brake", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Brake panel, minute"), "T"},
    {"pause", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Pause and go on"), "F8"},
    {"cover", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Cover sheet"), "F9"},
    {"finish", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Finish"), "Ctrl+Return"},
    {"marker-up", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Marker up"), "Up"},
    {"marker-down", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Marker down"), "Down"},
    {"page-up", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Tiles before"), "PgUp"},
    {"page-down", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "Tiles after"), "PgDown"},
    {"first-dark", QT_TRANSLATE_NOOP("markerlamp::app::KeyMap", "First dark step"), "Home"},
}};

QString settingsKey(int action) {
    return QStringLiteral("keys/%1").arg(QLatin1String(kDefaults[static_cast<std::size_t>(action)].id));
}

QKeySequence portable(const char* text) {
    return QKeySequence::fromString(QString::fromLatin1(text), QKeySequence::PortableText);
}

int zoneKeyOf(const QKeyEvent& event) {
    const quint32 code = event.nativeScanCode();
    for (int i = 0; i < KeyMap::kZoneKeys; ++i) {
        const auto at = static_cast<std::size_t>(i);
        // Some input methods and test tools give no code: then the letter has to do.
        if (code != 0 ? code == kZoneCodes[at] + kOffset : event.key() == kZoneLetters[at]) return i;
    }
    return -1;
}

int digitOf(const QKeyEvent& event) {
    if (event.key() >= Qt::Key_1 && event.key() <= Qt::Key_9) return event.key() - Qt::Key_1;
    const quint32 code = event.nativeScanCode();
    if (code >= kFirstDigitCode + kOffset && code < kFirstDigitCode + kOffset + 9)
        return static_cast<int>(code - kFirstDigitCode - kOffset);
    return -1;
}

/// Keys that write something, with or without Shift.
bool isCharacter(const QKeyEvent& event) {
    return event.key() < Qt::Key_Escape && event.key() != 0 && event.key() != Qt::Key_Space;
}

/// The letters of the zone keys as this machine's language has them; what is typed corrects it.
QString lettersFor(QLocale::Language language, QLocale::Territory territory) {
    if (language == QLocale::French && territory != QLocale::Canada && territory != QLocale::Switzerland)
        return QStringLiteral("AZERQSDFWXCV");
    if (language == QLocale::German || language == QLocale::Czech || language == QLocale::Hungarian)
        return QStringLiteral("QWERASDFYXCV");
    return QStringLiteral("QWERASDFZXCV");
}

}  // namespace

KeyMap::KeyMap(QObject* parent) : QObject(parent) {
    const QLocale locale = qGuiApp != nullptr ? QGuiApplication::inputMethod()->locale() : QLocale();
    const QString letters = lettersFor(locale.language(), locale.territory());
    for (int i = 0; i < kZoneKeys; ++i) m_captions[static_cast<std::size_t>(i)] = letters.mid(i, 1);
    reset();
}

void KeyMap::reset() {
    for (int i = 0; i < kActions; ++i)
        m_keys[static_cast<std::size_t>(i)] = portable(kDefaults[static_cast<std::size_t>(i)].key);
    emit changed();
}

void KeyMap::load(const QSettings& settings) {
    for (int i = 0; i < kActions; ++i) {
        const QString stored = settings.value(settingsKey(i)).toString();
        m_keys[static_cast<std::size_t>(i)] =
            stored.isEmpty() ? portable(kDefaults[static_cast<std::size_t>(i)].key)
                             : QKeySequence::fromString(stored, QKeySequence::PortableText);
    }
    const QString captions = settings.value(QStringLiteral("keys/zone-letters")).toString();
    if (captions.size() == kZoneKeys)
        for (int i = 0; i < kZoneKeys; ++i) m_captions[static_cast<std::size_t>(i)] = captions.mid(i, 1);
    emit changed();
}

void KeyMap::save(QSettings& settings) const {
    for (int i = 0; i < kActions; ++i) {
        const QKeySequence& key = m_keys[static_cast<std::size_t>(i)];
        if (key == portable(kDefaults[static_cast<std::size_t>(i)].key))
            settings.remove(settingsKey(i));
        else
            settings.setValue(settingsKey(i), key.toString(QKeySequence::PortableText));
    }
    QString captions;
    for (const QString& caption : m_captions) captions += caption;
    settings.setValue(QStringLiteral("keys/zone-letters"), captions);
}

QString KeyMap::name(KeyAction action) {
    return tr(kDefaults[static_cast<std::size_t>(action)].name);
}

QKeySequence KeyMap::key(KeyAction action) const {
    return m_keys[static_cast<std::size_t>(action)];
}

QString KeyMap::setKey(KeyAction action, const QKeySequence& key) {
    if (key.count() != 1) return tr("One key, with Ctrl, Alt or Shift where wanted, is needed.");
    for (int i = 0; i < kActions; ++i)
        if (i != static_cast<int>(action) && m_keys[static_cast<std::size_t>(i)] == key)
            return tr("%1 is already the key of \"%2\". Choose another one, or change that one first.")
                .arg(key.toString(QKeySequence::NativeText), name(static_cast<KeyAction>(i)));
    const QKeyCombination one = key[0];
    if (one.keyboardModifiers() == Qt::NoModifier || one.keyboardModifiers() == Qt::ShiftModifier) {
        const QString letter = QKeySequence(one.key()).toString(QKeySequence::PortableText);
        for (int i = 0; i < kZoneKeys; ++i)
            if (m_captions[static_cast<std::size_t>(i)].compare(letter, Qt::CaseInsensitive) == 0)
                return tr("%1 opens a zone. Choose a key outside the block of twelve.").arg(letter);
        if (one.key() >= Qt::Key_1 && one.key() <= Qt::Key_9)
            return tr("%1 flips a point. Choose another key.").arg(letter);
    }
    if (one.key() == Qt::Key_Escape || one.key() == Qt::Key_Tab)
        return tr("Esc and Tab are needed to leave fields and to move. Choose another key.");
    m_keys[static_cast<std::size_t>(action)] = key;
    emit changed();
    return {};
}

QString KeyMap::caption(KeyAction action) const {
    const QKeySequence& sequence = m_keys[static_cast<std::size_t>(action)];
    if (sequence.isEmpty()) return {};
    const QKeyCombination one = sequence[0];
    switch (one.key()) {
        case Qt::Key_Backspace:
            return tr("Bksp", "name of the backspace key, short");
        case Qt::Key_PageUp:
            return tr("PgUp", "name of the page up key, short");
        case Qt::Key_PageDown:
            return tr("PgDn", "name of the page down key, short");
        case Qt::Key_Return:
        case Qt::Key_Enter:
            return one.keyboardModifiers() == Qt::ControlModifier ? tr("Ctrl+Enter") : tr("Enter");
        case Qt::Key_Down:
            if (one.keyboardModifiers() == Qt::ShiftModifier) return tr("Shift+%1").arg(QChar(0x2193));
            break;
        case Qt::Key_Up:
            if (one.keyboardModifiers() == Qt::ShiftModifier) return tr("Shift+%1").arg(QChar(0x2191));
            break;
        default:
            break;
    }
    return sequence.toString(QKeySequence::NativeText);
}

QString KeyMap::zoneCaption(int zoneKey) const {
    return zoneKey >= 0 && zoneKey < kZoneKeys ? m_captions[static_cast<std::size_t>(zoneKey)] : QString();
}

void KeyMap::setSingleKeys(bool on) {
    if (on == m_singleKeys) return;
    m_singleKeys = on;
    emit changed();
}

std::optional<std::pair<KeyAction, int>> KeyMap::meaning(const QKeyEvent& event) {
    Qt::KeyboardModifiers modifiers =
        event.modifiers() & (Qt::ShiftModifier | Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier);
    if (!m_singleKeys && isCharacter(event)) {
        const Qt::KeyboardModifiers both = Qt::ControlModifier | Qt::AltModifier;
        const bool chord = (modifiers & both) != Qt::NoModifier;
        if ((modifiers & both) == both)
            modifiers &= ~both;
        else if (!chord)
            return std::nullopt;
    }
    if (modifiers == Qt::NoModifier) {
        if (event.key() == Qt::Key_Escape) return std::pair{KeyAction::Back, 0};
        if (const int zone = zoneKeyOf(event); zone >= 0) {
            const QString text = event.text().toUpper();
            QString& caption = m_captions[static_cast<std::size_t>(zone)];
            if (event.nativeScanCode() != 0 && text.size() == 1 && text.at(0).isLetter() && text != caption) {
                caption = text;
                emit changed();
            }
            return std::pair{KeyAction::Zone, zone};
        }
    }
    // Shift is part of writing a digit on some layouts.
    if ((modifiers & ~Qt::ShiftModifier) == Qt::NoModifier)
        if (const int digit = digitOf(event); digit >= 0) return std::pair{KeyAction::Point, digit};
    Qt::Key key = static_cast<Qt::Key>(event.key());
    if (key == Qt::Key_Enter) key = Qt::Key_Return;
    const QKeySequence pressed(QKeyCombination(modifiers, key));
    // "/" needs Shift on some keyboards.
    const QKeySequence withoutShift(QKeyCombination(modifiers & ~Qt::ShiftModifier, key));
    const bool letter = key >= Qt::Key_A && key <= Qt::Key_Z;
    for (int i = 0; i < kActions; ++i) {
        const QKeySequence& mine = m_keys[static_cast<std::size_t>(i)];
        if (mine == pressed || (isCharacter(event) && !letter && mine == withoutShift))
            return std::pair{static_cast<KeyAction>(i), 0};
    }
    return std::nullopt;
}

bool KeyMap::accepts(const QKeyEvent& event, double now) {
    if (event.isAutoRepeat()) return false;
    const quint64 id = event.nativeScanCode() != 0 ? (quint64(1) << 40) + event.nativeScanCode()
                                                   : static_cast<quint64>(event.key());
    return !m_bounces.isRepeat(id, event.timestamp(), now);
}

}  // namespace markerlamp::app
