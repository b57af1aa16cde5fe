#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Who and what the demo program is made of: invented trainees with the course of their learning, instructors
// with their habits, buses with their quirks. Shares are in 1/1000 and weeks count from 0.

#include "core/people/people.h"
#include "demo/generator/calendar.h"

#include <string>
#include <vector>

namespace markerlamp::demo {

/// How a trainee comes along. Skill is about the share of steps that the trainee gets whole.
struct Course {
    core::Trainee trainee;
    int firstWeek = 0;
    int lastWeek = 9;
    int attempts = 6;
    int startSkill = 400;
    int topSkill = 900;
    int rate = 400;  ///< how fast: half of the way is learnt after 1000 / rate attempts
    int brakes = 0;  ///< better (or worse) at the brake checks than elsewhere
    std::vector<std::string> weakZones;
    int weakBy = 150;
    int slips = 2;     ///< steps out of their place in an attempt at the start
    int pace = 100;    ///< 100: as most do; more is slower
    int awayFrom = 0;  ///< weeks without practice, [awayFrom, awayTo); equal: none
    int awayTo = 0;
    bool cabFirst = false;  ///< walks the cab before the outside
    int bus = 0;            ///< usual bus, index
    int instructor = 0;     ///< usual instructor, index
    int drills = 2;         ///< attempts at the start that take only some zones
};

/// How an instructor scores the same thing.
struct Habit {
    core::Instructor instructor;
    int deaf = 10;     ///< share of points that were said and are not credited
    int kind = 10;     ///< share of points that were not said and are credited
    int prompts = 40;  ///< share of stuck moments in which help is given
    int partly = 40;   ///< share of steps marked "partly" instead of point by point
    int notes = 20;
};

/// What this bus really does when it is measured; tenths of the unit.
struct Quirk {
    core::Bus bus;
    bool airBrakes = true;
    int cutOut = 1280;
    int warning = 660;
    int popOut = 350;
    int buildUp = 320;
    int cutIn = 1020;
    int treadFront = 80;
    int treadRear = 60;
    int wheelPlay = 12;
};

/// A real defect that a bus had for a while.
struct Defect {
    std::string bus;
    std::string step;
    int fromWeek = 0;
    int toWeek = 0;  ///< the first week without it
    std::string text;
};

[[nodiscard]] std::vector<Course> makeCourses(int trainees, int weeks, const Calendar& calendar);
[[nodiscard]] std::vector<Habit> makeHabits();
[[nodiscard]] std::vector<Quirk> makeQuirks(const Calendar& calendar);
[[nodiscard]] std::vector<Defect> makeDefects();

}  // namespace markerlamp::demo
