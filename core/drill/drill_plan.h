#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What to practise in the minutes that are left: the blocks that raise the pass chance most.

#include "core/readiness/forecast.h"

#include <functional>
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
    double points = 0;  ///< what it is expected to add to the score
};

enum class DrillAim {
    PassChance,     ///< the usual one
    ExpectedScore,  ///< the chance is near 0: more points first
    LowerQuantile   ///< the chance is near 1: make the bad case better
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

// The choice itself, free of draws, so that it can be checked against enumeration: items with minutes and
// groups whose set-up is paid once, a value of a set.
struct DrillItem {
    double minutes = 0;
    int group = 0;      ///< pays groupMinutes[group] once
    double points = 0;  ///< expected points, for the knapsack start
};
/// Indices of the chosen items, ascending: the best of greedy by value per minute, greedy by value, knapsack
/// on points, then exchanges; exact for up to 15 items.
[[nodiscard]] std::vector<int> chooseItems(const std::vector<DrillItem>& items,
                                           const std::vector<double>& groupMinutes, double budget,
                                           const std::function<double(const std::vector<int>&)>& value);

/// For the command line and the sheet.
[[nodiscard]] std::string toJson(const DrillPlan& plan, const DrillPlanner& planner,
                                 const std::string& trainee, double minutesAsked);
/// "Engine compartment: say it all aloud" and the like: what to do, one line a part.
[[nodiscard]] std::string inWords(const DrillPart& part, const DrillPlanner& planner);

}  // namespace markerlamp::core
