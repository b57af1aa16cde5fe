// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/program_readiness.h"

#include "app/support/trainee_history.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace markerlamp::app {

namespace {

using core::ErrorKind;
using core::fail;
using core::Result;

constexpr double kUsualPace = 5;  ///< days between attempts where nobody can tell yet; our choice
constexpr double kSecondsPerDay = 86400;

/// An attempt that counts, without what only its debrief needs.
struct KnownAttempt {
    double day = 0;
    bool full = false;
    core::ScoredAttempt scored;
};

bool earlier(const KnownAttempt& a, const KnownAttempt& b) {
    return std::tie(a.day, a.scored.attempt.header.id) < std::tie(b.day, b.scored.attempt.header.id);
}

/// Steps that a gate may ask about: those that must be passed, and those of rules that must be kept.
std::set<std::string> stepsOfGates(const core::Rubric& rubric) {
    std::set<std::string> steps;
    for (const core::Zone& zone : rubric.zones)
        for (const core::Step& step : zone.steps)
            if (step.mustPass) steps.insert(step.id);
    for (const core::OrderRule& rule : rubric.order)
        if (rule.strict && rule.mustPass)
            for (const auto* entries : {&rule.chain, &rule.first, &rule.then})
                for (const std::string& entry : *entries)
                    for (std::string& step : core::stepsNamed(rubric, entry)) steps.insert(std::move(step));
    return steps;
}

/// The rubrics of a file: the newest edition of each, and the steps that gates may ask about in any edition.
struct Editions {
    std::map<std::string, std::shared_ptr<const core::Rubric>> newest;
    std::map<std::string, std::set<std::string>> stepsOfGates;
};

Result<Editions> editionsOf(db::ProgramFile& file) {
    const auto infos = file.rubrics();
    if (!infos) return fail(infos.error());
    Editions editions;
    for (const db::RubricInfo& info : *infos) {
        auto rubric = file.rubric(info.id, info.edition);
        if (!rubric) return fail(rubric.error());
        editions.stepsOfGates[info.id].merge(stepsOfGates(**rubric));
        auto& newest = editions.newest[info.id];
        if (!newest || newest->edition < info.edition) newest = std::move(*rubric);
    }
    return editions;
}

/// Keeps attempts small: a state's file has 60,000 of them.
class Gathering {
public:
    explicit Gathering(const Editions& editions) : m_editions(editions) {}

    void take(const std::shared_ptr<const core::Rubric>& rubric, const core::Attempt& attempt,
              const core::Scorecard& card) {
        KnownAttempt known;
        known.day = core::dayOf(attempt.header.started).value_or(0);
        known.full = attempt.header.zones.size() >= rubric->zones.size();
        known.scored.rubric = rubric;
        known.scored.attempt.header = attempt.header;
        for (const core::Event& event : attempt.events)
            if (event.kind == core::EventKind::End) known.scored.attempt.events.push_back(event);
        known.scored.card = card;
        auto& steps = known.scored.card.steps;
        const std::set<std::string>& kept = m_editions.stepsOfGates.at(rubric->id);
        std::erase_if(steps, [&](const core::StepScore& step) { return !kept.contains(step.step); });
        steps.shrink_to_fit();
        for (core::StepScore& step : steps) step.missedPoints = {};
        m_byTrainee[attempt.header.trainee].push_back(std::move(known));
    }

    std::map<std::string, std::vector<KnownAttempt>> byTrainee() && {
        for (auto& [key, attempts] : m_byTrainee) std::ranges::sort(attempts, earlier);
        return std::move(m_byTrainee);
    }

private:
    const Editions& m_editions;
    std::map<std::string, std::vector<KnownAttempt>> m_byTrainee;
};

/// ISO date at a day number, so many seconds east of UTC.
std::string localDate(double day, int offsetSeconds) {
    return core::momentOf(day + offsetSeconds / kSecondsPerDay).substr(0, 10);
}

/// The value that was counted most; of several the first.
template <class Key>
std::optional<Key> mostOf(const std::map<Key, int>& counts) {
    const auto most = std::ranges::max_element(counts, {}, [](const auto& entry) { return entry.second; });
    if (most == counts.end()) return std::nullopt;
    return most->first;
}

tl::unexpected<core::Error> stopped() {
    return fail(ErrorKind::Usage, {});
}

}  // namespace

