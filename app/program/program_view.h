#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the program page shows, from what is on file and what readiness is known so far; no widgets.

#include "app/agreement/program_agreement.h"
#include "app/support/rows_model.h"
#include "core/program/attention.h"
#include "core/program/class_steps.h"
#include "core/readiness/readiness_settings.h"
#include "db/program_file.h"

#include <QDate>
#include <QMetaType>
#include <QString>
#include <QStringList>

#include <array>
#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace markerlamp::app {

struct ReadinessStanding;

/// What is read from the file.
struct ProgramData {
    std::vector<core::PersonFile> people;   ///< without those who were erased
    std::vector<db::AttemptInfo> attempts;  ///< newest first
    std::vector<core::Instructor> instructors;
    std::map<std::string, core::SheetStanding> sheets;  ///< by id of attempt
    core::ReadinessSettings readiness;
    core::PeopleSettings dates;
    core::AttentionSettings attention;
};
[[nodiscard]] core::Result<ProgramData> readProgram(db::ProgramFile& file);

/// A line of the runway chart, in days from today.
struct Runway {
    std::optional<int> permit;               ///< its last day; nothing: not on file
    bool assumed = false;                    ///< the permit's end is taken from its issue
    std::optional<int> readyLow, readyHigh;  ///< without high: open to the right
    std::optional<int> readyAfter;           ///< without high: the open end lies beyond this day
    bool readyNow = false;
    std::vector<int> tests;  ///< booked

    [[nodiscard]] bool late() const {
        const std::optional<int>& latest = readyHigh ? readyHigh : readyAfter;
        return permit && latest && *latest > *permit;
    }
};

/// One trainee as the page knows him.
struct RosterEntry {
    core::Standing standing;
    QString name;
    QString instructor;  ///< key of who scored most of the last six attempts; empty: nobody yet
    std::optional<core::Forecast> forecast;  ///< nothing: not worked out yet
    std::vector<core::Gate> shut;
    bool away = false, done = false;  ///< left for now; passed every segment
    Runway runway;
    std::optional<int> spare;  ///< days between being ready and the permit's end
};

enum class Grouping { None, Instructor, Class };
/// By one column of the roster; the runway is by the time to spare.
struct RosterOrder {
    int column = 7;
    bool descending = false;

    bool operator==(const RosterOrder&) const = default;
};
/// Empty fields take everybody.
struct RosterFilter {
    QString words;  ///< in name, key, class or instructor
    std::optional<core::ReadinessWord> word;
    Grouping grouping = Grouping::None;
    RosterOrder order;
};

class ProgramView {
public:
    using StandingOf = std::function<const ReadinessStanding&(const QString& trainee)>;

    /// @param openPairs what is known of second scorings that differ and are not settled
    ProgramView(const ProgramData& data, const StandingOf& standingOf, const QDate& today,
                const std::vector<OpenPair>& openPairs = {});

    [[nodiscard]] const std::vector<RosterEntry>& roster() const { return m_roster; }
    [[nodiscard]] const RosterEntry* entry(const QString& key) const;
    [[nodiscard]] const std::vector<core::Attention>& attention() const { return m_attention; }
    [[nodiscard]] int inTraining() const { return m_inTraining; }
    [[nodiscard]] int known() const { return m_known; }  ///< of those in training, worked out
    /// Of those in training, by word.
    [[nodiscard]] int count(core::ReadinessWord word) const;
    [[nodiscard]] QStringList keysInTraining() const;

    struct TestAhead {
        QString trainee, name;
        QDate date;
        std::optional<core::ReadinessWord> word;
    };
    /// Booked within the days of the settings, by date.
    [[nodiscard]] std::vector<TestAhead> testsAhead() const;

    // Tables. The id of a row is the trainee's key.
    [[nodiscard]] static std::vector<Column> rosterColumns();
    /// Sorted as asked within each group, a heading row without id before it; who is away or has passed comes
    /// last. What is equal goes by days from being ready to the end of the permit, smallest first.
    [[nodiscard]] std::vector<Row> rosterRows(const RosterFilter& filter) const;
    /// All of it in words, for the data table.
    [[nodiscard]] std::vector<Row> rosterTexts() const;
    [[nodiscard]] static std::vector<Column> attentionColumns();
    [[nodiscard]] std::vector<Row> attentionRows() const;
    [[nodiscard]] int lastDay() const;  ///< how many days the runway shows

    /// Attempts of a week (Monday first) by one instructor; a row each, newest week last.
    static constexpr int kWeeks = 8;
    [[nodiscard]] std::vector<Column> weekColumns() const;
    [[nodiscard]] std::vector<Row> weekRows() const;
    /// Ids behind a number of that table. Instructor empty: all.
    [[nodiscard]] std::vector<std::string> attemptsOf(const QString& instructor, int week) const;

private:
    void addEntry(const core::PersonFile& person, const ReadinessStanding& readiness,
                  const std::vector<const db::AttemptInfo*>& attempts,
                  std::vector<std::string> openSecondScorings);
    [[nodiscard]] QString groupOf(const RosterEntry& entry, Grouping grouping) const;
    [[nodiscard]] Row rosterRow(const RosterEntry& entry) const;
    [[nodiscard]] bool passes(const RosterEntry& entry, const RosterFilter& filter) const;
    [[nodiscard]] QString instructorName(const QString& key) const;
    [[nodiscard]] int weekOf(const QDate& date) const;  ///< 0 .. kWeeks-1; -1: earlier

    const ProgramData& m_data;
    QDate m_today;
    std::string m_todayIso;
    std::vector<RosterEntry> m_roster;
    std::vector<core::Attention> m_attention;
    std::map<QString, std::size_t> m_places;  ///< in the roster, by key
    std::set<std::string> m_urgent;           ///< keys of who stands in it
    std::map<QString, QString> m_instructors;
    std::array<int, 4> m_counts{};
    int m_inTraining = 0, m_known = 0;
};

// In words.
[[nodiscard]] QString reasonWords(const core::Attention& attention);
[[nodiscard]] QString actionWords(core::AttentionAction action);
[[nodiscard]] QString runwayWords(const Runway& runway, const QDate& today);

/// Steps to teach the group; titles from the newest edition on file.
[[nodiscard]] std::vector<Column> classColumns();
[[nodiscard]] std::vector<Row> classRows(const std::vector<core::ClassStep>& steps, db::ProgramFile& file);

}  // namespace markerlamp::app

Q_DECLARE_METATYPE(markerlamp::app::Runway)
