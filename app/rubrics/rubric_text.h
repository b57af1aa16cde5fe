#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A rubric in words: the detail of a step, the order rules, sections, limit sets and warnings, as rich text
// for the viewer. Pure functions.

#include "core/rubric/rubric_reader.h"

#include <QString>

#include <vector>

namespace markerlamp::app {

/// What the rich text needs of the look.
struct RubricTextStyle {
    int body = 15;   ///< px
    int small = 13;  ///< px
    QString ink = QStringLiteral("#101418");
    QString muted = QStringLiteral("#4A5560");
    QString line = QStringLiteral("#C9D1D8");
};

[[nodiscard]] QString stepHtml(const core::Rubric& rubric, const core::Step& step,
                               const RubricTextStyle& style);
[[nodiscard]] QString zoneHtml(const core::Rubric& rubric, const core::Zone& zone,
                               const RubricTextStyle& style);
/// About, pass rule, equipment.
[[nodiscard]] QString aboutHtml(const core::Rubric& rubric, const RubricTextStyle& style);
/// Order rules with reasons, sections, the file's limit sets that fit, warnings.
[[nodiscard]] QString rulesHtml(const core::Rubric& rubric, const std::vector<core::LimitSet>& limitSets,
                                const RubricTextStyle& style);
/// "must be air-brakes, not def-tank" in the words of the equipment list; empty: always.
[[nodiscard]] QString whenWords(const core::Rubric& rubric, const core::Step& step);
/// "loss: at most 3 psi, limit applied-leak, must be taken".
[[nodiscard]] QString readingWords(const core::Rubric& rubric, const core::ReadingRule& reading);
/// "say 3 psi at most (applied-leak)".
[[nodiscard]] QString numberWords(const core::Rubric& rubric, const core::PointNumber& number);

}  // namespace markerlamp::app
