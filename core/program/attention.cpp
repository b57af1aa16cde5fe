// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/program/attention.h"

#include "core/base/fact_settings.h"
#include "core/readiness/practice_record.h"

#include <algorithm>
#include <string_view>
#include <tuple>

namespace markerlamp::core {

namespace {

constexpr std::string_view kPrefix = "program.attention.";

const std::vector<FactSetting<AttentionSettings>>& allSettings() {
    using S = AttentionSettings;
    const auto key = [](std::string_view name) { return std::string(kPrefix) + std::string(name); };
    static const std::vector<FactSetting<S>> all{
        wholeFact(key("stalled_days"), &S::stalledDays, 1, 365),
        wholeFact(key("flat_attempts"), &S::flatAttempts, 2, 20),
        numberFact(key("flat_points"), &S::flatPoints, 0, 50),
        wholeFact(key("test_within_days"), &S::testWithinDays, 1, 365),
        wholeFact(key("unsigned_days"), &S::unsignedDays, 1, 365),
    };
    return all;
}

/// Looks for the reasons one after the other.
class Reasons {
public:
    Reasons(const Standing& standing, const std::string& today, const PeopleSettings& people,
            const AttentionSettings& settings)
        : m_standing(standing),
          m_today(today),
          m_people(people),
          m_settings(settings),
          m_dates(datesAhead(standing.person, today, people)) {}

    [[nodiscard]] std::optional<Attention> first() const {
        if (isAway(m_standing.person.absences, m_today)) return std::nullopt;
        if (passedAll(m_standing.person.results)) return dateAhead();
        for (const auto look :
             {&Reasons::dateOver, &Reasons::permitFirst, &Reasons::testUnready, &Reasons::readyNoTest,
              &Reasons::mustPassTwice, &Reasons::stalled, &Reasons::noGain, &Reasons::dateAhead,
              &Reasons::sheetUnsigned, &Reasons::secondOpen})
            if (auto found = (this->*look)()) return found;
        return std::nullopt;
    }

private:
    [[nodiscard]] Attention of(AttentionKind kind, AttentionAction action) const {
        Attention made;
        made.trainee = m_standing.person.trainee.key;
        made.kind = kind;
        made.action = action;
        return made;
    }
    [[nodiscard]] Attention ofDate(AttentionKind kind, const DateAhead& date) const {
        const bool report = date.kind == DateKind::TheoryReport || date.kind == DateKind::WheelReport;
        Attention made = of(kind, report ? AttentionAction::SeeRecord : AttentionAction::EnterDate);
        made.dateKind = date.kind;
        made.date = date.date;
        made.days = date.days;
        return made;
    }
    /// Known not to be ready; who was not worked out yet is not judged.
    [[nodiscard]] bool unready() const { return m_standing.word && *m_standing.word != ReadinessWord::Ready; }
    /// The next day for which a test is booked; nullptr: none.
    [[nodiscard]] const BookedTest* nextTest() const {
        const BookedTest* next = nullptr;
        for (const BookedTest& one : m_standing.person.bookings)
            if (one.state == BookingState::Booked && one.date >= m_today &&
                (next == nullptr || one.date < next->date))
                next = &one;
        return next;
    }
    [[nodiscard]] std::vector<std::string> lastAttempts(std::size_t most) const {
        std::vector<std::string> ids;
        for (auto at = m_standing.sittings.rbegin(); at != m_standing.sittings.rend() && ids.size() < most;
             ++at)
            ids.push_back(at->attempt);
        return ids;
    }

    [[nodiscard]] std::optional<Attention> dateOver() const {
        for (const DateAhead& date : m_dates)
            if (date.over()) return ofDate(AttentionKind::DateOver, date);
        return std::nullopt;
    }

    [[nodiscard]] std::optional<Attention> permitFirst() const {
        const std::string end = permitEnd(m_standing.person.trainee, m_people);
        const auto spare = daysToSpare(m_standing, m_today, m_people);
        if (!unready() || end.empty() || !spare || *spare >= 0) return std::nullopt;
        // Where the latest day is open, only the earliest one says how far it is: no alarm before it lies in
        // the second half of what is left of the permit.
        const int left = daysBetween(m_today, end);
        if (!m_standing.readyHigh && m_standing.readyLow && 2 * *m_standing.readyLow < left)
            return std::nullopt;
        Attention made = of(AttentionKind::PermitFirst, AttentionAction::BookSession);
        made.dateKind = DateKind::Permit;
        made.date = end;
        made.days = left;
        made.readyLow = m_standing.readyLow;
        made.readyHigh = m_standing.readyHigh;
        return made;
    }

    [[nodiscard]] std::optional<Attention> testUnready() const {
        const BookedTest* test = nextTest();
        if (test == nullptr || !unready()) return std::nullopt;
        Attention made = of(AttentionKind::TestUnready, AttentionAction::Drill);
        made.date = test->date;
        made.days = daysBetween(m_today, test->date);
        if (made.days > m_settings.testWithinDays) return std::nullopt;
        return made;
    }

    [[nodiscard]] std::optional<Attention> readyNoTest() const {
        if (m_standing.word != ReadinessWord::Ready || nextTest() != nullptr) return std::nullopt;
        Attention made = of(AttentionKind::ReadyNoTest, AttentionAction::BookTest);
        made.attempts = lastAttempts(1);
        return made;
    }

