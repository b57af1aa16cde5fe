#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Lets a Python script of this folder look at a file, so that what is exported is read by somebody else.

#include <nlohmann/json.hpp>

#include <cstdio>
#include <optional>
#include <string>
#include <vector>

#include <sys/wait.h>
#include <unistd.h>

namespace markerlamp::testing {

struct ScriptRun {
    int exitCode = -1;
    std::string output;
};

/// Nothing where there is no Python, or it lacks the module (exit code 77): the test then skips, and says so.
inline std::optional<ScriptRun> runScript(const std::string& script,
                                          const std::vector<std::string>& arguments) {
    const std::string python = MARKERLAMP_PYTHON;
    if (!python.starts_with('/')) return std::nullopt;
    std::FILE* output = std::tmpfile();
    std::vector<std::string> words{python, MARKERLAMP_SOURCE_DIR "/tests/support/" + script};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<char*> argv;
    for (std::string& word : words) argv.push_back(word.data());
    argv.push_back(nullptr);
    const pid_t child = ::fork();
    if (child == 0) {
        ::dup2(::fileno(output), STDOUT_FILENO);
        ::execv(argv[0], argv.data());
        ::_exit(127);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    ScriptRun run;
    run.exitCode = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    std::rewind(output);
    char buffer[65536];
    for (std::size_t got = 0; (got = std::fread(buffer, 1, sizeof buffer, output)) > 0;)
        run.output.append(buffer, got);
    std::fclose(output);
    if (run.exitCode == 77) return std::nullopt;
    return run;
}

inline std::optional<nlohmann::json> readByOther(const std::string& script, const std::string& file) {
    const auto run = runScript(script, {file});
    if (!run) return std::nullopt;
    return nlohmann::json::parse(run->output);
}

}  // namespace markerlamp::testing
