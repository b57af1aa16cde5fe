// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/command_line.h"

#include <QCoreApplication>
#include <QFileInfo>
#include <QString>
#include <QStringList>

#include <cstdio>
#include <functional>
#include <map>

namespace markerlamp::app {

namespace {

struct Command {
    const char* summary;
    std::function<int(const QStringList&)> run;
};

const std::map<QString, Command>& commands() {
    static const std::map<QString, Command> table{
        {QStringLiteral("check"), {"is this rubric sound? lists every problem", checkCommand}},
        {QStringLiteral("score"), {"scorecards of attempt documents", scoreCommand}},
        {QStringLiteral("new"), {"make a program file", newCommand}},
        {QStringLiteral("import"), {"take documents and tables into a program file", importCommand}},
        {QStringLiteral("export"), {"write a program file as documents and tables", exportCommand}},
        {QStringLiteral("sheet"), {"printed documents as PDF", sheetCommand}},
    };
    return table;
}

void printHelp() {
    std::printf(
        "Usage: markerlamp [PROGRAM-FILE]\n"
        "       markerlamp COMMAND [ARGUMENTS]\n\n"
        "Without a command the workstation opens. COMMAND --help tells more.\n\n"
        "Commands:\n");
    for (const auto& [name, command] : commands())
        std::printf("  %-9s %s\n", qPrintable(name), command.summary);
    std::printf(
        "\n  --help     this text\n"
        "  --version  the version\n\n"
        "Exit codes: 0 done, 1 the input was refused, 2 wrong usage, 3 the machine failed.\n\n"
        "Training support only: the official test, the state's manual, the vehicle maker's limits and the\n"
        "program's safety rules decide.\n");
}

}  // namespace

std::optional<int> runCommandLine(int argc, char** argv) {
    QStringList arguments;
    for (int i = 1; i < argc; ++i) arguments << QString::fromLocal8Bit(argv[i]);
    if (arguments.isEmpty()) return std::nullopt;
    const QString first = arguments.first();
    if (first == QLatin1String("--help") || first == QLatin1String("-h")) {
        printHelp();
        return kDone;
    }
    if (first == QLatin1String("--version") || first == QLatin1String("-v")) {
        std::printf("markerlamp %s\n", MARKERLAMP_VERSION);
        return kDone;
    }
    const auto found = commands().find(first);
    if (found == commands().end()) {
        // A bare word that is no file is a command that was misspelt, not a program file to open.
        if (first.startsWith(QLatin1Char('-')) || first.contains(QLatin1Char('/')) ||
            first.contains(QLatin1Char('.')) || QFileInfo::exists(first))
            return std::nullopt;
        std::fprintf(stderr, "markerlamp: there is no command \"%s\"; markerlamp --help lists them\n",
                     qPrintable(first));
        return kWrongUsage;
    }
    QCoreApplication::setApplicationName(QStringLiteral("markerlamp"));
    QCoreApplication::setApplicationVersion(QStringLiteral(MARKERLAMP_VERSION));
    arguments.removeFirst();
    return found->second.run(arguments);
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
