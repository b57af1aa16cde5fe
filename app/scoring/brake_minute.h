#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The one-minute stopwatch of a leak test: before, a full minute, after, drop. Stops itself at 60 s; an
// earlier stop is kept as a short run and judges nothing. A minute through which the computer slept is
// refused.

#include "app/scoring/verdict.h"

#include <QObject>
#include <QString>

#include <map>
#include <optional>
#include <vector>

namespace markerlamp::app {

class AttemptClock;
class ScoringModel;

class BrakeMinute final : public QObject {
    Q_OBJECT

public:
    inline static constexpr double kMinute = 60;
    inline static constexpr double kSleepSeconds = 0.5;  ///< clocks further apart: the computer slept

    struct Run {
        double seconds = 0;
        std::optional<double> before;
        std::optional<double> after;
        bool slept = false;

        [[nodiscard]] bool full() const { return !slept && seconds >= kMinute; }
        [[nodiscard]] std::optional<double> drop() const;
    };

    BrakeMinute(ScoringModel& model, AttemptClock& clock);

    /// A step whose reading is what is lost in one minute.
    [[nodiscard]] static bool isMinute(const core::Step& step);
    /// First such step of the attempt, -1: none.
    [[nodiscard]] int firstMinuteStep() const;

    /// Starts, or stops the running one. The step is the one the minute belongs to.
    void startOrStop(int step);
    void setBefore(int step, std::optional<double> value);
    /// The reading after the minute: becomes the reading of the step when the run was full.
    void setAfter(int step, std::optional<double> value);
    /// Looks at the clocks; to be called a few times a second.
    void tick();
    /// Keeps a running minute as it stands (pause, end of program).
    void stop();

    [[nodiscard]] bool running() const { return m_running; }
    [[nodiscard]] int step() const { return m_step; }  ///< of the running or last run
    [[nodiscard]] double seconds() const { return m_seconds; }
    [[nodiscard]] std::optional<double> before(int step) const;
    [[nodiscard]] const std::vector<Run>& runs(int step) const;
    [[nodiscard]] bool waitsForAfter(int step) const;
    [[nodiscard]] QString clockText() const;  ///< "0:43"
    /// "run 1, drop 3 psi", "short: 43 s", "the computer slept - repeat the minute"
    [[nodiscard]] QString runText(int step, int run) const;
    [[nodiscard]] std::optional<Verdict> runVerdict(int step, int run) const;

signals:
    void changed();
    /// The minute is full: the reading after it is wanted now.
    void minuteOver(int step);
    void said(QString words);

private:
    void close(double seconds, bool slept);

    ScoringModel& m_model;
    AttemptClock& m_clock;
    bool m_running = false;
    int m_step = -1;
    double m_steady = 0;
    double m_boot = 0;
    double m_seconds = 0;
    std::map<int, std::optional<double>> m_before;
    std::map<int, std::vector<Run>> m_runs;
};

}  // namespace markerlamp::app
