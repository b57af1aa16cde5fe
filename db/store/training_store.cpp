// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/training_store.h"

#include "db/sqlite/failure.h"
#include "db/store/json_columns.h"
#include "db/store/record_store.h"

#include <stdexcept>

namespace markerlamp::db {

using core::Absence;
using core::BookedTest;
using core::ClockHours;
using core::Course;
using core::Licence;
using core::Result;
using core::StruckResult;

namespace {

#define MARKERLAMP_HOURS "id, trainee, date, kind, minutes, instructor, note, at_time, replaces, struck"
#define MARKERLAMP_TEST "id, trainee, date, time, segments, place, state, note, at_time, replaces"
#define MARKERLAMP_ABSENCE "id, trainee, left_on, returned_on, reason, at_time, replaces, struck"
#define MARKERLAMP_STRIKE "id, trainee, result, reason, at_time"
#define MARKERLAMP_LICENCE "trainee, number, state"
#define MARKERLAMP_COURSE                                                                                 \
    "trainee, covers, licence_class, endorsements, theory_provider, theory_provider_number, range_done, " \
    "road_done, proficient_on, proficient_by, permit_seen, self_certified, theory_reported, wheel_reported"
// Of one trainee, or of all where the first parameter is NULL.
#define MARKERLAMP_OF " WHERE ?1 IS NULL OR trainee = ?1 ORDER BY "

constexpr const char* kHoursOf = "SELECT " MARKERLAMP_HOURS " FROM clock_hours" MARKERLAMP_OF "date, id";
constexpr const char* kHours = "SELECT " MARKERLAMP_HOURS " FROM clock_hours WHERE id = ?";
constexpr const char* kNewHours =
    "INSERT INTO clock_hours (" MARKERLAMP_HOURS ") VALUES (?,?,?,?,?,?,?,?,?,?)";
constexpr const char* kTestsOf = "SELECT " MARKERLAMP_TEST " FROM booked_test" MARKERLAMP_OF "date, id";
constexpr const char* kTest = "SELECT " MARKERLAMP_TEST " FROM booked_test WHERE id = ?";
constexpr const char* kNewTest = "INSERT INTO booked_test (" MARKERLAMP_TEST ") VALUES (?,?,?,?,?,?,?,?,?,?)";
constexpr const char* kAbsencesOf = "SELECT " MARKERLAMP_ABSENCE " FROM absence" MARKERLAMP_OF "left_on, id";
constexpr const char* kAbsence = "SELECT " MARKERLAMP_ABSENCE " FROM absence WHERE id = ?";
constexpr const char* kNewAbsence = "INSERT INTO absence (" MARKERLAMP_ABSENCE ") VALUES (?,?,?,?,?,?,?,?)";
constexpr const char* kStrikes = "SELECT " MARKERLAMP_STRIKE " FROM struck_result ORDER BY id";
constexpr const char* kStrike = "SELECT " MARKERLAMP_STRIKE " FROM struck_result WHERE id = ?";
constexpr const char* kNewStrike = "INSERT INTO struck_result (" MARKERLAMP_STRIKE ") VALUES (?,?,?,?,?)";
constexpr const char* kLicencesOf = "SELECT " MARKERLAMP_LICENCE " FROM licence" MARKERLAMP_OF "trainee";
constexpr const char* kNewLicence = "INSERT INTO licence (" MARKERLAMP_LICENCE ") VALUES (?,?,?)";
constexpr const char* kCoursesOf = "SELECT " MARKERLAMP_COURSE " FROM course" MARKERLAMP_OF "trainee";
constexpr const char* kNewCourse =
    "INSERT INTO course (" MARKERLAMP_COURSE ") VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?)";
// Stands in where the file is of a form before these tables; nothing can be added to it.
constexpr const char* kStandIns = "CREATE TEMP TABLE IF NOT EXISTS clock_hours (" MARKERLAMP_HOURS
                                  ");"
                                  "CREATE TEMP TABLE IF NOT EXISTS booked_test (" MARKERLAMP_TEST
                                  ");"
                                  "CREATE TEMP TABLE IF NOT EXISTS absence (" MARKERLAMP_ABSENCE
                                  ");"
                                  "CREATE TEMP TABLE IF NOT EXISTS struck_result (" MARKERLAMP_STRIKE
                                  ");"
                                  "CREATE TEMP TABLE IF NOT EXISTS licence (" MARKERLAMP_LICENCE
                                  ");"
                                  "CREATE TEMP TABLE IF NOT EXISTS course (" MARKERLAMP_COURSE ")";
#undef MARKERLAMP_HOURS
#undef MARKERLAMP_TEST
#undef MARKERLAMP_ABSENCE
#undef MARKERLAMP_STRIKE
#undef MARKERLAMP_LICENCE
#undef MARKERLAMP_COURSE
#undef MARKERLAMP_OF

/// The CHECKs let no other word in; a file that was changed by hand is reported by guarded().
template <class Word>
Word wordOf(const SQLite::Statement& row, int column, std::optional<Word> (*fromWord)(std::string_view)) {
    const std::optional<Word> word = fromWord(textOf(row, column));
    if (!word) throw std::runtime_error("a word of the training records is not known");
    return *word;
}

ClockHours hoursOf(const SQLite::Statement& row) {
    return {textOf(row, 0),
            textOf(row, 1),
            textOf(row, 2),
            wordOf(row, 3, core::hoursKindFromWord),
            row.getColumn(4).getInt(),
            textOf(row, 5),
            textOf(row, 6),
            textOf(row, 7),
            textOf(row, 8),
            row.getColumn(9).getInt() != 0};
}

BookedTest testOf(const SQLite::Statement& row) {
    return {textOf(row, 0),
            textOf(row, 1),
            textOf(row, 2),
            textOf(row, 3),
            listFromJson(textOf(row, 4)),
            textOf(row, 5),
            wordOf(row, 6, core::bookingStateFromWord),
            textOf(row, 7),
            textOf(row, 8),
            textOf(row, 9)};
}

Absence absenceOf(const SQLite::Statement& row) {
    return {textOf(row, 0), textOf(row, 1), textOf(row, 2), textOf(row, 3),
            textOf(row, 4), textOf(row, 5), textOf(row, 6), row.getColumn(7).getInt() != 0};
}

StruckResult strikeOf(const SQLite::Statement& row) {
    return {textOf(row, 0), textOf(row, 1), textOf(row, 2), textOf(row, 3), textOf(row, 4)};
}

Licence licenceOf(const SQLite::Statement& row) {
    return {textOf(row, 0), textOf(row, 1), textOf(row, 2)};
}

/// In the order of the columns behind `covers`.
constexpr std::string Course::*kCourseTexts[] = {
    &Course::licenceClass, &Course::endorsements,  &Course::theoryProvider, &Course::theoryProviderNumber,
    &Course::rangeDone,    &Course::roadDone,      &Course::proficientOn,   &Course::proficientBy,
    &Course::permitSeen,   &Course::selfCertified, &Course::theoryReported, &Course::wheelReported};

Course courseOf(const SQLite::Statement& row) {
    Course course;
    course.trainee = textOf(row, 0);
    course.covers = wordOf(row, 1, core::coversFromWord);
    int column = 2;
    for (const auto member : kCourseTexts) course.*member = textOf(row, column++);
    return course;
}

constexpr KindOfRecord<ClockHours> kHoursRecord{
    "clock-hours record", kHours, hoursOf, core::writeClockHours, core::readClockHours, "hours.added"};
constexpr KindOfRecord<BookedTest> kTestRecord{
    "booked test", kTest, testOf, core::writeBookedTests, core::readBookedTests, "test.booked"};
constexpr KindOfRecord<Absence> kAbsenceRecord{"absence",           kAbsence,           absenceOf,
                                               core::writeAbsences, core::readAbsences, "absence.added"};

constexpr KindOfRecord<StruckResult> kStrikeRecord{
    "struck result", kStrike, strikeOf, core::writeStruckResults, core::readStruckResults, "result.struck"};

/// What goes into the file must be able to leave it as a table and to come back.
template <class Entry, class Write, class Read>
Result<void> checkedEntry(const Entry& entry, const char* what, Write write, Read read) {
    if (entry.trainee.empty())
        return core::fail(core::ErrorKind::Refused, std::string("a ") + what + " needs a trainee");
    const auto back = read(write({entry}), std::string(), std::vector<Entry>());
    if (back && *back == std::vector{entry}) return {};
    core::Error error;
    error.message = std::string("the ") + what + " cannot be stored";
    if (!back) error.problems = back.error().problems;
    for (core::Problem& problem : error.problems) problem.line = 0;  // there is no table
    return core::fail(std::move(error));
}

core::TrailFields fieldsOf(const Licence& licence) {
    return {{"number", licence.number}, {"state", licence.state}};
}

core::TrailFields fieldsOf(const Course& course) {
    return {{"covers", std::string(core::toWord(course.covers))},
            {"licence_class", course.licenceClass},
            {"endorsements", course.endorsements},
            {"theory_provider", course.theoryProvider},
            {"theory_provider_number", course.theoryProviderNumber},
            {"range_done", course.rangeDone},
            {"road_done", course.roadDone},
            {"proficient_on", course.proficientOn},
            {"proficient_by", course.proficientBy},
            {"permit_seen", course.permitSeen},
            {"self_certified", course.selfCertified},
            {"theory_reported", course.theoryReported},
            {"wheel_reported", course.wheelReported}};
}

/// Tells the trail how an entry of a trainee changes. @param was the entries of the trainee: one or none
template <class Entry>
Result<void> tellChange(TrailStore& trail, const char* what, const Result<std::vector<Entry>>& was,
                        const Entry& is) {
    if (!was) return core::fail(was.error());
    const auto words = core::wordsOfChange(was->empty() ? core::TrailFields() : fieldsOf(was->front()),
                                           is.empty() ? core::TrailFields() : fieldsOf(is));
    return words ? trail.add({what, is.trainee, is.trainee, *words, {}}) : Result<void>();
}

void removeEntry(Connection& connection, const char* sql, const std::string& trainee) {
    Query query = connection.query(sql);
    query->bind(1, trainee);
    query->exec();
}

}  // namespace

Result<void> TrainingStore::prepare() {
    if (!m_connection.readOnly()) return {};
    return guarded("the training records cannot be read", [&]() -> Result<void> {
        if (!m_connection.database().tableExists("clock_hours")) m_connection.makeTemporary(kStandIns);
        return {};
    });
}

Result<std::vector<ClockHours>> TrainingStore::clockHours(const std::optional<std::string>& trainee) {
    return listed(m_connection, kHoursOf, "clock hours", hoursOf, trainee);
}

Result<Added> TrainingStore::add(const ClockHours& hours) {
    return addOnce(m_connection, m_trail, kHoursRecord, hours, hours.trainee, [&]() -> Result<void> {
        if (auto known = m_people.ensureTrainee(hours.trainee); !known) return known;
        if (auto known = m_people.ensureInstructor(hours.instructor); !known) return known;
        Query query = m_connection.query(kNewHours);
        query->bind(1, hours.id);
        query->bind(2, hours.trainee);
        query->bind(3, hours.date);
        query->bind(4, std::string(core::toWord(hours.kind)));
        query->bind(5, hours.minutes);
        query->bind(6, hours.instructor);
        query->bind(7, hours.note);
        query->bind(8, hours.at);
        query.bindOrNull(9, hours.replaces);
        query->bind(10, hours.struck ? 1 : 0);
        query->exec();
        return {};
    });
}

Result<std::vector<BookedTest>> TrainingStore::bookedTests(const std::optional<std::string>& trainee) {
    return listed(m_connection, kTestsOf, "booked tests", testOf, trainee);
}

Result<Added> TrainingStore::add(const BookedTest& test) {
    return addOnce(m_connection, m_trail, kTestRecord, test, test.trainee, [&]() -> Result<void> {
        if (auto known = m_people.ensureTrainee(test.trainee); !known) return known;
        Query query = m_connection.query(kNewTest);
        query->bind(1, test.id);
        query->bind(2, test.trainee);
        query->bind(3, test.date);
        query->bind(4, test.time);
        query->bind(5, toJsonText(test.segments));
        query->bind(6, test.place);
        query->bind(7, std::string(core::toWord(test.state)));
        query->bind(8, test.note);
        query->bind(9, test.at);
        query.bindOrNull(10, test.replaces);
        query->exec();
        return {};
    });
}

Result<std::vector<Absence>> TrainingStore::absences(const std::optional<std::string>& trainee) {
    return listed(m_connection, kAbsencesOf, "absences", absenceOf, trainee);
}

Result<Added> TrainingStore::add(const Absence& absence) {
    return addOnce(m_connection, m_trail, kAbsenceRecord, absence, absence.trainee, [&]() -> Result<void> {
        if (auto known = m_people.ensureTrainee(absence.trainee); !known) return known;
        Query query = m_connection.query(kNewAbsence);
        query->bind(1, absence.id);
        query->bind(2, absence.trainee);
        query->bind(3, absence.left);
        query->bind(4, absence.returned);
        query->bind(5, absence.reason);
        query->bind(6, absence.at);
        query.bindOrNull(7, absence.replaces);
        query->bind(8, absence.struck ? 1 : 0);
        query->exec();
        return {};
    });
}

Result<std::vector<StruckResult>> TrainingStore::struckResults() {
    return listed(m_connection, kStrikes, "struck results", strikeOf);
}

Result<Added> TrainingStore::add(const StruckResult& strike) {
    return addOnce(m_connection, m_trail, kStrikeRecord, strike, strike.trainee, [&]() -> Result<void> {
        if (auto known = m_people.ensureTrainee(strike.trainee); !known) return known;
        Query query = m_connection.query(kNewStrike);
        query->bind(1, strike.id);
        query->bind(2, strike.trainee);
        query->bind(3, strike.result);
        query->bind(4, strike.reason);
        query->bind(5, strike.at);
        query->exec();
        return {};
    });
}

Result<std::vector<Licence>> TrainingStore::licences(const std::optional<std::string>& trainee) {
    return listed(m_connection, kLicencesOf, "licences", licenceOf, trainee);
}

Result<void> TrainingStore::save(const Licence& licence) {
    if (auto good = checkedEntry(licence, "licence", core::writeLicencesCsv, core::readLicencesCsv); !good)
        return good;
    return guarded("the licence cannot be stored", [&]() -> Result<void> {
        return m_connection.transaction([&]() -> Result<void> {
            if (auto known = m_people.ensureTrainee(licence.trainee); !known) return known;
            if (auto told =
                    tellChange(m_trail, core::kLicenceChanged.data(), licences(licence.trainee), licence);
                !told)
                return told;
            removeEntry(m_connection, "DELETE FROM licence WHERE trainee = ?", licence.trainee);
            if (licence.empty()) return {};
            Query query = m_connection.query(kNewLicence);
            query->bind(1, licence.trainee);
            query->bind(2, licence.number);
            query->bind(3, licence.state);
            query->exec();
            return {};
        });
    });
}

Result<std::vector<Course>> TrainingStore::courses(const std::optional<std::string>& trainee) {
    return listed(m_connection, kCoursesOf, "training entries", courseOf, trainee);
}

Result<void> TrainingStore::save(const Course& course) {
    if (auto good = checkedEntry(course, "training entry", core::writeTrainingCsv, core::readTrainingCsv);
        !good)
        return good;
    return guarded("the training entry cannot be stored", [&]() -> Result<void> {
        return m_connection.transaction([&]() -> Result<void> {
            if (auto known = m_people.ensureTrainee(course.trainee); !known) return known;
            if (auto told = tellChange(m_trail, "course.changed", courses(course.trainee), course); !told)
                return told;
            removeEntry(m_connection, "DELETE FROM course WHERE trainee = ?", course.trainee);
            if (course.empty()) return {};
            Query query = m_connection.query(kNewCourse);
            query->bind(1, course.trainee);
            query->bind(2, std::string(core::toWord(course.covers)));
            int column = 3;
            for (const auto member : kCourseTexts) query->bind(column++, course.*member);
            query->exec();
            return {};
        });
    });
}

}  // namespace markerlamp::db
