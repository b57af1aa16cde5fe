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
[[nodiscard]] Result<std::vector<Trainee>> readPeopleCsv(std::string_view csv, const std::string& name = {});
[[nodiscard]] Result<std::vector<Instructor>> readInstructorsCsv(std::string_view csv,
                                                                 const std::string& name = {});
[[nodiscard]] Result<std::vector<Bus>> readBusesCsv(std::string_view csv, const std::string& name = {});
[[nodiscard]] std::string writePeopleCsv(const std::vector<Trainee>& people);
[[nodiscard]] std::string writeInstructorsCsv(const std::vector<Instructor>& instructors);
[[nodiscard]] std::string writeBusesCsv(const std::vector<Bus>& buses);

}  // namespace markerlamp::core
