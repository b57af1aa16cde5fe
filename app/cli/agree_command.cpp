// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp agree`: do instructors score alike? Of a program's shared attempts, or of any table of ratings.

#include "app/agreement/program_agreement.h"
#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "core/agreement/shared_attempts.h"
#include "core/base/files.h"
#include "db/program_file.h"

#include <nlohmann/json.hpp>

#include <charconv>
#include <cstdio>
#include <optional>
#include <string>

namespace markerlamp::app {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kMaxTableBytes = 64u << 20;

constexpr const char* kHelp =
    "Usage: markerlamp agree PROGRAM-FILE [--json]\n"
    "       markerlamp agree --table CSV --classes N [--json]\n\n"
    "Do instructors score alike? Of a program file: every attempt that has a second scoring, step by step:\n"
    "shown, said and credited, with counts first, then the share marked alike and its 95 % interval, then\n"
    "coefficients. Or of any table: a header line, then one row a unit and one column a rater, classes 0 to\n"
    "N-1, an empty cell for a unit that was not rated.\n\n"
    "  --table CSV   a table of ratings (a first column \"unit\" holds names)\n"
    "  --classes N   how many classes were offered, used or not\n"
    "  --json        one JSON object; what is undefined is null. Of a table: percent (0 to 100),\n"
    "                alpha_nominal, alpha_ordinal, ac1, fleiss, and for two raters kappa, kappa_linear and\n"
    "                kappa_quadratic, each with its standard error (kappa_ase ...)\n"
    "  --help        this text\n\n"
    "No coefficient ranks instructors: it tells which wording of a rubric is read differently.\n\n"
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 the machine failed.\n";

Json number(const std::optional<double>& value) {
    return value ? Json(*value) : Json(nullptr);
}

Json range(const std::optional<core::Interval>& interval) {
    return interval ? Json{interval->low, interval->high} : Json(nullptr);
}

void addKappa(Json& answer, const std::string& name, const std::optional<core::Kappa>& kappa) {
    answer[name] = kappa ? Json(kappa->value) : Json(nullptr);
    answer[name + "_ase"] = kappa ? number(kappa->error) : Json(nullptr);
}

Json coefficients(const core::RatingTable& table) {
    const auto share = core::shareAgreed(table);
    Json answer;
    answer["percent"] = share ? Json(100 * *share) : Json(nullptr);
    answer["alpha_nominal"] = number(core::krippendorffAlpha(table, core::AlphaScale::Nominal));
    answer["alpha_ordinal"] = number(core::krippendorffAlpha(table, core::AlphaScale::Ordinal));
    answer["ac1"] = number(core::gwetAc1(table));
    answer["fleiss"] = number(core::fleissKappa(table));
    if (table.raters == 2) {
        addKappa(answer, "kappa", core::cohenKappa(table, core::KappaWeights::Plain));
        addKappa(answer, "kappa_linear", core::cohenKappa(table, core::KappaWeights::Linear));
        addKappa(answer, "kappa_quadratic", core::cohenKappa(table, core::KappaWeights::Quadratic));
    }
    return answer;
}

void printLine(const Json& answer) {
    std::printf("%s\n", answer.dump(-1, ' ', false, Json::error_handler_t::replace).c_str());
}

int tableAgreement(const std::string& path, const std::string& classes, bool json) {
    int count = 0;
    const auto [end, error] = std::from_chars(classes.data(), classes.data() + classes.size(), count);
    if (error != std::errc{} || end != classes.data() + classes.size())
        return wrongUsage("agree", "--classes takes a whole number, not \"" + classes + "\"", kHelp);
    const auto text = core::readDocument(path, kMaxTableBytes);
    if (!text) return reportError(text.error());
    const auto table = core::readRatingTable(*text, count, path);
    if (!table) return reportError(table.error());
    const Json answer = coefficients(*table);
    if (json) {
        printLine(answer);
        return kDone;
    }
    std::printf("%zu units, %d raters, %d classes\n", table->units.size(), table->raters, table->classes);
    for (const auto& [key, value] : answer.items())
        std::printf("  %-20s %s\n", key.c_str(), value.is_null() ? "undefined" : value.dump().c_str());
    return kDone;
}

Json toJson(const core::Agreement& agreement) {
    Json answer;
    answer["of"] = core::toWord(agreement.compared);
    answer["attempts"] = agreement.attempts;
    answer["steps"] = agreement.steps;
    answer["counts"] = agreement.counts;
    answer["percent"] = agreement.share ? Json(100 * *agreement.share) : Json(nullptr);
    answer["interval"] = range(agreement.interval);
    answer["resampled"] = agreement.byAttempt ? "attempts" : "steps";
    answer["agreed_yes"] = number(agreement.agreedYes);
    answer["agreed_no"] = number(agreement.agreedNo);
    addKappa(answer, "kappa", agreement.kappa);
    answer["alpha"] = number(agreement.alpha);
    answer["alpha_interval"] = range(agreement.alphaInterval);
    answer["ac1"] = number(agreement.ac1);
    return answer;
}

void printText(const Json& answer) {
    const auto text = [](const Json& value) { return value.is_null() ? "undefined" : value.dump(); };
    for (const Json& of : answer["measures"]) {
        std::printf("%s: %d steps of %d shared attempts\n", of["of"].get<std::string>().c_str(),
                    of["steps"].get<int>(), of["attempts"].get<int>());
        std::printf("  counts     %s (rows: first scoring, columns: second)\n", of["counts"].dump().c_str());
        std::printf("  alike      %s percent, interval %s (%s resampled)\n", text(of["percent"]).c_str(),
                    text(of["interval"]).c_str(), of["resampled"].get<std::string>().c_str());
        std::printf("  alpha %s, kappa %s, AC1 %s%s\n", text(of["alpha"]).c_str(), text(of["kappa"]).c_str(),
                    text(of["ac1"]).c_str(),
                    of["steps"].get<int>() < core::kFewestUnits ? " (too few steps to rely on)" : "");
    }
    for (const Json& step : answer["steps"])
        std::printf("  read differently in %d of %d: %s\n", step["differing"].get<int>(),
                    step["compared"].get<int>(), step["step"].get<std::string>().c_str());
}

int programAgreement(const std::string& path, const SignIn& signIn, bool json) {
    const auto file = openProgram(path, db::OpenMode::ReadOnly, signIn, core::Deed::SeeProgram);
    if (!file) return reportError(file.error());
    auto scored = scoringsToCompare(**file);
    if (!scored) return reportError(scored.error());
    const std::vector<core::SharedAttempt> shared = core::sharedAttempts(std::move(*scored));

    Json answer;
    answer["shared_attempts"] = shared.size();
    answer["measures"] = Json::array();
    for (const auto compared : {core::Compared::Shown, core::Compared::Said, core::Compared::Credited})
        answer["measures"].push_back(toJson(core::agreementOf(shared, compared)));
    answer["pairs"] = Json::array();
    for (const core::PairOfInstructors& pair : core::pairsOfInstructors(shared))
        answer["pairs"].push_back({{"a", pair.a},
                                   {"b", pair.b},
                                   {"attempts", pair.attempts},
                                   {"steps", pair.steps},
                                   {"differing", pair.differing},
                                   {"only_a", pair.onlyA},
                                   {"alike", range(pair.share)},
                                   {"too_few", pair.attempts < core::kFewestShared}});
    answer["steps"] = Json::array();
    for (const core::DisputedStep& step : core::disputedSteps(shared))
        answer["steps"].push_back({{"rubric", step.rubric},
                                   {"step", step.step},
                                   {"zone", step.zone},
                                   {"compared", step.compared},
                                   {"differing", step.differing}});
    if (json)
        printLine(answer);
    else if (shared.empty())
        std::printf("No attempt has a second scoring yet; there is nothing to compare.\n");
    else
        printText(answer);
    return kDone;
}

}  // namespace

int agreeCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, withSignIn({"--table", "--classes"}));
    if (!arguments.problem().empty()) return wrongUsage("agree", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    const auto table = arguments.value("--table");
    const auto classes = arguments.value("--classes");
    if (table.has_value() != classes.has_value())
        return wrongUsage("agree", "--table and --classes go together", kHelp);
    if (table) {
        if (!arguments.rest().empty())
            return wrongUsage("agree", "name a program file or a table, not both", kHelp);
        return tableAgreement(*table, *classes, arguments.has("--json"));
    }
    if (arguments.rest().size() != 1) return wrongUsage("agree", "name one program file", kHelp);
    return programAgreement(arguments.rest().front(), signInOf(arguments), arguments.has("--json"));
}

}  // namespace markerlamp::app
