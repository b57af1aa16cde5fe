#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the start form knows and decides, without a window: the people, buses and rubrics to choose from, and
// the header that the choice makes.

#include "core/attempt/attempt.h"
#include "core/people/people.h"
#include "core/rubric/rubric.h"

#include <QCoreApplication>
#include <QDate>
#include <QDateTime>
#include <QString>

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::app {

struct StartTrainee {
    core::Trainee trainee;
    int attempts = 0;
    QDate last;  ///< day of the newest attempt; invalid when there is none
};

/// An attempt that was not ended.
struct UnfinishedAttempt {
    QString id;
    QString traineeName;
    QString busTitle;
    QDateTime started;
    QDateTime stopped;  ///< time of the last event
    int scored = 0;
    int steps = 0;
    bool crashed = false;  ///< the clock ran when it stopped
};

/// What was used last, and is offered again.
struct LastUsed {
    std::string trainee, instructor, bus, rubric;
    std::string scope;  ///< "whole", "section:ID", "zones:A B C"
};

struct StartData {
    std::vector<StartTrainee> trainees;
    std::vector<core::Instructor> instructors;
    std::vector<core::Bus> buses;
    std::vector<std::shared_ptr<const core::Rubric>> rubrics;  ///< newest edition of each first
    std::vector<UnfinishedAttempt> unfinished;                 ///< newest first
    LastUsed last;                                             ///< what the file remembers of the last start
    LastUsed newest;  ///< of the newest attempt in the file, where nothing is remembered yet
};

class StartForm {
    Q_DECLARE_TR_FUNCTIONS(StartForm)

public:
    enum class Scope { Whole, Section, Zones };

    /// Days are counted from here; the clock of this computer unless a test says otherwise.
    void setToday(const QDate& today) { m_today = today; }

    /// The first time, offers what was used last: on this workstation, else in the file, else the only one
    /// there is. Later only brings the lists up to date: what was chosen stays as long as it exists.
    void setData(StartData data);
    [[nodiscard]] const StartData& data() const { return m_data; }

    /// Rows whose name or key contains every word, in the order of the data.
    [[nodiscard]] std::vector<int> findTrainees(const QString& words) const;

    void setTrainee(const std::string& key) { m_trainee = key; }
    void setInstructor(const std::string& key) { m_instructor = key; }
    /// Takes the bus's equipment.
    void setBus(const std::string& key);
    void setRubric(const std::string& id, int edition);
    /// For today only; the bus's entry stays as it is.
    void setEquipment(const std::string& tag, bool on);
    void setWhole();
    void setSection(const std::string& id);
    /// The zones that were picked before, none at first.
    void setPicked();
    /// Goes on from the zones that the choice so far means.
    void setZone(const std::string& id, bool on);
    void setAllZones(bool on);

    [[nodiscard]] const std::string& trainee() const { return m_trainee; }
    [[nodiscard]] const std::string& instructor() const { return m_instructor; }
    [[nodiscard]] const std::string& bus() const { return m_bus; }
    [[nodiscard]] std::shared_ptr<const core::Rubric> rubric() const { return m_rubric; }
    [[nodiscard]] Scope scope() const { return m_scope; }
    [[nodiscard]] const std::string& section() const { return m_section; }
    /// The rubric's sections but those that name all its zones, which are the whole again.
    [[nodiscard]] std::vector<const core::Section*> sections() const;
    [[nodiscard]] bool hasEquipment(const std::string& tag) const;
    [[nodiscard]] bool hasZone(const std::string& id) const;
    [[nodiscard]] std::vector<std::string> zones() const;  ///< in rubric order
    [[nodiscard]] int stepsIn(const std::vector<std::string>& zones) const;
    [[nodiscard]] int mustPassIn(const std::vector<std::string>& zones) const;
    [[nodiscard]] double minutesIn(const std::vector<std::string>& zones) const;
    [[nodiscard]] int ownLimits() const;  ///< limits of the rubric that the bus replaces

    /// Days that the learner permit still holds, 0 on its last day; nullopt without a date.
    [[nodiscard]] std::optional<int> permitDays(const core::Trainee& trainee) const;
    [[nodiscard]] QString permitWords(const core::Trainee& trainee) const;
    /// Under 30 days, or ended.
    [[nodiscard]] bool permitPresses(const core::Trainee& trainee) const;
    [[nodiscard]] QString attemptsWords(const StartTrainee& trainee) const;
    [[nodiscard]] static QString traineeName(const core::Trainee& trainee);
    [[nodiscard]] static QString busWords(const core::Bus& bus);  ///< with its title, for the list
    [[nodiscard]] QString instructorWords(const core::Instructor& instructor) const;
    [[nodiscard]] QString equipmentWords() const;  ///< "14 of 23"
    [[nodiscard]] QString ruleWords() const;       ///< "pass at 80 %, 9 must pass, 45 minutes"
    [[nodiscard]] QString limitWords() const;      ///< whose limits hold
    /// "Trainee A on Bus 14, stopped 06:12 after 48 of 118 steps"; the day as well when it is not today.
    [[nodiscard]] QString unfinishedWords(const UnfinishedAttempt& attempt) const;

    /// Where the clock of this computer was set back behind the records; empty: it was not.
    [[nodiscard]] QString clockWords() const;
    [[nodiscard]] QString sentence() const;  ///< "Trainee B, Bus 14, 4 zones, 37 steps, ..."
    [[nodiscard]] QString missing() const;   ///< all that is still to be chosen; empty: ready
    [[nodiscard]] bool ready() const { return missing().isEmpty(); }
    /// The attempt will be the second scoring of this one (its code or id); empty: an attempt of its own.
    void setSecondOf(const std::string& of) { m_secondOf = of; }
    [[nodiscard]] const std::string& secondOf() const { return m_secondOf; }
    /// The header of the new attempt, with a new id. Only while ready().
    [[nodiscard]] core::AttemptHeader header(const std::string& startedIso) const;
    [[nodiscard]] LastUsed lastUsed() const;

private:
    [[nodiscard]] const core::Bus* busEntry() const;
    [[nodiscard]] QDate today() const { return m_today.isValid() ? m_today : QDate::currentDate(); }
    void offerPeople();
    void offerRubric(const std::string& id);
    void offerScope(const std::string& scope);

    StartData m_data;
    QDate m_today;
    bool m_offered = false;
    std::string m_trainee, m_instructor, m_bus;
    std::string m_secondOf;
    std::string m_station;  ///< the instructor this workstation remembers
    std::shared_ptr<const core::Rubric> m_rubric;
    bool m_olderEdition = false;  ///< chosen although there is a newer one
    std::vector<std::string> m_equipment;
    std::vector<std::string> m_busEquipment;  ///< of the bus's entry when m_equipment was taken from it
    Scope m_scope = Scope::Whole;
    std::string m_section;
    std::vector<std::string> m_zones;  ///< picked
};

}  // namespace markerlamp::app
