#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How far long work is, on standard error: a line that is written over on a terminal; elsewhere nothing for
// two seconds, then a line now and then, so that a log shows that the program lives.

#include <chrono>
#include <functional>
#include <string>

namespace markerlamp::app {

class ProgressLine {
public:
    explicit ProgressLine(std::string command);
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;

    /// What is done from here on, e.g. "reading".
    void phase(std::string what);
    /// Takes the share that is done, in [0, 1]; never asks to stop.
    [[nodiscard]] std::function<bool(double)> taker();

private:
    using Clock = std::chrono::steady_clock;
    void show(double share);

    std::string m_command, m_what;
    bool m_terminal = false;
    bool m_shown = false;
    Clock::time_point m_next;
};

}  // namespace markerlamp::app