struct ProgramReadiness::Impl {
    std::shared_ptr<const core::PracticeRecord> record;
    std::vector<core::Trainee> trainees;
    std::vector<core::Bus> buses;
    core::ReadinessSettings settings;
    std::vector<core::Override> overrides;
    std::vector<core::FrozenForecast> forecasts;
    std::vector<core::TestResult> tests;
    Editions editions;
    std::map<std::string, std::vector<KnownAttempt>> attempts;  ///< by trainee, oldest first
    std::optional<core::ModelSeries> models;

    Result<void> readRecords(db::ProgramFile& file);
    [[nodiscard]] std::vector<const KnownAttempt*> before(const std::string& trainee, double day) const;
    [[nodiscard]] int offsetAt(const std::string& trainee, double day) const;
    Result<core::TestScope> scopeOf(const std::string& trainee, double day,
                                    const std::optional<std::string>& section) const;
    Result<core::TestScope> usualScope(double day, const std::optional<std::string>& section) const;
    [[nodiscard]] double pace(const std::string& trainee, double day) const;
    [[nodiscard]] std::vector<std::string> failedTwice(const std::string& trainee, double day,
                                                       const core::Rubric& rubric) const;
    [[nodiscard]] std::vector<std::string> doneToday(const std::string& trainee, double day) const;

    /// What a question comes to for one trainee.
    struct Asked {
        std::shared_ptr<const core::LearningModel> model;
        core::ForecastRequest request;
    };
    Result<Asked> ask(const core::Trainee& trainee, const std::optional<double>& at,
                      const ReadinessQuestion& question, const Progress& progress);
    Result<core::Trainee> known(const std::string& key) const;
};

Result<void> ProgramReadiness::Impl::readRecords(db::ProgramFile& file) {
    const auto take = [](auto read, auto& into) -> Result<void> {
        if (!read) return fail(read.error());
        into = std::move(*read);
        return {};
    };
    const auto facts = file.facts();
    if (!facts) return fail(facts.error());
    if (auto done = take(core::settingsFromFacts(*facts), settings); !done) return done;
    if (auto done = take(file.trainees(), trainees); !done) return done;
    if (auto done = take(file.buses(), buses); !done) return done;
    if (auto done = take(file.overrides(), overrides); !done) return done;
    if (auto done = take(file.forecasts(), forecasts); !done) return done;
    if (auto done = take(file.testResults(), tests); !done) return done;
    return take(editionsOf(file), editions);
}

std::vector<const KnownAttempt*> ProgramReadiness::Impl::before(const std::string& trainee,
                                                                double day) const {
    std::vector<const KnownAttempt*> list;
    if (const auto found = attempts.find(trainee); found != attempts.end())
        for (const KnownAttempt& attempt : found->second)
            if (attempt.day < day) list.push_back(&attempt);
    return list;
}

/// Of the trainee's newest attempt until then, else of anybody's.
int ProgramReadiness::Impl::offsetAt(const std::string& trainee, double day) const {
    const KnownAttempt* newestAttempt = nullptr;
    if (const auto own = before(trainee, day); !own.empty()) newestAttempt = own.back();
    if (newestAttempt == nullptr)
        for (const auto& [key, list] : attempts)
            for (const KnownAttempt& attempt : list)
                if (attempt.day < day && (newestAttempt == nullptr || earlier(*newestAttempt, attempt)))
                    newestAttempt = &attempt;
    if (newestAttempt == nullptr) return 0;
    return core::offsetSecondsOf(newestAttempt->scored.attempt.header.started).value_or(0);
}

/// For who has no attempt yet: the rubric and the bus that the program uses most.
Result<core::TestScope> ProgramReadiness::Impl::usualScope(double day,
                                                           const std::optional<std::string>& section) const {
    std::map<std::string, int> uses;
    for (const auto& [key, list] : attempts)
        for (const KnownAttempt& attempt : list)
            if (attempt.day < day) ++uses[attempt.scored.attempt.header.rubric];
    const std::string rubric = mostOf(uses).value_or(editions.newest.begin()->first);
    std::map<std::vector<std::string>, int> equipments;
    for (const auto& [key, list] : attempts)
        for (const KnownAttempt& attempt : list)
            if (attempt.day < day && attempt.scored.attempt.header.rubric == rubric)
                ++equipments[attempt.scored.attempt.header.equipment];
    auto equipment = mostOf(equipments);
    if (!equipment) {
        const auto bus =
            std::ranges::find_if(buses, [](const core::Bus& one) { return !one.equipment.empty(); });
        equipment.emplace();
        if (bus != buses.end())
            equipment = bus->equipment;
        else
            for (const auto& [tag, title] : editions.newest.at(rubric)->equipment) equipment->push_back(tag);
    }
    return core::testScope(editions.newest.at(rubric), *equipment, section);
}

