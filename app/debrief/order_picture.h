#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Where each step was done and where it belongs: what the order block draws and says. Pure functions.

#include "core/history/history.h"

#include <QString>

#include <vector>

namespace markerlamp::app {

struct OrderTick {
    QString step;
    QString title;
    QString zone;
    int done = 0;     ///< place in the sequence as done, 0..
    int belongs = 0;  ///< place in the sequence with the displaced steps put right
    bool displaced = false;
};

/// Neighbours that moved together, or a single step.
struct OrderGroup {
    std::vector<int> ticks;  ///< indexes into ticks
    QString label;           ///< short, for the picture: "Hood shut: too late"
    QString sentence;        ///< what belongs where, and why
    bool late = true;
};

struct OrderPicture {
    std::vector<OrderTick> ticks;  ///< as done
    std::vector<OrderGroup> groups;
    std::vector<int> zoneBounds;  ///< places in the right order where another zone begins
    int displaced = 0;
};

[[nodiscard]] OrderPicture orderPicture(const core::ScoredAttempt& scored);

}  // namespace markerlamp::app
