// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp track`: forecasts against what came of them, frozen ones and the past replayed.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/readiness_request.h"

#include <nlohmann/json.hpp>

#include <cstdio>
#include <optional>
#include <string>

namespace markerlamp::app {

namespace {

using core::fail;
using core::Result;
using Json = nlohmann::ordered_json;

constexpr const char* kHelp =
    "Usage: markerlamp track FILE [--json]\n\n"
    "How good the forecasts of a program file were, in two tables: those that were frozen before a full\n"
    "attempt or an official test, with its result; and the past again, each full attempt forecast from what\n"
    "was known before it began. Under 20 results nothing is claimed about how well they fit.\n\n"
    "  --json   both tables with their measures as one object (markerlamp.track/1)\n"
    "  --help   this text\n\n"
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 the machine failed.\n\n"
    "Only who was thought ready is sent to the official test, so its results are those of the better ones.\n";

const char* wordOf(core::FrozenForecast::About about) {
    return about == core::FrozenForecast::About::OfficialTest ? "official test" : "full attempt";
}

Json orNull(const std::optional<double>& value) {
    return value ? Json(*value) : Json(nullptr);
}

Json toJson(const core::TrackRow& row) {
    return {{"about", wordOf(row.about)},
            {"trainee", row.trainee},
            {"at", row.at},
            {"of", row.of},
            {"result_at", row.resultAt},
            {"chance", row.chance},
            {"low", row.low},
            {"high", row.high},
            {"too_little", row.tooLittle},
            {"passed", row.passed},
            {"model_version", row.modelVersion}};
}

Json toJson(const core::ForecastGroup& group) {
    return {{"from", group.from},
            {"to", group.to},
            {"results", group.results},
            {"passed", group.happened},
            {"mean_chance", group.meanForecast},
            {"low", group.share ? Json(group.share->low) : Json(nullptr)},
            {"high", group.share ? Json(group.share->high) : Json(nullptr)}};
}

Json toJson(const core::TrackRecord& record) {
    const core::ForecastQuality& quality = record.quality;
    Json rows = Json::array(), groups = Json::array();
    for (const core::TrackRow& row : record.rows) rows.push_back(toJson(row));
    for (const core::ForecastGroup& group : quality.groups) groups.push_back(toJson(group));
    return {{"results", quality.results},
            {"passed", quality.happened},
            {"too_few", record.tooFew()},
            {"brier", orNull(quality.brier)},
            {"base_brier", orNull(quality.baseBrier)},
            {"skill", orNull(quality.skill)},
            {"log_loss", orNull(quality.logLoss)},
            {"clipped", quality.clipped},
            {"miscalibration", orNull(quality.miscalibration)},
            {"discrimination", orNull(quality.discrimination)},
            {"groups", std::move(groups)},
            {"rows", std::move(rows)}};
}

std::string textOf(const core::TrackRow& row) {
    core::Forecast forecast;
    forecast.chance = row.chance;
    forecast.low = row.low;
    forecast.high = row.high;
    forecast.tooLittle = row.tooLittle;
    return "  " + row.resultAt + "  " + row.trainee + ", " + wordOf(row.about) + ": " +
           core::chanceInWords(forecast) + (row.passed ? " Passed.\n" : " Did not pass.\n");
}

std::string textOf(const core::ForecastGroup& group) {
    if (group.results == 0) return {};
    return "  said " + tenths(group.meanForecast) + ": " + std::to_string(group.happened) + " of " +
           std::to_string(group.results) + " passed\n";
}

std::string textOf(const char* title, const core::TrackRecord& record) {
    const core::ForecastQuality& quality = record.quality;
    std::string text = std::string(title) + ": " + std::to_string(quality.happened) + " of " +
                       std::to_string(quality.results) + " passed\n";
    for (const core::TrackRow& row : record.rows) text += textOf(row);
    if (record.tooFew())
        return text +
               "  Too few results to say how well the forecasts fit: " + std::to_string(quality.results) +
               ", and " + std::to_string(core::kFewestForCalibration) + " are needed.\n";
    for (const core::ForecastGroup& group : quality.groups) text += textOf(group);
    if (quality.skill)
        text += *quality.skill > 0
                    ? "  The forecasts missed by less than always saying the share that passed.\n"
                    : "  The forecasts missed by as much as always saying the share that passed, or more: do "
                      "not lean on them.\n";
    return text;
}

Result<std::string> answer(const std::string& file, const SignIn& signIn, bool json) {
    ProgressLine progress("track");
    const auto program = readReadiness(file, signIn, progress, core::Deed::SeeProgram);
    if (!program) return fail(program.error());
    const core::TrackRecord frozen = (*program)->frozen();
    progress.phase("replaying the past");
    const core::TrackRecord replayed = (*program)->replayed(progress.taker());
    if (!json) return textOf("Frozen forecasts", frozen) + textOf("The past replayed", replayed);
    const Json document{
        {"format", "markerlamp.track/1"}, {"frozen", toJson(frozen)}, {"replayed", toJson(replayed)}};
    return document.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace

int trackCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, withSignIn({}));
    if (!arguments.problem().empty()) return wrongUsage("track", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    if (arguments.rest().size() != 1) return wrongUsage("track", "name one program file", kHelp);
    const auto output = answer(arguments.rest().front(), signInOf(arguments), arguments.has("--json"));
    if (!output) return reportError(output.error());
    std::fwrite(output->data(), 1, output->size(), stdout);
    return kDone;
}

}  // namespace markerlamp::app
