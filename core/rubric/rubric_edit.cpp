// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/rubric_edit.h"

#include "core/rubric/draft_reading.h"
#include "core/rubric/rubric_reader.h"

#include <algorithm>
#include <charconv>

namespace markerlamp::core {

namespace {

constexpr std::size_t kLongestId = 40;

template <class Items>
auto iteratorOf(Items& items, std::string_view id) {
    return std::ranges::find_if(items, [&](const auto& item) { return item.id == id; });
}

template <class Items, class Item>
void insertAt(Items& items, std::size_t at, Item item) {
    at = std::min(at, items.size());
    items.insert(items.begin() + static_cast<std::ptrdiff_t>(at), std::move(item));
}

/// Brings one entry to another place; those between make room.
template <class Items>
bool shift(Items& items, std::size_t from, int by) {
    const auto to = static_cast<std::ptrdiff_t>(from) + by;
    if (to < 0 || to >= std::ssize(items) || by == 0) return false;
    const auto begin = items.begin();
    const auto at = static_cast<std::ptrdiff_t>(from);
    if (by > 0)
        std::rotate(begin + at, begin + at + 1, begin + to + 1);
    else
        std::rotate(begin + to, begin + at, begin + at + 1);
    return true;
}

/// Takes names out of the rules; a rule that is left with nothing to say goes.
void forgetInRules(Rubric& rubric, const std::set<std::string>& names, Retired& retired) {
    std::vector<OrderRule> kept;
    for (OrderRule& rule : rubric.order) {
        const bool chain = !rule.chain.empty();
        std::size_t taken = 0;
        for (auto* list : {&rule.chain, &rule.first, &rule.then})
            taken += std::erase_if(*list, [&](const std::string& name) { return names.contains(name); });
        const bool empty = chain ? rule.chain.size() < 2 : rule.first.empty() || rule.then.empty();
        if (taken == 0)
            kept.push_back(std::move(rule));
        else if (empty)
            retired.rulesDropped.push_back(rule.id);
        else {
            retired.rulesChanged.push_back(rule.id);
            kept.push_back(std::move(rule));
        }
    }
    rubric.order = std::move(kept);
}

void forgetInSections(Rubric& rubric, const std::string& zone, Retired& retired) {
    for (Section& section : rubric.sections) {
        if (std::erase(section.zones, zone) == 0) continue;
        (section.zones.empty() ? retired.sectionsDropped : retired.sectionsChanged).push_back(section.id);
    }
    std::erase_if(rubric.sections, [](const Section& section) { return section.zones.empty(); });
}

}  // namespace

void UsedIds::note(const Rubric& rubric) {
    for (const Zone& zone : rubric.zones) {
        zones.insert(zone.id);
        for (const Step& step : zone.steps) {
            steps.insert(step.id);
            for (const Point& point : step.say) points[step.id].insert(point.id);
        }
    }
    for (const Limit& limit : rubric.limits) limits.insert(limit.id);
    for (const OrderRule& rule : rubric.order) rules.insert(rule.id);
    for (const Section& section : rubric.sections) sections.insert(section.id);
    for (const auto& [tag, title] : rubric.equipment) tags.insert(tag);
}

std::string freshId(std::string_view title, const std::set<std::string>& taken, std::string_view otherwise) {
    std::string id;
    for (const char c : title) {
        const char lower = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
        const bool plain = (lower >= 'a' && lower <= 'z') || (lower >= '0' && lower <= '9');
        if (plain)
            id += lower;
        else if (!id.empty() && id.back() != '-')
            id += '-';
    }
    if (id.size() > kLongestId) {
        id.resize(kLongestId);
        if (const auto word = id.rfind('-'); word != std::string::npos && word > 0) id.resize(word);
    }
    while (!id.empty() && id.back() == '-') id.pop_back();
    if (id.empty()) id = otherwise;
    if (!taken.contains(id)) return id;
    for (int n = 2;; ++n)
        if (std::string next = id + "-" + std::to_string(n); !taken.contains(next)) return next;
}

std::optional<StepPlace> placeOf(const Rubric& rubric, std::string_view step) {
    for (std::size_t z = 0; z < rubric.zones.size(); ++z) {
        const std::vector<Step>& steps = rubric.zones[z].steps;
        if (const auto at = iteratorOf(steps, step); at != steps.end())
            return StepPlace{z, static_cast<std::size_t>(at - steps.begin())};
    }
    return std::nullopt;
}

Step* findStep(Rubric& rubric, std::string_view step) {
    const auto place = placeOf(rubric, step);
    return place ? &rubric.zones[place->zone].steps[place->step] : nullptr;
}

std::string addZone(Rubric& rubric, const UsedIds& used, const std::string& title, std::size_t at) {
    UsedIds all = used;
    all.note(rubric);
    Zone zone;
    zone.id = freshId(title, all.zones, "zone");
    zone.title = title;
    insertAt(rubric.zones, at, zone);
    return zone.id;
}

std::string addStep(Rubric& rubric, const UsedIds& used, const std::string& zone, const std::string& title,
                    std::size_t at) {
    const auto found = iteratorOf(rubric.zones, zone);
    if (found == rubric.zones.end()) return {};
    UsedIds all = used;
    all.note(rubric);
    Step step;
    step.id = freshId(title, all.steps, "step");
    step.title = title;
    insertAt(found->steps, at, step);
    return step.id;
}

std::string addPoint(Rubric& rubric, const UsedIds& used, const std::string& step, const std::string& text,
                     std::size_t at) {
    Step* found = findStep(rubric, step);
    if (found == nullptr) return {};
    UsedIds all = used;
    all.note(rubric);
    const bool askedForAll = found->sayNeeded == static_cast<int>(found->say.size());
    Point point;
    point.id = freshId(text, all.points[step], "point");
    point.text = text;
    insertAt(found->say, at, point);
    if (askedForAll) found->sayNeeded = static_cast<int>(found->say.size());
    return point.id;
}

std::string addRule(Rubric& rubric, const UsedIds& used, const std::vector<std::string>& first,
                    const std::vector<std::string>& then) {
    UsedIds all = used;
    all.note(rubric);
    const auto plain = [](const std::vector<std::string>& names) {
        if (names.empty()) return std::string();
        return names.front().starts_with("zone:") ? names.front().substr(5) : names.front();
    };
    OrderRule rule;
    rule.id = freshId(plain(first) + "-before-" + plain(then), all.rules, "order");
    // One before one is a chain of two, which can grow.
    if (first.size() == 1 && then.size() == 1)
        rule.chain = {first.front(), then.front()};
    else {
        rule.first = first;
        rule.then = then;
    }
    rubric.order.push_back(rule);
    return rule.id;
}

bool moveZone(Rubric& rubric, std::string_view zone, int by) {
    const auto at = iteratorOf(rubric.zones, zone);
    return at != rubric.zones.end() &&
           shift(rubric.zones, static_cast<std::size_t>(at - rubric.zones.begin()), by);
}

bool moveStep(Rubric& rubric, std::string_view step, int by) {
    bool moved = false;
    for (const int way = by < 0 ? -1 : 1; by != 0; by -= way) {
        const auto place = placeOf(rubric, step);
        if (!place) return moved;
        if (shift(rubric.zones[place->zone].steps, place->step, way)) {
            moved = true;
            continue;
        }
        const auto next = static_cast<std::ptrdiff_t>(place->zone) + way;
        if (next < 0 || next >= std::ssize(rubric.zones)) return moved;
        const Zone& zone = rubric.zones[static_cast<std::size_t>(next)];
        moved = moveStepTo(rubric, step, std::string(zone.id), way > 0 ? 0 : zone.steps.size()) || moved;
    }
    return moved;
}

bool movePoint(Rubric& rubric, std::string_view step, std::string_view point, int by) {
    Step* found = findStep(rubric, step);
    if (found == nullptr) return false;
    const auto at = iteratorOf(found->say, point);
    return at != found->say.end() && shift(found->say, static_cast<std::size_t>(at - found->say.begin()), by);
}

bool moveStepTo(Rubric& rubric, std::string_view step, std::string_view zone, std::size_t at) {
    const auto place = placeOf(rubric, step);
    const auto target = iteratorOf(rubric.zones, zone);
    if (!place || target == rubric.zones.end()) return false;
    std::vector<Step>& from = rubric.zones[place->zone].steps;
    Step moved = std::move(from[place->step]);
    from.erase(from.begin() + static_cast<std::ptrdiff_t>(place->step));
    insertAt(target->steps, at, std::move(moved));
    return placeOf(rubric, step) != place;
}

Retired retireStep(Rubric& rubric, const std::string& step) {
    Retired retired;
    const auto place = placeOf(rubric, step);
    if (!place) return retired;
    std::vector<Step>& steps = rubric.zones[place->zone].steps;
    steps.erase(steps.begin() + static_cast<std::ptrdiff_t>(place->step));
    retired.steps.push_back(step);
    forgetInRules(rubric, {step}, retired);
    return retired;
}

Retired retireZone(Rubric& rubric, const std::string& zone) {
    Retired retired;
    const auto at = iteratorOf(rubric.zones, zone);
    if (at == rubric.zones.end()) return retired;
    std::set<std::string> names{"zone:" + zone};
    for (const Step& step : at->steps) {
        names.insert(step.id);
        retired.steps.push_back(step.id);
    }
    rubric.zones.erase(at);
    forgetInRules(rubric, names, retired);
    forgetInSections(rubric, zone, retired);
    return retired;
}

bool retirePoint(Rubric& rubric, std::string_view step, std::string_view point) {
    Step* found = findStep(rubric, step);
    if (found == nullptr || std::erase_if(found->say, [&](const Point& p) { return p.id == point; }) == 0)
        return false;
    found->sayNeeded = std::min(found->sayNeeded, static_cast<int>(found->say.size()));
    return true;
}

std::vector<std::string> usersOfLimit(const Rubric& rubric, std::string_view limit) {
    std::vector<std::string> users;
    for (const Zone& zone : rubric.zones)
        for (const Step& step : zone.steps) {
            const bool said = std::ranges::any_of(
                step.say, [&](const Point& point) { return point.number && point.number->limit == limit; });
            if (said || (step.reading && step.reading->limit == limit)) users.push_back(step.id);
        }
    return users;
}

std::vector<std::string> usersOfTag(const Rubric& rubric, std::string_view tag) {
    std::vector<std::string> users;
    for (const Zone& zone : rubric.zones)
        for (const Step& step : zone.steps)
            if (std::ranges::any_of(step.when, [&](std::string_view when) {
                    return when == tag || (when.starts_with('!') && when.substr(1) == tag);
                }))
                users.push_back(step.id);
    return users;
}

DraftCheck checkDraft(const Rubric& draft) {
    DraftCheck check;
    check.problems = readRubricAsFarAsItGoes(writeRubric(draft)).problems;
    // Lines of a text that nobody sees.
    for (Problem& problem : check.problems) problem.line = 0;
    check.circle = orderCircle(draft);
    // The reader looks for circles only once all else is well.
    const bool said = std::ranges::any_of(
        check.problems, [](const Problem& problem) { return problem.path.starts_with("order"); });
    if (!check.circle.steps.empty() && !said) {
        std::string words;
        for (const std::string& step : check.circle.steps) words += (words.empty() ? "" : " before ") + step;
        check.problems.push_back({{},
                                  0,
                                  "order",
                                  check.circle.steps.front(),
                                  "the rules go in a circle: " + words,
                                  "take one of these rules out"});
    }
    check.remarks = rubricWarnings(draft);
    return check;
}

namespace {

/// Reads "name[12]" off the front of a path; the rest stays.
std::optional<std::size_t> takeIndex(std::string_view& path, std::string_view name) {
    if (!path.starts_with(name) || path.size() <= name.size() || path[name.size()] != '[')
        return std::nullopt;
    const char* from = path.data() + name.size() + 1;
    std::size_t index = 0;
    const auto [end, error] = std::from_chars(from, path.data() + path.size(), index);
    if (error != std::errc() || end == path.data() + path.size() || *end != ']') return std::nullopt;
    path.remove_prefix(static_cast<std::size_t>(end + 1 - path.data()));
    if (path.starts_with('.')) path.remove_prefix(1);
    return index;
}

template <class Items>
const typename Items::value_type* entryAt(const Items& items, std::optional<std::size_t> index) {
    return index && *index < items.size() ? &items[*index] : nullptr;
}

}  // namespace

DraftPlace placeOfProblem(const Rubric& draft, const Problem& problem) {
    DraftPlace place;
    std::string_view path = problem.path;
    if (path.starts_with("limits.")) {
        const std::string_view rest = path.substr(7);
        place.limit = rest.substr(0, rest.find('.'));
    } else if (const OrderRule* rule = entryAt(draft.order, takeIndex(path, "order"))) {
        place.rule = rule->id;
    } else if (const Section* section = entryAt(draft.sections, takeIndex(path, "sections"))) {
        place.section = section->id;
    } else if (const Zone* zone = entryAt(draft.zones, takeIndex(path, "zones"))) {
        place.zone = zone->id;
        const Step* step = entryAt(zone->steps, takeIndex(path, "steps"));
        if (step == nullptr) return place;
        place.step = step->id;
        if (const Point* point = entryAt(step->say, takeIndex(path, "say"))) place.point = point->id;
    }
    return place;
}

}  // namespace markerlamp::core
