// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A plan in words, and as JSON.

#include "core/base/text.h"
#include "core/drill/drill_plan.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace markerlamp::core {

namespace {

std::string_view toWord(DrillAim aim) {
    switch (aim) {
        case DrillAim::PassChance:
            return "pass chance";
        case DrillAim::ExpectedScore:
            return "expected score";
        case DrillAim::LowerQuantile:
            return "bad case";
    }
    return "";
}

std::string minutesText(double minutes) {
    return shortestText(std::round(minutes * 10) / 10) + " min";
}

class Speaker {
public:
    explicit Speaker(const DrillPlanner& planner)
        : m_planner(planner), m_rubric(*planner.draws().scope.rubric) {}

    [[nodiscard]] const DrillBlock& block(const DrillPart& part) const {
        return m_planner.blocks()[std::size_t(part.block)];
    }
    [[nodiscard]] const ScopeStep& step(int index) const {
        return m_planner.draws().steps[std::size_t(index)];
    }
    [[nodiscard]] std::string zoneTitle(const std::string& zone) const {
        const Zone* found = m_rubric.zone(zone);
        return found ? found->title : zone;
    }
    [[nodiscard]] std::string quoted(int index) const {
        const Step* found = m_rubric.step(step(index).step);
        return "\"" + (found ? found->title : step(index).step) + "\"";
    }
    /// What is done at a step: its parts decide.
    [[nodiscard]] std::string verb(int index) const {
        const Step* found = m_rubric.step(step(index).step);
        if (!found) return "do";
        if (found->show.empty()) return found->say.empty() ? "take the reading of" : "say";
        return found->say.empty() ? "show" : "show and say";
    }
    /// The steps of a block that must go together, those of another zone with its title.
    [[nodiscard]] std::string inOrder(const DrillBlock& block) const {
        std::string text;
        for (const int index : block.steps) {
            text += (text.empty() ? "" : ", ") + quoted(index);
            if (step(index).zone != block.zone) text += " (" + zoneTitle(step(index).zone) + ")";
        }
        return "keeping their order, show and say " + text;
    }
    [[nodiscard]] std::string task(const DrillBlock& block) const {
        if (block.steps.size() > 1) return inOrder(block);
        return verb(block.steps.front()) + " " + quoted(block.steps.front());
    }
    [[nodiscard]] std::size_t stepsIn(const std::string& zone) const {
        return std::size_t(std::ranges::count(m_planner.draws().steps, zone, &ScopeStep::zone));
    }

private:
    const DrillPlanner& m_planner;
    const Rubric& m_rubric;
};

void addOnce(std::string& text, const std::string& more, const char* between) {
    if (more.empty() || text.find(more) != std::string::npos) return;
    text += (text.empty() ? "" : between) + more;
}

/// Blocks of one zone as one sentence without full stop: chains first, then single steps by what is done.
std::string zoneText(const Speaker& say, const std::string& zone,
                     const std::vector<const DrillBlock*>& blocks) {
    std::size_t steps = 0;
    std::string text;
    std::vector<std::pair<std::string, std::string>> singles;  // verb, titles
    for (const DrillBlock* block : blocks) {
        steps += std::size_t(
            std::ranges::count_if(block->steps, [&](int index) { return say.step(index).zone == zone; }));
        if (block->steps.size() > 1) {
            text += (text.empty() ? "" : "; ") + say.inOrder(*block);
            continue;
        }
        const std::string verb = say.verb(block->steps.front());
        auto at = std::ranges::find(singles, verb, &std::pair<std::string, std::string>::first);
        if (at == singles.end()) at = singles.insert(singles.end(), {verb, {}});
        at->second += (at->second.empty() ? "" : ", ") + say.quoted(block->steps.front());
    }
    if (blocks.size() > 1 && text.empty() && steps == say.stepsIn(zone))
        return "all of it, shown and said aloud";
    for (const auto& [verb, titles] : singles) text += (text.empty() ? "" : "; ") + verb + " " + titles;
    return text;
}

}  // namespace

std::string inWords(const DrillPart& part, const DrillPlanner& planner) {
    const Speaker say(planner);
    const DrillBlock& block = say.block(part);
    std::string text =
        say.zoneTitle(block.zone) + ": " + say.task(block) + " (" + minutesText(block.minutes) + ")";
    if (!block.caution.empty()) text += ". Caution: " + block.caution;
    return text;
}

std::vector<DrillLine> linesOf(const DrillPlan& plan, const DrillPlanner& planner) {
    const Speaker say(planner);
    std::vector<DrillLine> lines;
    std::vector<int> before;
    for (const std::string& zone : planner.zonesOf(plan)) {
        DrillLine line{zone, say.zoneTitle(zone), 0, {}, {}};
        std::vector<const DrillBlock*> here;
        const double used = planner.minutesOf(before);
        for (const DrillPart& part : plan.parts) {
            const DrillBlock& block = say.block(part);
            if (block.zone != zone) continue;
            here.push_back(&block);
            before.push_back(part.block);
            addOnce(line.caution, block.caution, " ");
        }
        if (here.empty()) continue;  // only the later steps of a chain that began elsewhere
        line.minutes = planner.minutesOf(before) - used;
        line.text = zoneText(say, zone, here);
        lines.push_back(std::move(line));
    }
    return lines;
}

std::string toJson(const DrillPlan& plan, const DrillPlanner& planner, const std::string& trainee,
                   double minutesAsked) {
    using Json = nlohmann::ordered_json;
    const Speaker say(planner);
    Json parts = Json::array();
    for (const DrillPart& part : plan.parts) {
        const DrillBlock& block = say.block(part);
        Json steps = Json::array();
        for (const int index : block.steps) steps.push_back(say.step(index).step);
        parts.push_back({{"block", block.id},
                         {"title", block.title},
                         {"zone", block.zone},
                         {"steps", std::move(steps)},
                         {"minutes", block.minutes},
                         {"set_up_minutes", block.setUpMinutes},
                         {"gain", part.gain},
                         {"points", part.points},
                         {"caution", block.caution},
                         {"words", inWords(part, planner)}});
    }
    const Json document{{"format", "markerlamp.drill/1"},
                        {"trainee", trainee},
                        {"minutes_asked", minutesAsked},
                        {"minutes", plan.minutes},
                        {"aim", toWord(plan.aim)},
                        {"before", plan.before},
                        {"after", plan.after},
                        {"score_before", plan.scoreBefore},
                        {"score_after", plan.scoreAfter},
                        {"parts", std::move(parts)},
                        {"zones", planner.zonesOf(plan)},
                        {"besides", planner.besides(plan)}};
    return document.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace markerlamp::core
