// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/arguments.h"

#include "app/cli/command_line.h"

#include <cstdio>

namespace markerlamp::app {

Arguments::Arguments(const QStringList& arguments, const QStringList& flags, const QStringList& values) {
    bool onlyRest = false;
    for (int i = 0; i < arguments.size() && m_problem.isEmpty(); ++i) {
        const QString& word = arguments[i];
        const QString name = word.section(QLatin1Char('='), 0, 0);
        if (onlyRest || !word.startsWith(QLatin1Char('-')) || word == QLatin1String("-")) {
            m_rest << word;
        } else if (word == QLatin1String("--")) {
            onlyRest = true;
        } else if (word == QLatin1String("--help") || word == QLatin1String("-h")) {
            m_flags << QStringLiteral("--help");
        } else if (flags.contains(word)) {
            m_flags << word;
        } else if (!values.contains(name)) {
            m_problem = QStringLiteral("unknown option %1").arg(word);
        } else if (m_values.contains(name)) {
            m_problem = QStringLiteral("%1 stands twice").arg(name);
        } else if (word.contains(QLatin1Char('='))) {
            m_values[name] = word.section(QLatin1Char('='), 1);
        } else if (i + 1 < arguments.size()) {
            m_values[name] = arguments[++i];
        } else {
            m_problem = QStringLiteral("%1 needs a value").arg(name);
        }
    }
}

std::optional<QString> Arguments::value(const QString& option) const {
    const auto found = m_values.find(option);
    if (found == m_values.end()) return std::nullopt;
    return *found;
}

int printHelp(const char* help) {
    std::fputs(help, stdout);
    return kDone;
}

int wrongUsage(const QString& command, const QString& problem, const char* help) {
    std::fprintf(stderr, "markerlamp %s: %s\n\n%s", qPrintable(command), qPrintable(problem), help);
    return kWrongUsage;
}

}  // namespace markerlamp::app
