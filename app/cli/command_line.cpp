// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/command_line.h"

#include <QCoreApplication>

#include <cstdio>
#include <filesystem>
#include <functional>
#include <map>

#include <fcntl.h>
#include <unistd.h>

namespace markerlamp::app {

namespace {

struct Command {
    const char* summary;
    std::function<int(const Words&)> run;
};

const std::map<std::string, Command>& commands() {
    static const std::map<std::string, Command> table{
        {"check", {"is this rubric sound? lists every problem", checkCommand}},
        {"score", {"scorecards of attempt documents", scoreCommand}},
        {"new", {"make a program file", newCommand}},
        {"import", {"take documents and tables into a program file", importCommand}},
        {"export", {"write a program file as documents, spreadsheet, tables or study", exportCommand}},
        {"sheet", {"printed documents as PDF", sheetCommand}},
        {"agree", {"do instructors score alike?", agreeCommand}},
        {"forecast", {"who would pass, how surely, and what stands against it", forecastCommand}},
        {"drill", {"what to practice in the minutes that are left", drillCommand}},
        {"record", {"a trainee's training record, and what is still missing in it", recordCommand}},
        {"erase", {"who may be erased when; take a person out of a file for good", eraseCommand}},
        {"backup", {"make a copy of a program file and look it through", backupCommand}},
        {"restore", {"a copy in the place of a program file; what is left of a damaged one", restoreCommand}},
        {"verify", {"is a program file, or a copy of one, whole?", verifyCommand}},
        {"trail", {"who changed what in a program file, and when", trailCommand}},
        {"track", {"forecasts against what came of them", trackCommand}},
    };
    return table;
}

void printOverview() {
    std::printf(
        "Usage: markerlamp [PROGRAM-FILE]\n"
        "       markerlamp COMMAND [ARGUMENTS]\n\n"
        "Without a command the workstation opens. COMMAND --help tells more.\n\n"
        "Commands:\n");
    for (const auto& [name, command] : commands()) std::printf("  %-9s %s\n", name.c_str(), command.summary);
    std::printf(
        "\n  --help     this text\n"
        "  --version  the version\n\n"
        "Exit codes: 0 done, 1 the input was refused, 2 wrong usage, 3 the machine failed.\n\n"
        "Training support only: the official test, the state's manual, the vehicle maker's limits and the\n"
        "program's safety rules decide.\n");
}

/// A file that is opened while a standard one is closed would take its number, and what is printed would go
/// into it. What takes the number here can be read only, so that printing fails.
void keepStandardNumbers() {
    for (int fd = 0; fd >= 0 && fd <= STDERR_FILENO;) {
        fd = ::open("/dev/null", O_RDONLY);
        if (fd > STDERR_FILENO) ::close(fd);
    }
}

/// What is printed waits in memory and may never arrive, so success is known only here.
int checkedOutput(int code) {
    if (std::fflush(stdout) == 0 && std::ferror(stdout) == 0) return code;
    return reportError({core::ErrorKind::Machine,
                        "standard output cannot be written to; what the command had to say is lost",
                        {},
                        {}});
}

std::optional<int> run(const Words& arguments) {
    if (arguments.empty()) return std::nullopt;
    const std::string& first = arguments.front();
    if (first == "--help" || first == "-h") {
        printOverview();
        return kDone;
    }
    if (first == "--version" || first == "-v") {
        std::printf("markerlamp %s\n", MARKERLAMP_VERSION);
        return kDone;
    }
    const auto found = commands().find(first);
    if (found == commands().end()) {
        // A bare word that is no file is a command that was misspelt, not a program file to open.
        std::error_code ec;
        if (first.starts_with('-') || first.find_first_of("/.") != std::string::npos ||
            std::filesystem::exists(first, ec))
            return std::nullopt;
        std::fprintf(stderr, "markerlamp: there is no command \"%s\"; markerlamp --help lists them\n",
                     first.c_str());
        return kWrongUsage;
    }
    QCoreApplication::setApplicationName(QStringLiteral("markerlamp"));
    QCoreApplication::setApplicationVersion(QStringLiteral(MARKERLAMP_VERSION));
    return found->second.run({arguments.begin() + 1, arguments.end()});
}

}  // namespace

std::optional<int> runCommandLine(int argc, char** argv) {
    keepStandardNumbers();
    const std::optional<int> code = run(Words(argv + 1, argv + argc));
    return code ? std::optional(checkedOutput(*code)) : std::nullopt;
}

int reportError(const core::Error& error) {
    if (!error.message.empty()) std::fprintf(stderr, "markerlamp: %s\n", error.message.c_str());
    for (const core::Problem& problem : error.problems)
        std::fprintf(stderr, "%s\n", core::toText(problem).c_str());
    switch (error.kind) {
        case core::ErrorKind::Usage:
            return kWrongUsage;
        case core::ErrorKind::Machine:
        case core::ErrorKind::Busy:
            return kMachineFailed;
        default:
            return kRefused;
    }
}

}  // namespace markerlamp::app
