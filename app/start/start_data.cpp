// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/start/start_data.h"

#include "app/support/display.h"

#include <QStringList>
#include <QUuid>

#include <algorithm>

namespace markerlamp::app {

namespace {

template <class List>
bool contains(const List& list, const std::string& text) {
    return std::find(list.begin(), list.end(), text) != list.end();
}

void put(std::vector<std::string>& list, const std::string& text, bool on) {
    std::erase(list, text);
    if (on) list.push_back(text);
}

}  // namespace

void StartForm::setData(StartData data, const LastUsed& last) {
    m_data = std::move(data);
    const auto known = [](const auto& list, const std::string& key) {
        return std::any_of(list.begin(), list.end(), [&](const auto& entry) { return entry.key == key; });
    };
    const auto kept = [](const std::string& now, const std::string& before) {
        return now.empty() ? before : now;
    };
    m_trainee = kept(m_trainee, last.trainee);
    if (std::none_of(m_data.trainees.begin(), m_data.trainees.end(),
                     [&](const StartTrainee& t) { return t.trainee.key == m_trainee; }))
        m_trainee.clear();
    m_instructor = kept(m_instructor, last.instructor);
    if (!known(m_data.instructors, m_instructor))
        m_instructor = m_data.instructors.empty() ? std::string() : m_data.instructors.front().key;
    m_bus = kept(m_bus, last.bus);
    if (!known(m_data.buses, m_bus)) m_bus = m_data.buses.empty() ? std::string() : m_data.buses.front().key;
    setBus(m_bus);
    const std::string rubric = m_rubric ? m_rubric->id : last.rubric;
    std::shared_ptr<const core::Rubric> chosen;
    for (const auto& candidate : m_data.rubrics)
        if (!chosen && candidate->id == rubric) chosen = candidate;
    if (!chosen && !m_data.rubrics.empty()) chosen = m_data.rubrics.front();
    m_rubric.reset();
    if (chosen) setRubric(chosen->id, chosen->edition);
    const QString scope = qs(last.scope);
    if (scope.startsWith(QLatin1String("section:"))) {
        const std::string id = ss(scope.mid(8));
        if (m_rubric && m_rubric->section(id) != nullptr) setSection(id);
    } else if (scope.startsWith(QLatin1String("zones:"))) {
        for (const QString& zone : scope.mid(6).split(QLatin1Char(' '), Qt::SkipEmptyParts))
            setZone(ss(zone), true);
    }
}

std::vector<int> StartForm::findTrainees(const QString& words) const {
    const QStringList wanted = words.toCaseFolded().split(QLatin1Char(' '), Qt::SkipEmptyParts);
    std::vector<int> rows;
    for (std::size_t i = 0; i < m_data.trainees.size(); ++i) {
        const core::Trainee& t = m_data.trainees[i].trainee;
        const QString text = (qs(t.name) + QLatin1Char(' ') + qs(t.key)).toCaseFolded();
        if (std::all_of(wanted.begin(), wanted.end(),
                        [&](const QString& word) { return text.contains(word); }))
            rows.push_back(static_cast<int>(i));
    }
    return rows;
}

const core::Bus* StartForm::busEntry() const {
    const auto found = std::find_if(m_data.buses.begin(), m_data.buses.end(),
                                    [&](const core::Bus& bus) { return bus.key == m_bus; });
    return found == m_data.buses.end() ? nullptr : &*found;
}

void StartForm::setBus(const std::string& key) {
    m_bus = key;
    const core::Bus* bus = busEntry();
    m_equipment = bus != nullptr ? bus->equipment : std::vector<std::string>();
}

void StartForm::setRubric(const std::string& id, int edition) {
    for (const auto& rubric : m_data.rubrics)
        if (rubric->id == id && rubric->edition == edition) {
            if (m_rubric == rubric) return;
            m_rubric = rubric;
            setWhole();
        }
}

void StartForm::setEquipment(const std::string& tag, bool on) {
    put(m_equipment, tag, on);
}

void StartForm::setWhole() {
    m_scope = Scope::Whole;
    m_section.clear();
    m_zones.clear();
}

void StartForm::setSection(const std::string& id) {
    m_scope = Scope::Section;
    m_section = id;
}

void StartForm::setZone(const std::string& id, bool on) {
    if (m_scope != Scope::Zones) {
        // The boxes showed what the choice before meant; go on from there.
        m_zones = m_scope == Scope::Section ? zones() : std::vector<std::string>();
        m_scope = Scope::Zones;
        m_section.clear();
    }
    put(m_zones, id, on);
}

void StartForm::setAllZones(bool on) {
    m_scope = Scope::Zones;
    m_section.clear();
    m_zones.clear();
    if (on && m_rubric)
        for (const core::Zone& zone : m_rubric->zones) m_zones.push_back(zone.id);
}

bool StartForm::hasEquipment(const std::string& tag) const {
    return contains(m_equipment, tag);
}

bool StartForm::hasZone(const std::string& id) const {
    return contains(zones(), id);
}

std::vector<std::string> StartForm::zones() const {
    std::vector<std::string> list;
    if (!m_rubric) return list;
    const core::Section* section = m_scope == Scope::Section ? m_rubric->section(m_section) : nullptr;
    for (const core::Zone& zone : m_rubric->zones)
        if (m_scope == Scope::Whole || (section != nullptr && contains(section->zones, zone.id)) ||
            (m_scope == Scope::Zones && contains(m_zones, zone.id)))
            list.push_back(zone.id);
    return list;
}

namespace {

/// Calls each step of the zones that this equipment has.
template <class Each>
void eachStep(const core::Rubric* rubric, const std::vector<std::string>& zones,
              const std::vector<std::string>& equipment, Each each) {
    if (rubric == nullptr) return;
    for (const core::Zone& zone : rubric->zones) {
        if (!contains(zones, zone.id)) continue;
        for (const core::Step& step : zone.steps)
            if (core::appliesTo(step, equipment)) each(step);
    }
}

}  // namespace

int StartForm::stepsIn(const std::vector<std::string>& zones) const {
    int count = 0;
    eachStep(m_rubric.get(), zones, m_equipment, [&](const core::Step&) { ++count; });
    return count;
}

int StartForm::mustPassIn(const std::vector<std::string>& zones) const {
    int count = 0;
    eachStep(m_rubric.get(), zones, m_equipment,
             [&](const core::Step& step) { count += step.mustPass ? 1 : 0; });
    return count;
}

double StartForm::minutesIn(const std::vector<std::string>& zones) const {
    double minutes = 0;
    eachStep(m_rubric.get(), zones, m_equipment, [&](const core::Step& step) { minutes += step.minutes; });
    return minutes;
}

int StartForm::ownLimits() const {
    const core::Bus* bus = busEntry();
    if (bus == nullptr || !m_rubric) return 0;
    return static_cast<int>(std::count_if(bus->limits.begin(), bus->limits.end(), [&](const auto& limit) {
        return m_rubric->limit(limit.first) != nullptr;
    }));
}

QString StartForm::missing() const {
    if (!m_rubric) return tr("No rubric is in the file: import one.");
    if (m_trainee.empty()) return tr("Choose the trainee.");
    if (m_bus.empty()) return tr("Choose the bus; a bus is added in the Program menu.");
    if (m_instructor.empty()) return tr("Say who scores; an instructor is added in the Program menu.");
    if (zones().empty()) return tr("Choose at least one zone.");
    if (stepsIn(zones()) == 0) return tr("No step of these zones is on this bus.");
    return {};
}

QString StartForm::sentence() const {
    if (!ready()) return missing();
    QString trainee;
    for (const StartTrainee& t : m_data.trainees)
        if (t.trainee.key == m_trainee) trainee = qs(t.trainee.name);
    const core::Bus* bus = busEntry();
    const std::vector<std::string> chosen = zones();
    QStringList parts{trainee, bus->title.empty() ? tr("Bus %1").arg(qs(bus->key)) : qs(bus->title)};
    if (m_scope == Scope::Section)
        parts << qs(m_rubric->section(m_section)->title);
    else if (chosen.size() == m_rubric->zones.size())
        parts << tr("whole inspection");
    else
        parts << tr("%n zone(s)", nullptr, static_cast<int>(chosen.size()));
    parts << tr("%n step(s)", nullptr, stepsIn(chosen)) << tr("%n must pass", nullptr, mustPassIn(chosen))
          << tr("about %n minute(s)", nullptr, std::max(1, qRound(minutesIn(chosen))));
    return parts.join(QStringLiteral(", "));
}

core::AttemptHeader StartForm::header(const std::string& startedIso) const {
    core::AttemptHeader header;
    header.id = ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
    header.rubric = m_rubric->id;
    header.edition = m_rubric->edition;
    header.trainee = m_trainee;
    header.instructor = m_instructor;
    header.bus = m_bus;
    // In the rubric's order, and only what the rubric knows: a bus may have tags of other rubrics too.
    for (const auto& [tag, title] : m_rubric->equipment)
        if (hasEquipment(tag)) header.equipment.push_back(tag);
    header.zones = zones();
    if (const core::Bus* bus = busEntry())
        for (const auto& [id, bounds] : bus->limits)
            if (m_rubric->limit(id) != nullptr) header.limits.emplace(id, bounds);
    header.started = startedIso;
    return header;
}

LastUsed StartForm::lastUsed() const {
    LastUsed last{m_trainee, m_instructor, m_bus, m_rubric ? m_rubric->id : std::string(), "whole"};
    if (m_scope == Scope::Section) last.scope = "section:" + m_section;
    if (m_scope == Scope::Zones) {
        last.scope = "zones:";
        for (const std::string& zone : zones()) last.scope += (last.scope.back() == ':' ? "" : " ") + zone;
    }
    return last;
}

}  // namespace markerlamp::app
