#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Answers about readiness that a test chooses, and a drill planner over the small rubric. Everybody is
// invented.

#include "app/readiness/readiness_source.h"

#include "../scoring_support.h"

#include <QElapsedTimer>
#include <QTest>

#include <atomic>
#include <cmath>
#include <functional>
#include <memory>
#include <string>

namespace markerlamp::testing {

/// Runs the event loop until it holds; false after ten seconds.
inline bool eventually(const std::function<bool()>& holds) {
    QElapsedTimer timer;
    timer.start();
    while (!holds()) {
        if (timer.elapsed() > 10'000) return false;
        QTest::qWait(2);
    }
    return true;
}

/// Draws over all steps of the rubric: the n-th step is right with odds that fall with n, drilling adds one
/// logit. Spread over the draws, so that there is an interval.
inline core::TestDraws draws(std::shared_ptr<const core::Rubric> rubric, int count = 40) {
    core::TestDraws made;
    made.scope = core::wholeScope(rubric, {"air-brakes"});
    std::vector<int> all;
    for (const core::Zone& zone : rubric->zones)
        for (const core::Step& step : zone.steps) {
            if (!core::appliesTo(step, made.scope.equipment)) continue;
            all.push_back(static_cast<int>(made.steps.size()));
            made.steps.push_back({step.id, zone.id, step.weight, step.mustPass, step.minutes});
        }
    made.inPart = {all};
    made.draws = count;
    for (int d = 0; d < count; ++d) {
        const double shift = 1.2 * (d - count / 2.0) / count;
        for (std::size_t s = 0; s < all.size(); ++s) {
            const double logit = 2.6 - 0.25 * static_cast<double>(s) + shift;
            made.logit.push_back(logit);
            made.drilled.push_back(logit + 1);
        }
        made.daySpread.push_back(0.4);
        made.kept.push_back(1);
    }
    return made;
}

inline std::shared_ptr<const core::DrillPlanner> planner(std::shared_ptr<const core::Rubric> rubric) {
    return std::make_shared<const core::DrillPlanner>(draws(std::move(rubric)));
}

/// About 7 in 10, one gate shut, one unknown, one met; zone, step and rule hold back.
inline app::ReadinessAnswer closeAnswer(const std::string& trainee, double at) {
    app::ReadinessAnswer answer;
    answer.rubric = "small";
    answer.edition = 3;
    core::Forecast forecast;
    forecast.trainee = trainee;
    forecast.at = at;
    forecast.attempts = 6;
    forecast.tries = 60;
    forecast.chance = 0.71;
    forecast.low = 0.52;
    forecast.high = 0.88;
    forecast.holding = {{core::Holding::Kind::Zone, "left-side", "Left side", 0.11, 7, 12, {"a-2", "a-1"}},
                        {core::Holding::Kind::Step, "b", "Rims", 0.05, 1, 4, {"a-2"}},
                        {core::Holding::Kind::OrderRule, "sequence", "Brake sequence", 0.02, 3, 4, {"a-1"}}};
    core::Gate shut{"must-pass",
                    core::GateState::NotMet,
                    "Rims not by oneself in the last 2 attempts",
                    "Rims by oneself in 2 attempts",
                    {"a-2"},
                    {"b"}};
    core::Gate unknown{"theory", core::GateState::Unknown, "no theory result on file", "a theory result", {},
                       {}};
    core::Gate met{"medical", core::GateState::Met, "medical card valid to 2026-09-09", {}, {}, {}};
    answer.readiness = core::judge(forecast, {met, unknown, shut}, {}, {});
    return answer;
}

inline app::ReadinessAnswer tooLittleAnswer(const std::string& trainee, double at) {
    app::ReadinessAnswer answer = closeAnswer(trainee, at);
    core::Forecast forecast = answer.readiness.forecast;
    forecast.attempts = 1;
    forecast.tooLittle = true;
    forecast.tooLittleWhy = "1 attempt so far, at least 2 are asked for";
    answer.readiness = core::judge(forecast, answer.readiness.gates, {}, {});
    return answer;
}

/// What the sources of one desk share.
struct Script {
    using Answer = std::function<core::Result<app::ReadinessAnswer>(
        const std::string& trainee, double now, bool withPlanner, const app::ReadinessSource::Progress&)>;
    Answer answer = [](const std::string& trainee, double now, bool, const auto&) {
        return core::Result<app::ReadinessAnswer>(closeAnswer(trainee, now));
    };
    std::function<core::Result<void>()> open = [] { return core::Result<void>(); };
    std::atomic<int> opened{0};
    std::atomic<int> asked{0};
};

/// Says how far it is until it is told to stop, as the real one does while it fits.
inline core::Result<app::ReadinessAnswer> untilStopped(const app::ReadinessSource::Progress& progress) {
    double share = 0;
    while (progress(share)) {
        share = std::min(0.9, share + 0.01);
        QThread::msleep(1);
    }
    return core::fail(core::ErrorKind::Usage, {});
}

class ScriptedSource final : public app::ReadinessSource {
public:
    explicit ScriptedSource(std::shared_ptr<Script> script) : m_script(std::move(script)) {}
    core::Result<app::ReadinessAnswer> answer(const std::string& trainee, double now, bool withPlanner,
                                              const Progress& progress) override {
        ++m_script->asked;
        return m_script->answer(trainee, now, withPlanner, progress);
    }

private:
    std::shared_ptr<Script> m_script;
};

inline app::ReadinessOpener opener(const std::shared_ptr<Script>& script) {
    return [script](
               const app::ReadinessSource::Progress&) -> core::Result<std::unique_ptr<app::ReadinessSource>> {
        ++script->opened;
        if (auto open = script->open(); !open) return core::fail(open.error());
        return std::make_unique<ScriptedSource>(script);
    };
}

}  // namespace markerlamp::testing
