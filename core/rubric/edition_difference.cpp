// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/edition_difference.h"

#include "core/base/text.h"

#include <algorithm>
#include <map>
#include <set>

namespace markerlamp::core {

namespace {

using What = EditionChange::What;
using Act = EditionChange::Act;

std::string numberOf(const std::optional<double>& value) {
    return value ? shortestText(*value) : std::string();
}
std::string flagOf(bool value) {
    return value ? "true" : "false";
}
std::string joined(const std::vector<std::string>& parts, const char* between = ", ") {
    std::string all;
    for (const std::string& part : parts) all += (all.empty() ? "" : between) + part;
    return all;
}
std::string wordsOf(const PointNumber& number) {
    std::string words =
        number.limit.empty() ? boundsInWords(number.low, number.high, number.unit) : "limit " + number.limit;
    if (number.tolerance != 0) words += ", tolerance " + shortestText(number.tolerance);
    return words;
}
std::string wordsOf(const ReadingRule& reading) {
    std::string words =
        reading.quantity + ", " +
        (reading.limit.empty() ? boundsInWords(reading.low, reading.high, reading.unit, reading.exclusive)
                               : "limit " + reading.limit);
    if (reading.required) words += ", required";
    if (reading.tolerance != 0) words += ", tolerance " + shortestText(reading.tolerance);
    if (!reading.source.empty()) words += ", source " + reading.source;
    return words;
}
std::string wordsOf(const OrderRule& rule) {
    return !rule.chain.empty() ? joined(rule.chain, " before ")
                               : joined(rule.first) + " before " + joined(rule.then);
}

/// Which of the ids that both lists have kept their order: the others moved.
std::set<std::string> movedAmong(const std::vector<std::string>& before,
                                 const std::vector<std::string>& after) {
    std::map<std::string, std::size_t> places;
    for (std::size_t i = 0; i < before.size(); ++i) places[before[i]] = i;
    std::vector<std::pair<std::string, std::size_t>> common;
    for (const std::string& id : after)
        if (const auto found = places.find(id); found != places.end()) common.push_back(*found);
    // Longest increasing run by the plain quadratic way: lists are short.
    std::vector<std::size_t> length(common.size(), 1), from(common.size());
    for (std::size_t i = 0; i < common.size(); ++i) {
        from[i] = i;
        for (std::size_t j = 0; j < i; ++j)
            if (common[j].second < common[i].second && length[j] + 1 > length[i]) {
                length[i] = length[j] + 1;
                from[i] = j;
            }
    }
    std::set<std::string> moved;
    for (const auto& [id, place] : common) moved.insert(id);
    if (common.empty()) return moved;
    auto at = static_cast<std::size_t>(std::ranges::max_element(length) - length.begin());
    while (true) {
        moved.erase(common[at].first);
        if (from[at] == at) return moved;
        at = from[at];
    }
}

template <class Items>
std::vector<std::string> idsOf(const Items& items) {
    std::vector<std::string> ids;
    for (const auto& item : items) ids.push_back(item.id);
    return ids;
}

class Comparing {
public:
    Comparing(const Rubric& before, const Rubric& after) : m_before(before), m_after(after) {}

    std::vector<EditionChange> all() {
        whole();
        limits();
        zones();
        rules();
        sections();
        return std::move(m_changes);
    }

private:
    EditionChange& add(What what, Act act, const std::string& id, const std::string& title) {
        EditionChange& change = m_changes.emplace_back();
        change.what = what;
        change.act = act;
        change.id = id;
        change.title = title;
        return change;
    }
    void field(What what, const std::string& id, const std::string& title, const char* field,
               const std::string& before, const std::string& after, const std::string& step = {}) {
        if (before == after) return;
        EditionChange& change = add(what, Act::Changed, id, title);
        change.field = field;
        change.before = before;
        change.after = after;
        change.step = step;
    }

