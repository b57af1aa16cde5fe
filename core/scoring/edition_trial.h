#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What another edition would make of stored attempts: each is scored again as a trial, and nothing is stored.
// An attempt is asked only for what its own edition asked it for on its zones and its bus. What it says about
// steps and points that are no more is left out and counted. Steps and points that are new were never asked:
// they take no part, or count as left out by the trainee where somebody wants the hardest reading.

#include "core/attempt/attempt.h"
#include "core/rubric/rubric.h"
#include "core/scoring/scorecard.h"

#include <map>
#include <memory>
#include <string>
#include <tuple>
#include <vector>

namespace markerlamp::core {

enum class NewThings { TakeNoPart, CountAsOmitted };

struct TrialResult {
    std::string attempt;
    std::string trainee;
    std::string started;
    int edition = 1;  ///< its own
    AttemptResult before = AttemptResult::Fail;
    AttemptResult after = AttemptResult::Fail;
    double percentBefore = 0;
    double percentAfter = 0;
    int eventsLeftOut = 0;

    [[nodiscard]] bool resultChanges() const { return before != after; }
    bool operator==(const TrialResult&) const = default;
};

/// The attempts of one trial together.
struct EditionEffect {
    std::vector<TrialResult> results;

    [[nodiscard]] int changed() const;  ///< other result
    [[nodiscard]] int noLongerPass() const;
    [[nodiscard]] int nowPass() const;
    [[nodiscard]] int withEventsLeftOut() const;
    struct Change {
        double mean = 0, least = 0, most = 0;  ///< percent after minus before
    };
    [[nodiscard]] Change change() const;  ///< all zero without results
    bool operator==(const EditionEffect&) const = default;
};

class EditionTrial {
public:
    /// The draft must be sound.
    explicit EditionTrial(std::shared_ptr<const Rubric> draft, NewThings newThings = NewThings::TakeNoPart);
    ~EditionTrial();
    EditionTrial(EditionTrial&&) noexcept;
    EditionTrial& operator=(EditionTrial&&) noexcept;

    /// @param own  the rubric of the attempt's edition, of the draft's id
    /// @param card what that rubric made of it
    [[nodiscard]] TrialResult judge(const Rubric& own, const Attempt& attempt, const Scorecard& card);

    /// The parts of judge(), for tests: the draft cut down to what this attempt is asked for, and the attempt
    /// as that rubric can score it.
    [[nodiscard]] Rubric asked(const Rubric& own, const AttemptHeader& header) const;
    [[nodiscard]] static Attempt fitted(const Attempt& attempt, const Rubric& asked, int* leftOut = nullptr);

private:
    using Key = std::tuple<int, std::vector<std::string>, std::vector<std::string>>;  // edition, zones, tags
    struct Prepared;

    std::shared_ptr<const Rubric> m_draft;
    NewThings m_newThings;
    std::map<Key, Prepared> m_prepared;
};

}  // namespace markerlamp::core
