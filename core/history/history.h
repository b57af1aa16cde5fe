#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Folds over many attempts of one trainee: where the zones stand now, how they moved, what to say next time.
// Pure functions of scorecards; never a rate without its count.

#include "core/attempt/attempt.h"
#include "core/rubric/rubric.h"
#include "core/scoring/scorecard.h"
#include "core/stats/intervals.h"
#include "core/stats/trend.h"
#include "core/stats/weak_zones.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::core {

/// An attempt with all that a page about the trainee needs. Oldest first in every function below.
struct ScoredAttempt {
    std::shared_ptr<const Rubric> rubric;
    Attempt attempt;
    Scorecard card;
};

/// All zones of its rubric were in scope.
[[nodiscard]] bool isWhole(const ScoredAttempt& attempt);

struct ZoneNow {
    std::string zone;
    std::string title;
    int satisfied = 0;
    int observed = 0;                  ///< steps that were neither unseen nor unreached
    std::optional<Interval> interval;  ///< 80 % Wilson; absent under 8 observed steps (counts only)
    double below = 0;                  ///< chance that it lies under the pass mark, see zoneChances()
    bool weak = false;                 ///< likely enough, from five observed steps on
};

/// The last `last` attempts with the newest attempt's rubric (any edition) together, in the walk order of the
/// newest. Zones that were never observed are listed with counts of 0.
[[nodiscard]] std::vector<ZoneNow> zonesNow(const std::vector<ScoredAttempt>& attempts, int last = 3,
                                            double level = 0.8);

/// How likely each zone of zonesNow() lies under the pass mark, in the same order: shrunken rates of the same
/// counts. A pass mark of 0 or 100 % is taken as 1 or 99 %, the nearest that a rate can be compared with.
[[nodiscard]] std::vector<ZoneChance> zoneChances(const std::vector<ScoredAttempt>& attempts, int last = 3);

/// How the percent of whole attempts moves with the days between them.
struct PercentTrend {
    int attempts = 0;            ///< whole ones with the newest whole attempt's rubric, any edition
    std::optional<Trend> trend;  ///< percent per day, day 0 the newest; absent as theilSen() says
};
/// Over the newest `most` of them.
[[nodiscard]] PercentTrend percentTrend(const std::vector<ScoredAttempt>& attempts, int most = 10);

struct HeatCell {
    int satisfied = 0;
    int observed = 0;
    int unseen = 0;
    int unreached = 0;
    bool inScope = false;  ///< the zone was among the attempt's zones
};

/// rows: zones of the newest rubric; columns: attempts.
struct HeatMap {
    std::vector<std::string> zones;
    std::vector<std::string> titles;
    std::vector<std::vector<HeatCell>> cells;  ///< [zone][attempt]
    std::vector<bool> otherEdition;            ///< per attempt: not the newest attempt's rubric and edition
};
[[nodiscard]] HeatMap zonesByAttempts(const std::vector<ScoredAttempt>& attempts);

/// One attempt on the learning chart. Counts are steps (shown) and points (said).
struct LearningPoint {
    std::string attempt;
    double days = 0;  ///< since the first attempt
    int shownCount = 0, shownOf = 0;
    int saidCount = 0, saidOf = 0;
    std::optional<Interval> shown, said;  ///< 80 %, effective counts: marks of one zone are not independent
    bool otherEdition = false;
};
[[nodiscard]] std::vector<LearningPoint> learningPoints(const std::vector<ScoredAttempt>& attempts,
                                                        double level = 0.8);

/// One line of "say next time".
struct SayNext {
    std::string step;
    std::string title;
    std::string zone;
    std::string zoneTitle;
    StepOutcome outcome = StepOutcome::Omitted;
    bool mustPass = false;
    bool notShown = false;
    std::vector<std::string> missing;  ///< texts of the points still to say; may be empty
    int missedRecent = 0;  ///< in how many of the recent attempts it was observed and not satisfied
    int seenRecent = 0;    ///< in how many it was observed
    std::vector<StepOutcome>
        recent;  ///< oldest first, at most four, newest is the attempt itself; only where in scope
};

/// Every observed step of the last attempt that is not satisfied, ranked: must-pass, then missed in more of
/// the recent (at most four, same rubric, any edition) attempts, then weight, then walk order.
[[nodiscard]] std::vector<SayNext> sayNextTime(const std::vector<ScoredAttempt>& attempts);

/// In how many of the latest attempts in a row every observed must-pass step was satisfied. An attempt in
/// which none was observed neither counts nor ends the row.
[[nodiscard]] int cleanMustPassInARow(const std::vector<ScoredAttempt>& attempts);

}  // namespace markerlamp::core
