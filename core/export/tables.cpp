// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/export/tables.h"

#include "core/export/columns.h"

namespace markerlamp::core {

using namespace columns;

const std::array<Table, 4>& exportTables() {
    static const std::array<Table, 4> tables{
        {{TableId::Roster, "roster", "one row a trainee", columnsOf(rosterEntries())},
         {TableId::Attempts, "attempts", "one row an attempt; figures only of ended ones",
          columnsOf(attemptEntries())},
         {TableId::Steps, "steps", "one row a step in scope of each ended attempt, second scorings too",
          columnsOf(stepEntries())},
         {TableId::WeakZones, "weak-zones",
          "one row a trainee and zone: the last three attempts with the newest attempt's rubric together",
          columnsOf(zoneEntries())}}};
    return tables;
}

const Table& exportTable(TableId id) {
    return exportTables()[static_cast<std::size_t>(id)];
}

namespace {

Result<void> writeZones(const ExportedTrainee& trainee, TableSink& sink) {
    std::vector<ScoredAttempt> history;
    for (const ExportedAttempt& attempt : trainee.attempts)
        if (attempt.counts()) history.push_back(attempt.scored);
    const std::vector<ZoneNow> now = zonesNow(history);
    const std::vector<ZoneChance> chances = zoneChances(history);
    for (std::size_t i = 0; i < now.size(); ++i)
        if (auto done = sink.row(TableId::WeakZones,
                                 rowOf(zoneEntries(), {trainee, history.back(), now[i], chances[i]}));
            !done)
            return done;
    return {};
}

}  // namespace

Result<void> writeRows(const ExportedTrainee& trainee, const ExportNames& names, TableSink& sink) {
    if (auto done = sink.row(TableId::Roster, rowOf(rosterEntries(), {trainee})); !done) return done;
    int number = 0;
    for (const ExportedAttempt& attempt : trainee.attempts) {
        const AttemptLine line{trainee, attempt, names, attempt.counts() ? ++number : 0};
        if (auto done = sink.row(TableId::Attempts, rowOf(attemptEntries(), line)); !done) return done;
        if (attempt.standing != AttemptStanding::Ended) continue;
        if (auto done = writeSteps(trainee, attempt, sink); !done) return done;
    }
    return writeZones(trainee, sink);
}

}  // namespace markerlamp::core
