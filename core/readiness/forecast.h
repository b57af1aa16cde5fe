#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Readiness of one trainee: the forecast chance of passing, its interval, and what holds it back.

#include "core/readiness/learning_model.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::core {

/// One way in which the test can be taken: the steps of some zones on one kind of bus.
struct TestPart {
    std::string section;  ///< id; empty: all zones of the rubric
    std::string title;
    double share = 1;  ///< how often the test is this one; the shares of a scope sum to 1
    std::vector<std::string> zones;
};

/// What would be tested: an edition, the bus's equipment, and the sections that the test may draw.
struct TestScope {
    std::shared_ptr<const Rubric> rubric;
    std::vector<std::string> equipment;
    std::vector<TestPart> parts;
};

/// Sections by their shares where the rubric states shares that are not all 0 (scaled to sum 1), else the
/// whole rubric. With `section` only that one; an unknown id is refused.
[[nodiscard]] Result<TestScope> testScope(std::shared_ptr<const Rubric> rubric,
                                          std::vector<std::string> equipment,
                                          const std::optional<std::string>& section = {});
/// All zones.
[[nodiscard]] TestScope wholeScope(std::shared_ptr<const Rubric> rubric, std::vector<std::string> equipment);

/// A step of the scope, in rubric order.
struct ScopeStep {
    std::string step;
    std::string zone;
    int weight = 1;
    bool mustPass = false;
    double minutes = 0.3;
};

/// What the model believes about one trainee at one moment, as equally likely draws. Everything that is asked
/// of it afterwards (chance, interval, drill) is asked of the same draws. Sizes: D draws, S steps of the
/// scope.
struct TestDraws {
    TestScope scope;
    std::vector<ScopeStep> steps;          ///< S: the union over the parts
    std::vector<std::vector<int>> inPart;  ///< per part, indices into steps
    int draws = 0;                         ///< D
    std::vector<double>
        logit;  ///< [draw * S + step]: log odds of doing the step by oneself, without day effect
    std::vector<double>
        drilled;  ///< the same after one more try of that step now (counted as right with its chance)
    std::vector<double> daySpread;  ///< D: standard deviation of the day effect, logits
    std::vector<double> kept;  ///< [draw * parts + part]: chance that no strict must-pass rule is broken, and
                               ///< that the time allowance is kept where exceeding it fails
};

struct ForecastRequest {
    std::string trainee;
    double at = 0;  ///< day, see dayOf(): only attempts before it count, and practice decays until then
    TestScope scope;
    int draws = 240;
    /// As it would be after so many further attempts over the whole scope, each step right with its chance.
    int further = 0;
};

/// The trainee's own part is fitted afresh from his attempts before `at`; steps, instructors and spreads come
/// from the model, which must have been fitted to nothing after `at`.
[[nodiscard]] TestDraws testDraws(const LearningModel& model, const ForecastRequest& request);

/// Chance of passing in every draw: over the parts by their shares, the day effect integrated. D values.
[[nodiscard]] std::vector<double> passChances(const TestDraws& draws);

/// One thing that keeps the chance down, with the marks that say so.
struct Holding {
    enum class Kind { Step, Zone, OrderRule } kind = Kind::Zone;
    std::string id;  ///< step, zone or rule
    std::string title;
    double cost = 0;          ///< how much the chance (the expected score, where passing is out of reach) would
                              ///< rise if it were as good as the rest, in [0, 1]
    int right = 0, seen = 0;  ///< in the last four attempts: by oneself, and observed
    std::vector<std::string> attempts;  ///< ids of those attempts, newest first
};

struct SectionChance {
    std::string section;
    std::string title;
    double share = 0;
    double chance = 0, low = 0, high = 1;
};

struct Forecast {
    std::string trainee;
    double at = 0;
    int attempts = 0;        ///< of the trainee, that it rests on
    int tries = 0;           ///< observed steps of the trainee
    bool tooLittle = false;  ///< too little data: show the words, not a bare number
    std::string tooLittleWhy;
    double chance = 0.5;                  ///< mean over the draws
    double low = 0, high = 1;             ///< 5 % and 95 % quantiles: the 90 % interval
    std::vector<SectionChance> sections;  ///< of the scope's parts; one entry without id for the whole rubric
    std::vector<Holding> holding;         ///< most costly first, at most six
    int modelVersion = kForecastVersion;
    bool halfLifeAssumed = true;
};

[[nodiscard]] Forecast forecast(const LearningModel& model, const ForecastRequest& request);

/// Models of a program as it was at many moments: steps and instructors are refitted at checkpoints (not at
/// every attempt), never with anything that began at or after the asked day; a trainee's own part is always
/// afresh.
class ModelSeries {
public:
    /// @param growth a checkpoint whenever the record has grown by this factor (a sixth at most is left out)
    explicit ModelSeries(std::shared_ptr<const PracticeRecord> record, double growth = 1.2);
    /// The newest checkpoint's model that knows nothing from `day` on. nullptr when progress said stop.
    std::shared_ptr<const LearningModel> at(double day, const std::function<bool(double)>& progress = {});

private:
    std::shared_ptr<const PracticeRecord> m_record;
    std::vector<double> m_days;
    std::vector<std::shared_ptr<const LearningModel>> m_models;
};

}  // namespace markerlamp::core
