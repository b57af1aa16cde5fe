// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What it costs to lay out a progress sheet and write it as PDF. The counter of_limit is the mean time as a
// share of the named limit (below 1 is within it).

#include "core/attempt/attempt.h"
#include "core/history/history.h"
#include "core/rubric/rubric_reader.h"
#include "core/scoring/scorecard.h"
#include "demo/generator/built_in.h"
#include "forms/sheets/sheets.h"
#include "forms/style/fonts.h"

#include <benchmark/benchmark.h>

#include <QDateTime>
#include <QGuiApplication>
#include <QTemporaryDir>

#include <chrono>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace {

using namespace markerlamp;

constexpr double kSheetLimitSeconds = 0.150;

std::shared_ptr<const core::Rubric> builtInRubric() {
    for (const demo::BuiltInDocument& document : demo::builtInDocuments())
        if (document.name.rfind("air-brake", 0) == 0)
            if (auto rubric = core::readRubric(document.text, document.name))
                return std::make_shared<const core::Rubric>(std::move(*rubric));
    return nullptr;
}

/// Every `every`-th step is left out.
core::ScoredAttempt attempt(const std::shared_ptr<const core::Rubric>& rubric, int every) {
    core::Attempt made;
    made.header.id = "8f7c2a10-0000-4000-8000-000000000001";
    made.header.rubric = rubric->id;
    made.header.edition = rubric->edition;
    made.header.started = "2026-03-02T06:10:00-05:00";
    for (const auto& [tag, title] : rubric->equipment) made.header.equipment.push_back(tag);
    const auto add = [&](core::EventKind kind, const std::string& step, const std::string& point = {}) {
        core::Event event;
        event.n = static_cast<int>(made.events.size()) + 1;
        event.t = event.n;
        event.kind = kind;
        event.step = step;
        event.point = point;
        made.events.push_back(event);
    };
    int index = 0;
    for (const core::Zone& zone : rubric->zones) {
        made.header.zones.push_back(zone.id);
        for (const core::Step& step : zone.steps) {
            if (!core::appliesTo(step, made.header.equipment)) continue;
            if (++index % every == 0) {
                add(core::EventKind::Omit, step.id);
                continue;
            }
            if (!step.show.empty()) add(core::EventKind::Show, step.id);
            for (const core::Point& point : step.say) add(core::EventKind::Say, step.id, point.id);
        }
    }
    add(core::EventKind::End, {});
    core::Scorecard card = core::score(*rubric, made);
    return {rubric, std::move(made), std::move(card)};
}

void progressSheet(benchmark::State& state) {
    const auto rubric = builtInRubric();
    if (!rubric) return state.SkipWithError("the built-in rubric is missing");
    forms::ProgressSheetInput input;
    input.trainee.name = "Trainee A";
    for (int i = 0; i < 8; ++i) input.history.push_back(attempt(rubric, static_cast<int>(state.range(0))));
    input.printed = QDateTime(QDate(2026, 3, 2), QTime(7, 5));
    const QTemporaryDir folder;
    const QString path = folder.filePath(QStringLiteral("sheet.pdf"));
    const auto begin = std::chrono::steady_clock::now();
    for (auto _ : state) {
        const forms::Sheet sheet = forms::progressSheet(input);
        if (!forms::writePdf(sheet, path)) return state.SkipWithError("the PDF could not be written");
        state.counters["pages"] = sheet.pages();
    }
    const std::chrono::duration<double> spent = std::chrono::steady_clock::now() - begin;
    state.counters["of_limit"] = spent.count() / static_cast<double>(state.iterations()) / kSheetLimitSeconds;
}
BENCHMARK(progressSheet)->Arg(11)->Arg(2)->ArgName("every")->Unit(benchmark::kMillisecond);

}  // namespace

int main(int argc, char** argv) {
    if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
    const QGuiApplication application(argc, argv);
    if (!forms::loadFonts()) return 1;
    benchmark::Initialize(&argc, argv);
    benchmark::RunSpecifiedBenchmarks();
    return 0;
}
