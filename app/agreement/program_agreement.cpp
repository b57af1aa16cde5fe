// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/agreement/program_agreement.h"

#include "core/agreement/attempt_code.h"
#include "core/agreement/scoring_pair.h"
#include "core/base/moment.h"

#include <algorithm>
#include <map>
#include <set>

namespace markerlamp::app {

namespace {

using core::Result;
using db::AttemptInfo;
using db::AttemptState;

constexpr double kReading = 0.3;  ///< of the way to the funnel; the rest is the fit

/// Which attempt goes with which.
struct Scorings {
    std::map<std::string, const AttemptInfo*> byId;
    std::vector<std::pair<const AttemptInfo*, const AttemptInfo*>> pairs;  ///< second, its first or nullptr
};

std::string keyOfChoices(const std::string& first, const std::string& second) {
    return "draft.settling." + first + "." + second;
}

core::FirstScorings::One asOne(const AttemptInfo& info) {
    return {info.id, info.trainee, info.rubric, info.edition};
}

Scorings scoringsOf(const std::vector<AttemptInfo>& infos, const std::set<std::string>& settled) {
    Scorings scorings;
    core::FirstScorings firsts;
    for (const AttemptInfo& info : infos) {
        scorings.byId.emplace(info.id, &info);
        if (info.of.empty()) firsts.add(asOne(info));
    }
    for (const AttemptInfo& info : infos) {
        if (info.of.empty() || settled.contains(info.id) || info.state == AttemptState::SetAside) continue;
        const auto first = scorings.byId.find(firsts.idOf(info.of, asOne(info)));
        scorings.pairs.emplace_back(&info, first == scorings.byId.end() ? nullptr : first->second);
    }
    return scorings;
}

std::optional<WaitingScoring::Why> whyNot(const AttemptInfo& second, const AttemptInfo* first) {
    using Why = WaitingScoring::Why;
    if (second.state == AttemptState::Open) return Why::SecondOpen;
    if (first == nullptr || first->state == AttemptState::SetAside) return Why::FirstMissing;
    if (first->state == AttemptState::Open) return Why::FirstOpen;
    if (first->rubric != second.rubric || first->edition != second.edition) return Why::OtherEdition;
    return std::nullopt;
}

Result<core::ScoredAttempt> scoredOf(db::ProgramFile& file, const AttemptInfo& info) {
    auto attempt = file.attempt(info.id);
    if (!attempt) return core::fail(attempt.error());
    auto rubric = file.rubric(info.rubric, info.edition);
    if (!rubric) return core::fail(rubric.error());
    core::Scorecard card = core::score(**rubric, *attempt);
    return core::ScoredAttempt{std::move(*rubric), std::move(*attempt), std::move(card)};
}

}  // namespace

Result<std::vector<core::ScoredAttempt>> scoringsToCompare(db::ProgramFile& file) {
    const auto infos = file.attempts();
    if (!infos) return core::fail(infos.error());
    const auto settlements = file.settlements();
    if (!settlements) return core::fail(settlements.error());
    const Scorings scorings = scoringsOf(*infos, core::settledAttempts(*settlements));
    std::set<std::string> wanted;
    for (const auto& [second, first] : scorings.pairs)
        if (!whyNot(*second, first)) wanted.insert({second->id, first->id});
    std::vector<core::ScoredAttempt> scored;
    for (const std::string& id : wanted) {
        auto one = scoredOf(file, *scorings.byId.at(id));
        if (!one) return core::fail(one.error());
        scored.push_back(std::move(*one));
    }
    return scored;
}

Result<ProgramAgreement> readAgreement(db::ProgramFile& file) {
    const auto infos = file.attempts();
    if (!infos) return core::fail(infos.error());
    const auto settlements = file.settlements();
    if (!settlements) return core::fail(settlements.error());
    const Scorings scorings = scoringsOf(*infos, core::settledAttempts(*settlements));
    auto scored = scoringsToCompare(file);
    if (!scored) return core::fail(scored.error());

    ProgramAgreement agreement;
    std::set<std::string> instructors;
    for (const AttemptInfo& info : *infos)
        if (info.state == AttemptState::Ended) instructors.insert(info.instructor);
    agreement.instructors = static_cast<int>(instructors.size());
    for (const auto& [second, first] : scorings.pairs)
        if (const auto why = whyNot(*second, first))
            agreement.waiting.push_back(
                {*why, second->id,
                 core::isAttemptCode(second->of) ? second->of : core::attemptCode(second->of)});
    agreement.shared = core::sharedAttempts(std::move(*scored));
    const std::vector<core::SharedAttempt> pairs = core::pairsOf(agreement.shared);
    for (const core::SharedAttempt& pair : pairs) {
        PairOnFile one{pair.scorings[0], pair.scorings[1], std::nullopt, std::nullopt, {}};
        const std::string& first = one.first.attempt.header.id;
        const std::string& second = one.second.attempt.header.id;
        // Choices that cannot be read are no reason to show nothing at all: the pair is as it is on file.
        if (auto kept = keptChoices(file, first, second)) one.kept = std::move(*kept);
        if (const core::Settlement* record = core::standing(*settlements, first, second)) {
            one.settled = *record;
            if (auto attempt = file.attempt(record->settled)) one.settledAttempt = std::move(*attempt);
        }
        agreement.pairs.push_back(std::move(one));
    }
    std::ranges::stable_sort(agreement.pairs, [](const PairOnFile& a, const PairOnFile& b) {
        return core::millisecondsOf(a.first.attempt.header.started).value_or(0) >
               core::millisecondsOf(b.first.attempt.header.started).value_or(0);
    });
    agreement.shown = core::agreementOf(pairs, core::Compared::Shown);
    agreement.said = core::agreementOf(pairs, core::Compared::SaidInFull);
    agreement.disputed = core::disputedSteps(agreement.shared);
    return agreement;
}

Result<std::optional<core::StrictnessFunnel>> funnelOf(db::ProgramFile& file,
                                                       const ProgramAgreement& agreement,
                                                       const std::function<bool(double)>& progress) {
    using Funnel = std::optional<core::StrictnessFunnel>;
    const auto record = file.practiceRecord([&](double share) { return progress(kReading * share); });
    if (!record) return core::fail(record.error());
    if (!*record) return Funnel();
    core::ModelOptions options;
    options.progress = [&](double share) { return progress(kReading + (1 - kReading) * share); };
    const auto model = core::LearningModel::fit(*record, options);
    if (!model) return Funnel();
    return Funnel(core::strictnessFunnel(*model, core::sharedByInstructor(agreement.shared)));
}

Result<void> keepChoices(db::ProgramFile& file, const std::string& first, const std::string& second,
                         const core::Choices& choices) {
    const std::string key = keyOfChoices(first, second);
    if (!choices.empty()) return file.setFact(key, core::writeChoices(choices));
    const auto kept = file.fact(key);
    if (!kept) return core::fail(kept.error());
    return *kept && !(*kept)->empty() ? file.setFact(key, {}) : Result<void>();
}

Result<core::Choices> keptChoices(db::ProgramFile& file, const std::string& first,
                                  const std::string& second) {
    const auto text = file.fact(keyOfChoices(first, second));
    if (!text) return core::fail(text.error());
    if (!*text || (*text)->empty()) return core::Choices();
    return core::readChoices(**text, keyOfChoices(first, second));
}

Result<std::vector<OpenPair>> openPairs(db::ProgramFile& file, const std::function<bool()>& goOn) {
    const auto infos = file.attempts();
    if (!infos) return core::fail(infos.error());
    const auto settlements = file.settlements();
    if (!settlements) return core::fail(settlements.error());
    std::vector<OpenPair> open;
    const Scorings scorings = scoringsOf(*infos, core::settledAttempts(*settlements));
    for (const auto& [second, first] : scorings.pairs) {
        if (!goOn()) break;
        if (whyNot(*second, first) || core::standing(*settlements, first->id, second->id) != nullptr)
            continue;
        auto one = scoredOf(file, *first), other = scoredOf(file, *second);
        if (!one) return core::fail(one.error());
        if (!other) return core::fail(other.error());
        if (!core::compareScorings(*one, *other).differences.empty())
            open.push_back({first->trainee, first->id, second->id});
    }
    return open;
}

Result<void> storeSettlement(db::ProgramFile& file, const core::Attempt& attempt,
                             const core::Settlement& settlement) {
    return file.transaction([&]() -> Result<void> {
        if (auto added = file.addAttempt(attempt); !added) return core::fail(added.error());
        if (auto added = file.addSettlement(settlement); !added) return core::fail(added.error());
        return keepChoices(file, settlement.first, settlement.second, {});
    });
}

}  // namespace markerlamp::app