Result<core::TestScope> ProgramReadiness::Impl::scopeOf(const std::string& trainee, double day,
                                                        const std::optional<std::string>& section) const {
    if (editions.newest.empty())
        return fail(ErrorKind::NotFound, "the program file has no rubric yet; import one first");
    const auto own = before(trainee, day);
    if (own.empty()) return usualScope(day, section);
    const core::AttemptHeader& last = own.back()->scored.attempt.header;
    return core::testScope(editions.newest.at(last.rubric), last.equipment, section);
}

/// Steps that were right the last time today: they need no second drill on the same day.
std::vector<std::string> ProgramReadiness::Impl::doneToday(const std::string& trainee, double day) const {
    const auto number = record->traineeNumber(trainee);
    if (!number) return {};
    const int offset = offsetAt(trainee, day);
    const std::string today = localDate(day, offset);
    std::set<std::string> done;
    for (const std::size_t index : record->attemptsOf(*number, day)) {
        const core::PracticeAttempt& attempt = record->attempts()[index];
        if (localDate(attempt.day, offset) != today) continue;
        for (const core::StepTry& one : attempt.tries) {
            const std::string& step = record->steps()[static_cast<std::size_t>(one.step)].step;
            if (one.right)
                done.insert(step);
            else
                done.erase(step);
        }
    }
    return {done.begin(), done.end()};
}

/// Days between two attempts: the trainee's own, else kUsualPace.
double ProgramReadiness::Impl::pace(const std::string& trainee, double day) const {
    std::vector<double> days;
    for (const KnownAttempt* attempt : before(trainee, day)) days.push_back(attempt->day);
    return core::paceOf(days, kUsualPace);
}

std::vector<std::string> ProgramReadiness::Impl::failedTwice(const std::string& trainee, double day,
                                                             const core::Rubric& rubric) const {
    const auto number = record->traineeNumber(trainee);
    if (!number) return {};
    std::map<std::int32_t, std::vector<bool>> tries;  // by step, oldest first
    for (const std::size_t index : record->attemptsOf(*number, day))
        for (const core::StepTry& one : record->attempts()[index].tries) tries[one.step].push_back(one.right);
    std::vector<std::string> titles;
    for (const core::Zone& zone : rubric.zones)
        for (const core::Step& step : zone.steps) {
            const auto known = record->stepNumber(rubric.id, step.id);
            if (!step.mustPass || !known) continue;
            const std::vector<bool>& marks = tries[*known];
            const std::size_t count = marks.size();
            if (count >= 2 && !marks[count - 1] && !marks[count - 2]) titles.push_back(step.title);
        }
    return titles;
}

Result<core::Trainee> ProgramReadiness::Impl::known(const std::string& key) const {
    const auto found = std::ranges::find(trainees, key, &core::Trainee::key);
    if (found != trainees.end()) return *found;
    return fail(ErrorKind::NotFound, noSuchTrainee(key, trainees));
}

Result<ProgramReadiness::Impl::Asked> ProgramReadiness::Impl::ask(const core::Trainee& trainee,
                                                                  const std::optional<double>& at,
                                                                  const ReadinessQuestion& question,
                                                                  const Progress& progress) {
    if (!at)
        return fail(ErrorKind::Refused, "trainee \"" + trainee.key +
                                            "\" has no finished attempt yet, so no day can be counted from "
                                            "the last one; ask for a moment instead");
    auto scope = scopeOf(trainee.key, *at, question.section);
    if (!scope) return fail(scope.error());
    auto model = models->at(*at, progress);
    if (!model) return stopped();
    Asked asked{std::move(model), {}};
    asked.request.trainee = trainee.key;
    asked.request.at = *at;
    asked.request.scope = std::move(*scope);
    return asked;
}

ProgramReadiness::ProgramReadiness(std::unique_ptr<Impl> impl) : m_impl(std::move(impl)) {}
ProgramReadiness::~ProgramReadiness() = default;

Result<std::unique_ptr<ProgramReadiness>> ProgramReadiness::read(db::ProgramFile& file,
                                                                 const Progress& progress) {
    auto impl = std::make_unique<Impl>();
    if (auto done = impl->readRecords(file); !done) return fail(done.error());
    Gathering gathering(impl->editions);
    auto record = file.practiceRecord(
        progress, [&](const auto& rubric, const core::Attempt& attempt, const core::Scorecard& card) {
            gathering.take(rubric, attempt, card);
        });
    if (!record) return fail(record.error());
    if (!*record) return stopped();
    impl->record = std::move(*record);
    impl->attempts = std::move(gathering).byTrainee();
    impl->models.emplace(impl->record);
    return std::unique_ptr<ProgramReadiness>(new ProgramReadiness(std::move(impl)));
}

