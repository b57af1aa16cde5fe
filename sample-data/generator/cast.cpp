// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// All names are invented.

#include "demo/generator/cast.h"

#include <algorithm>

namespace markerlamp::demo {

namespace {

constexpr int kWeeksAsWritten = 10;
// Groups are named by the month of their first day.
constexpr const char* kOlderGroup = "2026-01-05";
constexpr const char* kNewerGroup = "2026-03-02";

core::Trainee person(const char* key, const char* name, const char* started, const char* permitIssued,
                     const char* permitExpires, const char* medicalExpires, std::optional<double> theory,
                     const char* theoryDate, const char* group, const char* note) {
    core::Trainee trainee;
    trainee.key = key;
    trainee.name = name;
    trainee.started = started;
    trainee.permitIssued = permitIssued;
    trainee.permitExpires = permitExpires;
    trainee.medicalExpires = medicalExpires;
    trainee.theoryPercent = theory;
    trainee.theoryDate = theoryDate;
    trainee.group = group;
    trainee.note = note;
    return trainee;
}

/// As written in the cast, with the dates that the calendar gives.
core::Trainee follow(core::Trainee trainee, const Calendar& calendar) {
    trainee.started = calendar.happened(trainee.started);
    trainee.permitIssued = calendar.givenOut(trainee.permitIssued);
    trainee.permitExpires = calendar.runsOut(trainee.permitExpires);
    trainee.medicalExpires = calendar.runsOut(trainee.medicalExpires);
    trainee.theoryDate = calendar.happened(trainee.theoryDate);
    trainee.group = calendar.month(trainee.group);
    return trainee;
}

std::vector<Course> coursesAsWritten() {
    std::vector<Course> all;
    const auto add = [&all](core::Trainee trainee) -> Course& {
        Course& course = all.emplace_back();
        course.trainee = std::move(trainee);
        return course;
    };

    Course* c = &add(person("t-01", "Wren Larkspindle", "2026-01-05", "2025-12-15", "2026-12-15",
                            "2027-10-01", 94, "2026-01-14", kOlderGroup, "Fast learner"));
    c->attempts = 6, c->lastWeek = 5, c->startSkill = 660, c->topSkill = 1060, c->rate = 3000,
    c->brakes = 120;
    c->slips = 1, c->pace = 84, c->drills = 1;

    c = &add(person("t-02", "Odell Copperlane", "2026-01-05", "2025-11-20", "2026-11-20", "2027-06-30", 91,
                    "2026-01-16", kOlderGroup, "Ready; test not booked yet"));
    c->attempts = 9, c->startSkill = 480, c->topSkill = 1060, c->rate = 620, c->brakes = 90,
    c->instructor = 1;
    c->weakZones = {"rear-axle"}, c->weakBy = 60, c->bus = 1;

    c = &add(person("t-03", "Imke Hollowbrook", "2026-01-05", "2025-12-01", "2026-12-01", "2026-12-31", 88,
                    "2026-01-20", kOlderGroup, "Ready for the outside, finishing the brakes"));
    c->attempts = 8, c->startSkill = 500, c->topSkill = 990, c->rate = 560, c->brakes = -40,
    c->instructor = 2;

    c = &add(person("t-04", "Basil Merriweld", "2026-01-12", "2025-12-22", "2026-12-22", "2027-03-15", 86,
                    "2026-01-26", kOlderGroup, ""));
    c->firstWeek = 1, c->attempts = 7, c->startSkill = 420, c->topSkill = 930, c->rate = 380, c->brakes = 20;
    c->weakZones = {"engine"}, c->instructor = 1;

    c = &add(person("t-05", "Cosima Tanglewick", "2026-01-12", "2025-12-29", "2026-12-29", "2027-01-20", 83,
                    "2026-01-28", kOlderGroup, ""));
    c->firstWeek = 1, c->attempts = 7, c->startSkill = 380, c->topSkill = 900, c->rate = 340, c->slips = 4;
    c->weakZones = {"school-lamps", "cabin"}, c->instructor = 3, c->bus = 4;

    c = &add(person("t-06", "Joss Ambergate", "2026-01-12", "2025-12-29", "2026-12-29", "2027-08-08", 90,
                    "2026-01-28", kOlderGroup, ""));
    c->firstWeek = 1, c->attempts = 7, c->startSkill = 430, c->topSkill = 910, c->rate = 360,
    c->cabFirst = true;
    c->weakZones = {"left-side"}, c->instructor = 2, c->pace = 112;

    c = &add(person("t-07", "Nell Thistledown", "2026-01-05", "2025-12-08", "2026-12-08", "2027-02-11", 81,
                    "2026-01-22", kOlderGroup, "No gain for weeks; see the axles and the brakes"));
    c->attempts = 11, c->startSkill = 560, c->topSkill = 600, c->rate = 900, c->brakes = -110, c->slips = 4;
    c->weakZones = {"front-axle", "rear-axle"}, c->weakBy = 170, c->pace = 132, c->drills = 1;

    c = &add(person("t-08", "Corin Wexelby", "2026-01-05", "2025-12-15", "2026-12-15", "2027-05-05", 80,
                    "2026-02-02", kOlderGroup, "Slow but steady"));
    c->attempts = 9, c->startSkill = 330, c->topSkill = 900, c->rate = 160, c->instructor = 3, c->pace = 150;
    c->weakZones = {"engine", "air-brakes"}, c->weakBy = 110, c->drills = 3;

    c = &add(person("t-09", "Petra Snowquill", "2026-02-23", "2026-02-16", "2027-02-16", "2028-01-31",
                    std::nullopt, "", kNewerGroup, "New"));
    c->firstWeek = 7, c->attempts = 3, c->startSkill = 300, c->topSkill = 900, c->rate = 400, c->pace = 145;
    c->instructor = 1, c->drills = 3;

    c = &add(person("t-10", "Arlo Pebbleton", "2026-03-02", "", "", "2027-11-11", std::nullopt, "",
                    kNewerGroup, "New; the dates of the permit are not on file yet"));
    c->firstWeek = 8, c->attempts = 2, c->startSkill = 280, c->topSkill = 900, c->rate = 400, c->slips = 5;
    c->instructor = 2, c->drills = 2, c->bus = 4;

    c = &add(person("t-11", "Maren Dovecastle", "2026-01-05", "2025-10-20", "2026-10-20", "2026-09-30", 92,
                    "2025-11-18", kOlderGroup, "Came back after a break"));
    c->attempts = 8, c->startSkill = 600, c->topSkill = 1000, c->rate = 520, c->awayFrom = 3, c->awayTo = 8;
    c->instructor = 1, c->brakes = 20, c->bus = 1;

    c = &add(person("t-12", "Silas Rowanfield", "2026-01-05", "2025-04-07", "2026-04-07", "2026-08-20", 85,
                    "2026-01-15", kOlderGroup, "Permit ends soon"));
    c->attempts = 8, c->startSkill = 450, c->topSkill = 930, c->rate = 420, c->weakZones = {"gauges"};
    c->instructor = 3, c->brakes = -20;

    c = &add(person("t-13", "Tamsin Oakenshaw", "2026-01-05", "2025-03-06", "2026-03-06", "2026-06-15", 87,
                    "2026-01-15", kOlderGroup, "Permit has ended; to be renewed"));
    c->lastWeek = 7, c->attempts = 6, c->startSkill = 470, c->topSkill = 900, c->rate = 360,
    c->instructor = 2;
    c->weakZones = {"driver-area"};

    c = &add(person("t-14", "Ferris Quillstead", "2026-01-19", "2026-01-02", "2027-01-02", "2027-09-09",
                    std::nullopt, "", kOlderGroup, "Theory result is missing"));
    c->firstWeek = 2, c->attempts = 7, c->startSkill = 460, c->topSkill = 990, c->rate = 480, c->brakes = 60;
    c->instructor = 0, c->bus = 4;

    c = &add(person("t-15", "Ilse Fennimoor", "2026-01-12", "2025-12-18", "2026-12-18", "2027-07-01", 89,
                    "2026-01-30", kOlderGroup, "Trains for buses without air brakes"));
    c->firstWeek = 1, c->attempts = 7, c->startSkill = 450, c->topSkill = 970, c->rate = 460, c->bus = 3;
    c->instructor = 2, c->weakZones = {"front-axle"}, c->weakBy = 90;

    c = &add(person("t-16", "Bram Marrowby", "2026-01-12", "2025-12-18", "2026-12-18", "2026-04-02", 84,
                    "2026-02-05", kOlderGroup, "Lift bus; medical card ends soon"));
    c->firstWeek = 1, c->attempts = 7, c->startSkill = 420, c->topSkill = 930, c->rate = 420, c->bus = 2;
    c->instructor = 3, c->slips = 3;
    return all;
}

}  // namespace

std::vector<Course> makeCourses(int trainees, int weeks, const Calendar& calendar) {
    const std::vector<Course> written = coursesAsWritten();
    std::vector<Course> courses;
    for (int i = 0; i < trainees; ++i) {
        const std::size_t round = static_cast<std::size_t>(i) / written.size();
        Course course = written[static_cast<std::size_t>(i) % written.size()];
        course.trainee = follow(std::move(course.trainee), calendar);
        if (round > 0) {
            const std::string tail = std::to_string(round + 1);
            course.trainee.key += "-" + tail;
            course.trainee.name += " " + tail;
        }
        for (int* week : {&course.firstWeek, &course.lastWeek, &course.awayFrom, &course.awayTo})
            *week = std::min(*week * weeks / kWeeksAsWritten, std::max(0, weeks - 1));
        courses.push_back(std::move(course));
    }
    return courses;
}

std::vector<Habit> makeHabits() {
    std::vector<Habit> all;
    const auto add = [&all](const char* key, const char* name, int deaf, int kind, int prompts, int partly,
                            int notes) {
        Habit& habit = all.emplace_back();
        habit.instructor.key = key;
        habit.instructor.name = name;
        habit.deaf = deaf, habit.kind = kind, habit.prompts = prompts, habit.partly = partly,
        habit.notes = notes;
    };
    add("i-1", "Greta Plumbridge", 14, 4, 120, 20, 9);   // strict
    add("i-2", "Osmond Tarrowell", 6, 10, 200, 60, 6);   // in the middle
    add("i-3", "Pia Windlestone", 2, 60, 330, 120, 4);   // lenient, helps a lot
    add("i-4", "Halvard Crickmore", 28, 2, 60, 10, 12);  // hears every missing word
    return all;
}

std::vector<Quirk> makeQuirks(const Calendar& calendar) {
    std::vector<Quirk> all;
    const auto add = [&all](const char* key, const char* title, std::vector<std::string> equipment,
                            const std::string& note) -> Quirk& {
        Quirk& quirk = all.emplace_back();
        quirk.bus.key = key;
        quirk.bus.title = title;
        quirk.bus.equipment = std::move(equipment);
        quirk.bus.note = note;
        return quirk;
    };
    add("12", "Front engine, air brakes",
        {"air-brakes", "front-engine", "power-steering", "belt-driven", "abs", "def-tank", "dual-rear-wheels",
         "backup-alarm", "eight-lamp", "stop-arm-2", "crossing-arm", "strobe", "power-door",
         "push-out-windows", "roof-hatches", "child-check"},
        "Practice bus; tanks full at about 120 psi");
    Quirk& rear = add(
        "14", "Rear engine, air brakes",
        {"air-brakes", "rear-engine", "power-steering", "abs", "def-tank", "transmission-gauge",
         "air-suspension", "dual-rear-wheels", "backup-alarm", "eight-lamp", "stop-arm-2", "crossing-arm",
         "strobe", "power-door", "side-emergency-door", "push-out-windows", "roof-hatches", "child-check"},
        "Limits from the maker's sheet on the visor");
    rear.bus.limits = {
        {"cut-out", {125, 135}}, {"low-warning", {65, std::nullopt}}, {"coolant-hot", {std::nullopt, 205}}};
    rear.cutOut = 1310, rear.warning = 710, rear.popOut = 320, rear.buildUp = 280;
    Quirk& lift = add("17", "Front engine, air brakes, lift",
                      {"air-brakes", "front-engine", "power-steering", "belt-driven", "abs",
                       "dual-rear-wheels", "backup-alarm", "eight-lamp", "crossing-arm", "wheelchair-lift",
                       "passenger-belts", "power-door", "push-out-windows", "roof-hatches", "child-check"},
                      "Lift serviced in " + calendar.month("2025-12-15"));
    lift.cutOut = 1250, lift.warning = 640, lift.popOut = 300, lift.treadFront = 70;
    Quirk& hydraulic =
        add("21", "Front engine, hydraulic brakes",
            {"hydraulic-brakes", "reserve-pump", "front-engine", "power-steering", "belt-driven", "abs",
             "dual-rear-wheels", "eight-lamp", "crossing-arm", "strobe", "child-check"},
            "Short bus");
    hydraulic.airBrakes = false;
    hydraulic.bus.limits = {{"oil-pressure", {30, 70}}};
    Quirk& old = add("23", "Front engine, air brakes, older",
                     {"air-brakes", "front-engine", "power-steering", "belt-driven", "dual-rear-wheels",
                      "crossing-arm", "push-out-windows", "roof-hatches"},
                     "Four student lamps; warning level from the maker's plate");
    old.bus.limits = {{"low-warning", {55, std::nullopt}}};
    old.cutOut = 1220, old.warning = 590, old.popOut = 270, old.buildUp = 400, old.cutIn = 960;
    old.treadFront = 60, old.treadRear = 40, old.wheelPlay = 17;
    return all;
}

std::vector<Defect> makeDefects() {
    return {
        {"12", "step-lamp", 2, 4, "step lamp does not light"},
        {"12", "front-inflation", 6, 7, "right front tire is 15 psi low"},
        {"14", "clearance-lamps", 3, 5, "middle cluster lamp is cracked"},
        {"14", "heater", 7, 9, "second fan speed does not blow"},
        {"17", "tie-downs", 4, 6, "one floor strap is frayed"},
        {"17", "rear-rims", 8, 9, "rust trail at one lug nut"},
        {"21", "wipers-out", 5, 7, "right blade is torn"},
        {"23", "static-leak", 5, 8, "loses more than 2 psi in the minute"},
        {"23", "left-lamps", 1, 3, "rear marker lens is cracked"},
        {"23", "triangles", 8, 9, "one triangle is broken"},
    };
}

}  // namespace markerlamp::demo
