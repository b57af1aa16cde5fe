#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The two halves of an invented attempt: what the trainee did and said, and what one instructor made of it.
// Two instructors who score the same performance differ as people do.

#include "core/attempt/attempt.h"
#include "core/rubric/rubric.h"
#include "demo/generator/cast.h"
#include "demo/generator/random.h"

#include <optional>
#include <string>
#include <vector>

namespace markerlamp::demo {

/// One thing that the trainee did, at `time` tenths of a second since the start.
struct Act {
    enum class Kind {
        Show,
        Say,
        SayWrong,
        Help,
        Measure,
        CallFault,
        LeaveOut,
        Break,
        GoOn
    } kind = Kind::Show;
    int time = 0;
    const core::Step* step = nullptr;
    int point = -1;  ///< index into step->say
    std::optional<double> value, low, high;
    std::string unit;
    std::string text;
};

struct Performance {
    std::vector<Act> acts;  ///< by time
    std::vector<const core::Step*> notReached;
    int end = 0;  ///< tenths of a second
};

/// All that an attempt depends on besides chance.
struct Setting {
    const core::Rubric* rubric = nullptr;
    const core::AttemptHeader* header = nullptr;
    const Course* course = nullptr;
    const Habit* habit = nullptr;
    const Quirk* quirk = nullptr;
    std::vector<Defect> defects;  ///< of this bus on this day
    int skill = 500;
    int minutes = 48;  ///< the session ends then
};

[[nodiscard]] Performance perform(const Setting& setting, Random& random);

/// The events of an instructor with this habit. Dark steps are settled and the attempt is ended unless
/// `unfinishedAt` names the tenth of a second after which nothing was recorded any more.
[[nodiscard]] std::vector<core::Event> scoreByHand(const Performance& performance, const Setting& setting,
                                                   const Habit& habit, Random& random,
                                                   std::optional<int> unfinishedAt = {});

}  // namespace markerlamp::demo
