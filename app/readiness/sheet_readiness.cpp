// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/sheet_readiness.h"

#include "app/support/display.h"
#include "app/support/names.h"
#include "core/base/text.h"

#include <charconv>
#include <system_error>

namespace markerlamp::app {

core::Result<double> drillMinutes(const std::string& text) {
    double minutes = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), minutes);
    if (error == std::errc() && end == text.data() + text.size() && minutes >= kLeastDrillMinutes &&
        minutes <= kMostDrillMinutes)
        return minutes;
    return core::fail(core::ErrorKind::Usage, "--drill is the minutes that are left, a number from " +
                                                  core::shortestText(kLeastDrillMinutes) + " to " +
                                                  core::shortestText(kMostDrillMinutes) + ", not \"" + text +
                                                  "\"");
}

core::Result<SheetExtras> sheetExtras(db::ProgramFile& file, const std::string& trainee, bool readiness,
                                      std::optional<double> minutes, double now) {
    if (!readiness && !minutes) return SheetExtras{};
    auto program = ProgramReadiness::read(file);
    if (!program) return core::fail(program.error());
    return sheetExtras(**program, file, trainee, readiness, minutes, now);
}

core::Result<SheetExtras> sheetExtras(ProgramReadiness& program, db::ProgramFile& file,
                                      const std::string& trainee, bool readiness,
                                      std::optional<double> minutes, double now) {
    SheetExtras extras;
    ReadinessQuestion question;
    question.now = now;
    if (readiness) {
        auto answer = program.readiness(trainee, question);
        if (!answer) return core::fail(answer.error());
        extras.readiness = forms::SheetReadiness{std::move(*answer), program.settings(), {}};
        if (const auto& own = extras.readiness->readiness.override_)
            extras.readiness->overrideBy = instructorName(file, own->by);
    }
    if (minutes) {
        const auto planner = program.planner(trainee, question);
        if (!planner) return core::fail(planner.error());
        extras.drill = forms::SheetDrill{*minutes, core::linesOf(planner->plan(*minutes), *planner)};
    }
    return extras;
}

}  // namespace markerlamp::app
