// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/program/program_view.h"

#include "app/program/runway.h"
#include "app/readiness/readiness_desk.h"
#include "app/readiness/readiness_words.h"
#include "app/support/display.h"

#include <QCoreApplication>

#include <algorithm>
#include <tuple>

namespace markerlamp::app {

namespace {

using core::ReadinessWord;

struct ProgramText {
    Q_DECLARE_TR_FUNCTIONS(ProgramText)
};

constexpr std::size_t kRecent = 6;
/// Days that the runway shows; what lies beyond leaves it at the right, and its words say when.
constexpr int kFarthestDay = 180, kNearestEnd = 28;

QDate dateOf(const std::string& started) {
    return startedAt(started).date();
}

/// Who scored most of the last attempts; of several the last.
QString usualInstructor(const std::vector<const db::AttemptInfo*>& newestFirst) {
    std::map<std::string, int> counts;
    std::string best;
    const std::size_t most = std::min(kRecent, newestFirst.size());
    for (std::size_t i = 0; i < most; ++i) ++counts[newestFirst[i]->instructor];
    for (std::size_t i = 0; i < most; ++i)
        if (best.empty() || counts[newestFirst[i]->instructor] > counts[best])
            best = newestFirst[i]->instructor;
    return qs(best);
}

/// Those that count: finished, no second scorings.
std::map<std::string, std::vector<const db::AttemptInfo*>> byTrainee(
    const std::vector<db::AttemptInfo>& attempts) {
    std::map<std::string, std::vector<const db::AttemptInfo*>> all;
    for (const db::AttemptInfo& info : attempts)
        if (info.state == db::AttemptState::Ended && info.of.empty()) all[info.trainee].push_back(&info);
    return all;
}

/// By the value that sorts, else by the words.
bool isBefore(const Cell& a, const Cell& b) {
    if (a.sort.isValid() && b.sort.isValid() && a.sort.typeId() != QMetaType::QString)
        return QVariant::compare(a.sort, b.sort) == QPartialOrdering::Less;
    const auto words = [](const Cell& cell) {
        return cell.sort.isValid() ? cell.sort.toString() : cell.text;
    };
    return QString::localeAwareCompare(words(a), words(b)) < 0;
}

QString shutWords(const std::vector<core::Gate>& shut) {
    QStringList names;
    for (const core::Gate& gate : shut) names << gateName(gate);
    return names.isEmpty() ? ProgramText::tr("none", "gates that are shut")
                           : names.join(ProgramText::tr(", "));
}

QString dateName(core::DateKind kind) {
    switch (kind) {
        case core::DateKind::Permit:
            return ProgramText::tr("Permit");
        case core::DateKind::Medical:
            return ProgramText::tr("Medical certificate");
        case core::DateKind::Theory:
            return ProgramText::tr("Theory result");
        case core::DateKind::BookedTest:
            return ProgramText::tr("Booked test");
        case core::DateKind::TheoryReport:
            return ProgramText::tr("Report of theory training");
        case core::DateKind::WheelReport:
            return ProgramText::tr("Report of training behind the wheel");
    }
    return {};
}

QString readyWords(const std::optional<int>& low, const std::optional<int>& high) {
    if (!low) return ProgramText::tr("ready not foreseen");
    if (!high)
        return ProgramText::tr("ready in %n day(s) at the earliest, the latest cannot be told", nullptr,
                               *low);
    if (*low == *high) return ProgramText::tr("ready in about %n day(s)", nullptr, *low);
    return ProgramText::tr("ready in %1 to %2 days").arg(*low).arg(*high);
}

QString overWords(const core::Attention& one) {
    const QString date = longDate(isoDate(one.date));
    switch (*one.dateKind) {
        case core::DateKind::BookedTest:
            return ProgramText::tr("Test of %1 is over; no result on file").arg(date);
        case core::DateKind::TheoryReport:
        case core::DateKind::WheelReport:
            return ProgramText::tr("%1 was due %2").arg(dateName(*one.dateKind), date);
        default:
            return ProgramText::tr("%1 ended %2").arg(dateName(*one.dateKind), date);
    }
}

QString aheadWords(const core::Attention& one) {
    const bool report =
        one.dateKind == core::DateKind::TheoryReport || one.dateKind == core::DateKind::WheelReport;
    const QString days =
        one.days == 0 ? ProgramText::tr("today") : ProgramText::tr("in %n day(s)", nullptr, one.days);
    return (report ? ProgramText::tr("%1 is due %2, %3") : ProgramText::tr("%1 ends %2, %3"))
        .arg(dateName(*one.dateKind), longDate(isoDate(one.date)), days);
}

QString flatWords(const std::vector<double>& percents) {
    QStringList all;
    for (const double percent : percents) all << percentText(percent);
    return ProgramText::tr("No gain over the last %n whole attempt(s): %1", nullptr,
                           static_cast<int>(percents.size()))
        .arg(all.join(ProgramText::tr(", ")));
}

QString stepWords(const std::vector<std::string>& steps) {
    QString words = qs(steps.front());
    if (steps.size() > 1)
        words = ProgramText::tr("%1 and %n more", nullptr, static_cast<int>(steps.size()) - 1).arg(words);
    return ProgramText::tr("Must pass, missed twice running: %1").arg(words);
}

}  // namespace

QString reasonWords(const core::Attention& one) {
    using core::AttentionKind;
    switch (one.kind) {
        case AttentionKind::DateOver:
            return overWords(one);
        case AttentionKind::DateAhead:
            return aheadWords(one);
        case AttentionKind::PermitFirst:
            return ProgramText::tr("%1; %2").arg(aheadWords(one), readyWords(one.readyLow, one.readyHigh));
        case AttentionKind::TestUnready:
            return ProgramText::tr("Test on %1, in %n day(s), and not ready", nullptr, one.days)
                .arg(longDate(isoDate(one.date)));
        case AttentionKind::ReadyNoTest:
            return ProgramText::tr("Ready, no test booked");
        case AttentionKind::MustPassTwice:
            return stepWords(one.steps);
        case AttentionKind::Stalled:
            return one.attempts.empty()
                       ? ProgramText::tr("No attempt yet, %n day(s) after the start", nullptr, one.days)
                       : ProgramText::tr("No attempt for %n day(s)", nullptr, one.days);
        case AttentionKind::NoGain:
            return flatWords(one.percents);
        case AttentionKind::SecondOpen:
            return ProgramText::tr("To be settled: %n second scoring(s)", nullptr,
                                   static_cast<int>(one.attempts.size()));
        case AttentionKind::SheetUnsigned:
            return ProgramText::tr("Sheet of %1 is not signed, %n day(s) after it was made", nullptr,
                                   one.days)
                .arg(longDate(isoDate(one.date)));
    }
    return {};
}

QString actionWords(core::AttentionAction action) {
    using core::AttentionAction;
    switch (action) {
        case AttentionAction::EnterDate:
            return ProgramText::tr("Enter the date");
        case AttentionAction::BookSession:
            return ProgramText::tr("Begin an attempt");
        case AttentionAction::BookTest:
            return ProgramText::tr("Book the test");
        case AttentionAction::Drill:
            return ProgramText::tr("Plan the drill");
        case AttentionAction::SeeMarks:
            return ProgramText::tr("See the marks");
        case AttentionAction::SeeRecord:
            return ProgramText::tr("See the record");
        case AttentionAction::NoteSigning:
            return ProgramText::tr("Note the signing");
        case AttentionAction::Settle:
            return ProgramText::tr("Settle it");
    }
    return {};
}

QString runwayWords(const Runway& runway, const QDate& today) {
    QStringList words;
    if (runway.permit)
        words << (*runway.permit < 0
                      ? ProgramText::tr("permit ended %1").arg(longDate(today.addDays(*runway.permit)))
                      : ProgramText::tr("permit ends %1").arg(longDate(today.addDays(*runway.permit))));
    else
        words << ProgramText::tr("no permit end on file");
    if (runway.readyNow)
        words << ProgramText::tr("ready now");
    else if (runway.readyLow)
        words << readyWords(runway.readyLow, runway.readyHigh);
    for (const int test : runway.tests)
        words << ProgramText::tr("test %1").arg(longDate(today.addDays(test)));
    return words.join(ProgramText::tr(", "));
}

core::Result<ProgramData> readProgram(db::ProgramFile& file) {
    ProgramData data;
    const auto take = [](auto read, auto& into) -> core::Result<void> {
        if (!read) return core::fail(read.error());
        into = std::move(*read);
        return {};
    };
    const auto facts = file.facts();
    if (!facts) return core::fail(facts.error());
    auto sheets = file.sheetRecords();
    if (!sheets) return core::fail(sheets.error());
    data.sheets = core::sheetStandings(std::move(*sheets));
    for (const auto& done :
         {take(file.personFiles(), data.people), take(file.attempts(), data.attempts),
          take(file.instructors(), data.instructors), take(core::settingsFromFacts(*facts), data.readiness),
          take(core::peopleSettingsFromFacts(*facts), data.dates),
          take(core::attentionSettingsFromFacts(*facts), data.attention)})
        if (!done) return core::fail(done.error());
    std::erase_if(data.people, [](const core::PersonFile& one) { return core::isErased(one.trainee); });
    return data;
}

ProgramView::ProgramView(const ProgramData& data, const StandingOf& standingOf, const QDate& today,
                         const std::vector<OpenPair>& openPairs)
    : m_data(data), m_today(today), m_todayIso(ss(today.toString(Qt::ISODate))) {
    for (const core::Instructor& one : data.instructors)
        m_instructors[qs(one.key)] = qs(one.name.empty() ? one.key : one.name);
    const auto attempts = byTrainee(data.attempts);
    std::map<std::string, std::vector<std::string>> open;
    for (const OpenPair& pair : openPairs) open[pair.trainee].push_back(pair.second);
    static const std::vector<const db::AttemptInfo*> none;
    for (const core::PersonFile& person : data.people) {
        const auto found = attempts.find(person.trainee.key);
        m_places[qs(person.trainee.key)] = m_roster.size();
        addEntry(person, standingOf(qs(person.trainee.key)), found == attempts.end() ? none : found->second,
                 open[person.trainee.key]);
    }
    std::vector<core::Standing> standings;
    standings.reserve(m_roster.size());
    for (const RosterEntry& entry : m_roster) standings.push_back(entry.standing);
    m_attention = core::attentionList(standings, m_todayIso, data.dates, data.attention);
    for (const core::Attention& one : m_attention) m_urgent.insert(one.trainee);
}

void ProgramView::addEntry(const core::PersonFile& person, const ReadinessStanding& readiness,
                           const std::vector<const db::AttemptInfo*>& attempts,
                           std::vector<std::string> openSecondScorings) {
    RosterEntry entry;
    core::Standing& standing = entry.standing;
    standing.person = person;
    entry.name = qs(person.trainee.name.empty() ? person.trainee.key : person.trainee.name);
    entry.instructor = usualInstructor(attempts);
    for (auto at = attempts.rbegin(); at != attempts.rend(); ++at)
        standing.sittings.push_back(
            {(*at)->id, (*at)->started.substr(0, 10), (*at)->instructor, (*at)->percent, !(*at)->partial});
    for (const core::Sitting& sitting : standing.sittings)
        if (const auto sheet = m_data.sheets.find(sitting.attempt);
            sheet != m_data.sheets.end() && sheet->second.signedAt.empty())
            standing.unsignedSheets.emplace_back(sitting.attempt, sheet->second.made.substr(0, 10));
    standing.openSecondScorings = std::move(openSecondScorings);
    entry.away = core::isAway(person.absences, m_todayIso);
    entry.done = core::passedAll(person.results);
    if (readiness.known) {
        const core::Readiness& known = readiness.answer.readiness;
        standing.word = known.word;
        entry.forecast = known.forecast;
        for (const core::Gate& gate : known.gates)
            if (gate.state != core::GateState::Met) entry.shut.push_back(gate);
        if (const auto& outlook = readiness.answer.outlook) {
            standing.readyLow = outlook->ahead.lowDays();
            standing.readyHigh = outlook->ahead.highDays();
            if (!standing.readyHigh) standing.readyAfter = outlook->ahead.horizonDays();
            standing.failedTwice = outlook->failedTwice;
        }
    }
    Runway& runway = entry.runway;
    const std::string end = core::permitEnd(person.trainee, m_data.dates);
    if (!end.empty()) runway.permit = core::daysBetween(m_todayIso, end);
    runway.assumed = person.trainee.permitExpires.empty();
    runway.readyNow = standing.word == ReadinessWord::Ready;
    if (!runway.readyNow) {
        runway.readyLow = standing.readyLow;
        runway.readyHigh = standing.readyHigh;
        runway.readyAfter = standing.readyAfter;
    }
    for (const core::BookedTest& test : person.bookings)
        if (test.state == core::BookingState::Booked && test.date >= m_todayIso)
            runway.tests.push_back(core::daysBetween(m_todayIso, test.date));
    entry.spare = core::daysToSpare(standing, m_todayIso, m_data.dates);
    if (!entry.away && !entry.done) {
        ++m_inTraining;
        if (standing.word) {
            ++m_known;
            ++m_counts[static_cast<std::size_t>(*standing.word)];
        }
    }
    m_roster.push_back(std::move(entry));
}

const RosterEntry* ProgramView::entry(const QString& key) const {
    const auto found = m_places.find(key);
    return found == m_places.end() ? nullptr : &m_roster[found->second];
}

int ProgramView::count(ReadinessWord word) const {
    return m_counts[static_cast<std::size_t>(word)];
}

QStringList ProgramView::keysInTraining() const {
    QStringList keys;
    for (const RosterEntry& entry : m_roster)
        if (!entry.away && !entry.done) keys << qs(entry.standing.person.trainee.key);
    return keys;
}

QString ProgramView::instructorName(const QString& key) const {
    const auto found = m_instructors.find(key);
    return found == m_instructors.end() ? key : found->second;
}

std::vector<ProgramView::TestAhead> ProgramView::testsAhead() const {
    std::vector<TestAhead> all;
    for (const RosterEntry& entry : m_roster)
        for (const int day : entry.runway.tests)
            if (day <= m_data.attention.testWithinDays)
                all.push_back({qs(entry.standing.person.trainee.key), entry.name, m_today.addDays(day),
                               entry.standing.word});
    std::ranges::stable_sort(all, {}, &TestAhead::date);
    return all;
}

std::vector<Column> ProgramView::rosterColumns() {
    return {{ProgramText::tr("name")},
            {ProgramText::tr("instructor")},
            {ProgramText::tr("att.", "attempts, short"), true},
            {ProgramText::tr("last", "date of the last attempt")},
            {ProgramText::tr("readiness")},
            {ProgramText::tr("would pass of 10")},
            {ProgramText::tr("gates shut")},
            {ProgramText::tr("runway")}};
}

bool ProgramView::passes(const RosterEntry& entry, const RosterFilter& filter) const {
    if (filter.word && (entry.standing.word != filter.word || entry.away || entry.done)) return false;
    if (filter.words.isEmpty()) return true;
    const core::Trainee& trainee = entry.standing.person.trainee;
    for (const QString& text :
         {entry.name, qs(trainee.key), qs(trainee.group), instructorName(entry.instructor)})
        if (text.contains(filter.words, Qt::CaseInsensitive)) return true;
    return false;
}

Row ProgramView::rosterRow(const RosterEntry& entry) const {
    const core::Standing& standing = entry.standing;
    const bool quiet = entry.away || entry.done;
    const bool urgent = m_urgent.contains(standing.person.trainee.key);
    Row row{qs(standing.person.trainee.key), {}};
    row.cells.push_back({.text = entry.name,
                         .sort = entry.name.toLower(),
                         .tip = entry.name,
                         .bold = urgent,
                         .muted = quiet});
    row.cells.push_back(mutedCell(instructorName(entry.instructor)));
    row.cells.push_back(
        sortedCell(QString::number(standing.sittings.size()), static_cast<int>(standing.sittings.size())));
    const QDate last = standing.sittings.empty() ? QDate() : isoDate(standing.sittings.back().date);
    row.cells.push_back(sortedCell(shortDate(last), last.isValid() ? last : QDate(1900, 1, 1)));
    if (quiet) {
        row.cells.push_back(mutedCell(entry.done ? ProgramText::tr("passed") : ProgramText::tr("away")));
        row.cells.emplace_back();
    } else if (standing.word) {
        const QString word = qs(core::shownWord(*standing.word, m_data.readiness));
        row.cells.push_back({.text = word,
                             .sort = static_cast<int>(*standing.word),
                             .payload = QVariant::fromValue(static_cast<int>(*standing.word)),
                             .tip = word});
        const core::Forecast& forecast = *entry.forecast;
        if (forecast.tooLittle)
            row.cells.push_back({.text = ProgramText::tr("too few"), .sort = -1.0, .muted = true});
        else
            row.cells.push_back(
                {.sort = forecast.chance,
                 .payload = QVariant::fromValue(OfTenShare{forecast.chance, forecast.low, forecast.high}),
                 .tip = inTenWords(forecast.chance)});
    } else {
        row.cells.push_back({.text = ProgramText::tr("not yet known"), .sort = 9, .muted = true});
        row.cells.push_back({.sort = -2.0});
    }
    const QString shut = standing.word ? shutWords(entry.shut) : QString();
    row.cells.push_back({.text = shut,
                         .sort = static_cast<int>(entry.shut.size()),
                         .tip = shut,
                         .muted = entry.shut.empty()});
    const QString words = runwayWords(entry.runway, m_today);
    row.cells.push_back({.sort = entry.spare.value_or(entry.runway.permit.value_or(10'000)),
                         .payload = QVariant::fromValue(entry.runway),
                         .tip = words});
    return row;
}

QString ProgramView::groupOf(const RosterEntry& entry, Grouping grouping) const {
    if (grouping == Grouping::Instructor) return instructorName(entry.instructor);
    if (grouping == Grouping::Class) return qs(entry.standing.person.trainee.group);
    return {};
}

std::vector<Row> ProgramView::rosterRows(const RosterFilter& filter) const {
    struct Line {
        const RosterEntry* entry;
        QString group;
        Row row;
        std::tuple<bool, int, int, QString> usual;
    };
    constexpr int kUnknown = 100'000;
    std::vector<Line> lines;
    std::map<QString, int> counts;
    for (const RosterEntry& entry : m_roster) {
        if (!passes(entry, filter)) continue;
        const QString group = groupOf(entry, filter.grouping);
        ++counts[group];
        lines.push_back({&entry, group, rosterRow(entry),
                         std::tuple(entry.away || entry.done, entry.spare.value_or(kUnknown),
                                    entry.runway.permit.value_or(kUnknown), entry.name)});
    }
    std::ranges::sort(lines, {}, &Line::usual);
    if (filter.order != RosterOrder()) {
        const auto place = static_cast<std::size_t>(filter.order.column);
        const bool descending = filter.order.descending;
        std::ranges::stable_sort(lines, [place, descending](const Line& a, const Line& b) {
            const bool quietA = std::get<0>(a.usual), quietB = std::get<0>(b.usual);
            if (quietA != quietB) return quietB;
            const auto less = [place](const Line& one, const Line& other) {
                return isBefore(one.row.cells[place], other.row.cells[place]);
            };
            return descending ? less(b, a) : less(a, b);
        });
    }
    if (filter.grouping != Grouping::None) std::ranges::stable_sort(lines, {}, &Line::group);
    std::vector<Row> rows;
    std::optional<QString> group;
    for (Line& line : lines) {
        if (filter.grouping != Grouping::None && group != line.group) {
            group = line.group;
            Row heading;
            heading.cells.resize(rosterColumns().size());
            heading.cells[0] = boldCell(group->isEmpty() ? ProgramText::tr("nobody yet") : *group);
            heading.cells[0].tip = heading.cells[0].text;
            heading.cells[2] = mutedCell(QString::number(counts[*group]));
            rows.push_back(std::move(heading));
        }
        rows.push_back(std::move(line.row));
    }
    return rows;
}

std::vector<Row> ProgramView::rosterTexts() const {
    std::vector<Row> rows = rosterRows({});
    for (Row& row : rows)
        for (Cell& cell : row.cells)
            if (cell.text.isEmpty() && !cell.tip.isEmpty()) cell = longCell(cell.tip);
    return rows;
}

std::vector<Column> ProgramView::attentionColumns() {
    return {{ProgramText::tr("trainee")}, {ProgramText::tr("reason")}, {ProgramText::tr("what to do")}};
}

std::vector<Row> ProgramView::attentionRows() const {
    std::vector<Row> rows;
    for (const core::Attention& one : m_attention) {
        const RosterEntry* who = entry(qs(one.trainee));
        const QString name = who == nullptr ? qs(one.trainee) : who->name;
        Cell bold = boldCell(name);
        bold.tip = name;
        rows.push_back(
            {qs(one.trainee), {bold, longCell(reasonWords(one)), longCell(actionWords(one.action))}});
    }
    return rows;
}

int ProgramView::lastDay() const {
    int last = kNearestEnd;
    for (const RosterEntry& entry : m_roster) {
        if (entry.away || entry.done) continue;
        for (const std::optional<int>& day :
             {entry.runway.readyHigh, entry.runway.readyLow, entry.runway.permit})
            if (day) last = std::max(last, std::min(*day, kFarthestDay));
        for (const int test : entry.runway.tests) last = std::max(last, std::min(test, kFarthestDay));
    }
    return std::min(kFarthestDay, last + 7);
}

int ProgramView::weekOf(const QDate& date) const {
    const QDate monday = m_today.addDays(1 - m_today.dayOfWeek());
    const auto days = date.daysTo(monday.addDays(6));
    if (days < 0 || days >= 7LL * kWeeks) return -1;
    return kWeeks - 1 - static_cast<int>(days / 7);
}

std::vector<Column> ProgramView::weekColumns() const {
    std::vector<Column> columns{{ProgramText::tr("instructor")}};
    const QDate monday = m_today.addDays(1 - m_today.dayOfWeek());
    for (int week = 0; week < kWeeks; ++week)
        columns.push_back({shortDate(monday.addDays(7LL * (week + 1 - kWeeks))), true});
    columns.push_back({ProgramText::tr("in all"), true});
    return columns;
}

std::vector<Row> ProgramView::weekRows() const {
    std::map<QString, std::array<int, kWeeks>> counts;
    std::array<int, kWeeks> all{};
    for (const db::AttemptInfo& info : m_data.attempts) {
        if (info.state != db::AttemptState::Ended) continue;
        const int week = weekOf(dateOf(info.started));
        if (week < 0) continue;
        ++counts[qs(info.instructor)][static_cast<std::size_t>(week)];
        ++all[static_cast<std::size_t>(week)];
    }
    const auto rowOf = [](const QString& id, const QString& name, const std::array<int, kWeeks>& weeks,
                          bool bold) {
        Row row{id, {boldCell(name, bold)}};
        int sum = 0;
        for (const int count : weeks) {
            sum += count;
            row.cells.push_back(count == 0 ? mutedCell(QStringLiteral("0"))
                                           : boldCell(QString::number(count), bold));
        }
        row.cells.push_back(boldCell(QString::number(sum), true));
        return row;
    };
    std::vector<Row> rows;
    for (const auto& [key, weeks] : counts) rows.push_back(rowOf(key, instructorName(key), weeks, false));
    std::ranges::sort(rows, [](const Row& a, const Row& b) {
        return QString::localeAwareCompare(a.cells[0].text, b.cells[0].text) < 0;
    });
    if (!rows.empty()) rows.push_back(rowOf({}, ProgramText::tr("all"), all, true));
    return rows;
}

std::vector<std::string> ProgramView::attemptsOf(const QString& instructor, int week) const {
    std::vector<std::string> ids;
    for (const db::AttemptInfo& info : m_data.attempts) {
        if (info.state != db::AttemptState::Ended) continue;
        if (!instructor.isEmpty() && qs(info.instructor) != instructor) continue;
        const int in = weekOf(dateOf(info.started));
        if (in >= 0 && (week < 0 || in == week)) ids.push_back(info.id);
    }
    return ids;
}

std::vector<Column> classColumns() {
    return {{ProgramText::tr("step")},
            {ProgramText::tr("zone")},
            {ProgramText::tr("missed by"), true},
            {ProgramText::tr("80 % interval"), true}};
}

std::vector<Row> classRows(const std::vector<core::ClassStep>& steps, db::ProgramFile& file) {
    std::map<std::string, std::shared_ptr<const core::Rubric>> newest;
    if (const auto rubrics = file.rubrics())
        for (const db::RubricInfo& info : *rubrics) {
            auto& rubric = newest[info.id];
            if (rubric && rubric->edition > info.edition) continue;
            if (auto read = file.rubric(info.id, info.edition)) rubric = *read;
        }
    std::vector<Row> rows;
    for (const core::ClassStep& one : steps) {
        const auto rubric = newest.find(one.rubric);
        const core::Rubric* known = rubric == newest.end() ? nullptr : rubric->second.get();
        const core::Step* step = known ? known->step(one.step) : nullptr;
        const core::Zone* zone = known ? known->zone(one.zone) : nullptr;
        rows.push_back(
            {qs(one.rubric + "/" + one.step),
             {longCell(qs(step ? step->title : one.step)), mutedCell(qs(zone ? zone->title : one.zone)),
              sortedCell(ProgramText::tr("%1 of %2").arg(one.missed).arg(one.trainees),
                         double(one.missed) / one.trainees),
              mutedCell(
                  ProgramText::tr("%1 to %2 %").arg(qRound(100 * one.low)).arg(qRound(100 * one.high)))}});
    }
    return rows;
}

}  // namespace markerlamp::app
