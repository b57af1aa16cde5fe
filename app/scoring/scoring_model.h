#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The live attempt as the scoring page sees it: marker, just-scored step, lamps, what each press does. Every
// press becomes events, goes to the sink at once, and stays pending until the sink says that it is durable.
// Knows nothing of widgets.

#include "app/scoring/key_map.h"
#include "core/attempt/recorder.h"
#include "forms/sheets/plan_layout.h"
#include "forms/signs/signs.h"

#include <QDateTime>
#include <QObject>
#include <QString>

#include <functional>
#include <memory>
#include <optional>
#include <vector>

namespace markerlamp::app {

class AttemptClock;
class EventSink;

class ScoringModel final : public QObject {
    Q_OBJECT

public:
    struct Zone {
        std::string id;
        QString title;
        int first = 0;  ///< index of its first step
        int count = 0;
        forms::PlanCell cell;
        int keyIndex = -1;  ///< 0..11: key of the plan; -1: reached by the plan only
    };

    /// A new attempt; its header goes to the sink at once.
    static core::Result<std::unique_ptr<ScoringModel>> start(std::shared_ptr<const core::Rubric> rubric,
                                                             core::AttemptHeader header, EventSink& sink,
                                                             AttemptClock& clock);
    /// Goes on with a stored one. running: the clock runs from now, what lay between is a pause; else it
    /// stays paused.
    static core::Result<std::unique_ptr<ScoringModel>> resume(std::shared_ptr<const core::Rubric> rubric,
                                                              core::Attempt attempt, EventSink& sink,
                                                              AttemptClock& clock, bool running = true);

    [[nodiscard]] const core::Recorder& recorder() const { return m_recorder; }
    [[nodiscard]] const core::AttemptHeader& header() const { return m_recorder.attempt().header; }
    [[nodiscard]] QString attemptId() const;

    // Steps in scope, by index; number on screen = index + 1.
    [[nodiscard]] int stepCount() const { return static_cast<int>(m_steps.size()); }
    [[nodiscard]] const core::Step& step(int index) const {
        return *m_steps[static_cast<std::size_t>(index)];
    }
    [[nodiscard]] const core::StepMarks& marks(int index) const;
    [[nodiscard]] forms::SignState sign(int index) const;
    [[nodiscard]] bool pending(int index) const;
    [[nodiscard]] QString title(int index) const;
    [[nodiscard]] QString describe(int index) const;           ///< "46 Rims: shown, 2 of 3 points"
    [[nodiscard]] int indexOf(std::string_view stepId) const;  ///< -1: not in scope

    [[nodiscard]] const std::vector<Zone>& zones() const { return m_zones; }
    [[nodiscard]] int zoneOf(int index) const { return m_zoneOf[static_cast<std::size_t>(index)]; }
    [[nodiscard]] int zoneByKey(int keyIndex) const;  ///< -1: no zone there
    [[nodiscard]] int scoredIn(int zone) const;
    [[nodiscard]] int mustPassIn(int zone) const;
    /// Dark steps that were passed over: a later one of the zone is scored (in the zone at hand: and they lie
    /// before the marker).
    [[nodiscard]] int darkBehindIn(int zone) const;
    [[nodiscard]] int scored() const;
    [[nodiscard]] int darkBehind() const;
    /// Tags of the zone's steps that are not on this bus, for the empty tiles.
    [[nodiscard]] int currentZone() const { return m_zone; }
    [[nodiscard]] int marker() const { return m_marker; }          ///< -1: nothing is dark any more
    [[nodiscard]] int justScored() const { return m_justScored; }  ///< -1: nothing yet
    [[nodiscard]] bool promptArmed() const { return m_promptArmed; }

