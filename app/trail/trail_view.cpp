// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/trail/trail_view.h"

#include "app/support/display.h"
#include "db/copies/verify_trail.h"

#include <QCoreApplication>
#include <QLocale>

#include <algorithm>
#include <set>
#include <utility>

namespace markerlamp::app {

namespace {

struct TrailText {
    Q_DECLARE_TR_FUNCTIONS(TrailText)
};

struct Change {
    const char* what;
    const char* text;
    TrailTopic topic;
};

constexpr Change kChanges[] = {
    {"attempt.ended", QT_TRANSLATE_NOOP("TrailText", "attempt ended"), TrailTopic::Attempts},
    {"attempt.amended", QT_TRANSLATE_NOOP("TrailText", "attempt amended"), TrailTopic::Attempts},
    {"attempt.added", QT_TRANSLATE_NOOP("TrailText", "attempt brought in"), TrailTopic::Attempts},
    {"attempt.set-aside", QT_TRANSLATE_NOOP("TrailText", "attempt set aside"), TrailTopic::Attempts},
    {"attempt.taken-up", QT_TRANSLATE_NOOP("TrailText", "attempt taken up again"), TrailTopic::Attempts},
    {"attempt.without-name", QT_TRANSLATE_NOOP("TrailText", "attempt kept without a name"),
     TrailTopic::Attempts},
    {"attempt.salvaged", QT_TRANSLATE_NOOP("TrailText", "attempt read out of a damaged file"),
     TrailTopic::Attempts},
    {"settlement.added", QT_TRANSLATE_NOOP("TrailText", "second scoring settled"), TrailTopic::Attempts},
    {"sheet.recorded", QT_TRANSLATE_NOOP("TrailText", "sheet noted"), TrailTopic::Attempts},
    {"trainee.added", QT_TRANSLATE_NOOP("TrailText", "trainee added"), TrailTopic::People},
    {"trainee.changed", QT_TRANSLATE_NOOP("TrailText", "trainee changed"), TrailTopic::People},
    {"licence.changed", QT_TRANSLATE_NOOP("TrailText", "license entry changed"), TrailTopic::People},
    {"course.changed", QT_TRANSLATE_NOOP("TrailText", "training entry changed"), TrailTopic::People},
    {"instructor.added", QT_TRANSLATE_NOOP("TrailText", "instructor added"), TrailTopic::People},
    {"instructor.changed", QT_TRANSLATE_NOOP("TrailText", "instructor changed"), TrailTopic::People},
    {"person.erased", QT_TRANSLATE_NOOP("TrailText", "person erased"), TrailTopic::People},
    {"hours.added", QT_TRANSLATE_NOOP("TrailText", "clock hours noted"), TrailTopic::Records},
    {"test.booked", QT_TRANSLATE_NOOP("TrailText", "official test booked or changed"), TrailTopic::Records},
    {"absence.added", QT_TRANSLATE_NOOP("TrailText", "time away noted"), TrailTopic::Records},
    {"result.added", QT_TRANSLATE_NOOP("TrailText", "test result recorded"), TrailTopic::Records},
    {"result.struck", QT_TRANSLATE_NOOP("TrailText", "test result struck"), TrailTopic::Records},
    {"override.added", QT_TRANSLATE_NOOP("TrailText", "readiness overridden"), TrailTopic::Records},
    {"rubric.added", QT_TRANSLATE_NOOP("TrailText", "rubric edition added"), TrailTopic::Rubrics},
    {"limits.added", QT_TRANSLATE_NOOP("TrailText", "limit set added"), TrailTopic::Rubrics},
    {"bus.added", QT_TRANSLATE_NOOP("TrailText", "bus added"), TrailTopic::Settings},
    {"bus.changed", QT_TRANSLATE_NOOP("TrailText", "bus changed"), TrailTopic::Settings},
    {"setting.changed", QT_TRANSLATE_NOOP("TrailText", "setting changed"), TrailTopic::Settings},
    {"account.added", QT_TRANSLATE_NOOP("TrailText", "account added"), TrailTopic::SignIn},
    {"account.changed", QT_TRANSLATE_NOOP("TrailText", "account changed"), TrailTopic::SignIn},
    {"account.removed", QT_TRANSLATE_NOOP("TrailText", "account removed"), TrailTopic::SignIn},
    {"account.recovered", QT_TRANSLATE_NOOP("TrailText", "recovery code used"), TrailTopic::SignIn},
    {"recovery.renewed", QT_TRANSLATE_NOOP("TrailText", "recovery code made anew"), TrailTopic::SignIn},
    {"sign-in.begun", QT_TRANSLATE_NOOP("TrailText", "sign-in switched on"), TrailTopic::SignIn},
    {"sign-in.ended", QT_TRANSLATE_NOOP("TrailText", "sign-in switched off"), TrailTopic::SignIn},
    {"file.restored", QT_TRANSLATE_NOOP("TrailText", "file restored from a copy"), TrailTopic::File},
    {"file.salvaged", QT_TRANSLATE_NOOP("TrailText", "read out of a damaged file"), TrailTopic::File}};

const Change* changeOf(const std::string& what) {
    const auto found =
        std::ranges::find_if(kChanges, [&](const Change& change) { return what == change.what; });
    return found == std::end(kChanges) ? nullptr : &*found;
}

/// Names of fields as forms call them; others with blanks for underscores.
QString fieldText(const std::string& field) {
    static const std::map<std::string, const char*> kNames{
        {"permit_issued", QT_TRANSLATE_NOOP("TrailText", "permit issued")},
        {"permit_expires", QT_TRANSLATE_NOOP("TrailText", "permit until")},
        {"medical_expires", QT_TRANSLATE_NOOP("TrailText", "medical card until")},
        {"theory_percent", QT_TRANSLATE_NOOP("TrailText", "theory, percent")},
        {"theory_date", QT_TRANSLATE_NOOP("TrailText", "theory, date")},
        {"to_complete", QT_TRANSLATE_NOOP("TrailText", "to be completed")},
        {"as", QT_TRANSLATE_NOOP("TrailText", "kept as")},
        {"entries", QT_TRANSLATE_NOOP("TrailText", "entries emptied")},
        {"event", QT_TRANSLATE_NOOP("TrailText", "added")}};
    if (const auto known = kNames.find(field); known != kNames.end()) return TrailText::tr(known->second);
    return qs(field).replace(QLatin1Char('_'), QLatin1Char(' '));
}

QString orNone(const std::string& text) {
    return text.empty() ? TrailText::tr("nothing") : qs(text);
}

QString nameIn(const std::map<std::string, QString>& names, const std::string& key) {
    const auto found = names.find(key);
    return found == names.end() ? qs(key) : found->second;
}

QDateTime momentOf(const core::TrailEntry& entry) {
    return QDateTime::fromMSecsSinceEpoch(entry.atMs);
}

QString momentText(const core::TrailEntry& entry) {
    const QDateTime at = momentOf(entry);
    return TrailText::tr("%1, %2").arg(longDate(at.date()),
                                       QLocale::c().toString(at.time(), QStringLiteral("HH:mm")));
}

}  // namespace

void readTrail(TrailReader::Promise& promise, db::ProgramFile& file) {
    TrailReading reading;
    const auto failed = [&promise](const core::Error& error) { promise.addResult(core::fail(error)); };
    auto entries = file.trail();
    if (!entries) return failed(entries.error());
    reading.entries = std::move(*entries);
    db::FileReport report;
    if (auto looked =
            db::lookAtTrail(file.path(), file, reading.entries, report, TrailReader::part(promise, 0, 1));
        !looked) {
        if (!promise.isCanceled()) failed(looked.error());
        return;
    }
    reading.seals = std::move(report.seals);
    reading.unsealed = report.unsealed;
    const auto trainees = file.trainees();
    if (!trainees) return failed(trainees.error());
    for (const core::Trainee& one : *trainees)
        reading.trainees[one.key] = qs(one.name.empty() ? one.key : one.name);
    const auto instructors = file.instructors();
    if (!instructors) return failed(instructors.error());
    for (const core::Instructor& one : *instructors)
        reading.instructors[one.key] = qs(one.name.empty() ? one.key : one.name);
    promise.addResult(std::move(reading));
}

QString topicText(TrailTopic topic) {
    switch (topic) {
        case TrailTopic::All:
            return TrailText::tr("all changes");
        case TrailTopic::Attempts:
            return TrailText::tr("attempts and sheets");
        case TrailTopic::People:
            return TrailText::tr("people");
        case TrailTopic::Records:
            return TrailText::tr("results, hours, tests");
        case TrailTopic::Rubrics:
            return TrailText::tr("rubrics and limits");
        case TrailTopic::Settings:
            return TrailText::tr("settings and buses");
        case TrailTopic::SignIn:
            return TrailText::tr("sign-in");
        case TrailTopic::File:
            return TrailText::tr("the file itself");
    }
    return {};
}

TrailTopic topicOf(const std::string& what) {
    const Change* change = changeOf(what);
    return change != nullptr ? change->topic : TrailTopic::File;
}

QString changeText(const std::string& what) {
    const Change* change = changeOf(what);
    return change != nullptr ? TrailText::tr(change->text) : qs(what);
}

TrailView::TrailView(TrailReading reading, QDate today) : m_reading(std::move(reading)), m_today(today) {
    setFilter({});
}

QStringList TrailView::people() const {
    std::set<QString> names;
    for (const core::TrailEntry& entry : m_reading.entries) names.insert(byText(entry));
    QStringList list(names.begin(), names.end());
    std::ranges::sort(
        list, [](const QString& a, const QString& b) { return QString::localeAwareCompare(a, b) < 0; });
    return list;
}

void TrailView::setFilter(const TrailFilter& filter) {
    m_filter = filter;
    m_shown.clear();
    for (auto entry = m_reading.entries.rbegin(); entry != m_reading.entries.rend(); ++entry)
        if (lets(*entry)) m_shown.push_back(&*entry);
}

bool TrailView::lets(const core::TrailEntry& entry) const {
    if (m_filter.topic != TrailTopic::All && topicOf(entry.what) != m_filter.topic) return false;
    if (!m_filter.by.isEmpty() && byText(entry) != m_filter.by) return false;
    if (m_filter.days > 0 && momentOf(entry).date().daysTo(m_today) > m_filter.days) return false;
    if (m_filter.words.isEmpty()) return true;
    const auto holds = [this](const QString& text) {
        return text.contains(m_filter.words, Qt::CaseInsensitive);
    };
    return holds(QString::number(entry.number)) || holds(byText(entry)) || holds(changeText(entry.what)) ||
           holds(aboutText(entry)) || holds(qs(entry.subject)) || holds(qs(entry.trainee)) ||
           holds(summaryText(entry));
}

const core::TrailEntry* TrailView::entry(qint64 number) const {
    const auto found = std::ranges::find(m_reading.entries, number, &core::TrailEntry::number);
    return found == m_reading.entries.end() ? nullptr : &*found;
}

std::vector<Column> TrailView::columns() {
    return {{TrailText::tr("no."), true}, {TrailText::tr("when")},  {TrailText::tr("who")},
            {TrailText::tr("change")},    {TrailText::tr("about")}, {TrailText::tr("what was, what is")}};
}

std::vector<Row> TrailView::rows() const {
    std::vector<Row> rows;
    rows.reserve(m_shown.size());
    for (const core::TrailEntry* entry : m_shown) {
        Row row{QString::number(entry->number), {}};
        row.cells.push_back(
            sortedCell(QString::number(entry->number), static_cast<qlonglong>(entry->number)));
        row.cells.push_back(sortedCell(momentText(*entry), static_cast<qlonglong>(entry->atMs)));
        row.cells.push_back(longCell(byText(*entry)));
        row.cells.push_back(longCell(changeText(entry->what)));
        row.cells.push_back(longCell(aboutText(*entry)));
        row.cells.push_back(mutedCell(summaryText(*entry)));
        rows.push_back(std::move(row));
    }
    return rows;
}

std::vector<Column> TrailView::fieldColumns() {
    return {{TrailText::tr("field")}, {TrailText::tr("was")}, {TrailText::tr("is")}};
}

std::vector<Row> TrailView::fieldRows(const core::TrailEntry& entry) {
    std::vector<Row> rows;
    for (const core::TrailField& field : core::fieldsOf(entry))
        rows.push_back(
            {fieldText(field.field),
             {longCell(fieldText(field.field)), mutedCell(qs(field.was)), longCell(qs(field.is))}});
    return rows;
}

QString TrailView::byText(const core::TrailEntry& entry) const {
    if (entry.by == core::kNobodySignedIn) return TrailText::tr("nobody signed in");
    return nameIn(m_reading.instructors, entry.by);
}

QString TrailView::aboutText(const core::TrailEntry& entry) const {
    if (entry.erased()) return TrailText::tr("an erased person");
    if (!entry.trainee.empty()) return nameIn(m_reading.trainees, entry.trainee);
    if (entry.what.starts_with("instructor.")) return nameIn(m_reading.instructors, entry.subject);
    return qs(entry.subject);
}

QString TrailView::summaryText(const core::TrailEntry& entry) {
    if (entry.erased()) return TrailText::tr("taken out when the person was erased");
    QStringList parts;
    for (const core::TrailField& field : core::fieldsOf(entry)) {
        if (field.was.empty() && (field.field == "id" || field.field == "trainee")) continue;
        parts << (field.was.empty() ? TrailText::tr("%1: %2").arg(fieldText(field.field), orNone(field.is))
                                    : TrailText::tr("%1: %2, was %3")
                                          .arg(fieldText(field.field), orNone(field.is), qs(field.was)));
    }
    return parts.join(TrailText::tr("; "));
}

QString TrailView::standing() const {
    if (m_reading.entries.empty()) return TrailText::tr("Nothing was changed yet.");
    QStringList facts;
    facts << TrailText::tr("entries: %1, since %2")
                 .arg(m_reading.entries.size())
                 .arg(longDate(momentOf(m_reading.entries.front()).date()));
    if (m_reading.seals.empty())
        facts << TrailText::tr("every seal fits; the last one is %1")
                     .arg(qs(m_reading.entries.back().seal.substr(0, 12)));
    if (m_reading.unsealed > 0)
        facts << TrailText::tr("attempts from before the trail: %1").arg(m_reading.unsealed);
    return facts.join(TrailText::tr("; "));
}

QString TrailView::filterText() const {
    QStringList facts{topicText(m_filter.topic)};
    if (!m_filter.by.isEmpty()) facts << TrailText::tr("by %1").arg(m_filter.by);
    if (m_filter.days > 0) facts << TrailText::tr("of the last %1 days").arg(m_filter.days);
    if (!m_filter.words.isEmpty()) facts << TrailText::tr("with \u201c%1\u201d").arg(m_filter.words);
    return facts.join(TrailText::tr(", "));
}

}  // namespace markerlamp::app
