// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the forecast costs, beside the limits that the design sets and beside a peer: a penalised logistic
// regression of the same rows with scikit-learn. Times are processor time, both sides: the limits are for one
// core. Prints a table; judges nothing. The size of a state is measured with MARKERLAMP_BENCH_STATE=1.

#include "core/drill/drill_plan.h"
#include "core/readiness/forecast.h"
#include "core/stats/forecast_quality.h"
#include "latent_school.h"
#include "step_chances.h"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace {

using namespace markerlamp;

constexpr double kHalfLife = 30;
constexpr const char* kPeer = MARKERLAMP_SOURCE_DIR "/tests/bench/peer_logistic.py";

/// Of this process, so far.
double seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

template <class Run>
double timed(Run&& run) {
    const double start = seconds();
    run();
    return seconds() - start;
}

void row(const char* what, double measured, const char* unit, double limit) {
    std::printf("%-58s %10.3f %-3s  limit %8.3f  ratio %6.2f\n", what, measured, unit, limit,
                measured / limit);
}

struct Program {
    std::shared_ptr<const core::Rubric> rubric;
    std::shared_ptr<core::PracticeRecord> record = std::make_shared<core::PracticeRecord>();
};

/// Of many schools of 300 trainees with names of their own, 150 steps.
Program program(std::size_t attempts, int each) {
    school::Shape shape = school::steady();
    shape.trainees = 300;
    shape.zones = 15;
    shape.stepsPerZone = 10;
    shape.mostAttempts = each;
    shape.days = 30.0 + 20 * each;
    shape.dropOut = 0;
    Program made;
    std::size_t added = 0;
    for (std::uint64_t number = 1; added < attempts; ++number) {
        const school::School one(shape, number);
        if (!made.rubric) made.rubric = one.rubric();
        for (const school::Held& held : one.attempts()) {
            if (added == attempts) break;
            core::Attempt attempt = held.attempt;
            const std::string suffix = "-" + std::to_string(number);
            attempt.header.id += suffix;
            attempt.header.trainee += suffix;
            attempt.header.instructor += suffix;
            added += made.record->add(*made.rubric, attempt, held.card);
        }
    }
    made.record->sort();
    return made;
}

/// The first attempt of everybody after the day: who, and which steps were right.
std::map<int, const core::PracticeAttempt*> nextAttempts(const core::PracticeRecord& record, double day) {
    std::map<int, const core::PracticeAttempt*> next;
    for (const core::PracticeAttempt& attempt : record.attempts())
        if (attempt.day >= day && !record.attemptsOf(attempt.trainee, day).empty())
            next.try_emplace(attempt.trainee, &attempt);
    return next;
}

class PeerRows {
public:
    PeerRows(const core::PracticeRecord& record, double day,
             const std::map<int, const core::PracticeAttempt*>& next) {
        for (const core::PracticeAttempt& attempt : record.attempts())
            if (attempt.day < day) add(attempt, false);
        for (const auto& [trainee, attempt] : next) add(*attempt, true);
    }
    void write(const std::filesystem::path& path) const {
        std::ofstream out(path, std::ios::binary);
        out.write(reinterpret_cast<const char*>(m_rows.data()),
                  static_cast<std::streamsize>(m_rows.size() * sizeof(float)));
    }
    std::size_t count() const { return m_rows.size() / 6; }

private:
    struct Before {
        double right = 0, wrong = 0, day = 0;
    };
    void add(const core::PracticeAttempt& attempt, bool heldOut) {
        for (const core::StepTry& one : attempt.tries) {
            Before& before = m_before[{attempt.trainee, one.step}];
            const double kept = std::exp2(-(attempt.day - before.day) / kHalfLife);
            before = {before.right * kept, before.wrong * kept, attempt.day};
            for (const double value : {static_cast<double>(attempt.trainee), static_cast<double>(one.step),
                                       std::log1p(before.right), std::log1p(before.wrong),
                                       one.right ? 1.0 : 0.0, heldOut ? 1.0 : 0.0})
                m_rows.push_back(static_cast<float>(value));
            (one.right ? before.right : before.wrong) += 1;
        }
    }
    std::map<std::pair<int, int>, Before> m_before;
    std::vector<float> m_rows;
};

