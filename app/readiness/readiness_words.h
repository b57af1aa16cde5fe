#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Readiness in words, the same on every page and on paper.

#include "core/drill/drill_plan.h"
#include "core/readiness/readiness_word.h"

#include <QString>

namespace markerlamp::app {

/// Short name of a gate: "Medical card".
[[nodiscard]] QString gateName(const core::Gate& gate);
/// "Engine compartment" and "4 of 12": what holds back, and its counts in the last four attempts.
[[nodiscard]] QString holdingCounts(const core::Holding& holding);
/// "about 7 in 10", "nearly all", "hardly any": for sentences of our own.
[[nodiscard]] QString inTenWords(double chance);
/// What a plan brings, by its aim: "Now about 5 in 10 would pass; after this drill about 6 in 10."
[[nodiscard]] QString planWords(const core::DrillPlan& plan);
/// What one part of it brings: "5 more in 100 would pass", "2 more points in 100".
[[nodiscard]] QString gainWords(double gain, double points, core::DrillAim aim);
/// "Set to Ready by K. Sommer, 12 Mar 2026: saw two clean inspections elsewhere. The figures say Close."
[[nodiscard]] QString overrideWords(const core::Override& entry, const QString& by,
                                    core::ReadinessWord computed, const core::ReadinessSettings& settings);
/// Shape, word and sentence for assistive technology and the status bar: "Close. About 7 in 10 ..."
[[nodiscard]] QString readinessSentence(const core::Readiness& readiness,
                                        const core::ReadinessSettings& settings);

}  // namespace markerlamp::app
