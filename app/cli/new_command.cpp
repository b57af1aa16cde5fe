// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/shell/demo_file.h"
#include "app/shell/new_program.h"
#include "core/base/text.h"
#include "demo/generator/demo_program.h"

#include <cstdio>
#include <filesystem>
#include <optional>
#include <string>

namespace markerlamp::app {

namespace {

// Beyond these a permit could end in a year of five digits, or all of it lie before the rules that it
// follows.
constexpr const char* kFirstDay = "2000-01-01";
constexpr const char* kFarthestDay = "2099-12-31";

constexpr const char* kHelp =
    "Usage: markerlamp new FILE [--demo [--demo-until DATE]]\n\n"
    "Makes a program file with the built-in rubrics and limit sets. Refuses to overwrite.\n\n"
    "  --demo             also an invented district: staff, trainees, buses and ten weeks of practice up to\n"
    "                     the last working day before today\n"
    "  --demo-until DATE  the practice ends on this day, 2000-01-01 to 2099-12-31 (on a weekend: the Friday\n"
    "                     before); the same day gives the same records\n"
    "  --help             this text\n\n"
    "Exit codes: 0 made, 1 refused, 2 wrong usage, 3 the machine failed.\n";

/// The last day that was asked for, else the last working day before today; empty: it is no day that the demo
/// can end on.
std::string lastDay(const std::optional<std::string>& asked) {
    if (!asked) return demoDay(QDate::currentDate());
    if (!core::isIsoDate(*asked) || *asked < kFirstDay || *asked > kFarthestDay) return {};
    return demo::lastWorkingDayUpTo(*asked);
}

}  // namespace

int newCommand(const Words& words) {
    const Arguments arguments(words, {"--demo"}, {"--demo-until"});
    if (!arguments.problem().empty()) return wrongUsage("new", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp);
    if (arguments.rest().size() != 1) return wrongUsage("new", "name one file to make", kHelp);
    const std::filesystem::path path = arguments.rest().front();
    const std::optional<std::string> asked = arguments.value("--demo-until");
    if (!arguments.has("--demo")) {
        if (asked) return wrongUsage("new", "--demo-until only goes with --demo", kHelp);
        if (auto made = makeProgram(path); !made) return reportError(made.error());
        std::printf("%s: made\n", path.c_str());
        return kDone;
    }
    const std::string day = lastDay(asked);
    if (day.empty())
        return wrongUsage("new",
                          "--demo-until \"" + *asked + "\" is not a day from " + kFirstDay + " to " +
                              kFarthestDay + "; write it like 2026-03-13",
                          kHelp);
    if (auto made = makeProgram(path, day); !made) return reportError(made.error());
    std::printf("%s: made with the demo program up to %s; everyone in it is invented\n", path.c_str(),
                day.c_str());
    return kDone;
}

}  // namespace markerlamp::app
