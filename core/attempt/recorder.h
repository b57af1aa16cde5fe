#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Turns what the instructor presses into events, and refuses what the rules do not allow. Holds the attempt
// so far; knows nothing of screens, clocks or storage: time comes in as a parameter, the events of one press
// come out together so that the caller can store them in one transaction.

#include "core/attempt/attempt.h"
#include "core/attempt/marks.h"
#include "core/base/result.h"
#include "core/rubric/rubric.h"

#include <memory>
#include <span>
#include <string>
#include <vector>

namespace markerlamp::core {

/// What one of the big pads records.
enum class Outcome { Both, Partly, ShownOnly, SaidOnly, Omitted, NotObserved, NotReached };

/// Proposal of the settle pass for a step that is still dark.
struct SettleProposal {
    std::string step;
    Outcome outcome = Outcome::Omitted;  ///< Omitted, NotObserved or NotReached
    enum class Why { ZoneNeverEntered, InsidePause, NeighbourWithin3s, LeftOut } why = Why::LeftOut;
    std::string neighbour;  ///< step credited within 3 s, for Why::NeighbourWithin3s ("slid?")
};

class Recorder {
public:
    /// A new attempt. Refuses zones, equipment, limits that the rubric does not know.
    static Result<Recorder> start(std::shared_ptr<const Rubric> rubric, AttemptHeader header);
    /// Goes on with a stored one; refuses one that is not sound for the rubric.
    static Result<Recorder> resume(std::shared_ptr<const Rubric> rubric, Attempt attempt);

    [[nodiscard]] const Rubric& rubric() const { return *m_rubric; }
    [[nodiscard]] std::shared_ptr<const Rubric> rubricPtr() const { return m_rubric; }
    [[nodiscard]] const Attempt& attempt() const { return m_attempt; }
    [[nodiscard]] const std::vector<StepMarks>& marks() const { return m_marks; }
    [[nodiscard]] const StepMarks* marksOf(std::string_view step) const;
    [[nodiscard]] bool ended() const;
    [[nodiscard]] bool paused() const;

    // Each of these appends the events of one press and returns them (a view that is valid until the next
    // call), or refuses and appends nothing. t: seconds since the start; a t below the last one is raised to
    // it. An outcome on a step that already has one changes it and keeps its first time for the order.
    // prompted: the instructor helped; an amendment to Both without it takes earlier help back.
    Result<std::vector<Event>> outcome(std::string_view step, Outcome outcome, double t,
                                       bool prompted = false);
    /// Shown, whatever was said before; nothing when it is already shown.
    Result<std::vector<Event>> show(std::string_view step, double t, bool prompted = false);
    /// said <-> open; a wrong point becomes open.
    Result<std::vector<Event>> flipPoint(std::string_view step, int pointIndex, double t);
    /// Point said, with the number that was said.
    Result<std::vector<Event>> sayNumber(std::string_view step, int pointIndex, double value,
                                         std::string_view unit, double t);
    /// pointIndex < 0: the step as a whole.
    Result<std::vector<Event>> wrong(std::string_view step, int pointIndex, std::string_view text, double t);
    Result<std::vector<Event>> prompt(std::string_view step, double t);
    Result<std::vector<Event>> reading(std::string_view step, double value, std::string_view unit, double t);
    Result<std::vector<Event>> fault(std::string_view step, std::string_view text, double t);
    Result<std::vector<Event>> note(std::string_view stepOrEmpty, std::string_view text, double t);
    /// Takes the standing marks of `from` away and records the same ones for `to` (which must be open).
    Result<std::vector<Event>> slide(std::string_view from, std::string_view to, double t);
    Result<std::vector<Event>> pause(double t);
    Result<std::vector<Event>> resumeClock(double t);
    /// Records the given outcomes for dark steps and ends the attempt; one press, one transaction.
    Result<std::vector<Event>> finish(std::span<const SettleProposal> settled, double t);

    /// Takes back the events of the last press that still stands. Empty result: nothing to undo.
    Result<std::vector<Event>> undo(double t);
    /// Records again what the last undo took back.
    Result<std::vector<Event>> redo(double t);
    [[nodiscard]] bool canUndo() const;
    [[nodiscard]] bool canRedo() const;
    /// What undo would take back, for the status line: "Rims: shown, 2 of 3 points".
    [[nodiscard]] std::string undoText() const;

    /// After the end: who amends, and when (ISO 8601 with offset). Every later event carries both.
    void amendAs(std::string by, std::string at);

    [[nodiscard]] std::vector<SettleProposal> proposeSettling(bool stoppedEarly) const;

    /// Next open step after `step` in rubric order, then the next zone with open steps; empty when none is
    /// left.
    [[nodiscard]] std::string nextOpenAfter(std::string_view step) const;

private:
    Recorder(std::shared_ptr<const Rubric> rubric, Attempt attempt);

    using Pressed = Result<std::vector<Event>>;
    class Draft;  ///< the events of the press that is being made

    [[nodiscard]] Result<const Step*> stepFor(std::string_view step) const;
    Pressed commit(Draft& draft, bool undoable = true);
    void refold();

    std::shared_ptr<const Rubric> m_rubric;
    Attempt m_attempt;
    std::vector<StepMarks> m_marks;
    std::vector<bool> m_standing;  ///< per event: no retract names it
    std::vector<std::vector<int>>
        m_presses;  ///< n of the events of each press that can be undone, oldest first
    std::vector<std::vector<Event>>
        m_undone;  ///< the events of the presses that undo took back, last one last
    std::string m_by;
    std::string m_at;
};

}  // namespace markerlamp::core
