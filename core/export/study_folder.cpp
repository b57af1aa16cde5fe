// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/export/study_folder.h"

#include <algorithm>
#include <utility>

namespace markerlamp::core {

namespace {

using What = StudyRule::What;

bool isKeyOf(const Column& column, KeyKind kind) {
    return column.study.what == What::Key && column.study.kind == kind;
}

std::string textOf(const Cell& cell) {
    const auto* text = std::get_if<std::string>(&cell);
    return text == nullptr ? std::string() : *text;
}

/// Every table says whom a row is about.
std::string traineeOf(const Table& table, const Row& row) {
    for (std::size_t i = 0; i < row.size(); ++i)
        if (isKeyOf(table.columns[i], KeyKind::Trainee)) return textOf(row[i]);
    return {};
}

}  // namespace

std::vector<Table> studyTables() {
    std::vector<Table> tables(exportTables().begin(), exportTables().end());
    for (Table& table : tables)
        std::erase_if(table.columns,
                      [](const Column& column) { return column.study.what == What::LeaveOut; });
    return tables;
}

Result<StudyFolder> StudyFolder::begin(const std::filesystem::path& dir, const StudySalt& salt) {
    auto folder = CsvFolder::begin(dir, studyTables());
    if (!folder) return fail(folder.error());
    return StudyFolder(std::move(*folder), salt);
}

Cell StudyFolder::disguised(const Cell& cell, const Column& column, int shiftDays) const {
    const auto* text = std::get_if<std::string>(&cell);
    if (text == nullptr || column.study.what == What::Keep) return cell;
    if (column.study.what == What::Key) return m_keys.of(column.study.kind, *text);
    return m_keys.shifted(*text, column.kind, shiftDays);
}

void StudyFolder::note(const Table& table, const Column& column, const std::string& trainee,
                       const Cell& cell) {
    if (column.study.what == What::Key)
        if (std::string key = textOf(cell); !key.empty())
            m_seen[column.study.kind][std::move(key)].insert(trainee);
    if (table.id == TableId::WeakZones && column.name == "zone") m_zones.insert(textOf(cell));
}

Result<void> StudyFolder::row(TableId id, const Row& row) {
    const Table& table = exportTable(id);
    const std::string trainee = traineeOf(table, row);
    const std::string key = m_keys.of(KeyKind::Trainee, trainee);
    const int shift = m_keys.shiftDays(trainee);
    m_row.clear();
    for (std::size_t i = 0; i < row.size(); ++i) {
        const Column& column = table.columns[i];
        if (column.study.what == What::LeaveOut) continue;
        m_row.push_back(disguised(row[i], column, shift));
        if (id != TableId::Steps) note(table, column, key, m_row.back());
    }
    return m_folder.row(id, m_row);
}

StudyCounts StudyFolder::counts() const {
    StudyCounts counts;
    const auto count = [this](KeyKind kind, int& all, int* lone) {
        const auto found = m_seen.find(kind);
        if (found == m_seen.end()) return;
        all = static_cast<int>(found->second.size());
        if (lone != nullptr)
            *lone = static_cast<int>(std::ranges::count_if(found->second, [](const auto& entry) {
                return entry.second.size() < static_cast<std::size_t>(kFewPeople);
            }));
    };
    count(KeyKind::Trainee, counts.trainees, nullptr);
    count(KeyKind::Instructor, counts.instructors, &counts.loneInstructors);
    count(KeyKind::Bus, counts.buses, &counts.loneBuses);
    count(KeyKind::Group, counts.groups, &counts.loneGroups);
    counts.attempts = static_cast<int>(m_folder.rows(TableId::Attempts));
    counts.zones.assign(m_zones.begin(), m_zones.end());
    return counts;
}

Result<void> StudyFolder::publish(bool saltKept) {
    const StudyCounts known = counts();
    if (auto done = m_folder.add("README.txt", studyReadme(m_folder, known, saltKept)); !done) return done;
    if (auto done = m_folder.add("dictionary.json", studyDictionary(m_folder, known, saltKept)); !done)
        return done;
    return m_folder.publish();
}

}  // namespace markerlamp::core
