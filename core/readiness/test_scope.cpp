// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which ways a test can go.

#include "core/readiness/forecast.h"

#include <algorithm>

namespace markerlamp::core {

namespace {

TestPart wholePart(const Rubric& rubric) {
    TestPart part;
    part.title = rubric.title;
    for (const Zone& zone : rubric.zones) part.zones.push_back(zone.id);
    return part;
}

Error noSuchSection(const Rubric& rubric, const std::string& id) {
    std::string known;
    for (const Section& section : rubric.sections) known += (known.empty() ? "" : ", ") + section.id;
    Problem problem;
    problem.path = "section";
    problem.id = id;
    problem.message = "the rubric " + rubric.id + " has no section '" + id + "'";
    problem.remedy = known.empty() ? "it has no sections: leave the section out" : "one of: " + known;
    return Error{
        ErrorKind::Refused, "There is no section '" + id + "' in the rubric " + rubric.id, {}, {problem}};
}

}  // namespace

TestScope wholeScope(std::shared_ptr<const Rubric> rubric, std::vector<std::string> equipment) {
    TestScope scope{std::move(rubric), std::move(equipment), {}};
    scope.parts.push_back(wholePart(*scope.rubric));
    return scope;
}

Result<TestScope> testScope(std::shared_ptr<const Rubric> rubric, std::vector<std::string> equipment,
                            const std::optional<std::string>& section) {
    const Rubric& document = *rubric;
    if (section) {
        const Section* one = document.section(*section);
        if (!one) return fail(noSuchSection(document, *section));
        return TestScope{std::move(rubric), std::move(equipment), {{one->id, one->title, 1, one->zones}}};
    }
    double shares = 0;
    for (const Section& one : document.sections) shares += std::max(0.0, one.share);
    if (shares <= 0) return wholeScope(std::move(rubric), std::move(equipment));
    TestScope scope{std::move(rubric), std::move(equipment), {}};
    for (const Section& one : document.sections)
        if (one.share > 0) scope.parts.push_back({one.id, one.title, one.share / shares, one.zones});
    return scope;
}

}  // namespace markerlamp::core
