// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "demo/generator/performance.h"

#include <algorithm>
#include <array>
#include <set>
#include <string_view>
#include <tuple>
#include <utility>

namespace markerlamp::demo {

namespace {

constexpr int kTenth = 10;
constexpr int kMinute = 60 * kTenth;

int clampShare(int perMille) {
    return std::clamp(perMille, 5, 995);
}

/// How hard each part is for everybody; the rest is the trainee's own.
int zoneEase(std::string_view zone) {
    constexpr std::array<std::pair<std::string_view, int>, 7> table{{{"front", 40},
                                                                     {"start", 40},
                                                                     {"cabin", 30},
                                                                     {"front-axle", -50},
                                                                     {"rear-axle", -40},
                                                                     {"engine", -30},
                                                                     {"driver-area", 20}}};
    for (const auto& [id, ease] : table)
        if (id == zone) return ease;
    return 0;
}

bool isBrakeZone(std::string_view zone) {
    return zone == "air-brakes" || zone == "hydraulic-brakes";
}

/// Tenths as they are written down.
double tenths(int value) {
    return value / 10.0;
}

class Trainee {
public:
    Trainee(const Setting& setting, Random& random) : m_set(setting), m_random(random) {}

    Performance run() {
        std::vector<const core::Step*> walk = plan();
        slip(walk);
        const int breakAt = m_random.chance(220) ? m_random.between(10, 60) : -1;
        for (std::size_t i = 0; i < walk.size(); ++i) {
            if (m_now > m_set.minutes * kMinute) {
                m_done.notReached.assign(walk.begin() + static_cast<std::ptrdiff_t>(i), walk.end());
                break;
            }
            if (static_cast<int>(i) == breakAt) rest();
            m_ahead.assign(walk.begin() + static_cast<std::ptrdiff_t>(i) + 1, walk.end());
            take(*walk[i]);
        }
        m_done.end = m_now + m_random.between(30, 120);
        std::ranges::stable_sort(m_done.acts, {}, &Act::time);
        return std::move(m_done);
    }

private:
    std::vector<const core::Step*> plan() {
        std::vector<const core::Zone*> zones;
        for (const core::Zone& zone : m_set.rubric->zones)
            if (std::ranges::find(m_set.header->zones, zone.id) != m_set.header->zones.end())
                zones.push_back(&zone);
        if (m_set.course->cabFirst) {
            // The cab up to the driver's area, then the outside, then the cabin and the report.
            const auto start = std::ranges::find(zones, std::string_view("start"), &core::Zone::id);
            const auto cabin = std::ranges::find(zones, std::string_view("cabin"), &core::Zone::id);
            if (start != zones.end() && start < cabin) std::rotate(zones.begin(), start, cabin);
        }
        std::vector<const core::Step*> walk;
        for (const core::Zone* zone : zones)
            for (const core::Step& step : zone->steps)
                if (core::appliesTo(step, m_set.header->equipment)) walk.push_back(&step);
        return walk;
    }

    /// Some steps are remembered late, the strict brake chain seldom.
    void slip(std::vector<const core::Step*>& walk) {
        if (walk.size() < 10) return;
        const int mostSlips = m_set.course->slips * (1250 - std::min(m_set.skill, 1000)) / 300;
        const int slips = m_random.below(mostSlips + 1);
        for (int k = 0; k < slips; ++k) {
            const auto from = static_cast<std::size_t>(m_random.below(static_cast<int>(walk.size()) - 1));
            moveBehind(walk, from,
                       std::min(from + static_cast<std::size_t>(m_random.between(1, 6)), walk.size() - 1));
        }
        if (m_random.chance(std::clamp(900 - m_set.skill, 30, 600))) breakRule(walk);
    }

    void moveBehind(std::vector<const core::Step*>& walk, std::size_t from, std::size_t to) {
        const bool brake = isBrakeZone(m_set.rubric->zoneOfStep(walk[from]->id)->id);
        if (brake && !(m_set.skill < 640 && m_random.chance(120))) return;
        std::rotate(walk.begin() + static_cast<std::ptrdiff_t>(from),
                    walk.begin() + static_cast<std::ptrdiff_t>(from) + 1,
                    walk.begin() + static_cast<std::ptrdiff_t>(to) + 1);
    }

    /// One of the rules is forgotten: its earlier step comes just after the later one.
    void breakRule(std::vector<const core::Step*>& walk) {
        constexpr std::ptrdiff_t kFarthest = 16;
        const auto& rules = m_set.rubric->order;
        if (rules.empty()) return;
        const core::OrderRule& rule =
            rules[static_cast<std::size_t>(m_random.below(static_cast<int>(rules.size())))];
        const auto& before = rule.chain.empty() ? rule.first : rule.chain;
        const auto& after = rule.chain.empty() ? rule.then : rule.chain;
        const auto a = static_cast<std::size_t>(m_random.below(static_cast<int>(before.size())));
        const auto b = rule.chain.empty()
                           ? static_cast<std::size_t>(m_random.below(static_cast<int>(after.size())))
                           : a + 1;
        if (b >= after.size()) return;
        const auto idOf = [](const core::Step* step) -> const std::string& { return step->id; };
        const auto from = std::ranges::find(walk, before[a], idOf);
        const auto to = std::ranges::find(walk, after[b], idOf);
        if (from == walk.end() || to == walk.end() || to <= from || to - from > kFarthest) return;
        moveBehind(walk, static_cast<std::size_t>(from - walk.begin()),
                   static_cast<std::size_t>(to - walk.begin()));
    }

