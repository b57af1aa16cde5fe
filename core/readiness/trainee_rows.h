#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How the record of one trainee becomes rows of the learning model: which effect stands where, and what the
// trainee's practice so far amounts to at each of his attempts.

#include "core/readiness/mixed_fit.h"
#include "core/readiness/practice_record.h"

#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

namespace markerlamp::core {

enum ModelGroup : int {
    kTraineeGroup,
    kSlopeGroup,
    kZoneGroup,
    kStepGroup,
    kInstructorGroup,
    kDayGroup,
    kModelGroups
};

/// Places of the shared effects. Those of the rows stand first (see mixed_fit.h).
enum SharedEffect : int {
    kRightPractice,  ///< log(1 + decayed count of the step done right)
    kOtherPractice,  ///< log(1 + decayed count of the step not done right)
    kLastRight,      ///< the step's last try was right
    kLastOther,      ///< it was not
    kPractice,       ///< log(1 + attempts so far): slope of the average trainee
    kGap,            ///< log(1 + days since the last attempt)
    kFirstRubric
};
static_assert(kPractice == kRowFeatures);

/// What comes first among a trainee's own effects.
inline constexpr int kOwnLevel = 0;
inline constexpr int kOwnSlope = 1;
inline constexpr int kOwnFirstZone = 2;

/// Which shared effect belongs to what of a record. Steps and instructors without evidence before the day of
/// the fit have none.
struct ModelLayout {
    /// @param attempts that count
    ModelLayout(const PracticeRecord& record, double before);

    int effects = 0;
    std::vector<int> rubric, instructor, step;        ///< by number in the record; -1: no evidence
    std::vector<int> zone;                            ///< by step number: number of its zone over all rubrics
    std::unordered_map<std::string, int> zoneNumber;  ///< by zoneKey()
    int firstInstructor = 0, firstStep = 0;
    std::vector<int> rubricTries, instructorTries;  ///< by number in the record

    [[nodiscard]] static std::string zoneKey(const std::string& rubric, const std::string& zone);
};

/// How often a step was tried, as of a day.
struct StepPractice {
    double right = 0, other = 0;  ///< decayed counts
    double day = 0;               ///< to which they are decayed
    std::int8_t last = 0;         ///< 1 right, -1 not, 0 never tried
};

/// Goes through one trainee's attempts in their order. Reusable: begin() forgets.
class TraineePractice {
public:
    TraineePractice(const PracticeRecord& record, const ModelLayout& layout, double halfLifeDays);

    void begin();
    /// Adds the attempts (indices into the record, oldest first) to the rows, each with what was known
    /// before.
    void add(const std::vector<std::size_t>& attempts, PersonRows& rows);
    /// The shared features of a step as of a day, after all attempts that were added. Step -1: never tried.
    [[nodiscard]] std::array<float, kRowFeatures> features(std::int32_t step, double day) const;
    [[nodiscard]] StepPractice practice(std::int32_t step, double day) const;
    [[nodiscard]] double attemptsSoFar() const { return m_attempts; }
    [[nodiscard]] double practiceFeature() const;
    [[nodiscard]] double gapFeature(double day) const;
    /// Own effect of a zone; -1 when the trainee never tried it.
    [[nodiscard]] int ownZone(int zone) const;

private:
    void countZones(const std::vector<std::size_t>& attempts);
    void addSitting(const PracticeAttempt& attempt, int day, PersonRows& rows) const;
    void remember(const PracticeAttempt& attempt);
    [[nodiscard]] double decay(double days) const;

    const PracticeRecord& m_record;
    const ModelLayout& m_layout;
    double m_halfLife;
    std::vector<StepPractice> m_steps;
    std::vector<std::int32_t> m_touched;
    std::vector<int> m_zone;  ///< own effect by zone number; -1
    std::vector<int> m_zones;
    double m_attempts = 0;
    double m_lastDay = 0;
};

}  // namespace markerlamp::core
