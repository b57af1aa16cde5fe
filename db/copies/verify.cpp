// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/copies/verify.h"

#include "core/attempt/attempt_document.h"
#include "db/copies/verify_trail.h"
#include "db/program_file.h"
#include "db/schema/migrator.h"
#include "db/sqlite/failure.h"

#include <sqlite3.h>

namespace markerlamp::db {

using core::Problem;
using core::Result;

namespace {

constexpr const char* kRemedy = "restore a good copy, or read out what is left with --salvage";
constexpr int kMostLines = 100;

void lookAtPages(Connection& connection, FileReport& report) {
    SQLite::Statement check(connection.database(),
                            "PRAGMA integrity_check(" + std::to_string(kMostLines) + ")");
    while (check.executeStep()) {
        const std::string line = check.getColumn(0).getString();
        if (report.integrity.empty()) report.integrity = line;
        if (line != "ok") report.problems.push_back({{}, 0, "file", {}, line, kRemedy});
    }
    SQLite::Statement dangling(connection.database(), "PRAGMA foreign_key_check");
    for (int rows = 0; rows < kMostLines && dangling.executeStep(); ++rows)
        report.problems.push_back(
            {{},
             0,
             dangling.getColumn(0).getString(),
             dangling.getColumn(1).isNull() ? "" : dangling.getColumn(1).getString(),
             "it names a record of " + dangling.getColumn(2).getString() + " that is not there",
             kRemedy});
}

int countOf(Connection& connection, const char* sql) {
    SQLite::Statement statement(connection.database(), sql);
    return statement.executeStep() ? statement.getColumn(0).getInt() : 0;
}

/// What is wrong with one attempt; its events are counted.
void lookAtAttempt(ProgramFile& file, const AttemptInfo& info, FileReport& report) {
    const auto wrong = [&](const std::string& message, const std::string& remedy) {
        report.problems.push_back({{}, 0, "attempt", info.id, message, remedy});
    };
    const auto attempt = file.attempt(info.id);
    if (!attempt) return wrong(attempt.error().message, kRemedy);
    report.events += static_cast<long long>(attempt->events.size());
    for (std::size_t i = 0; i < attempt->events.size(); ++i)
        if (attempt->events[i].n != static_cast<int>(i) + 1)
            return wrong("its events are not numbered without gaps", kRemedy);
    const auto rubric = file.rubric(info.rubric, info.edition);
    if (!rubric) return wrong("its rubric cannot be read: " + rubric.error().message, kRemedy);
    for (const Problem& problem : core::checkAgainstRubric(*attempt, **rubric))
        wrong("it does not fit its rubric: " + problem.path + " " + problem.message, kRemedy);
}

/// Records that nothing refers to are read as well: what a list cannot show is wrong.
void lookAtLists(ProgramFile& file, FileReport& report) {
    const auto look = [&](const char* table, const auto& records) {
        if (!records) report.problems.push_back({{}, 0, table, {}, records.error().message, kRemedy});
    };
    look("trainee", file.personFiles());
    look("instructor", file.instructors());
    look("bus", file.buses());
    look("fact", file.facts());
    look("limit_set", file.limitSets());
    look("forecast", file.forecasts());
    look("readiness_override", file.overrides());
    look("test_result", file.allTestResults());
    look("struck_result", file.struckResults());
    look("settlement", file.settlements());
    look("sheet_record", file.sheetRecords());
    const auto rubrics = file.rubrics();
    look("rubric", rubrics);
    if (!rubrics) return;
    for (const RubricInfo& info : *rubrics)
        if (const auto rubric = file.rubric(info.id, info.edition); !rubric)
            report.problems.push_back({{}, 0, "rubric", info.id, rubric.error().message, kRemedy});
}

Result<void> lookAtRecords(const std::filesystem::path& path, FileReport& report,
                           const std::function<bool(double)>& progress) {
    auto file = ProgramFile::open(path, OpenMode::ReadOnly);
    if (!file) return core::fail(file.error());
    lookAtLists(**file, report);
    const auto attempts = (*file)->attempts();
    if (!attempts) return core::fail(attempts.error());
    report.attempts = static_cast<int>(attempts->size());
    for (std::size_t i = 0; i < attempts->size(); ++i) {
        if (progress && i % 64 == 0 &&
            !progress(static_cast<double>(i) / static_cast<double>(attempts->size())))
            return core::fail(core::ErrorKind::Refused, "stopped");
        lookAtAttempt(**file, (*attempts)[i], report);
    }
    const auto trail = (*file)->trail();
    if (!trail) return core::fail(trail.error());
    if (auto looked = lookAtTrail(path, **file, *trail, report, progress); !looked) return looked;
    const auto wrong = (*file)->wrongFigures();
    if (!wrong) return core::fail(wrong.error());
    for (const std::string& id : *wrong)
        report.problems.push_back({{},
                                   0,
                                   "attempt_projection",
                                   id,
                                   "the figures that lists show are not those of its events",
                                   "the records are whole; figures are worked out anew when the file changes "
                                   "form, or restore a good copy"});
    return {};
}

}  // namespace

Result<FileReport> verifyProgram(const std::filesystem::path& path,
                                 const std::function<bool(double)>& progress) {
    auto connection = Connection::open(path, Access::ReadOnly);
    if (!connection) return core::fail(connection.error());
    FileReport report;
    const auto damaged = [&](const core::Error& error) {
        if (report.integrity.empty() || report.integrity == "ok") report.integrity = error.message;
        report.problems.push_back({{}, 0, "file", {}, error.message, kRemedy});
    };
    auto version = identify(**connection, path);
    if (!version && version.error().kind != core::ErrorKind::Machine) return core::fail(version.error());
    if (!version) {
        // Not even what it consists of can be read.
        damaged(version.error());
        return report;
    }
    report.schema = *version;
    const auto looked = guarded("the file cannot be read", [&]() -> Result<void> {
        lookAtPages(**connection, report);
        report.trainees = countOf(**connection, "SELECT count(*) FROM trainee");
        return {};
    });
    if (!looked) damaged(looked.error());
    connection->reset();
    if (auto records = lookAtRecords(path, report, progress); !records) {
        if (records.error().message == "stopped") return core::fail(records.error());
        damaged(records.error());
    }
    return report;
}

}  // namespace markerlamp::db