    void whole() {
        const std::string& id = m_after.id;
        field(What::Rubric, id, m_after.title, "title", m_before.title, m_after.title);
        field(What::Rubric, id, m_after.title, "about", m_before.about, m_after.about);
        for (const auto& [tag, title] : m_before.equipment)
            if (const std::string* now = tagIn(m_after, tag))
                field(What::Equipment, tag, *now, "title", title, *now);
            else
                add(What::Equipment, Act::Retired, tag, title);
        for (const auto& [tag, title] : m_after.equipment)
            if (tagIn(m_before, tag) == nullptr) add(What::Equipment, Act::Added, tag, title);
        const PassRule &was = m_before.pass, &now = m_after.pass;
        field(What::Pass, "pass", {}, "percent", shortestText(was.percent), shortestText(now.percent));
        field(What::Pass, "pass", {}, "minutes", numberOf(was.minutes), numberOf(now.minutes));
        field(What::Pass, "pass", {}, "minutes_fail", flagOf(was.minutesFail), flagOf(now.minutesFail));
    }
    static const std::string* tagIn(const Rubric& rubric, const std::string& tag) {
        for (const auto& [id, title] : rubric.equipment)
            if (id == tag) return &title;
        return nullptr;
    }

    void limits() {
        for (const Limit& was : m_before.limits)
            if (m_after.limit(was.id) == nullptr) add(What::Limit, Act::Retired, was.id, was.id);
        for (const Limit& now : m_after.limits) {
            const Limit* was = m_before.limit(now.id);
            if (was == nullptr) {
                add(What::Limit, Act::Added, now.id, now.id).after =
                    boundsInWords(now.low, now.high, now.unit, now.exclusive);
                continue;
            }
            field(What::Limit, now.id, now.id, "bounds",
                  boundsInWords(was->low, was->high, was->unit, was->exclusive),
                  boundsInWords(now.low, now.high, now.unit, now.exclusive));
            field(What::Limit, now.id, now.id, "source", was->source, now.source);
        }
    }

    void zones() {
        for (const Zone& was : m_before.zones)
            if (m_after.zone(was.id) == nullptr) add(What::Zone, Act::Retired, was.id, was.title);
        for (const Zone& was : m_before.zones)
            for (const Step& step : was.steps)
                if (m_after.step(step.id) == nullptr) add(What::Step, Act::Retired, step.id, step.title);
        const std::set<std::string> moved = movedAmong(idsOf(m_before.zones), idsOf(m_after.zones));
        for (const Zone& now : m_after.zones) {
            const Zone* was = m_before.zone(now.id);
            if (was == nullptr)
                add(What::Zone, Act::Added, now.id, now.title);
            else
                field(What::Zone, now.id, now.title, "title", was->title, now.title);
            if (moved.contains(now.id)) add(What::Zone, Act::Moved, now.id, now.title);
            steps(was, now);
        }
    }

    void steps(const Zone* wasZone, const Zone& nowZone) {
        const std::set<std::string> moved = wasZone == nullptr
                                                ? std::set<std::string>()
                                                : movedAmong(idsOf(wasZone->steps), idsOf(nowZone.steps));
        for (const Step& now : nowZone.steps) {
            const Step* was = m_before.step(now.id);
            if (was == nullptr) {
                add(What::Step, Act::Added, now.id, now.title);
                continue;
            }
            const Zone* from = m_before.zoneOfStep(now.id);
            if (from->id != nowZone.id) {
                EditionChange& change = add(What::Step, Act::Moved, now.id, now.title);
                change.field = "zone";
                change.before = from->title;
                change.after = nowZone.title;
            } else if (moved.contains(now.id)) {
                add(What::Step, Act::Moved, now.id, now.title);
            }
            fieldsOf(*was, now);
            points(*was, now);
        }
    }

