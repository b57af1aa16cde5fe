#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The people and buses of a program, as people.csv, instructors.csv and buses.csv carry them.

#include "core/attempt/attempt.h"
#include "core/base/result.h"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// Dates are ISO 8601 (YYYY-MM-DD) or empty.
struct Trainee {
    std::string key;
    std::string name;
    std::string started;
    std::string permitIssued;
    std::string permitExpires;
    std::string medicalExpires;
    std::optional<double> theoryPercent;
    std::string theoryDate;
    std::string group;
    std::string note;
    bool toComplete = false;  ///< made because an attempt named the key

    bool operator==(const Trainee&) const = default;
};

struct Instructor {
    std::string key;
    std::string name;
    bool toComplete = false;

    bool operator==(const Instructor&) const = default;
};

struct Bus {
    std::string key;  ///< unit number, as attempts name it
    std::string title;
    std::vector<std::string> equipment;
    std::map<std::string, LimitBounds> limits;  ///< its maker's figures
    std::string note;
    bool toComplete = false;

    bool operator==(const Bus&) const = default;
};

// people.csv:
// key,name[,started,permit_issued,permit_expires,medical_expires,theory_percent,theory_date,group,note]
// instructors.csv: key,name
// buses.csv:       key,title,equipment,limits,note   equipment: tags split by spaces; limits: "id low..high"
// split by
//                  semicolons, an open end left out ("low-warning 60..; applied-leak ..2")
// UTF-8, RFC 4180, header line first; unknown columns are refused by name; every problem is reported.
// `known` are the entries so far: what a column that the table does not have would say stays as it is there;
// an empty cell of a column that it has clears the value.
[[nodiscard]] Result<std::vector<Trainee>> readPeopleCsv(std::string_view csv, const std::string& name = {},
                                                         const std::vector<Trainee>& known = {});
[[nodiscard]] Result<std::vector<Instructor>> readInstructorsCsv(std::string_view csv,
                                                                 const std::string& name = {},
                                                                 const std::vector<Instructor>& known = {});
[[nodiscard]] Result<std::vector<Bus>> readBusesCsv(std::string_view csv, const std::string& name = {},
                                                    const std::vector<Bus>& known = {});
[[nodiscard]] std::string writePeopleCsv(const std::vector<Trainee>& people);
[[nodiscard]] std::string writeInstructorsCsv(const std::vector<Instructor>& instructors);
[[nodiscard]] std::string writeBusesCsv(const std::vector<Bus>& buses);

/// One column in which an entry differs from what it was, as the tables write it. Names, groups, results and
/// notes are personal: of those only the column is told (`told` is false, both texts are empty).
struct ColumnChange {
    std::string column;
    bool told = false;
    std::string from;  ///< empty: there was nothing
    std::string to;

    bool operator==(const ColumnChange&) const = default;
};
[[nodiscard]] std::vector<ColumnChange> changesBetween(const Trainee& old, const Trainee& now);
[[nodiscard]] std::vector<ColumnChange> changesBetween(const Instructor& old, const Instructor& now);
[[nodiscard]] std::vector<ColumnChange> changesBetween(const Bus& old, const Bus& now);

}  // namespace markerlamp::core