    int skillFor(std::string_view zone) const {
        int skill = m_set.skill + zoneEase(zone);
        if (isBrakeZone(zone)) skill += m_set.course->brakes;
        const auto& weak = m_set.course->weakZones;
        // What is weak heals with skill, but late.
        if (std::ranges::find(weak, zone) != weak.end())
            skill -= m_set.course->weakBy * (1250 - std::min(m_set.skill, 1000)) / 600;
        return skill;
    }

    void take(const core::Step& step) {
        const std::string_view zone = m_set.rubric->zoneOfStep(step.id)->id;
        const std::string_view key = m_set.course->trainee.key;
        const int skill = skillFor(zone);
        // The same step is hard for the same trainee every time; the day adds a little.
        const int hard = static_cast<int>(mix(1, {key, step.id}) % 960);
        const int today = skill + m_random.between(-90, 90);
        const bool knows = today > hard;
        const bool brake = isBrakeZone(zone);
        wait(m_random.between(20, 62));

        if (!knows && !brake && m_random.chance(std::clamp((hard - today) / 2 + 60, 30, 520))) {
            act(Act::Kind::LeaveOut, step);
            return;
        }
        if (!knows && m_random.chance(m_set.habit->prompts)) {
            act(Act::Kind::Help, step);
            wait(m_random.between(15, 50));
            touch(step);
            explain(step, 880, brake);
            return;
        }
        touch(step);
        const Defect* defect = defectAt(step);
        if (defect && (knows || m_random.chance(300))) {
            wait(m_random.between(10, 30));
            act(Act::Kind::CallFault, step).text = defect->text;
        }
        explain(step, knows ? std::min(998, 950 + skill / 20) : clampShare(430 + skill / 5), brake);
    }

    void touch(const core::Step& step) {
        if (!step.show.empty()) act(Act::Kind::Show, step);
        wait(m_random.between(8, 24));
    }

    void explain(const core::Step& step, int share, bool brake) {
        const bool minute = step.id == "static-leak" || step.id == "applied-leak";
        const int began = m_now;
        for (int p = 0; p < static_cast<int>(step.say.size()); ++p) {
            if (m_said.contains({&step, p})) continue;
            const auto point = static_cast<std::size_t>(p);
            const std::string_view key = m_set.course->trainee.key;
            const int own = static_cast<int>(mix(2, {key, step.id, step.say[point].id}) % 60) - 30;
            if (!m_random.chance(clampShare(share + (share < 950 ? own : 0)))) {
                if (m_random.chance(brake ? 60 : 25)) mistake(step, p);
                continue;
            }
            say(step, p);
        }
        if (minute) {
            speakAhead(step);
            m_now = std::max(m_now, began + kMinute + m_random.between(0, 25));
        } else if (step.id == "cut-out" || step.id == "build-up") {
            m_now = std::max(m_now, began + m_random.between(250, 420));
        }
        measure(step);
    }

    /// In the silent minute good trainees say what comes next.
    void speakAhead(const core::Step& current) {
        if (m_set.skill < 520) return;
        constexpr std::array<std::pair<std::string_view, std::string_view>, 3> next{
            {{"applied-leak", "limit"}, {"low-warning", "limit"}, {"spring-brakes", "limit"}}};
        for (const auto& [stepId, pointId] : next) {
            if (stepId == current.id || !m_random.chance(420)) continue;
            const auto ahead = std::ranges::find(m_ahead, stepId, [](const core::Step* s) { return s->id; });
            if (ahead == m_ahead.end()) continue;
            const auto point = std::ranges::find((*ahead)->say, pointId, &core::Point::id);
            if (point == (*ahead)->say.end()) continue;
            if (m_said.contains({*ahead, static_cast<int>(point - (*ahead)->say.begin())})) continue;
            wait(m_random.between(20, 60));
            say(**ahead, static_cast<int>(point - (*ahead)->say.begin()));
        }
    }

    void say(const core::Step& step, int point) {
        m_said.insert({&step, point});
        Act& said = act(Act::Kind::Say, step);
        said.point = point;
        const auto& number = step.say[static_cast<std::size_t>(point)].number;
        if (number && m_random.chance(450)) {
            const auto [low, high, unit] = bounds(*number);
            said.unit = unit;
            if (low && high)
                said.low = low, said.high = high;
            else
                said.value = low ? low : high;
        }
        wait(m_random.between(12, 34));
    }

