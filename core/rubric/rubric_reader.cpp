// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/rubric_reader.h"

#include "core/base/text.h"
#include "core/rubric/draft_reading.h"
#include "core/rubric/order_graph.h"
#include "core/rubric/yaml_source.h"

#include <algorithm>
#include <fstream>
#include <iterator>
#include <map>
#include <set>

namespace markerlamp::core {

namespace {

constexpr std::size_t kMaxZones = 200, kMaxStepsInZone = 500, kMaxSteps = 1000, kMaxPoints = 60,
                      kMaxRules = 500, kMaxChain = 1000, kMaxLimits = 1000;
constexpr std::int64_t kMaxStatedPairs = 2'000'000;

/// Ids of one kind over the whole document.
class Ids {
public:
    explicit Ids(std::string kind) : m_kind(std::move(kind)) {}

    void add(YamlMap& map, std::string_view key, const std::string& id) {
        if (id.empty()) return;
        if (!isKebabCase(id))
            map.problem(key, id, "\"" + id + "\" is not in kebab-case",
                        "use lower-case words joined by hyphens");
        else if (std::ranges::find(m_ids, id) != m_ids.end())
            map.problem(key, id, m_kind + " id \"" + id + "\" stands twice",
                        "give every " + m_kind + " an id of its own");
        else
            m_ids.push_back(id);
    }
    std::string take(YamlMap& map) {
        std::string id = map.text("id", true);
        add(map, "id", id);
        return id;
    }
    /// Reports a reference to something that is not there.
    void need(YamlMap& map, std::string_view key, const std::string& id) const {
        if (id.empty() || has(id)) return;
        const std::string near = nearest(id, m_ids);
        map.problem(
            key, id, "there is no " + m_kind + " \"" + id + "\"",
            near.empty() ? "name a " + m_kind + " of this document" : "did you mean \"" + near + "\"?");
    }
    [[nodiscard]] bool has(const std::string& id) const {
        return std::ranges::find(m_ids, id) != m_ids.end();
    }

private:
    std::string m_kind;
    std::vector<std::string> m_ids;
};

struct Known {
    Ids zones{"zone"}, steps{"step"}, rules{"rule"}, sections{"section"}, limits{"limit"},
        tags{"equipment tag"};
    std::size_t stepCount = 0;
};

void readBounds(YamlMap& map, std::optional<double>& low, std::optional<double>& high) {
    low = map.number("low");
    high = map.number("high");
    if (!map.has("low") && !map.has("high"))
        map.problem({}, {}, "neither low nor high is given", "give low, high or both");
    if (low && high && *low > *high)
        map.problem("low", {}, "low is above high", "give the smaller number as low");
}

std::vector<Limit> readLimits(YamlMap& parent, Ids& ids, bool required) {
    std::vector<Limit> limits;
    auto block = parent.map("limits", required);
    if (!block) return limits;
    if (block->keys().size() > kMaxLimits) {
        parent.problem("limits", {}, "there are more than 1000 limits", "shorten the block");
        return limits;
    }
    for (const std::string& id : block->keys()) {
        ids.add(*block, id, id);
        auto entry = block->map(id.c_str(), true);
        if (!entry) continue;
        entry->only({"low", "high", "unit", "exclusive", "source"});
        Limit limit;
        limit.id = id;
        readBounds(*entry, limit.low, limit.high);
        limit.unit = entry->text("unit", true);
        limit.exclusive = entry->flag("exclusive", false);
        limit.source = entry->text("source", true);
        limits.push_back(std::move(limit));
    }
    return limits;
}

double readTolerance(YamlMap& map) {
    const double tolerance = map.number("tolerance").value_or(0);
    if (tolerance < 0) map.problem("tolerance", {}, "the tolerance is below 0", "give 0 or more");
    return tolerance;
}

/// A named limit or own bounds with a unit, for numbers of points and readings.
void readLimitOrBounds(YamlMap& map, const Known& known, std::string& limit, std::optional<double>& low,
                       std::optional<double>& high, std::string& unit) {
    if (map.has("limit")) {
        limit = map.text("limit", true);
        known.limits.need(map, "limit", limit);
        for (const char* key : {"low", "high", "unit"})
            if (map.has(key))
                map.problem(key, {}, "\"" + std::string(key) + "\" stands beside a named limit",
                            "give either the limit or the bounds themselves");
        return;
    }
    readBounds(map, low, high);
    unit = map.text("unit", true);
}

Point readPoint(YamlMap& map, const Known& known, Ids& ids) {
    map.only({"id", "text", "like", "number"});
    Point point;
    point.id = ids.take(map);
    point.text = map.text("text", true);
    point.like = map.texts("like", false);
    if (auto number = map.map("number", false)) {
        number->only({"limit", "low", "high", "unit", "tolerance"});
        PointNumber n;
        readLimitOrBounds(*number, known, n.limit, n.low, n.high, n.unit);
        n.tolerance = readTolerance(*number);
        point.number = n;
    }
    return point;
}

ReadingRule readReading(YamlMap& map, const Known& known) {
    map.only({"quantity", "limit", "low", "high", "unit", "exclusive", "source", "required", "tolerance"});
    ReadingRule reading;
    reading.quantity = map.text("quantity", true);
    readLimitOrBounds(map, known, reading.limit, reading.low, reading.high, reading.unit);
    if (map.has("limit") && map.has("exclusive"))
        map.problem("exclusive", {}, "\"exclusive\" stands beside a named limit", "set it at the limit");
    reading.exclusive = map.flag("exclusive", false);
    if (map.has("source")) reading.source = map.text("source", false);
    reading.required = map.flag("required", false);
    reading.tolerance = readTolerance(map);
    return reading;
}

Step readStep(YamlMap& map, Known& known) {
    map.only({"id", "title", "show", "say", "say_needed", "weight", "must_pass", "when", "reading", "minutes",
              "caution", "source"});
    Step step;
    step.id = known.steps.take(map);
    step.title = map.text("title", true);
    if (map.has("show")) step.show = map.text("show", false);
    Ids points("point");
    for (YamlMap& point : map.maps("say", false, kMaxPoints))
        step.say.push_back(readPoint(point, known, points));
    const int count = static_cast<int>(step.say.size());
    step.sayNeeded = map.integer("say_needed", false, 0, count).value_or(count);
    step.weight = map.integer("weight", false, 1, 1'000'000).value_or(1);
    step.mustPass = map.flag("must_pass", false);
    step.when = map.texts("when", false);
    for (const std::string& tag : step.when)
        known.tags.need(map, "when", tag.starts_with('!') ? tag.substr(1) : tag);
    if (auto reading = map.map("reading", false)) step.reading = readReading(*reading, known);
    if (const auto minutes = map.number("minutes")) {
        step.minutes = *minutes;
        if (step.minutes < 0 || step.minutes > 240)
            map.problem("minutes", {}, "\"minutes\" is not between 0 and 240",
                        "give the typical minutes for this step");
    }
    if (map.has("caution")) step.caution = map.text("caution", false);
    if (map.has("source")) step.source = map.text("source", false);
    if (step.show.empty() && step.say.empty() && !(step.reading && step.reading->required))
        map.problem({}, step.id, "the step has nothing to show, to say or to measure",
                    "give it a show, a point or a required reading");
    return step;
}

Zone readZone(YamlMap& map, Known& known) {
    map.only({"id", "title", "steps"});
    Zone zone;
    zone.id = known.zones.take(map);
    zone.title = map.text("title", true);
    for (YamlMap& step : map.maps("steps", true, kMaxStepsInZone)) {
        if (++known.stepCount > kMaxSteps) {
            map.problem("steps", {}, "the rubric has more than 1000 steps", "shorten it");
            break;
        }
        zone.steps.push_back(readStep(step, known));
    }
    return zone;
}

void checkRuleEntries(YamlMap& map, const char* key, const std::vector<std::string>& entries,
                      const Known& known) {
    std::set<std::string> seen;
    for (const std::string& entry : entries) {
        if (entry.starts_with("zone:"))
            known.zones.need(map, key, entry.substr(5));
        else
            known.steps.need(map, key, entry);
        if (!seen.insert(entry).second)
            map.problem(key, entry, "\"" + entry + "\" stands twice in the rule",
                        "a step cannot come before itself");
    }
    if (entries.size() > kMaxChain) map.problem(key, {}, "the rule has more than 1000 entries", "shorten it");
}

OrderRule readRule(YamlMap& map, Known& known) {
    map.only({"id", "chain", "first", "then", "strict", "must_pass", "why"});
    OrderRule rule;
    rule.id = known.rules.take(map);
    const bool chain = map.has("chain");
    if (chain == (map.has("first") || map.has("then")))
        map.problem(
            {}, rule.id,
            chain ? "the rule has both a chain and first/then" : "the rule has neither chain nor first/then",
            "give either a chain, or first and then");
    if (chain) {
        rule.chain = map.texts("chain", true);
        if (rule.chain.size() < 2)
            map.problem("chain", {}, "the chain has fewer than two entries", "name at least two steps");
        checkRuleEntries(map, "chain", rule.chain, known);
    } else if (map.has("first") || map.has("then")) {
        for (auto [key, list] : {std::pair{"first", &rule.first}, std::pair{"then", &rule.then}}) {
            *list = map.texts(key, true);
            if (map.has(key) && list->empty())
                map.problem(key, {}, "\"" + std::string(key) + "\" is empty", "name at least one step");
            checkRuleEntries(map, key, *list, known);
        }
    }
    rule.strict = map.flag("strict", false);
    rule.mustPass = map.flag("must_pass", false);
    if (map.has("why")) rule.why = map.text("why", false);
    return rule;
}

/// How many pairs the rules state themselves; what scores an attempt keeps them all.
std::int64_t statedPairs(const Rubric& rubric, const OrderGraph& graph) {
    const auto size = [&](const std::string& entry) {
        const auto [begin, end] = graph.range(entry);
        return static_cast<std::int64_t>(end - begin);
    };
    std::int64_t pairs = 0;
    for (const OrderRule& rule : rubric.order) {
        std::int64_t before = 0;
        for (const std::string& entry : rule.chain) {
            pairs += before * size(entry);
            before += size(entry);
        }
        std::int64_t first = 0;
        std::int64_t then = 0;
        for (const std::string& entry : rule.first) first += size(entry);
        for (const std::string& entry : rule.then) then += size(entry);
        pairs += first * then;
    }
    return pairs;
}

void checkOrder(const Rubric& rubric, std::vector<YamlMap>& maps, YamlMap& document) {
    OrderGraph graph(rubric);
    if (statedPairs(rubric, graph) > kMaxStatedPairs) {
        document.problem(
            "order", {}, "the rules state more than 2,000,000 pairs of steps",
            "name fewer zones and steps in them; what follows from other rules need not be said");
        return;
    }
    for (const OrderGraph::Itself& itself : graph.draw()) {
        const bool chain = !rubric.order[itself.rule].chain.empty();
        maps[itself.rule].problem(chain ? "chain" : "then", graph.name(itself.step),
                                  "step \"" + graph.name(itself.step) + "\" would come before itself",
                                  "name it on one side only");
    }
    for (std::size_t i = 0; i < rubric.order.size(); ++i) {
        const OrderRule& rule = rubric.order[i];
        std::map<int, int> times;
        for (const std::string& entry : rule.chain) {
            const auto [begin, end] = graph.range(entry);
            for (int step = begin; step < end; ++step)
                if (++times[step] == 2 && std::ranges::count(rule.chain, graph.name(step)) < 2)
                    maps[i].problem("chain", graph.name(step),
                                    "step \"" + graph.name(step) + "\" would come before itself",
                                    "name it once in the chain");
        }
    }
    const OrderCircle circle = graph.circle();
    if (circle.steps.empty()) return;
    std::string text;
    for (const std::string& step : circle.steps) text += (text.empty() ? "" : " before ") + step;
    document.problem("order", circle.steps.front(), "the rules go in a circle: " + text,
                     "take one of these rules out");
}

Section readSection(YamlMap& map, Known& known) {
    map.only({"id", "title", "zones", "share"});
    Section section;
    section.id = known.sections.take(map);
    section.title = map.text("title", true);
    section.zones = map.texts("zones", true);
    if (map.has("zones") && section.zones.empty())
        map.problem("zones", {}, "the section has no zone", "name at least one zone");
    std::set<std::string> seen;
    for (const std::string& zone : section.zones) {
        known.zones.need(map, "zones", zone);
        if (!seen.insert(zone).second)
            map.problem("zones", zone, "zone \"" + zone + "\" stands twice in the section", "name it once");
    }
    if (const auto share = map.number("share")) {
        section.share = *share;
        if (*share < 0 || *share > 1)
            map.problem("share", {}, "the share is not between 0 and 1", "give it as 0.25 for a quarter");
    }
    return section;
}

void readFormat(YamlMap& map, std::string_view format) {
    const std::string given = map.text("format", true);
    if (!given.empty() && given != format)
        map.problem("format", given, "the format is not known", "write " + std::string(format));
}

void readId(YamlMap& map, std::string& id) {
    id = map.text("id", true);
    if (!id.empty() && !isKebabCase(id))
        map.problem("id", id, "\"" + id + "\" is not in kebab-case",
                    "use lower-case words joined by hyphens");
}

/// What is wrong goes into the report; the rest is in the rubric.
void readDocument(const YAML::Node& node, YamlReport& report, Rubric& rubric) {
    try {
        YamlMap document(node, {}, report);
        document.only({"format", "id", "edition", "title", "about", "equipment", "pass", "limits", "zones",
                       "order", "sections"});
        readFormat(document, "markerlamp.rubric/1");
        Known known;
        readId(document, rubric.id);
        rubric.edition = document.integer("edition", true, 1, 1'000'000'000).value_or(1);
        rubric.title = document.text("title", true);
        if (document.has("about")) rubric.about = document.text("about", false);
        if (auto equipment = document.map("equipment", false))
            for (const std::string& tag : equipment->keys()) {
                known.tags.add(*equipment, tag, tag);
                rubric.equipment.emplace_back(tag, equipment->text(tag.c_str(), true));
            }
        if (auto pass = document.map("pass", true)) {
            pass->only({"percent", "minutes", "minutes_fail"});
            rubric.pass.percent = pass->number("percent", true).value_or(0);
            if (rubric.pass.percent < 0 || rubric.pass.percent > 100)
                pass->problem("percent", {}, "the pass mark is not between 0 and 100",
                              "give it in percent, such as 80");
            rubric.pass.minutes = pass->number("minutes");
            if (rubric.pass.minutes && (*rubric.pass.minutes <= 0 || *rubric.pass.minutes > 1e6))
                pass->problem("minutes", {}, "the time allowance is not above 0 and at most 1000000",
                              "give minutes, such as 45, or leave the key out");
            rubric.pass.minutesFail = pass->flag("minutes_fail", false);
        }
        rubric.limits = readLimits(document, known.limits, false);
        for (YamlMap& zone : document.maps("zones", true, kMaxZones))
            rubric.zones.push_back(readZone(zone, known));
        std::vector<YamlMap> rules = document.maps("order", false, kMaxRules);
        for (YamlMap& rule : rules) rubric.order.push_back(readRule(rule, known));
        for (YamlMap& section : document.maps("sections", false, kMaxZones))
            rubric.sections.push_back(readSection(section, known));
        if (report.empty()) checkOrder(rubric, rules, document);
    } catch (const std::exception& e) {
        report.add(0, {}, {}, std::string("not a rubric: ") + e.what(), "mend the text");
    }
}

}  // namespace

RubricReading readRubricAsFarAsItGoes(std::string_view yaml, const std::string& name) {
    YamlReport report(name);
    RubricReading reading;
    if (const auto node = parseYaml(yaml, kMaxRubricBytes, report))
        readDocument(*node, report, reading.rubric);
    reading.problems = report.take();
    return reading;
}

Result<Rubric> readRubric(std::string_view yaml, const std::string& name) {
    RubricReading reading = readRubricAsFarAsItGoes(yaml, name);
    if (!reading.problems.empty()) return fail("the rubric is refused", std::move(reading.problems));
    return std::move(reading.rubric);
}

Result<Rubric> readRubricFile(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) return fail(ErrorKind::Machine, "cannot read " + path.string());
    std::string text;
    text.resize(kMaxRubricBytes + 1);
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (in.bad()) return fail(ErrorKind::Machine, "cannot read " + path.string());
    text.resize(static_cast<std::size_t>(in.gcount()));
    return readRubric(text, path.string());
}

Result<LimitSet> readLimitSet(std::string_view yaml, const std::string& name) {
    YamlReport report(name);
    const auto refuse = [&] { return fail("the limit set is refused", report.take()); };
    const auto node = parseYaml(yaml, kMaxRubricBytes, report);
    if (!node) return refuse();
    try {
        YamlMap document(*node, {}, report);
        document.only({"format", "id", "title", "about", "limits"});
        readFormat(document, "markerlamp.limits/1");
        LimitSet set;
        readId(document, set.id);
        set.title = document.text("title", true);
        if (document.has("about")) set.about = document.text("about", false);
        Ids ids("limit");
        set.limits = readLimits(document, ids, true);
        if (!report.empty()) return refuse();
        return set;
    } catch (const std::exception& e) {
        report.add(0, {}, {}, std::string("not a limit set: ") + e.what(), "mend the text");
        return refuse();
    }
}

Result<Rubric> withLimits(const Rubric& rubric, const LimitSet& set, int newEdition) {
    Rubric changed = rubric;
    changed.edition = newEdition;
    std::vector<Problem> problems;
    for (const Limit& limit : set.limits) {
        const auto found = std::ranges::find(changed.limits, limit.id, &Limit::id);
        if (found == changed.limits.end())
            problems.push_back({{},
                                0,
                                "limits." + limit.id,
                                limit.id,
                                "rubric \"" + rubric.id + "\" has no limit \"" + limit.id + "\"",
                                "use a limit set that was made for this rubric"});
        else if (found->unit != limit.unit)
            problems.push_back({{},
                                0,
                                "limits." + limit.id + ".unit",
                                limit.unit,
                                "the limit is in another unit than the rubric's",
                                "give it in " + found->unit});
        else
            *found = limit;
    }
    if (newEdition <= rubric.edition)
        problems.push_back({{},
                            0,
                            "edition",
                            std::to_string(newEdition),
                            "the edition is not newer than the rubric's",
                            "use " + std::to_string(rubric.edition + 1) + " or more"});
    if (!problems.empty()) return fail("the limit set does not fit the rubric", std::move(problems));
    return changed;
}

std::vector<Problem> rubricWarnings(const Rubric& rubric) {
    std::vector<Problem> warnings;
    for (std::size_t z = 0; z < rubric.zones.size(); ++z) {
        const Zone& zone = rubric.zones[z];
        const std::string path = "zones[" + std::to_string(z) + "]";
        if (zone.steps.size() > 12)
            warnings.push_back({{},
                                0,
                                path,
                                zone.id,
                                "the zone has more than 12 steps",
                                "split it: one page of the board holds 12"});
        for (std::size_t s = 0; s < zone.steps.size(); ++s)
            if (std::ranges::count_if(zone.steps[s].title, [](char c) { return (c & 0xC0) != 0x80; }) > 40)
                warnings.push_back({{},
                                    0,
                                    path + ".steps[" + std::to_string(s) + "].title",
                                    zone.steps[s].id,
                                    "the title is longer than 40 characters",
                                    "shorten it: a tile holds two lines"});
    }
    if (rubric.zones.size() > 12)
        warnings.push_back({{},
                            0,
                            "zones",
                            {},
                            "the rubric has more than 12 zones",
                            "join some: twelve have a key on the plan"});
    return warnings;
}

}  // namespace markerlamp::core
