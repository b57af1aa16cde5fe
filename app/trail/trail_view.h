#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The trail in words, filtered; without widgets.

#include "app/support/file_reader.h"
#include "app/support/rows_model.h"
#include "core/trail/trail.h"

#include <QDate>
#include <QString>
#include <QStringList>

#include <map>
#include <string>
#include <vector>

namespace markerlamp::app {

/// What a program file holds of its trail, looked through.
struct TrailReading {
    std::vector<core::TrailEntry> entries;    ///< by number
    std::vector<core::Problem> seals;         ///< what does not fit, see db/copies/verify_trail
    int unsealed = 0;                         ///< attempts from before the trail
    std::map<std::string, QString> trainees;  ///< names by key
    std::map<std::string, QString> instructors;
};
using TrailReader = FileReader<TrailReading>;
void readTrail(TrailReader::Promise& promise, db::ProgramFile& file);

/// Groups of changes, as the filter offers them.
enum class TrailTopic { All, Attempts, People, Records, Rubrics, Settings, SignIn, File };
[[nodiscard]] QString topicText(TrailTopic topic);
[[nodiscard]] TrailTopic topicOf(const std::string& what);
/// "attempt ended", "trainee changed"; an unknown word as it is.
[[nodiscard]] QString changeText(const std::string& what);

struct TrailFilter {
    TrailTopic topic = TrailTopic::All;
    QString by{};     ///< as shown; empty: everybody
    int days = 0;     ///< no older than so many days; 0: all
    QString words{};  ///< anywhere in the row, without regard to case

    bool operator==(const TrailFilter&) const = default;
};

class TrailView {
public:
    TrailView() = default;
    TrailView(TrailReading reading, QDate today);

    [[nodiscard]] const TrailReading& reading() const { return m_reading; }
    /// Who changed something, by name.
    [[nodiscard]] QStringList people() const;
    void setFilter(const TrailFilter& filter);
    [[nodiscard]] const TrailFilter& filter() const { return m_filter; }
    /// The entries that the filter lets through, newest first.
    [[nodiscard]] const std::vector<const core::TrailEntry*>& shown() const { return m_shown; }
    [[nodiscard]] const core::TrailEntry* entry(qint64 number) const;

    [[nodiscard]] static std::vector<Column> columns();
    [[nodiscard]] std::vector<Row> rows() const;
    [[nodiscard]] static std::vector<Column> fieldColumns();
    [[nodiscard]] static std::vector<Row> fieldRows(const core::TrailEntry& entry);

    [[nodiscard]] QString byText(const core::TrailEntry& entry) const;
    /// Whom or what it is about.
    [[nodiscard]] QString aboutText(const core::TrailEntry& entry) const;
    /// What changed, in one line.
    [[nodiscard]] static QString summaryText(const core::TrailEntry& entry);
    /// "412 entries since 2 Mar 2026; every seal fits", or what does not.
    [[nodiscard]] QString standing() const;
    /// What the filter lets through, in words, for paper.
    [[nodiscard]] QString filterText() const;

private:
    [[nodiscard]] bool lets(const core::TrailEntry& entry) const;

    TrailReading m_reading;
    QDate m_today;
    TrailFilter m_filter;
    std::vector<const core::TrailEntry*> m_shown;
};

}  // namespace markerlamp::app
