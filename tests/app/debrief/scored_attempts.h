#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Attempts on the small rubric, recorded as an instructor would, scored and ready for a debrief.

#include "../scoring_support.h"

#include "core/attempt/recorder.h"
#include "core/history/history.h"

#include <map>

namespace markerlamp::testing {

using Outcomes = std::map<std::string, core::Outcome>;

/// A recorder in the middle of an attempt, for what outcomes alone cannot say.
inline core::Recorder beginSmall(const std::string& id, const std::string& started) {
    core::AttemptHeader header = smallHeader();
    header.id = id;
    header.started = started;
    return *core::Recorder::start(smallRubric(), header);
}

inline core::ScoredAttempt scoredNow(const core::Recorder& recorder) {
    return {recorder.rubricPtr(), recorder.attempt(),
            core::score(recorder.rubric(), recorder.attempt(), true)};
}

/// Every step in scope: the outcome given for it, else shown and said. In rubric order, then ended.
inline core::ScoredAttempt smallAttempt(const std::string& id, const std::string& started,
                                        const Outcomes& outcomes = {}) {
    core::Recorder recorder = beginSmall(id, started);
    double t = 0;
    for (const core::StepMarks& step : std::vector(recorder.marks())) {
        const auto found = outcomes.find(step.step);
        const auto done = recorder.outcome(
            step.step, found == outcomes.end() ? core::Outcome::Both : found->second, t += 4);
        if (!done) throw std::runtime_error(done.error().message);
    }
    if (const auto done = recorder.finish({}, t + 4); !done) throw std::runtime_error(done.error().message);
    return scoredNow(recorder);
}

inline const core::StepScore& scoreOf(const core::ScoredAttempt& scored, const std::string& step) {
    for (const core::StepScore& one : scored.card.steps)
        if (one.step == step) return one;
    throw std::out_of_range(step);
}

}  // namespace markerlamp::testing
