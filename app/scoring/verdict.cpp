// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/verdict.h"

#include <QCoreApplication>

#include <cmath>

namespace markerlamp::app {

namespace {

class VerdictWords {
    Q_DECLARE_TR_FUNCTIONS(VerdictWords)
};

}  // namespace

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
            return VerdictWords::tr("within");
        case Verdict::TooClose:
            return VerdictWords::tr("too close to call");
        case Verdict::Over:
            return VerdictWords::tr("over");
        case Verdict::Under:
            return VerdictWords::tr("under");
    }
    return {};
}

}  // namespace markerlamp::app
