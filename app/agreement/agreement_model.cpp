// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/agreement/agreement_model.h"

#include "app/support/display.h"
#include "core/agreement/attempt_code.h"

#include <QUuid>

#include <algorithm>

namespace markerlamp::app {

namespace {

std::string newId() {
    return ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
}

/// A, B, ... Z, AA, AB, ...
QString letterOf(int number) {
    QString letters;
    for (++number; number > 0; number = (number - 1) / 26)
        letters.prepend(QChar(QLatin1Char(static_cast<char>('A' + (number - 1) % 26))));
    return letters;
}

}  // namespace

AgreementModel::Key AgreementModel::keyOf(const PairOnFile& pair) const {
    return {pair.first.attempt.header.id, pair.second.attempt.header.id};
}

void AgreementModel::setAgreement(std::shared_ptr<const ProgramAgreement> agreement, AgreementNames names) {
    std::optional<Key> inFront;
    if (const PairOnFile* now = pair()) inFront = keyOf(*now);
    m_agreement = std::move(agreement);
    m_names = std::move(names);
    m_anonymous.clear();
    for (const auto& [key, name] : m_names.instructors)
        m_anonymous.emplace(key, letterOf(static_cast<int>(m_anonymous.size())));
    m_current = pairs() > 0 ? 0 : -1;
    for (int i = 0; inFront && i < pairs(); ++i)
        if (keyOf(m_agreement->pairs[static_cast<std::size_t>(i)]) == *inFront) m_current = i;
    compare();
}

void AgreementModel::setFunnel(core::StrictnessFunnel funnel) {
    m_funnel = std::move(funnel);
    emit funnelChanged();
}

int AgreementModel::pairs() const {
    return m_agreement ? static_cast<int>(m_agreement->pairs.size()) : 0;
}

const PairOnFile* AgreementModel::pair() const {
    return m_current < 0 || m_current >= pairs() ? nullptr
                                                 : &m_agreement->pairs[static_cast<std::size_t>(m_current)];
}

void AgreementModel::setCurrent(int pair) {
    if (pair < 0 || pair >= pairs() || pair == m_current) return;
    m_current = pair;
    compare();
}

void AgreementModel::compare() {
    m_compared = {};
    m_shown = m_said = {};
    if (const PairOnFile* now = pair()) {
        m_compared = core::compareScorings(now->first, now->second);
        const std::vector<core::SharedAttempt> one{{{now->first, now->second}}};
        m_shown = core::agreementOf(one, core::Compared::Shown);
        m_said = core::agreementOf(one, core::Compared::SaidInFull);
        if (!m_drafts.contains(keyOf(*now))) {
            core::Choices& choices = m_drafts[keyOf(*now)] = now->kept.empty() ? onFile(*now) : now->kept;
            dropWhatIsAlike(choices);
        }
    }
    emit reset();
}

void AgreementModel::dropWhatIsAlike(core::Choices& choices) const {
    std::erase_if(choices, [this](const auto& one) {
        return std::ranges::none_of(m_compared.differences, [&](const core::StepDifference& difference) {
            return difference.step == one.first;
        });
    });
}

core::Choices AgreementModel::onFile(const PairOnFile& pair) const {
    core::Choices settled;
    if (!pair.settled) return settled;
    const core::Settlement& record = *pair.settled;
    for (const std::string& step : record.firstRight) settled[step].choice = core::Choice::First;
    for (const std::string& step : record.secondRight) settled[step].choice = core::Choice::Second;
    for (const std::string& step : record.open) settled[step].choice = core::Choice::Open;
    for (const std::string& step : record.other) settled[step].choice = core::Choice::Other;
    if (pair.settledAttempt)
        for (const core::StepMarks& marks : core::foldMarks(*pair.first.rubric, *pair.settledAttempt)) {
            const auto found = settled.find(marks.step);
            if (found == settled.end()) continue;
            if (found->second.choice == core::Choice::Other)
                found->second.other = core::otherMarksOf(*pair.first.rubric->step(marks.step), marks);
            if (!marks.notes.empty()) found->second.reason = marks.notes.back();
        }
    dropWhatIsAlike(settled);
    return settled;
}

core::Choices* AgreementModel::draft() {
    const PairOnFile* now = pair();
    return now == nullptr ? nullptr : &m_drafts[keyOf(*now)];
}

void AgreementModel::keep() {
    const PairOnFile* now = pair();
    if (now == nullptr || !m_keeper) return;
    const Key key = keyOf(*now);
    const auto done = m_keeper(key.first, key.second, changed() ? m_drafts[key] : core::Choices());
    emit kept(done ? QString() : errorText(done.error(), 1));
}

core::Settling AgreementModel::settling(const std::string& step) const {
    const PairOnFile* now = pair();
    if (now == nullptr) return {};
    const auto draft = m_drafts.find(keyOf(*now));
    if (draft == m_drafts.end()) return {};
    const auto found = draft->second.find(step);
    return found == draft->second.end() ? core::Settling() : found->second;
}

void AgreementModel::choose(const std::string& step, core::Choice choice) {
    if (auto* all = draft()) {
        (*all)[step].choice = choice;
        keep();
        emit chosen(qs(step));
    }
}

void AgreementModel::chooseOther(const std::string& step, const core::OtherMarks& marks) {
    if (auto* all = draft()) {
        (*all)[step].choice = core::Choice::Other;
        (*all)[step].other = marks;
        keep();
        emit chosen(qs(step));
    }
}

void AgreementModel::setReason(const std::string& step, const QString& reason) {
    if (auto* all = draft()) {
        (*all)[step].reason = ss(reason.trimmed());
        keep();
    }
}

int AgreementModel::open() const {
    return static_cast<int>(
        std::ranges::count_if(m_compared.differences, [this](const core::StepDifference& difference) {
            return settling(difference.step).choice == core::Choice::Open;
        }));
}

bool AgreementModel::changed() const {
    const PairOnFile* now = pair();
    if (now == nullptr) return false;
    const auto before = onFile(*now);
    return std::ranges::any_of(m_compared.differences, [&](const core::StepDifference& difference) {
        const auto found = before.find(difference.step);
        const core::Settling old = found == before.end() ? core::Settling() : found->second;
        const core::Settling chosen = settling(difference.step);
        if (chosen.choice != old.choice || chosen.reason != old.reason) return true;
        return chosen.choice == core::Choice::Other && chosen.other != old.other;
    });
}

core::Result<std::pair<core::Attempt, core::Settlement>> AgreementModel::settle(const std::string& by,
                                                                                const std::string& at) const {
    const PairOnFile* now = pair();
    if (now == nullptr || m_compared.differences.empty())
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("the two do not differ; there is nothing to settle")));
    if (!changed())
        return core::fail(
            core::ErrorKind::Refused,
            ss(tr("choose for at least one difference who was right; nothing has changed yet")));
    core::Settlement record;
    record.id = newId();
    record.first = now->first.attempt.header.id;
    record.second = now->second.attempt.header.id;
    record.settled = newId();
    record.by = by;
    record.at = at;
    core::Choices choices;
    for (const core::StepDifference& difference : m_compared.differences) {
        const core::Settling chosen = settling(difference.step);
        choices[difference.step] = chosen;
        auto& list = chosen.choice == core::Choice::First    ? record.firstRight
                     : chosen.choice == core::Choice::Second ? record.secondRight
                     : chosen.choice == core::Choice::Other  ? record.other
                                                             : record.open;
        list.push_back(difference.step);
    }
    auto attempt = core::settledAttempt(now->first, now->second, choices, record.settled, by);
    if (!attempt) return core::fail(attempt.error());
    return std::pair(std::move(*attempt), std::move(record));
}

