// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "open_answers.h"

#include "core/base/csv.h"
#include "demo/generator/random.h"
#include "step_chances.h"

#include <algorithm>
#include <fstream>
#include <set>
#include <sstream>
#include <stdexcept>

namespace markerlamp::outside {

namespace {

constexpr int kDraws = 100;

std::vector<std::vector<int>> numbers(const std::string& path) {
    std::ifstream in(path);
    std::ostringstream text;
    text << in.rdbuf();
    const auto table = core::readCsv(text.str(), path);
    if (!table) throw std::runtime_error(table.error().message);
    std::vector<std::vector<int>> rows;
    for (const auto& row : table->rows) {
        auto& made = rows.emplace_back();
        for (const std::string& field : row) made.push_back(std::stoi(field));
    }
    return rows;
}

std::string itemId(int item) {
    return "item-" + std::to_string(item);
}
std::string personKey(int person) {
    return "person-" + std::to_string(person);
}

core::Attempt attemptOf(const core::Rubric& rubric, int person, int occasion, double day,
                        const std::map<int, bool>& answers) {
    core::Attempt attempt;
    core::AttemptHeader& header = attempt.header;
    header.id = personKey(person) + "-" + std::to_string(occasion);
    header.rubric = rubric.id;
    header.edition = rubric.edition;
    header.trainee = personKey(person);
    header.instructor = "answers";
    header.bus = "none";
    header.started = core::momentOf(day);
    const auto add = [&attempt](core::EventKind kind, const std::string& step) {
        core::Event& event = attempt.events.emplace_back();
        event.n = static_cast<int>(attempt.events.size());
        event.t = event.n;
        event.kind = kind;
        event.step = step;
    };
    for (const core::Zone& zone : rubric.zones) {
        const bool asked = std::ranges::any_of(zone.steps, [&answers](const core::Step& step) {
            return std::ranges::any_of(answers,
                                       [&step](const auto& one) { return itemId(one.first) == step.id; });
        });
        if (!asked) continue;
        header.zones.push_back(zone.id);
        for (const core::Step& step : zone.steps) {
            const auto answer = answers.find(std::stoi(step.id.substr(5)));
            if (answer == answers.end())
                add(core::EventKind::Unseen, step.id);
            else
                add(answer->second ? core::EventKind::Show : core::EventKind::Omit, step.id);
        }
    }
    add(core::EventKind::End, {});
    return attempt;
}

}  // namespace

std::vector<OpenAnswer> readAnswers(const std::string& path) {
    std::vector<OpenAnswer> answers;
    for (const auto& row : numbers(path))
        answers.push_back({row.at(0) - 1, row.at(1) - 1, row.at(2) - 1, row.at(1) - 1, row.at(3) != 0});
    return answers;
}

std::vector<OpenAnswer> readTrials(const std::string& path) {
    std::vector<OpenAnswer> answers;
    demo::Random random(20);
    for (const auto& row : numbers(path)) {
        int left = row.at(2);
        for (int pair = 0; pair < row.at(3); ++pair) {
            const bool right = random.below(row.at(3) - pair) < left;
            if (right) --left;
            answers.push_back({row.at(0) - 1, row.at(1) - 1, pair, row.at(1) - 1, right});
        }
    }
    return answers;
}

std::shared_ptr<const core::Rubric> rubricOf(const std::vector<OpenAnswer>& answers, bool zoneAnOccasion) {
    std::map<int, std::set<int>> zones;
    for (const OpenAnswer& answer : answers) zones[zoneAnOccasion ? answer.occasion : 0].insert(answer.item);
    auto rubric = std::make_shared<core::Rubric>();
    rubric->id = "open-answers";
    rubric->title = "Open answers";
    rubric->pass.percent = 80;
    for (const auto& [number, items] : zones) {
        core::Zone& zone = rubric->zones.emplace_back();
        zone.id = "occasion-" + std::to_string(number);
        for (const int item : items) {
            core::Step& step = zone.steps.emplace_back();
            step.id = itemId(item);
            step.show = "answer it";
        }
    }
    return rubric;
}

std::shared_ptr<const core::PracticeRecord> recordOf(const std::shared_ptr<const core::Rubric>& rubric,
                                                     const std::vector<OpenAnswer>& answers, double apart) {
    std::map<std::pair<int, int>, std::map<int, bool>> sittings;
    for (const OpenAnswer& answer : answers)
        sittings[{answer.person, answer.place}][answer.item] = answer.right;
    auto record = std::make_shared<core::PracticeRecord>();
    const core::Scorer scorer(rubric);
    for (const auto& [who, given] : sittings) {
        const double day = kFirstDay + who.second * apart;
        const core::Attempt attempt = attemptOf(*rubric, who.first, who.second, day, given);
        if (!record->add(*rubric, attempt, scorer.score(attempt)))
            throw std::runtime_error("an attempt does not count");
    }
    record->sort();
    return record;
}

std::map<int, double> chances(const core::LearningModel& model,
                              const std::shared_ptr<const core::Rubric>& rubric, int person, double day) {
    const core::TestDraws draws =
        core::testDraws(model, {personKey(person), day, core::wholeScope(rubric, {}), kDraws});
    const std::vector<double> each = school::stepChances(draws);
    std::map<int, double> made;
    for (std::size_t s = 0; s < each.size(); ++s) made[std::stoi(draws.steps[s].step.substr(5))] = each[s];
    return made;
}

}  // namespace markerlamp::outside
