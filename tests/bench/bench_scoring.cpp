// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What it costs to score an attempt. The counter of_limit is the mean time as a share of the named limit
// (below 1 is within it).

#include "core/scoring/displaced.h"
#include "core/scoring/scorecard.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <memory>
#include <numeric>
#include <random>
#include <string>
#include <vector>

namespace {

using namespace markerlamp::core;

constexpr int kSteps = 150;
constexpr int kEvents = 800;
constexpr double kScoreLimitSeconds = 0.3e-3;

/// 150 steps in 10 zones, three points each, some with numbers and readings; a chain in each zone, and the
/// zones in order.
std::shared_ptr<const Rubric> rubric() {
    auto made = std::make_shared<Rubric>();
    made->id = "bench-rubric";
    made->title = "Rubric of the benchmark";
    made->pass.percent = 80;
    made->limits = {{"limit-one", {}, 3, "psi", false, "none"}, {"limit-two", 20, 45, "psi", true, "none"}};
    OrderRule zones;
    zones.id = "zones";
    for (int z = 0; z < 10; ++z) {
        Zone& zone = made->zones.emplace_back();
        zone.id = "zone-number-" + std::to_string(z);
        OrderRule& chain = made->order.emplace_back();
        chain.id = "chain-" + std::to_string(z);
        for (int s = 0; s < kSteps / 10; ++s) {
            Step& step = zone.steps.emplace_back();
            step.id = "step-number-" + std::to_string(z) + "-" + std::to_string(s);
            step.title = "Step";
            step.show = "point at it";
            step.mustPass = s == 0;
            for (int p = 0; p < 3; ++p) step.say.push_back({"point-" + std::to_string(p), "text", {}, {}});
            step.sayNeeded = 3;
            if (s % 5 == 0) step.say[0].number.emplace().limit = "limit-one";
            if (s % 7 == 0) step.reading.emplace().limit = "limit-two";
            chain.chain.push_back(step.id);
        }
        zones.chain.push_back("zone:" + zone.id);
    }
    made->order.push_back(zones);
    return made;
}

/// Events spread over the steps: show and three points each, then prompts, notes and repeats up to 800.
/// @param swaps how many pairs of steps are done the other way round
Attempt attempt(const Rubric& rules, int swaps) {
    Attempt made;
    made.header.id = "bench";
    made.header.rubric = rules.id;
    std::vector<const Step*> steps;
    for (const Zone& zone : rules.zones) {
        made.header.zones.push_back(zone.id);
        for (const Step& step : zone.steps) steps.push_back(&step);
    }
    std::mt19937 random(7);
    for (int i = 0; i < swaps; ++i) std::swap(steps[random() % steps.size()], steps[random() % steps.size()]);
    const auto add = [&](EventKind kind, const Step* step) -> Event& {
        Event& event = made.events.emplace_back();
        event.n = static_cast<int>(made.events.size());
        event.t = event.n * 2.5;
        event.kind = kind;
        if (step != nullptr) event.step = step->id;
        return event;
    };
    for (const Step* step : steps) {
        add(EventKind::Show, step);
        for (const Point& point : step->say) {
            Event& said = add(EventKind::Say, step);
            said.point = point.id;
            if (point.number) {
                said.value = 3;
                said.unit = "psi";
            }
        }
        if (step->reading) {
            Event& read = add(EventKind::Reading, step);
            read.value = 30;
            read.unit = "psi";
        }
    }
    for (std::size_t i = 0; made.events.size() + 1 < kEvents; ++i)
        add(i % 3 == 0 ? EventKind::Prompt : EventKind::Show, steps[(i * 7) % steps.size()]);
    add(EventKind::End, nullptr);
    return made;
}

void scoreAttempt(benchmark::State& state) {
    const Scorer scorer(rubric());
    const Attempt made = attempt(scorer.rubric(), static_cast<int>(state.range(0)));
    state.counters["events"] = static_cast<double>(made.events.size());
    state.counters["displaced"] = static_cast<double>(scorer.score(made).displaced.size());
    const auto begin = std::chrono::steady_clock::now();
    for (auto _ : state) benchmark::DoNotOptimize(scorer.score(made));
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin;
    state.counters["of_limit"] = spent.count() / static_cast<double>(state.iterations()) / kScoreLimitSeconds;
}
BENCHMARK(scoreAttempt)->ArgName("swaps")->Arg(0)->Arg(3)->Arg(20)->Unit(benchmark::kMicrosecond);

void prepareRubric(benchmark::State& state) {
    const auto rules = rubric();
    for (auto _ : state) benchmark::DoNotOptimize(Scorer(rules));
}
BENCHMARK(prepareRubric)->Unit(benchmark::kMicrosecond);

/// One chain over all steps, done in random order: every step in conflict.
void displacedShuffled(benchmark::State& state) {
    const int steps = static_cast<int>(state.range(0));
    std::vector<std::pair<int, int>> pairs;
    for (int i = 0; i + 1 < steps; ++i) pairs.emplace_back(i, i + 1);
    const OrderRelation relation(steps, pairs);
    std::vector<int> observed(static_cast<std::size_t>(steps));
    std::iota(observed.begin(), observed.end(), 0);
    std::ranges::shuffle(observed, std::mt19937(11));
    for (auto _ : state)
        benchmark::DoNotOptimize(displacedSteps(relation, observed, observed, state.range(1) != 0));
}
BENCHMARK(displacedShuffled)
    ->ArgNames({"steps", "always"})
    ->Args({60, 0})
    ->Args({150, 0})
    ->Args({150, 1})
    ->Args({2000, 0})
    ->Unit(benchmark::kMicrosecond);

void cardToJson(benchmark::State& state) {
    const Scorer scorer(rubric());
    const Scorecard card = scorer.score(attempt(scorer.rubric(), 3));
    for (auto _ : state) benchmark::DoNotOptimize(toJson(card));
}
BENCHMARK(cardToJson)->Unit(benchmark::kMicrosecond);

}  // namespace

BENCHMARK_MAIN();
