// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "demo/generator/demo_program.h"

#include "demo/generator/calendar.h"
#include "demo/generator/cast.h"
#include "demo/generator/demo_papers.h"
#include "demo/generator/performance.h"
#include "demo/generator/random.h"

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <set>
#include <tuple>

namespace markerlamp::demo {

namespace {

using std::chrono::sys_days;

constexpr int kWorkDays = 5;
/// Starts of sessions, minutes after midnight; far enough apart for one bus or one instructor.
constexpr std::array<int, 7> kSessions{6 * 60 + 5,   7 * 60 + 20, 8 * 60 + 40, 10 * 60,
                                       11 * 60 + 15, 13 * 60,     14 * 60 + 15};

/// The invented district keeps Eastern time: daylight saving from the second Sunday of March to the first of
/// November.
std::string isoTime(sys_days day, int minutes, int seconds) {
    using namespace std::chrono;
    const year y = year_month_day(day).year();
    const bool summer = day >= sys_days(y / March / Sunday[2]) && day < sys_days(y / November / Sunday[1]);
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "T%02d:%02d:%02d-0%d:00", minutes / 60, minutes % 60, seconds,
                  summer ? 4 : 5);
    return isoDay(day) + text.data();
}

/// Share of the way from startSkill to topSkill after `practised` attempts.
int skillAfter(const Course& course, int practised) {
    const int gained = course.rate * practised;
    return course.startSkill + (course.topSkill - course.startSkill) * gained / (1000 + gained);
}

std::vector<std::string> allZones(const core::Rubric& rubric) {
    std::vector<std::string> zones;
    for (const core::Zone& zone : rubric.zones) zones.push_back(zone.id);
    return zones;
}

class District {
public:
    District(const core::Rubric& air, const core::Rubric& hydraulic, const DemoOptions& options)
        : m_air(air),
          m_hydraulic(hydraulic),
          m_options(options),
          m_weeks(std::max(2, options.weeks)),
          m_lastDay(m_weeks * kWorkDays - 1),
          m_calendar(options.lastDay),
          m_courses(makeCourses(std::max(1, options.trainees), m_weeks, m_calendar)),
          m_habits(makeHabits()),
          m_quirks(makeQuirks(m_calendar)),
          m_defects(makeDefects()) {}

    DemoProgram make() {
        DemoProgram program;
        program.title = "Quillmoor Valley School District (invented), driver training";
        program.note =
            "Demo program. The district, its people, its buses and every attempt are invented; none of it "
            "happened. Made by a generator from a seed.";
        program.lastDay = isoDay(m_calendar.lastDay());
        for (const Course& course : m_courses) program.trainees.push_back(course.trainee);
        for (const Habit& habit : m_habits) program.instructors.push_back(habit.instructor);
        for (const Quirk& quirk : m_quirks) program.buses.push_back(quirk.bus);

        for (std::size_t c = 0; c < m_courses.size(); ++c) practise(c, program.attempts);
        openAttempt(program.attempts);
        std::ranges::stable_sort(program.attempts, [](const core::Attempt& a, const core::Attempt& b) {
            return std::tie(a.header.started, a.header.of) < std::tie(b.header.started, b.header.of);
        });
        addPapers(program, m_calendar, m_options.seed);
        return program;
    }

private:
    void practise(std::size_t index, std::vector<core::Attempt>& attempts) {
        const Course& course = m_courses[index];
        Random random(mix(m_options.seed, {"trainee", course.trainee.key}));
        int after = -1;
        int lost = 0;
        for (int k = 0; k < course.attempts; ++k) {
            const int day = std::max(sessionDay(course, k, random), after + 1);
            if (day >= m_lastDay) break;
            const int week = weekOf(day);
            // Weeks without practice cost something.
            if (weekOf(after) < course.awayFrom && week >= course.awayTo && course.awayTo > course.awayFrom)
                lost = 150;
            else
                lost = lost * 6 / 10;
            after = day;

            Work work = prepare(course, k, day, random);
            work.setting.skill = skillAfter(course, k) - lost + random.between(-35, 35);
            Random acting(random.next());
            const Performance performance = perform(work.setting, acting);
            Random judging(random.next());
            core::Attempt attempt{work.header,
                                  scoreByHand(performance, work.setting, *work.habit, judging, std::nullopt)};
            const bool middle = index == 3 && k == 4;
            if (middle) amend(attempt, *work.rubric, day);
            attempts.push_back(attempt);
            if (index == 1 && k == 5) {
                Random second(random.next());
                scoreAgain(work, performance, m_habits[3], "second", second, attempts);
            } else if (k >= 3 && (5 * index + static_cast<std::size_t>(k)) % 6 == 0) {
                // From streams of their own: what the trainees do stays as it was.
                const auto own = static_cast<std::size_t>(work.habit - m_habits.data());
                const std::string which = "again " + std::to_string(k);
                Random second(mix(m_options.seed, {which, course.trainee.key}));
                scoreAgain(work, performance, m_habits[(own + 1) % 3], which, second, attempts);
            }
        }
    }