    /// The wrong number where the point has one, something wrong else.
    void mistake(const core::Step& step, int point) {
        Act& wrong = act(Act::Kind::SayWrong, step);
        wrong.point = point;
        wait(m_random.between(15, 34));
        const auto& number = step.say[static_cast<std::size_t>(point)].number;
        if (!number) {
            wrong.text = "said the opposite";
            return;
        }
        const auto [low, high, unit] = bounds(*number);
        wrong.unit = unit;
        constexpr std::array<std::pair<std::string_view, double>, 6> mixedUp{{{"tread-front", 2},
                                                                              {"tread-rear", 4},
                                                                              {"applied-leak", 2},
                                                                              {"static-leak", 3},
                                                                              {"low-warning", 45},
                                                                              {"steering-play", 10}}};
        const auto known =
            std::ranges::find(mixedUp, number->limit, [](const auto& pair) { return pair.first; });
        if (low && high) {
            wrong.low = *low + (*high - *low) / 2;
            wrong.high = *high + (*high - *low) / 2;
        } else if (known != mixedUp.end()) {
            wrong.value = known->second;
        } else {
            wrong.value = 2 * (low ? *low : *high);
        }
    }

    std::tuple<std::optional<double>, std::optional<double>, std::string> bounds(
        const core::PointNumber& number) const {
        const core::Limit* limit = m_set.rubric->limit(number.limit);
        if (!limit) return {number.low, number.high, number.unit};
        const auto own = m_set.header->limits.find(limit->id);
        if (own != m_set.header->limits.end()) return {own->second.low, own->second.high, limit->unit};
        return {limit->low, limit->high, limit->unit};
    }

    void measure(const core::Step& step) {
        if (!step.reading) return;
        const bool brake = isBrakeZone(m_set.rubric->zoneOfStep(step.id)->id);
        if (!brake && !m_random.chance(step.id.starts_with("gauge") ? 350 : 600)) return;
        const std::optional<double> value = valueAt(step);
        if (!value) return;
        Act& reading = act(Act::Kind::Measure, step);
        reading.value = value;
        const core::Limit* limit = m_set.rubric->limit(step.reading->limit);
        reading.unit = limit ? limit->unit : step.reading->unit;
        wait(m_random.between(8, 20));
    }

    std::optional<double> valueAt(const core::Step& step) {
        const Quirk& q = *m_set.quirk;
        const std::string_view id = step.id;
        if (id == "cut-out") return tenths(q.cutOut / 10 * 10 + m_random.between(-1, 1) * 10);
        if (id == "static-leak") return tenths(defectAt(step) ? 25 : m_random.between(1, 3) * 5);
        if (id == "applied-leak") return tenths(m_random.chance(20) ? 35 : m_random.between(2, 5) * 5);
        if (id == "low-warning") return tenths(q.warning + m_random.between(-1, 1) * 10);
        if (id == "spring-brakes") return tenths(q.popOut + m_random.between(-2, 2) * 10);
        if (id == "build-up") return tenths(q.buildUp + m_random.between(-3, 3) * 10);
        if (id == "cut-in") return tenths(q.cutIn + m_random.between(-2, 2) * 10);
        if (id == "pump-hold") return tenths(m_random.chance(40) ? 40 : m_random.between(5, 7) * 10);
        if (id == "front-tread") return tenths(q.treadFront);
        if (id == "rear-tread") return tenths(q.treadRear);
        if (id == "steering-play") return tenths(q.wheelPlay);
        if (id == "gauge-oil") return tenths(m_random.between(44, 56) * 10);
        if (id == "gauge-coolant") return tenths(m_random.between(130, 185) * 10);
        if (id == "gauge-transmission") return tenths(m_random.between(110, 165) * 10);
        if (id == "gauge-volts") return tenths(m_random.between(132, 139));
        if (id == "gauge-air") return tenths(m_random.between(115, 124) * 10);
        return std::nullopt;
    }

    const Defect* defectAt(const core::Step& step) const {
        const auto found = std::ranges::find(m_set.defects, step.id, &Defect::step);
        return found == m_set.defects.end() ? nullptr : &*found;
    }

    void rest() {
        wait(20);
        act(Act::Kind::Break, nullptr);
        m_now += m_random.between(60, 360) * kTenth;
        act(Act::Kind::GoOn, nullptr);
    }

    Act& act(Act::Kind kind, const core::Step& step) { return act(kind, &step); }

    Act& act(Act::Kind kind, const core::Step* step) {
        Act& made = m_done.acts.emplace_back();
        made.kind = kind;
        made.time = m_now;
        made.step = step;
        return made;
    }

    void wait(int time) { m_now += time * m_set.course->pace / 80; }

    const Setting& m_set;
    Random& m_random;
    Performance m_done;
    std::vector<const core::Step*> m_ahead;
    std::set<std::pair<const core::Step*, int>> m_said;
    int m_now = 0;
};

}  // namespace

Performance perform(const Setting& setting, Random& random) {
    return Trainee(setting, random).run();
}

}  // namespace markerlamp::demo
