#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Runs the built program with arguments and without a display, and returns what it said.

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdio>
#include <cstdlib>
#include <string>
#include <vector>

namespace markerlamp::cli {

struct ProgramRun {
    int exitCode = -1;  ///< -1 when it was ended by a signal
    std::string standardOutput;
    std::string standardError;
};

inline std::string wholeFile(std::FILE* file) {
    std::string text;
    std::rewind(file);
    char buffer[4096];
    for (std::size_t got = 0; (got = std::fread(buffer, 1, sizeof buffer, file)) > 0;)
        text.append(buffer, got);
    return text;
}

enum class Output { Kept, Lost, Closed };

/// @param kind Lost: standard output is there and cannot be written to, as on a full disk
inline ProgramRun runProgram(const std::vector<std::string>& arguments, Output kind = Output::Kept) {
    // Files instead of pipes: neither side ever waits for the other.
    std::FILE* output = std::tmpfile();
    std::FILE* error = std::tmpfile();
    std::vector<std::string> words{MARKERLAMP_PROGRAM};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<char*> argv;
    for (std::string& word : words) argv.push_back(word.data());
    argv.push_back(nullptr);

    const pid_t child = ::fork();
    if (child == 0) {
        ::dup2(kind == Output::Kept ? ::fileno(output) : ::open("/", O_RDONLY), STDOUT_FILENO);
        if (kind == Output::Closed) ::close(STDOUT_FILENO);
        ::dup2(::fileno(error), STDERR_FILENO);
        ::unsetenv("DISPLAY");
        ::unsetenv("WAYLAND_DISPLAY");
        ::unsetenv("QT_QPA_PLATFORM");
        ::execv(argv[0], argv.data());
        ::_exit(127);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    ProgramRun run;
    run.exitCode = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    run.standardOutput = wholeFile(output);
    run.standardError = wholeFile(error);
    std::fclose(output);
    std::fclose(error);
    return run;
}

}  // namespace markerlamp::cli
