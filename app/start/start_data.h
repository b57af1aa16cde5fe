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

struct StartData {
    std::vector<StartTrainee> trainees;
    std::vector<core::Instructor> instructors;
    std::vector<core::Bus> buses;
    std::vector<std::shared_ptr<const core::Rubric>> rubrics;  ///< newest edition of each first
    std::vector<UnfinishedAttempt> unfinished;                 ///< newest first
};

/// What was used last on this workstation.
struct LastUsed {
    std::string trainee, instructor, bus, rubric;
    std::string scope;  ///< "whole", "section:ID", "zones:A B C"
};

class StartForm {
    Q_DECLARE_TR_FUNCTIONS(StartForm)

public:
    enum class Scope { Whole, Section, Zones };

    void setData(StartData data, const LastUsed& last);
    [[nodiscard]] const StartData& data() const { return m_data; }

    /// Rows whose name or key contains every word, in the order of the data.
    [[nodiscard]] std::vector<int> findTrainees(const QString& words) const;

    void setTrainee(const std::string& key) { m_trainee = key; }
    void setInstructor(const std::string& key) { m_instructor = key; }
    /// Takes the bus's equipment.
    void setBus(const std::string& key);
    void setRubric(const std::string& id, int edition);
    void setEquipment(const std::string& tag, bool on);
    void setWhole();
    void setSection(const std::string& id);
    void setZone(const std::string& id, bool on);
    void setAllZones(bool on);

    [[nodiscard]] const std::string& trainee() const { return m_trainee; }
    [[nodiscard]] const std::string& instructor() const { return m_instructor; }
    [[nodiscard]] const std::string& bus() const { return m_bus; }
    [[nodiscard]] std::shared_ptr<const core::Rubric> rubric() const { return m_rubric; }
    [[nodiscard]] Scope scope() const { return m_scope; }
    [[nodiscard]] const std::string& section() const { return m_section; }
    [[nodiscard]] bool hasEquipment(const std::string& tag) const;
    [[nodiscard]] bool hasZone(const std::string& id) const;
    [[nodiscard]] std::vector<std::string> zones() const;  ///< in rubric order
    [[nodiscard]] int stepsIn(const std::vector<std::string>& zones) const;
    [[nodiscard]] int mustPassIn(const std::vector<std::string>& zones) const;
    [[nodiscard]] double minutesIn(const std::vector<std::string>& zones) const;
    [[nodiscard]] int ownLimits() const;  ///< limits of the rubric that the bus replaces

    [[nodiscard]] QString sentence() const;  ///< "Trainee B, Bus 14, 4 zones, 37 steps, ..."
    [[nodiscard]] QString missing() const;   ///< what is still to be chosen; empty: ready
    [[nodiscard]] bool ready() const { return missing().isEmpty(); }
    /// The header of the new attempt, with a new id.
    [[nodiscard]] core::AttemptHeader header(const std::string& startedIso) const;
    [[nodiscard]] LastUsed lastUsed() const;

private:
    [[nodiscard]] const core::Bus* busEntry() const;

    StartData m_data;
    std::string m_trainee, m_instructor, m_bus;
    std::shared_ptr<const core::Rubric> m_rubric;
    std::vector<std::string> m_equipment;
    Scope m_scope = Scope::Whole;
    std::string m_section;
    std::vector<std::string> m_zones;
};

}  // namespace markerlamp::app
