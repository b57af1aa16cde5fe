#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Small programs of invented trainees for tests of readiness. Marks of an attempt, one letter a step in
// rubric order: r right, p prompted, w wrong, o omitted, u unseen, n unreached, x out of scope.

#include "core/readiness/practice_record.h"
#include "core/scoring/scorecard.h"
#include "scoring_support.h"

#include <memory>
#include <random>
#include <string>
#include <vector>

namespace markerlamp::core::testing {

inline std::shared_ptr<const Rubric> practiceRubric(int zones, int stepsPerZone,
                                                    const std::string& id = "practice") {
    std::vector<Zone> all;
    for (int z = 0; z < zones; ++z) {
        const std::string zone = "z" + std::to_string(z);
        all.push_back({zone, "Zone " + std::to_string(z), {}});
        for (int s = 0; s < stepsPerZone; ++s)
            all.back().steps.push_back(makeStep(zone + "s" + std::to_string(s)));
    }
    Rubric rubric = makeRubric(std::move(all));
    rubric.id = id;
    return std::make_shared<const Rubric>(rubric);
}

struct MarkedAttempt {
    std::shared_ptr<const Rubric> rubric;
    std::string id, trainee = "t0", instructor = "i0";
    double day = 20000;
    std::string marks;
};

/// The attempt and its card, through the scorer itself.
inline std::pair<Attempt, Scorecard> scored(const MarkedAttempt& given) {
    AttemptBuilder builder(*given.rubric);
    builder.header().id = given.id;
    builder.header().trainee = given.trainee;
    builder.header().instructor = given.instructor;
    builder.header().started = momentOf(given.day);
    builder.header().zones.clear();
    std::size_t i = 0;
    for (const Zone& zone : given.rubric->zones) {
        bool inScope = false;
        for (const Step& step : zone.steps) {
            const char mark = i < given.marks.size() ? given.marks[i] : 'r';
            ++i;
            inScope = inScope || mark != 'x';
            if (mark == 'p') builder.mark(EventKind::Prompt, step.id);
            if (mark == 'r' || mark == 'p') builder.whole(step);
            if (mark == 'w') builder.mark(EventKind::Wrong, step.id);
            if (mark == 'o') builder.mark(EventKind::Omit, step.id);
            if (mark == 'u') builder.mark(EventKind::Unseen, step.id);
            if (mark == 'n') builder.mark(EventKind::Unreached, step.id);
        }
        if (inScope) builder.header().zones.push_back(zone.id);
    }
    const Attempt attempt = builder.end();
    return {attempt, score(*given.rubric, attempt)};
}

inline bool addTo(PracticeRecord& record, const MarkedAttempt& given) {
    const auto [attempt, card] = scored(given);
    return record.add(*given.rubric, attempt, card);
}

inline std::shared_ptr<const PracticeRecord> recordOf(const std::vector<MarkedAttempt>& attempts) {
    auto record = std::make_shared<PracticeRecord>();
    for (const MarkedAttempt& one : attempts) addTo(*record, one);
    record->sort();
    return record;
}

/// A program: trainee number i does a step with a chance that grows with i and with practice.
inline std::vector<MarkedAttempt> smallProgram(const std::shared_ptr<const Rubric>& rubric, int trainees,
                                               int attempts, unsigned seed = 7) {
    std::mt19937 random(seed);
    const auto chance = [&] { return double(random() >> 8) / double(1u << 24); };
    std::size_t steps = 0;
    for (const Zone& zone : rubric->zones) steps += zone.steps.size();
    std::vector<MarkedAttempt> all;
    for (int t = 0; t < trainees; ++t) {
        for (int a = 0; a < attempts; ++a) {
            MarkedAttempt one{rubric,
                              "t" + std::to_string(t) + "-" + std::to_string(a),
                              "t" + std::to_string(t),
                              "i" + std::to_string(random() % 3),
                              20000 + t + 3.0 * a + chance(),
                              ""};
            const double right = 0.35 + 0.5 * t / std::max(1, trainees - 1) + 0.03 * a;
            for (std::size_t s = 0; s < steps; ++s) one.marks += chance() < right ? 'r' : 'w';
            all.push_back(std::move(one));
        }
    }
    return all;
}

}  // namespace markerlamp::core::testing
