#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the attempts of a program say about who can do which step: the evidence that the learning model is
// fitted to. Small enough to hold a state (60,000 attempts) in memory.

#include "core/attempt/attempt.h"
#include "core/rubric/rubric.h"
#include "core/scoring/scorecard.h"

#include <cstdint>
#include <optional>
#include <string>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// Days since 1970-01-01 UTC, with fraction, of a moment as documents write it; nothing for other text.
[[nodiscard]] std::optional<double> dayOf(std::string_view moment);
/// The moment at which a day number stands, as "YYYY-MM-DDThh:mm:ssZ".
[[nodiscard]] std::string momentOf(double day);
/// Seconds east of UTC that a moment was written with; 0 for "Z".
[[nodiscard]] std::optional<int> offsetSecondsOf(std::string_view moment);

/// Steps named by an entry of an order rule: itself, or all steps of "zone:ID", in rubric order.
[[nodiscard]] std::vector<std::string> stepsNamed(const Rubric& rubric, const std::string& entry);

/// Whether a rule states a pair of which both steps are among these: only then can it be broken.
[[nodiscard]] bool canBreak(const Rubric& rubric, const OrderRule& rule,
                            const std::unordered_set<std::string>& steps);

/// One step that was observed in an attempt. Prompted, partial, wrong and omitted are "not yet by oneself";
/// unseen and unreached steps are no evidence and have no try.
struct StepTry {
    std::int32_t step = 0;  ///< number in PracticeRecord::steps()
    bool right = false;     ///< satisfied by oneself
};

/// A rule that is both strict and must-pass and that the attempt could have broken (both steps of a pair that
/// the rule states were engaged).
struct RuleTry {
    std::int32_t rule = 0;  ///< number in PracticeRecord::rules()
    bool kept = false;
};

struct PracticeAttempt {
    std::string id;
    std::int32_t trainee = 0;     ///< number in PracticeRecord::trainees()
    std::int32_t instructor = 0;  ///< number in PracticeRecord::instructors()
    std::int32_t rubric = 0;      ///< number in PracticeRecord::rubrics()
    double day = 0;               ///< see dayOf()
    bool whole = false;           ///< all zones of its rubric were in scope
    AttemptResult result = AttemptResult::Fail;
    double minutes = 0;     ///< by the clock, pauses left out
    bool overTime = false;  ///< the rubric's time allowance was exceeded
    std::vector<StepTry> tries;
    std::vector<RuleTry> rules;
};

/// A step of a rubric, whatever the edition: what is learned of it in one edition holds in the next.
struct PracticeStep {
    std::string rubric;
    std::string step;
    std::string zone;
};
struct PracticeRule {
    std::string rubric;
    std::string rule;
};

/// The evidence of a whole program, oldest attempt first (by day, then id). Only ended first scorings count:
/// an attempt that is still open or was set aside is not known to its end, and a second scoring is the same
/// performance seen again.
class PracticeRecord {
public:
    /// Takes one attempt; false when it does not count (not ended, a second scoring, no moment, the id was
    /// added before).
    bool add(const Rubric& rubric, const Attempt& attempt, const Scorecard& card);
    /// Call once after the last add(): the same attempts give the same record, in whatever order they came.
    void sort();

    [[nodiscard]] const std::vector<PracticeAttempt>& attempts() const { return m_attempts; }
    [[nodiscard]] const std::vector<PracticeStep>& steps() const { return m_steps; }
    [[nodiscard]] const std::vector<PracticeRule>& rules() const { return m_rules; }
    [[nodiscard]] const std::vector<std::string>& trainees() const { return m_trainees; }
    [[nodiscard]] const std::vector<std::string>& instructors() const { return m_instructors; }
    [[nodiscard]] const std::vector<std::string>& rubrics() const { return m_rubrics; }
    [[nodiscard]] std::optional<std::int32_t> traineeNumber(std::string_view key) const;
    [[nodiscard]] std::optional<std::int32_t> stepNumber(std::string_view rubric,
                                                         std::string_view step) const;
    [[nodiscard]] std::optional<std::int32_t> ruleNumber(std::string_view rubric,
                                                         std::string_view rule) const;
    /// Indices into attempts() of one trainee's attempts that began before `day`.
    [[nodiscard]] std::vector<std::size_t> attemptsOf(std::int32_t trainee, double before) const;

private:
    /// Numbers given to keys in the order in which they come; sort() gives them anew in the order of the
    /// keys.
    struct Numbers {
        std::unordered_map<std::string, std::int32_t> of;
        std::int32_t number(const std::string& key);
        /// New number of each old one.
        std::vector<std::int32_t> sorted();
    };
    std::int32_t numberOfStep(const Rubric& rubric, const StepScore& score, double day);
    std::int32_t numberOfRule(const Rubric& rubric, const OrderRule& rule);
    void addRules(const Rubric& rubric, const Scorecard& card, PracticeAttempt& taken);

    std::vector<PracticeAttempt> m_attempts;
    std::vector<PracticeStep> m_steps;
    std::vector<std::pair<double, std::string>> m_stepZoneFrom;  ///< day and attempt that m_steps' zone is of
    std::vector<PracticeRule> m_rules;
    std::vector<std::string> m_trainees, m_instructors, m_rubrics;
    Numbers m_stepNumbers, m_ruleNumbers, m_traineeNumbers, m_instructorNumbers, m_rubricNumbers;
    std::unordered_set<std::string> m_ids;
    std::vector<std::vector<std::size_t>> m_byTrainee;
};

}  // namespace markerlamp::core
