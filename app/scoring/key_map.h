#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which key does what on the scoring page. Letters follow the layout and can be changed; zone keys and digits
// are physical positions. A double filter drops auto-repeat and bounces.

#include "app/scoring/repeat_filter.h"

#include <QKeySequence>
#include <QObject>
#include <QString>

#include <array>
#include <optional>
#include <utility>
#include <vector>

class QKeyEvent;
class QSettings;

namespace markerlamp::app {

/// In the order of the key list in the settings.
enum class KeyAction {
    Both,
    Partly,
    Shown,
    Said,
    Omitted,
    NotObserved,
    Wrong,
    ArmPrompt,
    PromptLast,
    Note,
    Fault,
    SlideDown,
    SlideUp,
    Undo,
    UndoChord,
    Redo,
    Find,
    FindChord,
    Brake,
    Pause,
    Cover,
    Finish,
    MarkerUp,
    MarkerDown,
    PageUp,
    PageDown,
    FirstDark,
    // Not in the list: they follow positions.
    Zone,   ///< number: 0..11, row by row
    Point,  ///< number: 0..8
    Back,   ///< Esc
};

class KeyMap final : public QObject {
    Q_OBJECT

public:
    inline static constexpr int kActions = static_cast<int>(KeyAction::Zone);
    inline static constexpr int kZoneKeys = 12;
    inline static constexpr double kBounceSeconds = 0.120;

    explicit KeyMap(QObject* parent = nullptr);

    void load(const QSettings& settings);
    void save(QSettings& settings) const;
    void reset();

    [[nodiscard]] static QString name(KeyAction action);  ///< translated, for lists
    [[nodiscard]] QKeySequence key(KeyAction action) const;
    /// Refuses a key that another action or a zone has; the sentence says which. Empty: done.
    QString setKey(KeyAction action, const QKeySequence& key);
    /// "Space", "L", "Shift+Down", as printed on pads.
    [[nodiscard]] QString caption(KeyAction action) const;

    /// Letter of a zone key on this keyboard.
    [[nodiscard]] QString zoneCaption(int zoneKey) const;

    /// Off: letters, digits and signs act only together with Ctrl+Alt; Space still does.
    [[nodiscard]] bool singleKeys() const { return m_singleKeys; }
    void setSingleKeys(bool on);

    /// What a key press means; learns the letters of the zone keys on the way. nullopt: nothing of ours.
    [[nodiscard]] std::optional<std::pair<KeyAction, int>> meaning(const QKeyEvent& event);

    /// False for auto-repeat and for the same key within kBounceSeconds. now: any steady clock, seconds.
    [[nodiscard]] bool accepts(const QKeyEvent& event, double now);

signals:
    void changed();

private:
    std::array<QKeySequence, kActions> m_keys;
    std::array<QString, kZoneKeys> m_captions;
    bool m_singleKeys = true;
    RepeatFilter m_bounces{kBounceSeconds};
};

}  // namespace markerlamp::app