    [[nodiscard]] std::optional<Attention> mustPassTwice() const {
        if (m_standing.failedTwice.empty()) return std::nullopt;
        Attention made = of(AttentionKind::MustPassTwice, AttentionAction::Drill);
        made.steps = m_standing.failedTwice;
        made.attempts = lastAttempts(2);
        return made;
    }

    [[nodiscard]] std::optional<Attention> stalled() const {
        if (m_standing.word == ReadinessWord::Ready) return std::nullopt;
        const bool never = m_standing.sittings.empty();
        const std::string& since =
            never ? m_standing.person.trainee.started : m_standing.sittings.back().date;
        if (since.empty()) return std::nullopt;
        const int days = daysBetween(since, m_today);
        if (days < m_settings.stalledDays) return std::nullopt;
        Attention made = of(AttentionKind::Stalled, AttentionAction::BookSession);
        made.date = since;
        made.days = days;
        made.attempts = lastAttempts(1);
        return made;
    }

    /// Whole attempts only: parts of an inspection do not compare.
    [[nodiscard]] std::optional<Attention> noGain() const {
        if (!unready()) return std::nullopt;
        std::vector<const Sitting*> whole;
        for (const Sitting& one : m_standing.sittings)
            if (one.whole) whole.push_back(&one);
        const auto count = static_cast<std::size_t>(m_settings.flatAttempts);
        if (whole.size() < count) return std::nullopt;
        whole.erase(whole.begin(), whole.end() - static_cast<std::ptrdiff_t>(count));
        Attention made = of(AttentionKind::NoGain, AttentionAction::SeeMarks);
        for (const Sitting* one : whole) {
            made.percents.push_back(one->percent);
            made.attempts.insert(made.attempts.begin(), one->attempt);
        }
        if (made.percents.back() > made.percents.front() + m_settings.flatPoints) return std::nullopt;
        return made;
    }

    [[nodiscard]] std::optional<Attention> dateAhead() const {
        for (const DateAhead& date : m_dates)
            if (date.kind != DateKind::BookedTest)
                return ofDate(date.over() ? AttentionKind::DateOver : AttentionKind::DateAhead, date);
        return std::nullopt;
    }

    [[nodiscard]] std::optional<Attention> sheetUnsigned() const {
        if (m_standing.unsignedSheets.empty()) return std::nullopt;
        const auto& [attempt, day] = m_standing.unsignedSheets.front();
        const int days = daysBetween(day, m_today);
        if (days <= m_settings.unsignedDays) return std::nullopt;
        Attention made = of(AttentionKind::SheetUnsigned, AttentionAction::NoteSigning);
        made.date = day;
        made.days = days;
        made.attempts = {attempt};
        return made;
    }

    [[nodiscard]] std::optional<Attention> secondOpen() const {
        if (m_standing.openSecondScorings.empty()) return std::nullopt;
        Attention made = of(AttentionKind::SecondOpen, AttentionAction::Settle);
        made.attempts = m_standing.openSecondScorings;
        return made;
    }

    const Standing& m_standing;
    const std::string& m_today;
    const PeopleSettings& m_people;
    const AttentionSettings& m_settings;
    std::vector<DateAhead> m_dates;
};

}  // namespace

Result<AttentionSettings> attentionSettingsFromFacts(
    const std::vector<std::pair<std::string, std::string>>& facts) {
    std::vector<Problem> problems;
    AttentionSettings settings = readFacts(allSettings(), {kPrefix}, facts, problems);
    if (!problems.empty())
        return fail("the settings of who needs action cannot be used", std::move(problems));
    return settings;
}

std::vector<std::pair<std::string, std::string>> factsFromAttentionSettings(
    const AttentionSettings& settings) {
    return writeFacts(allSettings(), settings);
}

int daysBetween(const std::string& from, const std::string& to) {
    const auto day = [](const std::string& date) { return dayOf(date + "T00:00:00Z").value_or(0); };
    return static_cast<int>(day(to) - day(from));
}

std::string permitEnd(const Trainee& trainee, const PeopleSettings& settings) {
    if (!trainee.permitExpires.empty()) return trainee.permitExpires;
    return monthsAfter(trainee.permitIssued, settings.permitMonths);
}

std::optional<int> daysToSpare(const Standing& standing, const std::string& today,
                               const PeopleSettings& settings) {
    const std::string end = permitEnd(standing.person.trainee, settings);
    const std::optional<int> latest = standing.readyHigh ? standing.readyHigh : standing.readyAfter;
    if (end.empty() || !latest) return std::nullopt;
    return daysBetween(today, end) - *latest;
}

std::optional<Attention> attentionFor(const Standing& standing, const std::string& today,
                                      const PeopleSettings& people, const AttentionSettings& settings) {
    return Reasons(standing, today, people, settings).first();
}

std::vector<Attention> attentionList(const std::vector<Standing>& standings, const std::string& today,
                                     const PeopleSettings& people, const AttentionSettings& settings) {
    std::vector<Attention> all;
    for (const Standing& standing : standings)
        if (auto one = attentionFor(standing, today, people, settings)) all.push_back(std::move(*one));
    const auto urgency = [](const Attention& one) {
        // What has lasted is the more urgent the longer it did.
        const bool lasts = one.kind == AttentionKind::Stalled || one.kind == AttentionKind::SheetUnsigned;
        return std::tuple(one.kind, lasts ? -one.days : one.days, one.trainee);
    };
    std::ranges::sort(all, {}, urgency);
    return all;
}

}  // namespace markerlamp::core
