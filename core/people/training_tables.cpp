// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// licences.csv and training.csv.

#include "core/people/people_table.h"
#include "core/people/training.h"

namespace markerlamp::core {

namespace {

using Row = std::vector<std::string>;

const Row kLicenceColumns{"key", "number", "state"};

/// A column of training.csv besides key and covers, and how it is read.
struct Column {
    const char* name;
    std::string Course::*member;
    bool date;
    std::size_t most = 200;
};
constexpr std::size_t kShort = 40;
const std::vector<Column> kCourseColumns{
    {"licence_class", &Course::licenceClass, false, kShort},
    {"endorsements", &Course::endorsements, false, kShort},
    {"theory_provider", &Course::theoryProvider, false},
    {"theory_provider_number", &Course::theoryProviderNumber, false},
    {"range_done", &Course::rangeDone, true},
    {"road_done", &Course::roadDone, true},
    {"proficient_on", &Course::proficientOn, true},
    {"proficient_by", &Course::proficientBy, false},
    {"permit_seen", &Course::permitSeen, true},
    {"self_certified", &Course::selfCertified, true},
    {"theory_reported", &Course::theoryReported, true},
    {"wheel_reported", &Course::wheelReported, true},
};

Row trainingHeader() {
    Row header{"key", "covers"};
    for (const Column& column : kCourseColumns) header.emplace_back(column.name);
    return header;
}

Row rowOf(const Licence& licence) {
    return {licence.trainee, licence.number, licence.state};
}
Row rowOf(const Course& course) {
    Row row{course.trainee, std::string(toWord(course.covers))};
    for (const Column& column : kCourseColumns) row.push_back(course.*column.member);
    return row;
}

}  // namespace

std::string writeLicencesCsv(const std::vector<Licence>& licences) {
    std::vector<Row> rows;
    for (const Licence& licence : licences) rows.push_back(rowOf(licence));
    return writeCsv(kLicenceColumns, rows);
}

Result<std::vector<Licence>> readLicencesCsv(std::string_view csv, const std::string& name,
                                             const std::vector<Licence>& entries) {
    const KnownEntries<Licence> known(entries, &Licence::trainee);
    PeopleTable table(csv, name, kLicenceColumns, {"key"});
    table.begin();
    std::vector<Licence> licences;
    for (std::size_t row = 0; row < table.rows(); ++row) {
        Licence licence = known.of(table.key(row));
        table.take(licence.number, row, "number", kShort);
        table.take(licence.state, row, "state", kShort);
        licences.push_back(std::move(licence));
    }
    if (!table.good()) return table.refusal();
    return licences;
}

std::string writeTrainingCsv(const std::vector<Course>& courses) {
    std::vector<Row> rows;
    for (const Course& course : courses) rows.push_back(rowOf(course));
    return writeCsv(trainingHeader(), rows);
}

Result<std::vector<Course>> readTrainingCsv(std::string_view csv, const std::string& name,
                                            const std::vector<Course>& entries) {
    const KnownEntries<Course> known(entries, &Course::trainee);
    PeopleTable table(csv, name, trainingHeader(), {"key"});
    table.begin();
    std::vector<Course> courses;
    for (std::size_t row = 0; row < table.rows(); ++row) {
        Course course = known.of(table.key(row));
        if (table.has("covers")) {
            const std::string word = table.text(row, "covers", kShort);
            const auto covers = coversFromWord(word);
            if (!covers && !word.empty())
                table.problem(row, "covers", word, "\"" + word + "\" says not what the program teaches",
                              "write both, theory or wheel");
            course.covers = covers.value_or(Covers::Both);
        }
        for (const Column& column : kCourseColumns)
            if (column.date)
                table.takeDate(course.*column.member, row, column.name);
            else
                table.take(course.*column.member, row, column.name, column.most);
        courses.push_back(std::move(course));
    }
    if (!table.good()) return table.refusal();
    return courses;
}

std::vector<ColumnChange> changesBetween(const Licence& old, const Licence& now) {
    return changesOfRows(kLicenceColumns, {}, rowOf(old), rowOf(now));
}

std::vector<ColumnChange> changesBetween(const Course& old, const Course& now) {
    const Row header = trainingHeader();
    Row told;
    for (const std::string& column : header)
        if (!column.starts_with("theory_provider") && column != "proficient_by") told.push_back(column);
    return changesOfRows(header, told, rowOf(old), rowOf(now));
}

}  // namespace markerlamp::core
