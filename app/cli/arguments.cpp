// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/arguments.h"

#include <algorithm>
#include <cstdio>

namespace markerlamp::app {

Arguments::Arguments(const Words& arguments, const Words& flags, const Words& values) {
    const auto among = [](const Words& words, const std::string& word) {
        return std::ranges::find(words, word) != words.end();
    };
    bool onlyRest = false;
    for (std::size_t i = 0; i < arguments.size() && m_problem.empty(); ++i) {
        const std::string& word = arguments[i];
        const std::size_t equals = word.find('=');
        const std::string name = word.substr(0, equals);
        if (onlyRest || !word.starts_with('-') || word == "-") {
            m_rest.push_back(word);
        } else if (word == "--") {
            onlyRest = true;
        } else if (word == "--help" || word == "-h") {
            m_flags.insert("--help");
        } else if (among(flags, word)) {
            m_flags.insert(word);
        } else if (!among(values, name)) {
            m_problem = "unknown option " + word;
        } else if (m_values.contains(name)) {
            m_problem = name + " stands twice";
        } else if (equals != std::string::npos) {
            m_values[name] = word.substr(equals + 1);
        } else if (i + 1 < arguments.size()) {
            m_values[name] = arguments[++i];
        } else {
            m_problem = name + " needs a value";
        }
    }
}

std::optional<std::string> Arguments::value(const std::string& option) const {
    const auto found = m_values.find(option);
    if (found == m_values.end()) return std::nullopt;
    return found->second;
}

int printHelp(const char* help, const char* more) {
    std::fputs(help, stdout);
    std::fputs(more, stdout);
    return kDone;
}

int wrongUsage(const char* command, const std::string& problem, const char* help) {
    std::fprintf(stderr, "markerlamp %s: %s\n\n%s", command, problem.c_str(), help);
    return kWrongUsage;
}

}  // namespace markerlamp::app
