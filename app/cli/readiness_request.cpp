// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/readiness_request.h"

#include "core/base/text.h"
#include "core/readiness/practice_record.h"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cmath>
#include <system_error>

namespace markerlamp::app {

using core::ErrorKind;
using core::fail;
using core::Result;

Result<double> momentOption(const std::string& option, const std::string& text) {
    if (const auto day = core::dayOf(core::isIsoDate(text) ? text + "T00:00:00Z" : text)) return *day;
    return fail(ErrorKind::Refused, option + " is no moment: \"" + text +
                                        "\"; write it like 2026-03-02T06:10:00-05:00, with the offset or Z "
                                        "at its end, or a date like 2026-03-02 (midnight UTC)");
}

Result<double> numberOption(const std::string& option, const std::string& text, double least, double most) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error == std::errc{} && end == text.data() + text.size() && value >= least && value <= most)
        return value;
    return fail(ErrorKind::Refused, option + " is a number from " + core::shortestText(least) + " to " +
                                        core::shortestText(most) + ", not \"" + text + "\"");
}

double dayNow() {
    using Days = std::chrono::duration<double, std::ratio<86400>>;
    return std::chrono::duration_cast<Days>(std::chrono::system_clock::now().time_since_epoch()).count();
}

Result<std::unique_ptr<ProgramReadiness>> readReadiness(const std::string& path, const SignIn& signIn,
                                                        ProgressLine& progress,
                                                        std::optional<core::Deed> deed) {
    progress.phase("reading the program file");
    auto file = openProgram(path, db::OpenMode::ReadOnly, signIn, deed);
    if (!file) return fail(file.error());
    return ProgramReadiness::read(**file, progress.taker());
}

std::string tenths(double chance) {
    const auto ten = std::lround(10 * std::clamp(chance, 0.0, 1.0));
    if (ten == 0) return "hardly any";
    return ten == 10 ? "nearly all" : "about " + std::to_string(ten) + " in 10";
}

}  // namespace markerlamp::app