    // Presses. Each says in words what it did (acted) or why not (refused).
    void outcome(core::Outcome outcome);               ///< at the marker, then on to the next dark step
    void outcomeOn(int index, core::Outcome outcome);  ///< a tile's middle
    void showOn(int index);                            ///< a tile's left end: shown, points as they are
    void sayOn(int index);                             ///< a tile's right end: every point, lamp as it is
    void flipPoint(int point);                         ///< of the just-scored step
    void wrong(const QString& text = {});              ///< last flipped point of it, else the step as a whole
    void armPrompt();
    void promptLast();
    void slide(int direction);  ///< +1 next step, -1 the one before
    void undo();
    void redo();
    void note(const QString& text, int index);  ///< index -1: the attempt
    void fault(const QString& text, int index);
    bool reading(int index, double value);  ///< in the unit of its limit
    void pauseOrGoOn();
    void pause();
    void settleOutcomeBoth(int index);  ///< in the settle pass: the trainee did it
    /// Settles what is dark and ends the attempt at time t.
    bool finish(const std::vector<core::SettleProposal>& settled, double t);

    // Moves.
    void goToZone(int zone);  ///< again: next dark step there
    void goTo(int index);
    void moveMarker(int by);
    void firstDark();

    [[nodiscard]] QString undoWords() const;
    [[nodiscard]] bool canUndo() const { return m_recorder.canUndo(); }
    [[nodiscard]] bool canRedo() const { return m_recorder.canRedo(); }
    [[nodiscard]] bool paused() const { return m_recorder.paused(); }
    [[nodiscard]] bool ended() const { return m_recorder.ended(); }

    [[nodiscard]] double attemptSeconds() const;  ///< t of a press made now
    [[nodiscard]] double runningSeconds() const;  ///< without pauses, for the clock
    [[nodiscard]] QDateTime wallTimeAt(double t) const;

    // Storage.
    [[nodiscard]] int waiting() const { return m_waiting; }
    [[nodiscard]] QString troubleText() const { return m_trouble; }
    [[nodiscard]] QDateTime lastStored() const { return m_lastStored; }
    [[nodiscard]] bool allStored() const { return m_lastTicket <= m_storedUpTo; }

signals:
    void changed();
    void acted(QString words);
    void refused(QString words);
    void storageChanged();

private:
    struct Place {
        int marker = -1;
        int zone = 0;
        int justScored = -1;
        int lastPoint = -1;
    };
    ScoringModel(core::Recorder recorder, EventSink& sink, AttemptClock& clock);
    void setUp();
    [[nodiscard]] std::string id(int index) const { return step(index).id; }
    bool keep(core::Result<std::vector<core::Event>> events, bool undoable = true);
    void advanceFrom(int index, bool stayInZone);
    void scoredNow(int index, bool stayInZone = false);
    void putMarker(int index);
    [[nodiscard]] int nextOpen(int index) const;
    [[nodiscard]] Place place() const { return {m_marker, m_zone, m_justScored, m_lastPoint}; }
    void restore(const Place& place);
    bool slideOne(int from, int to, std::vector<core::Event>& all);
    void breakRun();

    core::Recorder m_recorder;
    EventSink& m_sink;
    AttemptClock& m_clock;
    std::vector<const core::Step*> m_steps;
    std::vector<int> m_zoneOf;
    std::vector<Zone> m_zones;
    int m_marker = -1;
    int m_zone = 0;
    int m_justScored = -1;
    int m_lastPoint = -1;
    bool m_promptArmed = false;
    std::vector<int> m_run;  ///< steps of the unbroken run of outcomes, oldest first
    int m_slid = 0;          ///< how many of them, from the end, the present slide has moved
    int m_slideDirection = 0;
    std::vector<Place> m_before;    ///< where things stood before each press that can be undone
    std::vector<Place> m_after;     ///< and after each press that was undone
    double m_zeroSteady = 0;        ///< steady clock at t = 0
    std::vector<quint64> m_ticket;  ///< per step: press that touched it last
    quint64 m_lastTicket = 0;
    quint64 m_storedUpTo = 0;
    int m_waiting = 0;
    QString m_trouble;
    QDateTime m_lastStored;
};

}  // namespace markerlamp::app
