#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Single changes to a rubric that is being written. Each is a plain function on the value; what they leave
// behind may be unfinished (a step with nothing to show yet) and is judged by checkDraft(). Ids are made from
// titles once and then stay: attempts name them. An id that an edition ever had is never given to another
// thing.

#include "core/base/result.h"
#include "core/rubric/order_graph.h"
#include "core/rubric/rubric.h"

#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// Ids that are taken: those of the draft, and those of all editions before it.
class UsedIds {
public:
    void note(const Rubric& rubric);

    std::set<std::string> zones, steps, limits, rules, sections, tags;
    std::map<std::string, std::set<std::string>> points;  ///< by step
};

/// Kebab-case from a title, unlike all of `taken`; `otherwise` where the title has no letter of a to z.
[[nodiscard]] std::string freshId(std::string_view title, const std::set<std::string>& taken,
                                  std::string_view otherwise);

/// Where a step stands; zone and step are indexes.
struct StepPlace {
    std::size_t zone = 0;
    std::size_t step = 0;
    bool operator==(const StepPlace&) const = default;
};
[[nodiscard]] std::optional<StepPlace> placeOf(const Rubric& rubric, std::string_view step);
[[nodiscard]] Step* findStep(Rubric& rubric, std::string_view step);

// Adding: `at` is the index that the new thing gets (the end where it is larger). Returns its id.
std::string addZone(Rubric& rubric, const UsedIds& used, const std::string& title, std::size_t at);
std::string addStep(Rubric& rubric, const UsedIds& used, const std::string& zone, const std::string& title,
                    std::size_t at);
/// A step that asked for all its points goes on to ask for all.
std::string addPoint(Rubric& rubric, const UsedIds& used, const std::string& step, const std::string& text,
                     std::size_t at);
std::string addRule(Rubric& rubric, const UsedIds& used, const std::vector<std::string>& first,
                    const std::vector<std::string>& then);

// Moving by so many places; false where there is no place to go. A step goes over the ends of its zone into
// the zone before or after.
bool moveZone(Rubric& rubric, std::string_view zone, int by);
bool moveStep(Rubric& rubric, std::string_view step, int by);
bool movePoint(Rubric& rubric, std::string_view step, std::string_view point, int by);
/// To an index of a zone, counted without the step itself.
bool moveStepTo(Rubric& rubric, std::string_view step, std::string_view zone, std::size_t at);

/// What retiring took along, by id.
struct Retired {
    std::vector<std::string> steps;
    std::vector<std::string> rulesChanged;  ///< do not name it any more
    std::vector<std::string> rulesDropped;  ///< had nothing left to say
    std::vector<std::string> sectionsChanged;
    std::vector<std::string> sectionsDropped;

    bool operator==(const Retired&) const = default;
};
Retired retireStep(Rubric& rubric, const std::string& step);
Retired retireZone(Rubric& rubric, const std::string& zone);
bool retirePoint(Rubric& rubric, std::string_view step, std::string_view point);

/// Steps that use the limit in a reading or a point, in rubric order.
[[nodiscard]] std::vector<std::string> usersOfLimit(const Rubric& rubric, std::string_view limit);
/// Steps that ask for the tag, or for its absence.
[[nodiscard]] std::vector<std::string> usersOfTag(const Rubric& rubric, std::string_view tag);

/// The draft judged: what the reader of documents would say, in document order, and the way round where the
/// order rules go in a circle (also while other things are wrong).
struct DraftCheck {
    std::vector<Problem> problems;
    OrderCircle circle;
    std::vector<Problem> remarks;  ///< accepted, but see rubricWarnings()
};
[[nodiscard]] DraftCheck checkDraft(const Rubric& draft);

/// The part of a rubric that the path of a problem names ("zones[2].steps[4].say[0].id"); ids, empty where
/// the path does not go that far.
struct DraftPlace {
    std::string zone, step, point, limit, rule, section;
    bool operator==(const DraftPlace&) const = default;
};
[[nodiscard]] DraftPlace placeOfProblem(const Rubric& draft, const Problem& problem);

}  // namespace markerlamp::core
