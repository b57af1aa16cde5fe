// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/verdict.h"

#include <QCoreApplication>

#include <cmath>

namespace markerlamp::app {

Verdict verdictOf(double value, const core::Limit& limit, double tolerance) {
    constexpr double kRounding = 1e-9;
    const auto close = [&](const std::optional<double>& bound) {
        return tolerance > 0 && bound && std::abs(value - *bound) <= tolerance + kRounding;
    };
    if (close(limit.low) || close(limit.high)) return Verdict::TooClose;
    if (limit.high && (limit.exclusive ? value >= *limit.high : value > *limit.high)) return Verdict::Over;
    if (limit.low && (limit.exclusive ? value <= *limit.low : value < *limit.low)) return Verdict::Under;
    return Verdict::Within;
}

QString verdictWord(Verdict verdict) {
    switch (verdict) {
        case Verdict::Within:
            return QCoreApplication::translate("Verdict", "within");
        case Verdict::TooClose:
            return QCoreApplication::translate("Verdict", "too close to call");
        case Verdict::Over:
            return QCoreApplication::translate("Verdict", "over");
        case Verdict::Under:
            return QCoreApplication::translate("Verdict", "under");
    }
    return {};
}

}  // namespace markerlamp::app
