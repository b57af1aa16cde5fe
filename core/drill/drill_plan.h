#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What to practise in the minutes that are left: the blocks that raise the pass chance most.

#include "core/readiness/forecast.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::core {

/// What can only be drilled together: one step, or a chain of steps.
struct DrillBlock {
    std::string id;  ///< first step, or the rule's id
    std::string title;
    std::string zone;
    std::vector<int> steps;   ///< indices into TestDraws::steps, in rubric order
    double minutes = 0;       ///< for the steps themselves
    double setUpMinutes = 0;  ///< once per plan and zone: walking there, chocks, building up air
    std::string caution;      ///< of its steps; empty when there is none
    bool doneToday = false;   ///< drilled or scored right today: not offered unless it failed
};

struct DrillPart {
    int block = 0;      ///< index into DrillPlanner::blocks()
    double gain = 0;    ///< what it is expected to add to the pass chance, as the last part of this plan
    double points = 0;  ///< what it is expected to add to the score, percent of the weight
};

enum class DrillAim {
    PassChance,     ///< the usual one
    ExpectedScore,  ///< the chance is under 0.05 and stays there: more points first
    LowerQuantile   ///< the chance is over 0.98: make the bad case, the lowest tenth of the draws, better
};

struct DrillPlan {
    DrillAim aim = DrillAim::PassChance;
    std::vector<DrillPart> parts;            ///< walk order
    double minutes = 0;                      ///< used, set-up included
    double before = 0, after = 0;            ///< pass chance without and with the plan
    double scoreBefore = 0, scoreAfter = 0;  ///< expected percent of the weight
};

/// Blocks of a trainee's test, and plans from them. The draws are copied: common random numbers, so that
/// plans can be compared.
class DrillPlanner {
public:
    /// @param doneToday ids of steps done by oneself today
    DrillPlanner(TestDraws draws, const std::vector<std::string>& doneToday = {});

    [[nodiscard]] const std::vector<DrillBlock>& blocks() const;
    [[nodiscard]] const TestDraws& draws() const;
    /// The best plan found within the minutes; empty parts when nothing fits.
    [[nodiscard]] DrillPlan plan(double minutes) const;
    /// What a set of blocks chosen by hand brings (indices into blocks(), any order).
    [[nodiscard]] DrillPlan worth(const std::vector<int>& blocks) const;
    /// Minutes of a set, set-up included.
    [[nodiscard]] double minutesOf(const std::vector<int>& blocks) const;
    /// Zones a plan touches, in walk order, for an attempt with just those.
    [[nodiscard]] std::vector<std::string> zonesOf(const DrillPlan& plan) const;
    /// Steps of those zones that are not part of the plan.
    [[nodiscard]] std::vector<std::string> besides(const DrillPlan& plan) const;

private:
    struct State;
    std::shared_ptr<const State> m_state;
};

/// For the command line and the sheet.
[[nodiscard]] std::string toJson(const DrillPlan& plan, const DrillPlanner& planner,
                                 const std::string& trainee, double minutesAsked);
/// `Air brakes: show and say "Applied leakage" (1.5 min). Caution: ...`: what to do, one line a part, its
/// caution included.
[[nodiscard]] std::string inWords(const DrillPart& part, const DrillPlanner& planner);

/// A plan as a trainer reads it: one line a zone, in walk order.
struct DrillLine {
    std::string zone;
    std::string title;    ///< of the zone
    double minutes = 0;   ///< set-up included
    std::string text;     ///< what to do there, without the zone's title and without caution
    std::string caution;  ///< to be shown beside the text wherever that is shown; may be empty
};
[[nodiscard]] std::vector<DrillLine> linesOf(const DrillPlan& plan, const DrillPlanner& planner);

}  // namespace markerlamp::core
