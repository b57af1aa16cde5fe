#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Tells a second press that was not meant (a worn key, a trembling finger) from one that was.

#include <QtGlobal>

#include <map>

namespace markerlamp::app {

class RepeatFilter {
public:
    explicit RepeatFilter(double seconds) : m_seconds(seconds) {}

    /// Whether the same key or target was pressed less than the given seconds before. stamp: milliseconds at
    /// which the window system saw the press, 0 where it did not say; now: any steady clock, in seconds. A
    /// busy machine handles waiting presses one right after the other, so those that were made further apart
    /// are never taken for one.
    bool isRepeat(quint64 id, quint64 stamp, double now) {
        const auto [last, first] = m_last.try_emplace(id, Last{stamp, now});
        const Last before = last->second;
        last->second = {stamp, now};
        if (first || now - before.now >= m_seconds) return false;
        return stamp == 0 || before.stamp == 0 ||
               static_cast<double>(stamp - before.stamp) < m_seconds * 1000;
    }

private:
    struct Last {
        quint64 stamp = 0;
        double now = 0;
    };
    double m_seconds;
    std::map<quint64, Last> m_last;
};

}  // namespace markerlamp::app
