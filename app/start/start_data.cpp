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

void StartForm::setData(StartData data) {
    m_data = std::move(data);
    const LastUsed& last = m_data.last;
    m_station = last.instructor;
    offerPeople();
    const bool rubricKept = m_rubric != nullptr;
    offerRubric(rubricKept ? m_rubric->id : !last.rubric.empty() ? last.rubric : m_data.newest.rubric);
    if (!m_offered) offerScope(last.scope);
    m_offered = true;
}

void StartForm::offerPeople() {
    const LastUsed& last = m_data.last;
    // Scoring under somebody else's name, or on a bus that nobody named, would go unnoticed: what is offered
    // was used before, or is the only one there is.
    const auto offer = [](std::string& chosen, const auto& list, std::initializer_list<std::string> offers) {
        const auto known = [&list](const std::string& key) {
            return std::any_of(list.begin(), list.end(), [&](const auto& entry) { return entry.key == key; });
        };
        if (known(chosen)) return;
        chosen.clear();
        for (const std::string& key : offers)
            if (chosen.empty() && known(key)) chosen = key;
        if (chosen.empty() && list.size() == 1) chosen = list.front().key;
    };
    offer(m_instructor, m_data.instructors, {last.instructor, m_data.newest.instructor});
    std::vector<core::Trainee> trainees;
    for (const StartTrainee& entry : m_data.trainees) trainees.push_back(entry.trainee);
    offer(m_trainee, trainees, {m_offered ? std::string() : last.trainee});
    const std::string before = m_bus;
    offer(m_bus, m_data.buses, {last.bus, m_data.newest.bus});
    const core::Bus* bus = busEntry();
    const bool same = m_offered && m_bus == before && bus != nullptr && bus->equipment == m_busEquipment;
    if (!same) setBus(m_bus);  // else today's changes stay
}

void StartForm::offerRubric(const std::string& id) {
    std::shared_ptr<const core::Rubric> chosen;
    for (const auto& candidate : m_data.rubrics) {
        if (m_olderEdition && m_rubric && candidate->id == id && candidate->edition == m_rubric->edition) {
            chosen = candidate;
            break;
        }
        if (!chosen && candidate->id == id) chosen = candidate;
    }
    if (!chosen && !m_data.rubrics.empty()) chosen = m_data.rubrics.front();
    if (chosen && m_rubric && chosen->id == m_rubric->id && chosen->edition == m_rubric->edition) {
        m_rubric = chosen;
        return;
    }
    m_rubric.reset();
    if (chosen) setRubric(chosen->id, chosen->edition);
}

void StartForm::offerScope(const std::string& scope) {
    if (!m_rubric) return;
    const QString words = qs(scope);
    if (words.startsWith(QLatin1String("section:"))) {
        const std::string id = ss(words.mid(8));
        if (m_rubric->section(id) != nullptr) setSection(id);
    } else if (words.startsWith(QLatin1String("zones:"))) {
        for (const QString& zone : words.mid(6).split(QLatin1Char(' '), Qt::SkipEmptyParts))
            if (m_rubric->zone(ss(zone)) != nullptr) put(m_zones, ss(zone), true);
        if (!m_zones.empty()) m_scope = Scope::Zones;
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
    m_busEquipment = bus != nullptr ? bus->equipment : std::vector<std::string>();
    m_equipment = m_busEquipment;
}

void StartForm::setRubric(const std::string& id, int edition) {
    const auto newest = std::find_if(m_data.rubrics.begin(), m_data.rubrics.end(),
                                     [&](const auto& rubric) { return rubric->id == id; });
    for (const auto& rubric : m_data.rubrics)
        if (rubric->id == id && rubric->edition == edition) {
            m_olderEdition = (*newest)->edition != edition;
            if (m_rubric == rubric) return;
            m_rubric = rubric;
            setWhole();
            m_zones.clear();
            return;
        }
}

void StartForm::setEquipment(const std::string& tag, bool on) {
    put(m_equipment, tag, on);
}

void StartForm::setWhole() {
    m_scope = Scope::Whole;
    m_section.clear();
}

void StartForm::setSection(const std::string& id) {
    m_scope = Scope::Section;
    m_section = id;
}

void StartForm::setPicked() {
    m_scope = Scope::Zones;
    m_section.clear();
}

void StartForm::setZone(const std::string& id, bool on) {
    if (m_scope != Scope::Zones) m_zones = zones();
    setPicked();
    put(m_zones, id, on);
}

void StartForm::setAllZones(bool on) {
    setPicked();
    m_zones.clear();
    if (on && m_rubric)
        for (const core::Zone& zone : m_rubric->zones) m_zones.push_back(zone.id);
}

std::vector<const core::Section*> StartForm::sections() const {
    std::vector<const core::Section*> list;
    if (!m_rubric) return list;
    for (const core::Section& section : m_rubric->sections)
        if (section.zones.size() < m_rubric->zones.size()) list.push_back(&section);
    return list;
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
    header.of = m_secondOf;
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