double heldOutLogLoss(const core::LearningModel& model, const Program& made,
                      const std::map<int, const core::PracticeAttempt*>& next) {
    std::vector<core::ForecastAndResult> pairs;
    const core::TestScope scope = core::wholeScope(made.rubric, {});
    for (const auto& [trainee, attempt] : next) {
        const auto draws = core::testDraws(
            model, {made.record->trainees()[static_cast<std::size_t>(trainee)], attempt->day, scope, 100});
        const std::vector<double> chances = school::stepChances(draws);
        std::map<std::string, double> of;
        for (std::size_t s = 0; s < chances.size(); ++s) of[draws.steps[s].step] = chances[s];
        for (const core::StepTry& one : attempt->tries)
            pairs.push_back(
                {of.at(made.record->steps()[static_cast<std::size_t>(one.step)].step), one.right});
    }
    return core::forecastQuality(pairs).logLoss.value_or(0);
}

void besidePeer(const Program& made) {
    const auto& attempts = made.record->attempts();
    const double day = attempts[attempts.size() * 2 / 3].day;
    const auto next = nextAttempts(*made.record, day);
    const PeerRows rows(*made.record, day, next);
    std::string pattern = (std::filesystem::temp_directory_path() / "markerlamp-peer-XXXXXX").string();
    const int handle = ::mkstemp(pattern.data());
    if (handle >= 0) ::close(handle);
    rows.write(pattern);
    core::ModelOptions options;
    options.before = day;
    std::shared_ptr<const core::LearningModel> model;
    const double took = timed([&] { model = core::LearningModel::fit(made.record, options); });
    const double loss = heldOutLogLoss(*model, made, next);
    std::FILE* peer =
        ::popen(("/usr/bin/python3 '" + std::string(kPeer) + "' '" + pattern + "'").c_str(), "r");
    double peerTook = 0, peerLoss = 0;
    const int read = peer == nullptr ? 0 : std::fscanf(peer, "%lf %lf", &peerTook, &peerLoss);
    if (peer != nullptr) ::pclose(peer);
    std::filesystem::remove(pattern);
    std::printf("beside the peer: two thirds of a district, %zu rows, the next attempt of %zu held out\n",
                rows.count(), next.size());
    if (read != 2) {
        std::printf("no peer: python3-sklearn is not installed (held-out log loss of the model %.4f)\n",
                    loss);
        return;
    }
    row("fit, spreads and standard errors included; limit: the peer", took, "s", peerTook);
    row("log loss of the next attempt's steps; limit: the peer", loss, "", peerLoss);
}

void fit(const Program& made, const char* what, double limit) {
    std::shared_ptr<const core::LearningModel> model;
    row(what, timed([&] { model = core::LearningModel::fit(made.record); }), "s", limit);
    const double day = made.record->attempts().back().day + 1;
    const core::TestScope whole = core::wholeScope(made.rubric, {});
    const core::TestScope drawn = core::testScope(made.rubric, {}).value();
    std::vector<double> update, all, sections, drill;
    for (std::size_t i = 0; i < 40; ++i) {
        const std::string& trainee = made.record->trainees()[i * 7 % made.record->trainees().size()];
        update.push_back(1000 * timed([&] { (void)core::testDraws(*model, {trainee, day, whole, 400}); }));
        all.push_back(1000 * timed([&] { (void)core::forecast(*model, {trainee, day, whole, 400}); }));
        sections.push_back(1000 * timed([&] { (void)core::forecast(*model, {trainee, day, drawn, 400}); }));
    }
    for (std::size_t i = 0; i < 10; ++i) {
        const std::string& trainee = made.record->trainees()[i * 29 % made.record->trainees().size()];
        const core::TestDraws draws = core::testDraws(*model, {trainee, day, whole, 400});
        drill.push_back(1000 * timed([&] { (void)core::DrillPlanner(draws).plan(30); }));
    }
    for (auto* times : {&update, &all, &sections, &drill}) std::ranges::sort(*times);
    row("  one trainee's own part after an attempt, p95", update[37], "ms", 50);
    row("  the same with the forecast and what holds it back, p95", all[37], "ms", 50);
    row("  the same over drawn sections, p95", sections[37], "ms", 50);
    // The design names no limit for a plan alone: it is one part of a trainee's page.
    row("  next drill of 30 minutes, slowest of 10; limit: the page", drill[9], "ms", 100);
}

}  // namespace

int main() {
    const Program district = program(3000, 10);
    std::size_t tries = 0;
    for (const core::PracticeAttempt& attempt : district.record->attempts()) tries += attempt.tries.size();
    std::printf("a district: %zu trainees, %zu attempts, %zu steps, %zu tries\n",
                district.record->trainees().size(), district.record->attempts().size(),
                district.record->steps().size(), tries);
    fit(district, "fit a district", 3);
    besidePeer(district);
    if (std::getenv("MARKERLAMP_BENCH_STATE") != nullptr) fit(program(60'000, 20), "fit a state", 60);
    return 0;
}
