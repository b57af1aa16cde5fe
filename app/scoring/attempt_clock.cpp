// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/attempt_clock.h"

#include <ctime>

namespace markerlamp::app {

namespace {

double seconds(clockid_t id) {
    timespec now{};
    clock_gettime(id, &now);
    return static_cast<double>(now.tv_sec) + static_cast<double>(now.tv_nsec) * 1e-9;
}

class SystemClock final : public AttemptClock {
public:
    [[nodiscard]] double steadySeconds() const override { return seconds(CLOCK_MONOTONIC); }
    [[nodiscard]] double bootSeconds() const override { return seconds(CLOCK_BOOTTIME); }
    [[nodiscard]] QDateTime wallTime() const override { return QDateTime::currentDateTime(); }
};

}  // namespace

AttemptClock& AttemptClock::system() {
    static SystemClock clock;  // holds no state
    return clock;
}

}  // namespace markerlamp::app