    /// Everything about one session but what happens in it. Points into itself through no member.
    struct Work {
        const core::Rubric* rubric = nullptr;
        const Habit* habit = nullptr;
        core::AttemptHeader header;
        Setting setting;

        Work() = default;
        Work(const Work&) = delete;
        Work& operator=(const Work&) = delete;
        Work(Work&& other) noexcept
            : rubric(other.rubric),
              habit(other.habit),
              header(std::move(other.header)),
              setting(std::move(other.setting)) {
            setting.header = &header;
        }
        ~Work() = default;
    };

    /// Another instructor scored the same performance.
    void scoreAgain(const Work& work, const Performance& performance, const Habit& other,
                    const std::string& which, Random& judging, std::vector<core::Attempt>& attempts) const {
        core::AttemptHeader header = work.header;
        header.of = header.id;
        header.id = uuidFrom(mix(m_options.seed, {which, header.trainee}));
        header.instructor = other.instructor.key;
        attempts.push_back({header, scoreByHand(performance, work.setting, other, judging, std::nullopt)});
    }

    Work prepare(const Course& course, int k, int day, Random& random) {
        const std::size_t usualBus = static_cast<std::size_t>(course.bus);
        std::size_t bus = usualBus;
        // Now and then another bus with the same brakes, or another instructor, is free.
        if (random.chance(160)) {
            const std::size_t other =
                static_cast<std::size_t>(random.below(static_cast<int>(m_quirks.size())));
            if (m_quirks[other].airBrakes == m_quirks[usualBus].airBrakes) bus = other;
        }
        std::size_t habit = static_cast<std::size_t>(course.instructor);
        if (random.chance(220))
            habit = static_cast<std::size_t>(random.below(static_cast<int>(m_habits.size())));
        const int session = freeSession(day, bus, habit, random);
        // One after the other: the order in which arguments are evaluated is the compiler's.
        const int minutes = kSessions[static_cast<std::size_t>(session)] + random.between(0, 9);
        std::vector<std::string> zones = zonesFor(course, k, bus, random);
        return workFor(course, bus, habit, std::move(zones), day, minutes, random);
    }

    Work workFor(const Course& course, std::size_t bus, std::size_t habit, std::vector<std::string> zones,
                 int day, int minutes, Random& random) {
        Work work;
        work.rubric = &rubricOf(bus);
        work.habit = &m_habits[habit];
        const Quirk& quirk = m_quirks[bus];
        core::AttemptHeader& header = work.header;
        header.id = uuidFrom(random.next());
        header.rubric = work.rubric->id;
        header.edition = work.rubric->edition;
        header.trainee = course.trainee.key;
        header.instructor = work.habit->instructor.key;
        header.bus = quirk.bus.key;
        header.equipment = quirk.bus.equipment;
        header.zones = std::move(zones);
        header.limits = quirk.bus.limits;
        header.started = isoTime(dateOf(day), minutes, random.between(0, 59));
        Setting& setting = work.setting;
        setting.rubric = work.rubric;
        setting.header = &header;
        setting.course = &course;
        setting.habit = work.habit;
        setting.quirk = &quirk;
        // Some sessions are cut short: the bus has to leave.
        setting.minutes = random.chance(80) ? random.between(16, 24) : random.between(42, 47);
        const int week = weekOf(day) * 10 / m_weeks;
        for (const Defect& defect : m_defects)
            if (defect.bus == quirk.bus.key && week >= defect.fromWeek && week < defect.toWeek)
                setting.defects.push_back(defect);
        return work;
    }

    std::vector<std::string> zonesFor(const Course& course, int k, std::size_t bus, Random& random) const {
        const core::Rubric& rubric = rubricOf(bus);
        const char* wanted = nullptr;
        if (k < course.drills) {
            constexpr std::array<const char*, 3> first{"outside-drill", "engine-front", "brake-drill"};
            wanted = first[static_cast<std::size_t>(k) % first.size()];
        } else if (random.chance(280)) {
            constexpr std::array<const char*, 4> drawn{"engine-front", "axles-left", "rear-right-side",
                                                       "no-engine"};
            wanted = drawn[static_cast<std::size_t>(random.below(static_cast<int>(drawn.size())))];
        }
        const core::Section* section = wanted ? rubric.section(wanted) : nullptr;
        return section ? section->zones : allZones(rubric);
    }

    int sessionDay(const Course& course, int k, Random& random) const {
        const int span = (course.lastWeek - course.firstWeek + 1) * kWorkDays;
        int slot =
            course.firstWeek * kWorkDays + (2 * k + 1) * span / (2 * course.attempts) + random.between(-1, 1);
        const int from = course.awayFrom * kWorkDays, to = course.awayTo * kWorkDays;
        if (from < to) {
            // Half before the break, the rest after it.
            const int before = (course.attempts + 1) / 2;
            const int rest = std::max(1, course.attempts - before);
            slot = k < before ? course.firstWeek * kWorkDays + (2 * k + 1) * from / (2 * before)
                              : to + (2 * (k - before) + 1) * (m_weeks * kWorkDays - to) / (2 * rest);
        }
        return std::clamp(slot, 0, m_lastDay);
    }