    void fieldsOf(const Step& was, const Step& now) {
        const auto one = [&](const char* name, const std::string& a, const std::string& b) {
            field(What::Step, now.id, now.title, name, a, b);
        };
        one("title", was.title, now.title);
        one("show", was.show, now.show);
        one("say_needed", neededOf(was), neededOf(now));
        one("weight", std::to_string(was.weight), std::to_string(now.weight));
        one("must_pass", flagOf(was.mustPass), flagOf(now.mustPass));
        one("when", joined(was.when), joined(now.when));
        one("reading", was.reading ? wordsOf(*was.reading) : "", now.reading ? wordsOf(*now.reading) : "");
        one("minutes", shortestText(was.minutes), shortestText(now.minutes));
        one("caution", was.caution, now.caution);
        one("source", was.source, now.source);
    }
    /// Asking for all of more points is no change of what is needed: the points are named by themselves.
    static std::string neededOf(const Step& step) {
        return step.sayNeeded == static_cast<int>(step.say.size()) ? "all" : std::to_string(step.sayNeeded);
    }

    void points(const Step& was, const Step& now) {
        const auto in = [](const Step& step, const std::string& id) {
            const auto found = std::ranges::find(step.say, id, &Point::id);
            return found == step.say.end() ? nullptr : &*found;
        };
        for (const Point& point : was.say)
            if (in(now, point.id) == nullptr)
                add(What::Point, Act::Retired, point.id, point.text).step = now.id;
        const std::set<std::string> moved = movedAmong(idsOf(was.say), idsOf(now.say));
        for (const Point& point : now.say) {
            const Point* old = in(was, point.id);
            if (old == nullptr) {
                add(What::Point, Act::Added, point.id, point.text).step = now.id;
                continue;
            }
            if (moved.contains(point.id)) add(What::Point, Act::Moved, point.id, point.text).step = now.id;
            const auto one = [&](const char* name, const std::string& a, const std::string& b) {
                field(What::Point, point.id, point.text, name, a, b, now.id);
            };
            one("text", old->text, point.text);
            one("like", joined(old->like, "; "), joined(point.like, "; "));
            one("number", old->number ? wordsOf(*old->number) : "",
                point.number ? wordsOf(*point.number) : "");
        }
    }

    void rules() {
        const auto in = [](const Rubric& rubric, const std::string& id) {
            const auto found = std::ranges::find(rubric.order, id, &OrderRule::id);
            return found == rubric.order.end() ? nullptr : &*found;
        };
        for (const OrderRule& was : m_before.order)
            if (in(m_after, was.id) == nullptr)
                add(What::Rule, Act::Retired, was.id, was.id).before = wordsOf(was);
        for (const OrderRule& now : m_after.order) {
            const OrderRule* was = in(m_before, now.id);
            if (was == nullptr) {
                add(What::Rule, Act::Added, now.id, now.id).after = wordsOf(now);
                continue;
            }
            const auto one = [&](const char* name, const std::string& a, const std::string& b) {
                field(What::Rule, now.id, now.id, name, a, b);
            };
            one("order", wordsOf(*was), wordsOf(now));
            one("strict", flagOf(was->strict), flagOf(now.strict));
            one("must_pass", flagOf(was->mustPass), flagOf(now.mustPass));
            one("why", was->why, now.why);
        }
    }

    void sections() {
        for (const Section& was : m_before.sections)
            if (m_after.section(was.id) == nullptr) add(What::Section, Act::Retired, was.id, was.title);
        for (const Section& now : m_after.sections) {
            const Section* was = m_before.section(now.id);
            if (was == nullptr) {
                add(What::Section, Act::Added, now.id, now.title);
                continue;
            }
            field(What::Section, now.id, now.title, "title", was->title, now.title);
            field(What::Section, now.id, now.title, "zones", joined(was->zones), joined(now.zones));
            field(What::Section, now.id, now.title, "share", shortestText(was->share),
                  shortestText(now.share));
        }
    }

    const Rubric& m_before;
    const Rubric& m_after;
    std::vector<EditionChange> m_changes;
};

}  // namespace

std::string boundsInWords(const std::optional<double>& low, const std::optional<double>& high,
                          const std::string& unit, bool exclusive) {
    std::string words;
    if (low) words += "low " + shortestText(*low);
    if (high) words += (words.empty() ? "high " : ", high ") + shortestText(*high);
    words += " " + unit;
    return exclusive ? words + ", exclusive" : words;
}

std::vector<EditionChange> editionDifference(const Rubric& before, const Rubric& after) {
    return Comparing(before, after).all();
}

}  // namespace markerlamp::core
