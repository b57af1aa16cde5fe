// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/exchange/document_kind.h"

#include <string>

namespace markerlamp::db {

using Kind = DocumentKind;

const char* wordOf(Kind kind) {
    switch (kind) {
        case Kind::Rubric:
            return "rubric";
        case Kind::LimitSet:
            return "limit set";
        case Kind::Program:
            return "program";
        case Kind::People:
            return "people";
        case Kind::Instructors:
            return "instructors";
        case Kind::Buses:
            return "buses";
        case Kind::Attempt:
            return "attempt";
        case Kind::Forecasts:
            return "forecasts";
        case Kind::Overrides:
            return "overrides";
        case Kind::Tests:
            return "test results";
        case Kind::Licences:
            return "licences";
        case Kind::Training:
            return "training entries";
        case Kind::Strikes:
            return "struck results";
        case Kind::Outcomes:
            return "outcomes";
        case Kind::Hours:
            return "clock hours";
        case Kind::Bookings:
            return "booked tests";
        case Kind::Absences:
            return "absences";
        case Kind::Settlements:
            return "settlements";
        case Kind::Sheets:
            return "records of sheets";
        case Kind::Unknown:
            return "document";
    }
    return "";
}

Kind kindOf(const std::filesystem::path& path) {
    const std::string name = path.filename().string();
    if (name.ends_with(".rubric.yaml")) return Kind::Rubric;
    if (name.ends_with(".limits.yaml")) return Kind::LimitSet;
    if (name.ends_with(".attempt.jsonl")) return Kind::Attempt;
    if (name.ends_with("forecasts.jsonl")) return Kind::Forecasts;
    if (name.ends_with("overrides.jsonl")) return Kind::Overrides;
    if (name.ends_with("tests.jsonl")) return Kind::Tests;
    if (name.ends_with("strikes.jsonl")) return Kind::Strikes;
    if (name.ends_with("hours.jsonl")) return Kind::Hours;
    if (name.ends_with("bookings.jsonl")) return Kind::Bookings;
    if (name.ends_with("absences.jsonl")) return Kind::Absences;
    if (name.ends_with("settlements.jsonl")) return Kind::Settlements;
    if (name.ends_with("sheets.jsonl")) return Kind::Sheets;
    if (!name.ends_with(".csv")) return Kind::Unknown;
    if (name == "program.csv") return Kind::Program;
    if (name.find("instructors") != std::string::npos) return Kind::Instructors;
    if (name.find("buses") != std::string::npos) return Kind::Buses;
    if (name.find("people") != std::string::npos) return Kind::People;
    if (name.find("outcomes") != std::string::npos) return Kind::Outcomes;
    if (name.find("licences") != std::string::npos) return Kind::Licences;
    if (name.find("training") != std::string::npos) return Kind::Training;
    return Kind::Unknown;
}

}  // namespace markerlamp::db
