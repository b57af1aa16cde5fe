#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What is different in another edition of a rubric: added, retired, moved, changed, thing by thing. Moved
// means out of the longest run that kept its order, so that one step that was carried to the front is one
// change.

#include "core/rubric/rubric.h"

#include <string>
#include <vector>

namespace markerlamp::core {

struct EditionChange {
    enum class What { Rubric, Equipment, Pass, Limit, Zone, Step, Point, Rule, Section };
    enum class Act { Added, Retired, Moved, Changed };
    /// Of Changed: the key of the document format ("title", "say_needed", "high", ...); of a step that went
    /// to another zone: "zone".
    What what = What::Rubric;
    Act act = Act::Changed;
    std::string id;     ///< of the thing; the tag of equipment
    std::string step;   ///< of a point
    std::string title;  ///< as it is called now (or was, when retired)
    std::string field;
    std::string before;  ///< in the words of the document; empty: not given
    std::string after;

    bool operator==(const EditionChange&) const = default;
};

/// In the order of the document: whole rubric, equipment, pass rule, limits, zones with steps and points,
/// order rules, sections. Empty when nothing but the edition number differs.
[[nodiscard]] std::vector<EditionChange> editionDifference(const Rubric& before, const Rubric& after);

/// Bounds as the document gives them: "low 20, high 45 psi", "high 2 psi, exclusive".
[[nodiscard]] std::string boundsInWords(const std::optional<double>& low, const std::optional<double>& high,
                                        const std::string& unit, bool exclusive = false);

}  // namespace markerlamp::core
