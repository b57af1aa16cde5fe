// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The school's rubric, and its attempts as documents of the kind an instructor records.

#include "core/readiness/practice_record.h"
#include "latent_school.h"

#include <algorithm>

namespace markerlamp::school {

namespace {

constexpr int kChain = 5;  // steps of the brake check, in a strict order, all must be passed

std::vector<core::Section> sections(const core::Rubric& rubric) {
    std::vector<core::Section> made;
    core::Section& full = made.emplace_back();
    full.id = "full";
    for (const core::Zone& zone : rubric.zones) full.zones.push_back(zone.id);
    full.share = 0.25;
    const std::size_t brakes = rubric.zones.size() - 2;
    for (std::size_t part = 0; part < 3; ++part) {
        core::Section& section = made.emplace_back();
        section.id = "part-" + std::to_string(part + 1);
        section.share = 0.25;
        for (std::size_t z = 0; z < rubric.zones.size(); ++z)
            if (z % 3 == part || z == brakes) section.zones.push_back(rubric.zones[z].id);
    }
    return made;
}

class Writer {
public:
    explicit Writer(core::Attempt& attempt) : m_attempt(attempt) {}
    core::Event& add(core::EventKind kind, const std::string& step = {}, const std::string& point = {}) {
        core::Event& event = m_attempt.events.emplace_back();
        event.n = static_cast<int>(m_attempt.events.size());
        event.t = event.n * 4.0;
        event.kind = kind;
        event.step = step;
        event.point = point;
        return event;
    }
    void show(const core::Step& step) { add(core::EventKind::Show, step.id); }
    void say(const core::Step& step, std::size_t points) {
        for (std::size_t p = 0; p < points; ++p) add(core::EventKind::Say, step.id, step.say[p].id);
    }
    void right(const core::Step& step) {
        show(step);
        say(step, step.say.size());
    }
    /// Came to mind, but not well enough.
    void notRight(const core::Step& step, int how) {
        if (how == 0) {
            add(core::EventKind::Prompt, step.id);
            return right(step);
        }
        show(step);
        say(step, step.say.size() - 1);
        if (how == 1) add(core::EventKind::Wrong, step.id);
    }

private:
    core::Attempt& m_attempt;
};

}  // namespace

void School::makeRubric() {
    auto rubric = std::make_shared<core::Rubric>();
    rubric->id = "latent-school";
    rubric->title = "Rubric of the invented school";
    rubric->pass.percent = 80;
    for (int z = 0; z < m_shape.zones; ++z) {
        core::Zone& zone = rubric->zones.emplace_back();
        zone.id = "zone-" + std::to_string(z);
        zone.title = "Zone " + std::to_string(z);
        for (int s = 0; s < m_shape.stepsPerZone; ++s) {
            core::Step& step = zone.steps.emplace_back();
            step.id = "step-" + std::to_string(z) + "-" + std::to_string(s);
            step.title = "Step " + std::to_string(s) + " of zone " + std::to_string(z);
            step.show = "point at it";
            step.say = {{"one", "what it is", {}, {}}, {"two", "what makes it safe", {}, {}}};
            step.sayNeeded = 2;
            step.weight = s % 5 == 4 ? 2 : 1;
            step.mustPass = z == m_shape.zones - 2 && s < kChain;
        }
    }
    core::OrderRule& chain = rubric->order.emplace_back();
    chain.id = "brake-order";
    chain.strict = chain.mustPass = true;
    const core::Zone& brakes = rubric->zones[rubric->zones.size() - 2];
    for (std::size_t s = 0; s < kChain; ++s) chain.chain.push_back(brakes.steps[s].id);
    rubric->sections = sections(*rubric);
    m_rubric = std::move(rubric);
}

core::Attempt School::document(const Performance& done, std::size_t observed, Luck& luck) const {
    std::vector<std::size_t> order(done.steps.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    if (!done.chainKept) {  // two neighbours of the chain the other way round
        std::size_t first = 0;
        while (!m_kinds[static_cast<std::size_t>(done.steps[first])].mustPass) ++first;
        const std::size_t at = first + static_cast<std::size_t>(luck.below(kChain - 1));
        std::swap(order[at], order[at + 1]);
    }
    core::Attempt attempt;
    attempt.header.rubric = m_rubric->id;
    attempt.header.edition = m_rubric->edition;
    attempt.header.bus = "12";
    Writer out(attempt);
    for (std::size_t position = 0; position < order.size(); ++position) {
        const std::size_t i = order[position];
        const core::Step& step = *m_steps[static_cast<std::size_t>(done.steps[i])];
        if (position >= observed)
            out.add(core::EventKind::Unreached, step.id);
        else if (!step.mustPass && luck.happens(0.01))
            out.add(core::EventKind::Unseen, step.id);
        else if (done.right[i])
            out.right(step);
        else if (!done.recalled[i] && !step.mustPass)
            out.add(core::EventKind::Omit, step.id);
        else
            out.notRight(step, luck.below(3));
    }
    out.add(core::EventKind::End);
    return attempt;
}

double School::setStart(core::AttemptHeader& header, double day) {
    header.started = core::momentOf(day);
    return core::dayOf(header.started).value_or(day);
}

}  // namespace markerlamp::school