const std::vector<core::Trainee>& ProgramReadiness::trainees() const {
    return m_impl->trainees;
}
const core::ReadinessSettings& ProgramReadiness::settings() const {
    return m_impl->settings;
}
const core::PracticeRecord& ProgramReadiness::record() const {
    return *m_impl->record;
}

std::optional<double> ProgramReadiness::momentFor(const std::string& trainee,
                                                  const ReadinessQuestion& question) const {
    if (!question.aheadDays) return question.at.value_or(question.now);
    const auto found = m_impl->attempts.find(trainee);
    if (found == m_impl->attempts.end()) return std::nullopt;
    return found->second.back().day + *question.aheadDays;
}

Result<core::Readiness> ProgramReadiness::readiness(const std::string& key, const ReadinessQuestion& question,
                                                    const Progress& progress) {
    const auto trainee = m_impl->known(key);
    if (!trainee) return fail(trainee.error());
    const auto asked = m_impl->ask(*trainee, momentFor(key, question), question, progress);
    if (!asked) return fail(asked.error());
    const core::Forecast forecast = core::forecast(*asked->model, asked->request);
    std::vector<core::ScoredAttempt> attempts;
    for (const KnownAttempt* attempt : m_impl->before(key, asked->request.at))
        attempts.push_back(attempt->scored);
    const std::string today = localDate(asked->request.at, m_impl->offsetAt(key, asked->request.at));
    std::vector<core::Override> overrides;
    std::ranges::copy_if(m_impl->overrides, std::back_inserter(overrides),
                         [&](const core::Override& entry) { return entry.trainee == key; });
    return core::judge(forecast, core::gates(*trainee, attempts, today, m_impl->settings), overrides,
                       m_impl->settings);
}

Result<Outlook> ProgramReadiness::outlook(const std::string& key, const ReadinessQuestion& question,
                                          const Progress& progress) {
    const auto trainee = m_impl->known(key);
    if (!trainee) return fail(trainee.error());
    const auto asked = m_impl->ask(*trainee, momentFor(key, question), question, progress);
    if (!asked) return fail(asked.error());
    const double at = asked->request.at;
    return Outlook{
        core::readyAhead(*asked->model, asked->request, m_impl->settings.readyAt, m_impl->pace(key, at)),
        m_impl->failedTwice(key, at, *asked->request.scope.rubric)};
}

Result<core::DrillPlanner> ProgramReadiness::planner(const std::string& key,
                                                     const ReadinessQuestion& question,
                                                     const Progress& progress) {
    const auto trainee = m_impl->known(key);
    if (!trainee) return fail(trainee.error());
    const auto asked = m_impl->ask(*trainee, momentFor(key, question), question, progress);
    if (!asked) return fail(asked.error());
    return core::DrillPlanner(core::testDraws(*asked->model, asked->request),
                              m_impl->doneToday(key, asked->request.at));
}

core::TrackRecord ProgramReadiness::frozen() const {
    std::map<std::string, core::AttemptOutcome> outcomes;
    for (const auto& [trainee, list] : m_impl->attempts)
        for (const KnownAttempt& attempt : list)
            if (attempt.full)
                outcomes[attempt.scored.attempt.header.id] = {attempt.scored.card.result,
                                                              attempt.scored.attempt.header.started};
    return core::frozenRecord(m_impl->forecasts, outcomes, m_impl->tests);
}

core::TrackRecord ProgramReadiness::replayed(const Progress& progress) {
    std::vector<const KnownAttempt*> full;
    for (const auto& [trainee, list] : m_impl->attempts)
        for (const KnownAttempt& attempt : list)
            if (attempt.full) full.push_back(&attempt);
    std::ranges::sort(full, [](const KnownAttempt* a, const KnownAttempt* b) { return earlier(*a, *b); });
    std::vector<core::ReplayAttempt> attempts;
    for (const KnownAttempt* attempt : full) {
        const core::AttemptHeader& header = attempt->scored.attempt.header;
        attempts.push_back({header.id, header.trainee, header.started, attempt->scored.rubric,
                            header.equipment, attempt->scored.card.result});
    }
    return core::replay(*m_impl->models, attempts, progress);
}

}  // namespace markerlamp::app
