// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/readiness_words.h"

#include "app/support/display.h"

#include <QCoreApplication>

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

namespace {

struct ReadinessWords {
    Q_DECLARE_TR_FUNCTIONS(ReadinessWords)
};

}  // namespace

QString gateName(const core::Gate& gate) {
    if (gate.id == "must-pass") return ReadinessWords::tr("Must-pass clean");
    if (gate.id == "full-attempt") return ReadinessWords::tr("Full attempt");
    if (gate.id == "permit-held") return ReadinessWords::tr("Permit held");
    if (gate.id == "permit-runs") return ReadinessWords::tr("Permit runs");
    if (gate.id == "medical") return ReadinessWords::tr("Medical card");
    if (gate.id == "theory") return ReadinessWords::tr("Theory result");
    return qs(gate.id);
}

QString holdingCounts(const core::Holding& holding) {
    if (holding.seen == 0) return ReadinessWords::tr("not seen lately");
    return ReadinessWords::tr("%1 of %2", "right of seen").arg(holding.right).arg(holding.seen);
}

QString inTenWords(double chance) {
    const int ten = static_cast<int>(std::lround(10 * std::clamp(chance, 0.0, 1.0)));
    if (ten == 0) return ReadinessWords::tr("hardly any", "of trainees like this one");
    if (ten == 10) return ReadinessWords::tr("nearly all", "of trainees like this one");
    return ReadinessWords::tr("about %1 in 10").arg(ten);
}

QString planWords(const core::DrillPlan& plan) {
    if (plan.parts.empty()) return ReadinessWords::tr("Nothing fits into this time.");
    if (plan.aim == core::DrillAim::ExpectedScore) {
        const QString before = percentText(plan.scoreBefore), after = percentText(plan.scoreAfter);
        if (before == after)
            return ReadinessWords::tr(
                       "Points first: expected score %1, a little more after this drill. Passing is still "
                       "far off.")
                .arg(before);
        return ReadinessWords::tr(
                   "Points first: expected score %1 now, %2 after this drill. Passing is still far off.")
            .arg(before, after);
    }
    const QString before = inTenWords(plan.before), after = inTenWords(plan.after);
    if (plan.aim == core::DrillAim::LowerQuantile)
        return ReadinessWords::tr("Now %1 would pass; this drill makes a bad day better.").arg(before);
    if (before == after)
        return ReadinessWords::tr("Now %1 would pass; after this drill a little more.").arg(before);
    return ReadinessWords::tr("Now %1 would pass; after this drill %2.").arg(before, after);
}

QString gainWords(double gain, double points, core::DrillAim aim) {
    const bool score = aim == core::DrillAim::ExpectedScore;
    const int hundred = static_cast<int>(std::lround(score ? points : 100 * gain));
    if (hundred < 1) return ReadinessWords::tr("a little");
    return score ? ReadinessWords::tr("%n point(s)", "added to the score, of 100", hundred)
                 : ReadinessWords::tr("%n more in 100 pass", "what a drill brings", hundred);
}

QString overrideWords(const core::Override& entry, const QString& by, core::ReadinessWord computed,
                      const core::ReadinessSettings& settings) {
    return ReadinessWords::tr("Set to %1 by %2, %3: %4. The figures say %5.")
        .arg(qs(core::shownWord(entry.word, settings)), by, longDate(startedAt(entry.at).date()),
             qs(entry.reason), qs(core::shownWord(computed, settings)));
}

QString readinessSentence(const core::Readiness& readiness, const core::ReadinessSettings& settings) {
    return ReadinessWords::tr("%1. %2", "word, sentence")
        .arg(qs(core::shownWord(readiness.word, settings)), qs(core::chanceInWords(readiness.forecast)));
}

}  // namespace markerlamp::app
