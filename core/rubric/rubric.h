#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The rubric as data: what a trainee must show and say, in zones and steps, with order rules and the pass
// rule. Plain values; a Rubric that came out of readRubric() satisfies every rule of the document format.

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// A number of the trade with its source. At least one bound is set; both ends belong to it unless exclusive.
struct Limit {
    std::string id;
    std::optional<double> low;
    std::optional<double> high;
    std::string unit;
    bool exclusive = false;
    std::string source;

    bool operator==(const Limit&) const = default;
};

/// The number that belongs in a spoken point: either a named limit or its own bounds.
struct PointNumber {
    std::string limit;  ///< id of a limit; empty when the bounds stand here
    std::optional<double> low;
    std::optional<double> high;
    std::string unit;      ///< empty when limit is set
    double tolerance = 0;  ///< >= 0, in the unit

    bool operator==(const PointNumber&) const = default;
};

/// One thing the trainee must say about a step.
struct Point {
    std::string id;  ///< unique within its step
    std::string text;
    std::vector<std::string> like;  ///< other ways to say it
    std::optional<PointNumber> number;

    bool operator==(const Point&) const = default;
};

/// What may be measured at a step.
struct ReadingRule {
    std::string quantity;  ///< e.g. pressure, loss (in one minute), seconds
    std::string limit;     ///< id of a limit; empty when the bounds stand here
    std::optional<double> low;
    std::optional<double> high;
    std::string unit;  ///< empty when limit is set
    bool exclusive = false;
    std::string source;
    bool required = false;
    double tolerance = 0;  ///< how finely the gauge can be read, in the unit; only for the words on screen

    bool operator==(const ReadingRule&) const = default;
};

struct Step {
    std::string id;
    std::string title;
    std::string show;  ///< empty when there is nothing to show
    std::vector<Point> say;
    int sayNeeded = 0;  ///< resolved: equals say.size() where the document gives none
    int weight = 1;
    bool mustPass = false;
    std::vector<std::string> when;  ///< tags; "!tag" means the bus must not have it; empty: always
    std::optional<ReadingRule> reading;
    double minutes = 0.3;
    std::string caution;
    std::string source;

    bool operator==(const Step&) const = default;
};

struct Zone {
    std::string id;
    std::string title;
    std::vector<Step> steps;

    bool operator==(const Zone&) const = default;
};

/// Either a chain or first/then; entries are step ids, or "zone:ID" for all steps of a zone (first/then and
/// chain).
struct OrderRule {
    std::string id;
    std::vector<std::string> chain;
    std::vector<std::string> first;
    std::vector<std::string> then;
    bool strict = false;
    bool mustPass = false;
    std::string why;

    bool operator==(const OrderRule&) const = default;
};

struct Section {
    std::string id;
    std::string title;
    std::vector<std::string> zones;
    double share = 0;  ///< how often a test draws it, 0..1

    bool operator==(const Section&) const = default;
};

struct PassRule {
    double percent = 0;             ///< 0..100 of the weight in scope
    std::optional<double> minutes;  ///< time allowance
    bool minutesFail = false;

    bool operator==(const PassRule&) const = default;
};

struct Rubric {
    std::string id;
    int edition = 1;
    std::string title;
    std::string about;
    std::vector<std::pair<std::string, std::string>> equipment;  ///< tag, title; in document order
    PassRule pass;
    std::vector<Limit> limits;
    std::vector<Zone> zones;
    std::vector<OrderRule> order;
    std::vector<Section> sections;

    bool operator==(const Rubric&) const = default;

    [[nodiscard]] const Limit* limit(std::string_view limitId) const;
    [[nodiscard]] const Zone* zone(std::string_view zoneId) const;
    [[nodiscard]] const Step* step(std::string_view stepId) const;
    /// Zone that holds the step; nullptr when there is no such step.
    [[nodiscard]] const Zone* zoneOfStep(std::string_view stepId) const;
    [[nodiscard]] const Section* section(std::string_view sectionId) const;
};

/// Whether `when` of a step holds for a bus with these tags.
[[nodiscard]] bool appliesTo(const Step& step, const std::vector<std::string>& equipment);

}  // namespace markerlamp::core