void AgreementModel::setNamesHidden(bool hidden) {
    if (hidden == m_hidden) return;
    m_hidden = hidden;
    emit namesChanged();
}

QString AgreementModel::instructor(const std::string& key) const {
    if (m_hidden) return tr("instructor %1").arg(letters(key));
    const auto found = m_names.instructors.find(key);
    return found == m_names.instructors.end() ? qs(key) : found->second;
}

QString AgreementModel::letters(const std::string& key) const {
    if (m_hidden) {
        const auto found = m_anonymous.find(key);
        return found == m_anonymous.end() ? QStringLiteral("?") : found->second;
    }
    QString initials;
    for (const QString& word : instructor(key).split(QLatin1Char(' '), Qt::SkipEmptyParts))
        if (word.front().isLetterOrNumber() && initials.size() < 3) initials += word.front().toUpper();
    return initials.isEmpty() ? qs(key).left(3) : initials;
}

QString AgreementModel::trainee(const std::string& key) const {
    if (m_hidden) return tr("trainee hidden");
    const auto found = m_names.trainees.find(key);
    return found == m_names.trainees.end() ? qs(key) : found->second;
}

QString AgreementModel::firstMark() const {
    const PairOnFile* now = pair();
    if (now == nullptr) return {};
    const QString mine = letters(now->first.attempt.header.instructor);
    return mine == letters(now->second.attempt.header.instructor) ? tr("%1 first").arg(mine) : mine;
}

QString AgreementModel::secondMark() const {
    const PairOnFile* now = pair();
    if (now == nullptr) return {};
    const QString mine = letters(now->second.attempt.header.instructor);
    return mine == letters(now->first.attempt.header.instructor) ? tr("%1 second").arg(mine) : mine;
}

QString AgreementModel::pairTitle(int number) const {
    if (number < 0 || number >= pairs()) return {};
    const PairOnFile& one = m_agreement->pairs[static_cast<std::size_t>(number)];
    const core::AttemptHeader& header = one.first.attempt.header;
    // The code last: the title of the page has it too, so it may be cut off.
    const QString title = tr("%1, %2, %3", "date, trainee, code")
                              .arg(longDate(startedAt(header.started).date()), trainee(header.trainee),
                                   qs(core::attemptCode(header.id)));
    return one.settled ? tr("%1, settled", "date, trainee, code").arg(title) : title;
}

}  // namespace markerlamp::app
