#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The clocks of an attempt, so that tests can turn them. The steady one stands still while the computer
// sleeps, the boot one does not; where they part, a timed minute is worth nothing.

#include <QDateTime>

namespace markerlamp::app {

class AttemptClock {
public:
    virtual ~AttemptClock() = default;

    [[nodiscard]] virtual double steadySeconds() const = 0;  ///< monotonic, any zero
    [[nodiscard]] virtual double bootSeconds() const = 0;    ///< monotonic, goes on during sleep
    [[nodiscard]] virtual QDateTime wallTime() const = 0;    ///< local time of day

    /// The machine's.
    static AttemptClock& system();
};

}  // namespace markerlamp::app
