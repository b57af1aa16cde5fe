// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp check RUBRIC --limits SET`: what the limit set changes, and the new edition as a document.

#include "app/cli/check_limits.h"

#include "app/cli/command_line.h"
#include "core/base/files.h"
#include "core/base/text.h"
#include "core/rubric/new_edition.h"

#include <nlohmann/json.hpp>

#include <cstdio>

namespace markerlamp::app {

namespace {

using Json = nlohmann::ordered_json;

std::string boundsOf(const core::Limit& limit) {
    std::string text;
    if (limit.low) text += (limit.exclusive ? "over " : "from ") + core::shortestText(*limit.low) + " ";
    if (limit.high) text += (limit.exclusive ? "under " : "to ") + core::shortestText(*limit.high) + " ";
    return text + limit.unit;
}

Json jsonOf(const core::Limit& limit) {
    Json one;
    if (limit.low) one["low"] = *limit.low;
    if (limit.high) one["high"] = *limit.high;
    one["unit"] = limit.unit;
    one["exclusive"] = limit.exclusive;
    one["source"] = limit.source;
    return one;
}

template <class T>
core::Result<T> readFrom(const std::string& path,
                         core::Result<T> (*reader)(std::string_view, const std::string&)) {
    const auto text = core::readDocument(path, core::kMaxRubricBytes);
    if (!text) return core::fail(text.error());
    return reader(*text, path);
}

void print(const core::LimitComparison& comparison, const core::Rubric& edition) {
    std::printf("%s, edition %d: %zu limits changed\n", edition.id.c_str(), edition.edition,
                comparison.changes.size());
    for (const core::LimitChange& change : comparison.changes)
        std::printf("  %s: %s (%s) -> %s (%s)\n", change.before.id.c_str(), boundsOf(change.before).c_str(),
                    change.before.source.c_str(), boundsOf(change.after).c_str(),
                    change.after.source.c_str());
    for (const std::string& id : comparison.unknown)
        std::fprintf(stderr, "note: the rubric has no limit %s; it is left out\n", id.c_str());
}

void printJson(const core::LimitComparison& comparison, const core::LimitSet& set,
               const core::Rubric& edition) {
    Json answer{{"ok", true}, {"rubric", edition.id}, {"edition", edition.edition}, {"limits", set.id}};
    answer["changes"] = Json::array();
    for (const core::LimitChange& change : comparison.changes)
        answer["changes"].push_back({{"limit", change.before.id},
                                     {"before", jsonOf(change.before)},
                                     {"after", jsonOf(change.after)}});
    answer["left_out"] = comparison.unknown;
    answer["problems"] = Json::array();
    std::printf("%s\n", answer.dump(-1, ' ', false, Json::error_handler_t::replace).c_str());
}

/// Under a name that nothing has: an edition that is there never changes.
core::Result<void> write(const std::string& out, const core::Rubric& edition) {
    std::error_code ignored;
    if (std::filesystem::exists(std::filesystem::symlink_status(out, ignored)))
        return core::fail(core::ErrorKind::Conflict,
                          out + " is there already and stays as it is; give the new edition another name");
    return core::replaceFile(out, core::writeRubric(edition));
}

}  // namespace

int checkLimits(const LimitsCheck& check) {
    const auto rubric = readFrom<core::Rubric>(check.rubric, core::readRubric);
    if (!rubric) return reportError(rubric.error());
    const auto set = readFrom<core::LimitSet>(check.limits, core::readLimitSet);
    if (!set) return reportError(set.error());
    const auto edition = core::newEdition(*rubric, *set, rubric->edition + 1);
    if (!edition) return reportError(edition.error());
    if (!check.out.empty())
        if (const auto written = write(check.out, *edition); !written) return reportError(written.error());
    const core::LimitComparison comparison = core::compareLimits(*rubric, *set);
    if (check.json)
        printJson(comparison, *set, *edition);
    else
        print(comparison, *edition);
    return kDone;
}

}  // namespace markerlamp::app
