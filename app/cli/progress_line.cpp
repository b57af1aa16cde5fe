// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/progress_line.h"

#include <algorithm>
#include <cstdio>
#include <utility>

#include <unistd.h>

namespace markerlamp::app {

namespace {

using namespace std::chrono_literals;

constexpr auto kTerminalPause = 200ms;
constexpr auto kQuietAtFirst = 2s;
constexpr auto kLogPause = 5s;

}  // namespace

ProgressLine::ProgressLine(std::string command)
    : m_command(std::move(command)),
      m_terminal(::isatty(STDERR_FILENO) != 0),
      m_next(Clock::now() + (m_terminal ? Clock::duration(kTerminalPause) : Clock::duration(kQuietAtFirst))) {
}

ProgressLine::~ProgressLine() {
    if (m_terminal && m_shown) std::fprintf(stderr, "\r\033[K");
}

void ProgressLine::phase(std::string what) {
    m_what = std::move(what);
    show(0);
}

std::function<bool(double)> ProgressLine::taker() {
    return [this](double share) {
        show(share);
        return true;
    };
}

void ProgressLine::show(double share) {
    const auto now = Clock::now();
    if (now < m_next) return;
    m_next = now + (m_terminal ? Clock::duration(kTerminalPause) : Clock::duration(kLogPause));
    m_shown = true;
    const int done = int(100 * std::clamp(share, 0.0, 1.0));
    std::fprintf(
        stderr,
        m_terminal ? "\rmarkerlamp %s: %s, %d of 100 done\033[K" : "markerlamp %s: %s, %d of 100 done\n",
        m_command.c_str(), m_what.c_str(), done);
    std::fflush(stderr);
}

}  // namespace markerlamp::app
