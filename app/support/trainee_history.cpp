// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/trainee_history.h"

#include "app/support/blind.h"
#include "app/support/display.h"
#include "app/support/names.h"
#include "core/base/text.h"

#include <algorithm>
#include <map>
#include <memory>
#include <utility>

namespace markerlamp::app {

namespace {

using core::ErrorKind;
using core::fail;
using core::Result;

/// "a, b, c and 12 more".
std::string listed(const std::vector<std::string>& words) {
    constexpr std::size_t kMost = 40;
    std::string text;
    for (std::size_t i = 0; i < words.size() && i < kMost; ++i) text += (i > 0 ? ", " : "") + words[i];
    if (words.size() > kMost) text += " and " + std::to_string(words.size() - kMost) + " more";
    return text;
}

Result<core::ScoredAttempt> scoredAttempt(db::ProgramFile& file, const ScorerSource& scorers,
                                          const db::AttemptInfo& info) {
    auto attempt = file.attempt(info.id);
    if (!attempt) return fail(attempt.error());
    auto scorer = scorers(info.rubric, info.edition);
    if (!scorer) return fail(scorer.error());
    auto rubric = file.rubric(info.rubric, info.edition);
    if (!rubric) return fail(rubric.error());
    core::Scorecard card = (*scorer)->score(*attempt);
    return core::ScoredAttempt{*rubric, std::move(*attempt), std::move(card)};
}

bool fitForHistory(const db::AttemptInfo& info) {
    return info.state == db::AttemptState::Ended && info.of.empty();
}

Result<core::Trainee> knownTrainee(db::ProgramFile& file, const std::string& key) {
    auto trainee = file.trainee(key);
    if (!trainee) return fail(trainee.error());
    if (*trainee) return std::move(**trainee);
    auto all = file.trainees();
    if (!all) return fail(all.error());
    return fail(ErrorKind::NotFound, noSuchTrainee(key, *all));
}

/// The attempt that is meant, among those of the trainee (newest first).
Result<db::AttemptInfo> meantAttempt(db::ProgramFile& file, const core::Trainee& trainee,
                                     const std::string& id) {
    auto infos = file.attempts(trainee.key);
    if (!infos) return fail(infos.error());
    std::vector<std::string> ended;
    const std::set<std::string> hidden = hiddenFrom(*infos);
    for (const db::AttemptInfo& info : *infos) {
        if (hidden.contains(info.id)) {
            if (info.id == id) return fail(ErrorKind::Refused, hiddenReason());
            continue;
        }
        if (info.id == id || (id.empty() && fitForHistory(info))) return info;
        if (fitForHistory(info)) ended.push_back(info.id + " (" + info.started + ")");
    }
    if (id.empty())
        return fail(ErrorKind::NotFound, "trainee \"" + trainee.key + "\" has no finished attempt yet");
    auto other = file.attemptInfo(id);
    if (!other) return fail(other.error());
    std::string message = *other ? "attempt \"" + id + "\" is of trainee \"" + (*other)->trainee +
                                       "\", not of \"" + trainee.key + "\""
                                 : "there is no attempt \"" + id + "\"";
    message += ended.empty() ? "; trainee \"" + trainee.key + "\" has no finished attempt yet"
                             : "; finished attempts of \"" + trainee.key + "\": " + listed(ended);
    return fail(ErrorKind::NotFound, std::move(message));
}

/// Who amended the attempt last, and when; both empty when nobody did.
std::pair<std::string, std::string> lastAmendment(const core::Attempt& attempt) {
    for (auto event = attempt.events.rbegin(); event != attempt.events.rend(); ++event)
        if (!event->by.empty()) return {event->by, event->at};
    return {};
}

}  // namespace

std::string noSuchTrainee(const std::string& key, const std::vector<core::Trainee>& onFile) {
    std::vector<std::string> keys;
    for (const core::Trainee& one : onFile) keys.push_back(one.key);
    const std::string near = core::nearest(key, keys);
    return "there is no trainee \"" + key + "\"; " + (near.empty() ? "" : "is " + near + " meant? ") +
           (keys.empty() ? "the program file has no trainees yet" : "the keys on file are " + listed(keys));
}

ScorerSource scorersOf(db::ProgramFile& file) {
    using Key = std::pair<std::string, int>;
    auto prepared = std::make_shared<std::map<Key, std::shared_ptr<const core::Scorer>>>();
    return [&file, prepared](const std::string& id, int edition) -> Result<const core::Scorer*> {
        auto& scorer = (*prepared)[{id, edition}];
        if (!scorer) {
            auto rubric = file.rubric(id, edition);
            if (!rubric) return fail(rubric.error());
            scorer = std::make_shared<const core::Scorer>(*rubric);
        }
        return scorer.get();
    };
}

Result<std::vector<core::ScoredAttempt>> traineeHistory(db::ProgramFile& file, const ScorerSource& scorers,
                                                        const std::string& trainee, const std::string& upTo) {
    auto infos = file.attempts(trainee);
    if (!infos) return fail(infos.error());
    std::reverse(infos->begin(), infos->end());
    const auto startOf = [](const db::AttemptInfo& info) { return startedAt(info.started); };
    std::stable_sort(infos->begin(), infos->end(), [&](const db::AttemptInfo& a, const db::AttemptInfo& b) {
        return startOf(a) < startOf(b);
    });
    const auto last = std::find_if(infos->begin(), infos->end(),
                                   [&](const db::AttemptInfo& info) { return info.id == upTo; });
    const std::set<std::string> hidden = hiddenFrom(*infos);
    std::vector<core::ScoredAttempt> history;
    for (auto info = infos->begin(); info != infos->end(); ++info) {
        if (last != infos->end() && startOf(*info) > startOf(*last)) break;
        if (info == last || !fitForHistory(*info) || hidden.contains(info->id)) continue;
        auto scored = scoredAttempt(file, scorers, *info);
        if (!scored) return fail(scored.error());
        history.push_back(std::move(*scored));
    }
    if (last != infos->end() && fitForHistory(*last) && !hidden.contains(last->id)) {
        auto scored = scoredAttempt(file, scorers, *last);
        if (!scored) return fail(scored.error());
        history.push_back(std::move(*scored));
    }
    return history;
}

Result<forms::ProgressSheetInput> progressSheetInput(db::ProgramFile& file, const ScorerSource& scorers,
                                                     const std::string& trainee, const std::string& attempt) {
    auto known = knownTrainee(file, trainee);
    if (!known) return fail(known.error());
    auto meant = meantAttempt(file, *known, attempt);
    if (!meant) return fail(meant.error());
    auto history = traineeHistory(file, scorers, trainee, meant->id);
    if (!history) return fail(history.error());

    // An attempt that is no part of the history (unfinished, a second scoring) has its sheet all the same.
    if (history->empty() || history->back().attempt.header.id != meant->id) {
        auto scored = scoredAttempt(file, scorers, *meant);
        if (!scored) return fail(scored.error());
        history->push_back(std::move(*scored));
    }

    forms::ProgressSheetInput input;
    auto title = file.fact("program.title");
    if (!title) return fail(title.error());
    input.programTitle = qs(title->value_or(std::string()));
    input.trainee = std::move(*known);
    input.history = std::move(*history);
    const core::Attempt& last = input.history.back().attempt;
    input.instructorName = instructorName(file, last.header.instructor);
    input.busTitle = busTitle(file, last.header.bus);
    const auto [by, at] = lastAmendment(last);
    if (!by.empty()) {
        input.amendedBy = instructorName(file, by);
        input.amendedAt = qs(at);
    }
    return input;
}

}  // namespace markerlamp::app
