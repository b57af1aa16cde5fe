#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The live scoring page: header, just-scored strip, plan, board, dock and ribbon over one ScoringModel. Lays
// out, shows, takes keys and touches; what a press means is decided in the model.

#include "app/scoring/scoring_layout.h"
#include "app/scoring/scoring_model.h"
#include "app/shell/page.h"

#include <functional>
#include <memory>

class QTimer;

namespace markerlamp::app {

class AttemptClock;
class BoardPart;
class BrakeMinute;
class CompactPart;
class ContactGuard;
class CoverPart;
class DockPart;
class EventSink;
class FindPart;
class HeaderPart;
class KeyMap;
class KeypadPart;
class ListeningPart;
class NotePart;
class PlanPart;
class RibbonPart;
class Session;
class Settings;
class SettleModel;
class SettlePart;
class StripPart;
class Surface;
class Theme;

/// What the page needs from outside; see sessionServices().
struct ScoringServices {
    EventSink* sink = nullptr;
    AttemptClock* clock = nullptr;  ///< nullptr: the machine's
    std::function<core::Result<core::Attempt>(const QString& id)> attempt;
    std::function<core::Result<std::shared_ptr<const core::Rubric>>(const std::string& id, int edition)>
        rubric;
    std::function<QString(const std::string& key)> traineeName;  ///< empty functions: the keys are shown
    std::function<QString(const std::string& key)> busTitle;
    /// Steps that the drill of this attempt leaves out; none where it is no drill.
    std::function<std::vector<std::string>(const QString& id)> besidesPlan;
    std::function<void(bool awake)> keepAwake;  ///< asks the system not to sleep while the clock runs
};

/// Services over an open session; its sink is a child of `parent`.
[[nodiscard]] ScoringServices sessionServices(Session& session, QObject* parent);

class ScoringPage final : public Page {
    Q_OBJECT

public:
    ScoringPage(Theme& theme, Settings& settings, ScoringServices services, QWidget* parent = nullptr);
    ~ScoringPage() override;

    core::Result<void> start(std::shared_ptr<const core::Rubric> rubric, core::AttemptHeader header);
    /// Goes on with an unfinished attempt; the time since its last event is a pause.
    core::Result<void> resume(const QString& attemptId);
    /// Opens an unfinished attempt in the settle pass ("finish as it stands").
    core::Result<void> settle(const QString& attemptId);
    /// An attempt is being scored (also while paused or settling).
    [[nodiscard]] bool isActive() const { return m_model != nullptr; }
    [[nodiscard]] QString attemptId() const;
    /// The program is about to end, or another page comes to the front for long: stops the clock.
    void suspend();
    /// The small layout for small or doubled screens; the window then hides its menu and status bar.
    [[nodiscard]] bool isCompact() const { return m_layout.compact; }

    [[nodiscard]] ScoringModel* model() { return m_model.get(); }
    [[nodiscard]] KeyMap& keyMap() { return *m_keys; }
    [[nodiscard]] bool settling() const { return m_view == View::Settle; }

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;

signals:
    /// The attempt has ended and all of it was handed to the sink.
    void finished(QString attemptId);
    void compactChanged(bool compact);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void changeEvent(QEvent* event) override;
    bool event(QEvent* event) override;

private:
    enum class View { Scoring, Settle };
    /// Whether the board shows readings: as the zone asks for it, or as somebody chose.
    enum class Readings { Auto, Open, Closed };

    // scoring_page.cpp: parts, places, what is shown
    void makeParts();
    void bindParts();
    /// A figure that is being typed is kept, and the keys belong to the page again.
    void takeKeys();
    core::Result<void> open(core::Result<std::unique_ptr<ScoringModel>> model);
    void close();
    void layOut();
    void refresh();
    void refreshClock();
    void tick();
    void applySettings();
    void tell(const QString& words);
    [[nodiscard]] double scale() const;
    [[nodiscard]] bool readingsShown() const;
    [[nodiscard]] QString savedWords() const;

    // scoring_page_actions.cpp: what keys, pads and buttons do
    bool runKey(KeyAction action, int number);
    bool runSettleKey(const QKeyEvent& event);
    void pad(int id);
    void tile(int step, int area);
    void record(core::Outcome outcome);
    void turnPage(int by);
    void brakePressed();
    void toggleReadings();
    void settlePressed();
    void leaveSettle();
    void acceptSettle();
    void settleChange(core::Outcome outcome);
    void openFind();
    void openNote(bool defect);
    void openZones();
    bool closeOverlays();
    void toggleCover();

    Theme& m_theme;
    Settings& m_settings;
    ScoringServices m_services;
    AttemptClock& m_clock;
    std::unique_ptr<KeyMap> m_keys;
    std::unique_ptr<ContactGuard> m_guard;
    std::unique_ptr<ScoringModel> m_model;
    std::unique_ptr<BrakeMinute> m_minute;
    std::unique_ptr<SettleModel> m_settle;
    ScoringLayout m_layout;
    View m_view = View::Scoring;
    Readings m_readings = Readings::Auto;
    int m_readingsZone = -1;  ///< the choice holds while this zone is at hand
    bool m_covered = false;
    bool m_zonesOpen = false;
    bool m_laidOutShown = false;
    QString m_lastWords;
    qint64 m_shownSecond = -1;
    QTimer* m_ticker = nullptr;
    HeaderPart* m_header = nullptr;
    StripPart* m_strip = nullptr;
    PlanPart* m_plan = nullptr;
    ListeningPart* m_listening = nullptr;
    BoardPart* m_board = nullptr;
    DockPart* m_dock = nullptr;
    RibbonPart* m_ribbon = nullptr;
    KeypadPart* m_keypad = nullptr;
    SettlePart* m_settlePart = nullptr;
    CompactPart* m_compact = nullptr;
    CoverPart* m_cover = nullptr;
    FindPart* m_find = nullptr;
    NotePart* m_note = nullptr;
};

}  // namespace markerlamp::app
