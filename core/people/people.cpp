// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/people.h"

#include "core/base/fact_settings.h"
#include "core/base/text.h"
#include "core/people/people_table.h"

#include <algorithm>

namespace markerlamp::core {

namespace {

using Row = std::vector<std::string>;

const Row kPeopleColumns{
    "key",         "name",  "started", "permit_issued", "permit_expires", "medical_expires", "theory_percent",
    "theory_date", "group", "note"};
const Row kInstructorColumns{"key", "name"};
const Row kBusColumns{"key", "title", "equipment", "limits", "note"};

Row rowOf(const Trainee& t) {
    return {t.key,
            t.name,
            t.started,
            t.permitIssued,
            t.permitExpires,
            t.medicalExpires,
            t.theoryPercent ? shortestText(*t.theoryPercent) : std::string(),
            t.theoryDate,
            t.group,
            t.note};
}

Row rowOf(const Instructor& i) {
    return {i.key, i.name};
}

Row rowOf(const Bus& bus) {
    std::string tags;
    for (const std::string& tag : bus.equipment) tags += (tags.empty() ? "" : " ") + tag;
    std::string limits;
    for (const auto& [id, bounds] : bus.limits)
        limits += (limits.empty() ? "" : "; ") + id + " " +
                  (bounds.low ? shortestText(*bounds.low) : std::string()) + ".." +
                  (bounds.high ? shortestText(*bounds.high) : std::string());
    return {bus.key, bus.title, tags, limits, bus.note};
}

template <class Entry>
std::string writeTable(const Row& columns, const std::vector<Entry>& entries) {
    std::vector<Row> rows;
    for (const Entry& entry : entries) rows.push_back(rowOf(entry));
    return writeCsv(columns, rows);
}

template <class Entry>
std::vector<ColumnChange> compare(const Row& columns, const Row& told, const Entry& old, const Entry& now) {
    return changesOfRows(columns, told, rowOf(old), rowOf(now));
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
    return text;
}

std::vector<std::string_view> split(std::string_view text, char by) {
    std::vector<std::string_view> parts;
    while (!text.empty()) {
        const auto end = text.find(by);
        if (const auto part = trimmed(text.substr(0, end)); !part.empty()) parts.push_back(part);
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return parts;
}

/// "id low..high" with an open end left out.
bool readBounds(std::string_view text, std::map<std::string, LimitBounds>& limits) {
    const auto space = text.find(' ');
    if (space == std::string_view::npos) return false;
    const std::string id(text.substr(0, space));
    const std::string_view range = trimmed(text.substr(space));
    const auto dots = range.find("..");
    if (!isKebabCase(id) || dots == std::string_view::npos || limits.contains(id)) return false;
    LimitBounds bounds;
    for (auto [part, bound] :
         {std::pair{range.substr(0, dots), &bounds.low}, std::pair{range.substr(dots + 2), &bounds.high}}) {
        if (part.empty()) continue;
        *bound = plainNumber(part);
        if (!*bound) return false;
    }
    if ((!bounds.low && !bounds.high) || (bounds.low && bounds.high && *bounds.low > *bounds.high))
        return false;
    limits.emplace(id, bounds);
    return true;
}

}  // namespace

Result<std::vector<Trainee>> readPeopleCsv(std::string_view csv, const std::string& name,
                                           const std::vector<Trainee>& entries) {
    const KnownEntries<Trainee> known(entries, &Trainee::key);
    PeopleTable table(csv, name, kPeopleColumns, {"key", "name"});
    table.begin();
    std::vector<Trainee> people;
    for (std::size_t row = 0; row < table.rows(); ++row) {
        Trainee t = known.of(table.key(row));
        table.take(t.name, row, "name", 200, true);
        table.takeDate(t.started, row, "started");
        table.takeDate(t.permitIssued, row, "permit_issued");
        table.takeDate(t.permitExpires, row, "permit_expires");
        table.takeDate(t.medicalExpires, row, "medical_expires");
        table.takeDate(t.theoryDate, row, "theory_date");
        if (table.has("theory_percent")) {
            const std::string percent = table.text(row, "theory_percent", 40);
            t.theoryPercent = percent.empty() ? std::nullopt : plainNumber(percent);
            if (!percent.empty() && (!t.theoryPercent || *t.theoryPercent < 0 || *t.theoryPercent > 100))
                table.problem(row, "theory_percent", percent, "\"" + percent + "\" is not between 0 and 100",
                              "give the result in percent");
        }
        table.take(t.group, row, "group", 200);
        table.take(t.note, row, "note", 20'000);
        people.push_back(std::move(t));
    }
    if (!table.good()) return table.refusal();
    return people;
}

Result<std::vector<Instructor>> readInstructorsCsv(std::string_view csv, const std::string& name,
                                                   const std::vector<Instructor>& entries) {
    const KnownEntries<Instructor> known(entries, &Instructor::key);
    PeopleTable table(csv, name, kInstructorColumns, kInstructorColumns);
    table.begin();
    std::vector<Instructor> instructors;
    for (std::size_t row = 0; row < table.rows(); ++row) {
        Instructor instructor = known.of(table.key(row));
        table.take(instructor.name, row, "name", 200, true);
        instructors.push_back(std::move(instructor));
    }
    if (!table.good()) return table.refusal();
    return instructors;
}

Result<std::vector<Bus>> readBusesCsv(std::string_view csv, const std::string& name,
                                      const std::vector<Bus>& entries) {
    const KnownEntries<Bus> known(entries, &Bus::key);
    PeopleTable table(csv, name, kBusColumns, {"key"});
    table.begin();
    std::vector<Bus> buses;
    for (std::size_t row = 0; row < table.rows(); ++row) {
        Bus bus = known.of(table.key(row));
        table.take(bus.title, row, "title", 200);
        if (table.has("equipment")) {
            bus.equipment.clear();
            const std::string tags = table.text(row, "equipment", 4000);
            for (const auto tag : split(tags, ' ')) {
                if (!isKebabCase(tag))
                    table.problem(row, "equipment", std::string(tag),
                                  "\"" + std::string(tag) + "\" is not a tag",
                                  "write tags in kebab-case, split by spaces");
                bus.equipment.emplace_back(tag);
            }
        }
        if (table.has("limits")) {
            bus.limits.clear();
            const std::string limits = table.text(row, "limits", 4000);
            for (const auto bounds : split(limits, ';'))
                if (!readBounds(bounds, bus.limits))
                    table.problem(row, "limits", std::string(bounds),
                                  "\"" + std::string(bounds) + "\" is not a limit",
                                  "write it like \"low-warning 60..\" or \"cut-out 120..140\"");
        }
        table.take(bus.note, row, "note", 20'000);
        buses.push_back(std::move(bus));
    }
    if (!table.good()) return table.refusal();
    return buses;
}

std::string writePeopleCsv(const std::vector<Trainee>& people) {
    return writeTable(kPeopleColumns, people);
}
std::string writeInstructorsCsv(const std::vector<Instructor>& instructors) {
    return writeTable(kInstructorColumns, instructors);
}
std::string writeBusesCsv(const std::vector<Bus>& buses) {
    return writeTable(kBusColumns, buses);
}

std::vector<ColumnChange> changesBetween(const Trainee& old, const Trainee& now) {
    return compare(kPeopleColumns,
                   {"started", "permit_issued", "permit_expires", "medical_expires", "theory_date"}, old,
                   now);
}
std::vector<ColumnChange> changesBetween(const Instructor& old, const Instructor& now) {
    return compare(kInstructorColumns, {}, old, now);
}
std::vector<ColumnChange> changesBetween(const Bus& old, const Bus& now) {
    return compare(kBusColumns, {"equipment", "limits"}, old, now);
}

}  // namespace markerlamp::core