    int freeSession(int day, std::size_t bus, std::size_t habit, Random& random) {
        const int wish = random.below(static_cast<int>(kSessions.size()) - 1);
        for (std::size_t k = 0; k < kSessions.size(); ++k) {
            const int session =
                static_cast<int>((static_cast<std::size_t>(wish) + k) % (kSessions.size() - 1));
            const int key = day * 100 + session;
            if (m_busyBuses.contains({key, bus}) || m_busyInstructors.contains({key, habit})) continue;
            m_busyBuses.insert({key, bus});
            m_busyInstructors.insert({key, habit});
            return session;
        }
        return wish;
    }

    /// The newest attempt: begun on the last day, still open.
    void openAttempt(std::vector<core::Attempt>& attempts) {
        const std::size_t index = std::min<std::size_t>(3, m_courses.size() - 1);
        const Course& course = m_courses[index];
        Random random(mix(m_options.seed, {"open", course.trainee.key}));
        const std::size_t bus = static_cast<std::size_t>(course.bus);
        Work work = workFor(course, bus, static_cast<std::size_t>(course.instructor), allZones(rubricOf(bus)),
                            m_lastDay, kSessions.back() + 5, random);
        work.setting.skill = skillAfter(course, course.attempts);
        Random acting(random.next());
        const Performance performance = perform(work.setting, acting);
        Random judging(random.next());
        const int stopped = performance.end * 45 / 100;
        attempts.push_back(
            {work.header, scoreByHand(performance, work.setting, *work.habit, judging, stopped)});
    }

    /// The instructor looked again the next working day and gave what had been missed by ear.
    void amend(core::Attempt& attempt, const core::Rubric& rubric, int day) const {
        const double end = attempt.events.back().t;
        std::set<std::string> omitted, engaged;
        for (const core::Event& event : attempt.events) {
            if (event.kind == core::EventKind::Omit) omitted.insert(event.step);
            if (event.kind == core::EventKind::Show) engaged.insert(event.step);
        }
        const auto add = [&](core::EventKind kind, const std::string& step) -> core::Event& {
            core::Event& event = attempt.events.emplace_back();
            event.n = static_cast<int>(attempt.events.size());
            event.t = end;
            event.kind = kind;
            event.step = step;
            event.by = attempt.header.instructor;
            event.at = isoTime(dateOf(day + 1), 15 * 60 + 20, 0);
            return event;
        };
        for (const std::string& id : omitted) {
            const core::Step* step = rubric.step(id);
            if (!step || engaged.contains(id)) continue;
            add(core::EventKind::Note, id).text = "amended: was shown and said while I helped at the door";
            if (!step->show.empty()) add(core::EventKind::Show, id);
            for (const core::Point& point : step->say) add(core::EventKind::Say, id).point = point.id;
            return;
        }
        add(core::EventKind::Note, {}).text = "amended: looked through again, nothing to change";
    }

    [[nodiscard]] const core::Rubric& rubricOf(std::size_t bus) const {
        return m_quirks[bus].airBrakes ? m_air : m_hydraulic;
    }
    // Days are working days, counted from the first one of the practice.
    [[nodiscard]] static int weekOf(int day) { return day / kWorkDays; }
    [[nodiscard]] sys_days dateOf(int day) const { return m_calendar.workday(m_lastDay - day); }

    const core::Rubric& m_air;
    const core::Rubric& m_hydraulic;
    const DemoOptions& m_options;
    int m_weeks;
    int m_lastDay;
    Calendar m_calendar;
    std::vector<Course> m_courses;
    std::vector<Habit> m_habits;
    std::vector<Quirk> m_quirks;
    std::vector<Defect> m_defects;
    std::set<std::pair<int, std::size_t>> m_busyBuses, m_busyInstructors;
};

}  // namespace

DemoProgram makeDemoProgram(const core::Rubric& airBrakes, const core::Rubric& hydraulicBrakes,
                            const DemoOptions& options) {
    return District(airBrakes, hydraulicBrakes, options).make();
}

std::string uuidFrom(std::uint64_t seed) {
    Random random(seed);
    const std::uint64_t a = random.next(), b = random.next();
    std::array<char, 40> text{};
    std::snprintf(text.data(), text.size(), "%08x-%04x-4%03x-%04x-%012llx", static_cast<unsigned>(a >> 32),
                  static_cast<unsigned>(a >> 16 & 0xFFFF), static_cast<unsigned>(a & 0xFFF),
                  static_cast<unsigned>(0x8000 | (b >> 48 & 0x3FFF)),
                  static_cast<unsigned long long>(b & 0xFFFFFFFFFFFFu));
    return text.data();
}

}  // namespace markerlamp::demo
