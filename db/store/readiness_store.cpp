// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/readiness_store.h"

#include "core/attempt/attempt.h"
#include "db/sqlite/failure.h"
#include "db/store/record_store.h"

#include <stdexcept>

namespace markerlamp::db {

using core::ErrorKind;
using core::FrozenForecast;
using core::Override;
using core::Result;
using core::TestResult;

namespace {

#define MARKERLAMP_FORECAST_COLUMNS                                                                       \
    "id, trainee, about, at_time, attempt, rubric, edition, model_version, attempts, chance, low, high, " \
    "word, "                                                                                              \
    "computed"
#define MARKERLAMP_OVERRIDE_COLUMNS "id, trainee, word, reason, by_whom, at_time, withdrawn"
#define MARKERLAMP_TEST_COLUMNS "id, trainee, date, segment, passed, note"

constexpr const char* kForecasts = "SELECT " MARKERLAMP_FORECAST_COLUMNS " FROM forecast ORDER BY at_ms, id";
constexpr const char* kForecast = "SELECT " MARKERLAMP_FORECAST_COLUMNS " FROM forecast WHERE id = ?";
constexpr const char* kNewForecast =
    "INSERT INTO forecast (" MARKERLAMP_FORECAST_COLUMNS ", at_ms) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)";
constexpr const char* kOverrides =
    "SELECT " MARKERLAMP_OVERRIDE_COLUMNS " FROM readiness_override ORDER BY at_ms, id";
constexpr const char* kOverride =
    "SELECT " MARKERLAMP_OVERRIDE_COLUMNS " FROM readiness_override WHERE id = ?";
constexpr const char* kNewOverride =
    "INSERT INTO readiness_override (" MARKERLAMP_OVERRIDE_COLUMNS ", at_ms) VALUES (?,?,?,?,?,?,?,?)";
constexpr const char* kTests =
    "SELECT " MARKERLAMP_TEST_COLUMNS
    " FROM test_result t WHERE (?1 IS NULL OR trainee = ?1) AND NOT EXISTS (SELECT 1 "
    "FROM struck_result s WHERE s.result = t.id AND s.trainee = t.trainee) ORDER BY date, id";
constexpr const char* kAllTests = "SELECT " MARKERLAMP_TEST_COLUMNS " FROM test_result ORDER BY date, id";
constexpr const char* kTest = "SELECT " MARKERLAMP_TEST_COLUMNS " FROM test_result WHERE id = ?";
constexpr const char* kNewTest = "INSERT INTO test_result (" MARKERLAMP_TEST_COLUMNS ") VALUES (?,?,?,?,?,?)";
// Stands in where the file is of a form before these tables; nothing can be added to it.
constexpr const char* kStandIns =
    "CREATE TEMP TABLE IF NOT EXISTS forecast (" MARKERLAMP_FORECAST_COLUMNS
    ", at_ms);"
    "CREATE TEMP TABLE IF NOT EXISTS readiness_override (" MARKERLAMP_OVERRIDE_COLUMNS
    ", at_ms);"
    "CREATE TEMP TABLE IF NOT EXISTS test_result (" MARKERLAMP_TEST_COLUMNS ")";
#undef MARKERLAMP_FORECAST_COLUMNS
#undef MARKERLAMP_OVERRIDE_COLUMNS
#undef MARKERLAMP_TEST_COLUMNS

constexpr const char* kFullAttempt = "full-attempt";
constexpr const char* kOfficialTest = "official-test";

/// The CHECKs let no other word in; a file that was changed by hand is reported by guarded().
core::ReadinessWord wordOf(const SQLite::Statement& row, int column) {
    const auto word = core::readinessFromWord(textOf(row, column));
    if (!word) throw std::runtime_error("a word of readiness is not known");
    return *word;
}

FrozenForecast forecastOf(const SQLite::Statement& row) {
    FrozenForecast f;
    f.id = textOf(row, 0);
    f.trainee = textOf(row, 1);
    f.about = textOf(row, 2) == kFullAttempt ? FrozenForecast::About::FullAttempt
                                             : FrozenForecast::About::OfficialTest;
    f.at = textOf(row, 3);
    f.attempt = textOf(row, 4);
    f.rubric = textOf(row, 5);
    f.edition = row.getColumn(6).getInt();
    f.modelVersion = row.getColumn(7).getInt();
    f.attempts = row.getColumn(8).getInt();
    f.chance = row.getColumn(9).getDouble();
    f.low = row.getColumn(10).getDouble();
    f.high = row.getColumn(11).getDouble();
    f.word = wordOf(row, 12);
    f.computed = wordOf(row, 13);
    return f;
}

Override overrideOf(const SQLite::Statement& row) {
    Override o;
    o.id = textOf(row, 0);
    o.trainee = textOf(row, 1);
    o.word = wordOf(row, 2);
    o.reason = textOf(row, 3);
    o.by = textOf(row, 4);
    o.at = textOf(row, 5);
    o.withdrawn = row.getColumn(6).getInt() != 0;
    return o;
}

TestResult testOf(const SQLite::Statement& row) {
    return {textOf(row, 0), textOf(row, 1), textOf(row, 2), textOf(row, 3), row.getColumn(4).getInt() != 0,
            textOf(row, 5)};
}

constexpr KindOfRecord<FrozenForecast> kForecastRecord{"forecast", kForecast, forecastOf,
                                                       core::writeForecasts, core::readForecasts};
constexpr KindOfRecord<Override> kOverrideRecord{"override",           kOverride,           overrideOf,
                                                 core::writeOverrides, core::readOverrides, "override.added"};
constexpr KindOfRecord<TestResult> kTestRecord{
    "test result", kTest, testOf, core::writeTestResults, core::readTestResults, "result.added"};

}  // namespace

Result<void> ReadinessStore::prepare() {
    if (!m_connection.readOnly()) return {};
    return guarded("the forecasts cannot be read", [&]() -> Result<void> {
        if (!m_connection.database().tableExists("test_result")) m_connection.makeTemporary(kStandIns);
        return {};
    });
}

Result<std::vector<FrozenForecast>> ReadinessStore::forecasts() {
    return listed(m_connection, kForecasts, "forecasts", forecastOf);
}

Result<Added> ReadinessStore::add(const FrozenForecast& f) {
    return addOnce(m_connection, m_trail, kForecastRecord, f, f.trainee, [&]() -> Result<void> {
        const auto at = momentIn(f.at);
        if (!at) return core::fail(at.error());
        if (auto known = m_people.ensureTrainee(f.trainee); !known) return known;
        Query query = m_connection.query(kNewForecast);
        query->bind(1, f.id);
        query->bind(2, f.trainee);
        query->bind(3, f.about == FrozenForecast::About::FullAttempt ? kFullAttempt : kOfficialTest);
        query->bind(4, f.at);
        query.bindOrNull(5, f.attempt);
        query->bind(6, f.rubric);
        query->bind(7, f.edition);
        query->bind(8, f.modelVersion);
        query->bind(9, f.attempts);
        query->bind(10, f.chance);
        query->bind(11, f.low);
        query->bind(12, f.high);
        query->bind(13, std::string(core::toWord(f.word)));
        query->bind(14, std::string(core::toWord(f.computed)));
        query->bind(15, static_cast<int64_t>(*at));
        query->exec();
        return {};
    });
}

Result<std::vector<Override>> ReadinessStore::overrides() {
    return listed(m_connection, kOverrides, "overrides", overrideOf);
}

Result<Added> ReadinessStore::add(const Override& o) {
    return addOnce(m_connection, m_trail, kOverrideRecord, o, o.trainee, [&]() -> Result<void> {
        const auto at = momentIn(o.at);
        if (!at) return core::fail(at.error());
        if (auto known = m_people.ensureTrainee(o.trainee); !known) return known;
        if (auto known = m_people.ensureInstructor(o.by); !known) return known;
        Query query = m_connection.query(kNewOverride);
        query->bind(1, o.id);
        query->bind(2, o.trainee);
        query->bind(3, std::string(core::toWord(o.word)));
        query->bind(4, o.reason);
        query->bind(5, o.by);
        query->bind(6, o.at);
        query->bind(7, o.withdrawn ? 1 : 0);
        query->bind(8, static_cast<int64_t>(*at));
        query->exec();
        return {};
    });
}

Result<std::vector<TestResult>> ReadinessStore::testResults(const std::optional<std::string>& trainee) {
    return listed(m_connection, kTests, "test results", testOf, trainee);
}

Result<std::vector<TestResult>> ReadinessStore::allTestResults() {
    return listed(m_connection, kAllTests, "test results", testOf);
}

Result<Added> ReadinessStore::add(const TestResult& r) {
    return addOnce(m_connection, m_trail, kTestRecord, r, r.trainee, [&]() -> Result<void> {
        if (auto known = m_people.ensureTrainee(r.trainee); !known) return known;
        Query query = m_connection.query(kNewTest);
        query->bind(1, r.id);
        query->bind(2, r.trainee);
        query->bind(3, r.date);
        query->bind(4, r.segment);
        query->bind(5, r.passed ? 1 : 0);
        query->bind(6, r.note);
        query->exec();
        return {};
    });
}

Result<std::shared_ptr<const core::PracticeRecord>> ReadinessStore::practiceRecord(
    const std::function<bool(double)>& progress, const ScoredSeen& seen) {
    using Record = std::shared_ptr<const core::PracticeRecord>;
    return guarded("the attempts cannot be read", [&]() -> Result<Record> {
        std::vector<std::string> ids;
        {
            // A second scoring is the same performance seen again: no evidence of its own.
            Query query =
                m_connection.query("SELECT id FROM attempt WHERE second_of IS NULL ORDER BY number");
            while (query->executeStep()) ids.push_back(textOf(*query, 0));
        }
        auto record = std::make_shared<core::PracticeRecord>();
        for (std::size_t i = 0; i < ids.size(); ++i) {
            if (progress && i % 64 == 0 &&
                !progress(static_cast<double>(i) / static_cast<double>(ids.size())))
                return Record();
            const auto attempt = m_attempts.attempt(ids[i]);
            if (!attempt) return core::fail(attempt.error());
            if (!core::isEnded(*attempt)) continue;
            const auto rubric = m_rubrics.rubric(attempt->header.rubric, attempt->header.edition);
            if (!rubric) return core::fail(rubric.error());
            const auto scorer = m_rubrics.scorer(attempt->header.rubric, attempt->header.edition);
            if (!scorer) return core::fail(scorer.error());
            const core::Scorecard card = (*scorer)->score(*attempt);
            if (record->add(**rubric, *attempt, card) && seen) seen(*rubric, *attempt, card);
        }
        record->sort();
        if (progress && !progress(1)) return Record();
        return Record(std::move(record));
    });
}

}  // namespace markerlamp::db
