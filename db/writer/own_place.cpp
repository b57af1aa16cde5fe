// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/writer/own_place.h"

#include "core/base/files.h"
#include "db/copies/sound_copy.h"
#include "db/sqlite/connection.h"

#include <algorithm>
#include <utility>

namespace markerlamp::db {

using core::Result;

namespace {

constexpr std::size_t kMostBytes = std::size_t{4} << 30;

tl::unexpected<core::Error> notNow(std::string message) {
    return core::fail(core::ErrorKind::Machine, std::move(message));
}

bool copyBytes(const std::filesystem::path& from, const std::filesystem::path& to) {
    const auto bytes = core::readDocument(from, kMostBytes);
    return bytes && bytes->size() <= kMostBytes && core::writeWhole(to, *bytes);
}

}  // namespace

OwnPlace::OwnPlace(std::filesystem::path programFile)
    : m_path(std::move(programFile)), m_known(fileIdOf(m_path)) {}

void OwnPlace::opened(ProgramFile& file) {
    logIsHere();
    const auto trail = file.trail();
    if (!trail) return;
    m_seals.clear();
    for (const core::TrailEntry& entry : *trail) m_seals.push_back(entry.seal);
}

void OwnPlace::logIsHere() {
    m_log = fileIdOf(logOf(m_path));
}

void OwnPlace::keepInMind(const std::string& attempt, std::size_t events) {
    std::size_t& most = m_kept[attempt];
    most = std::max(most, events);
}

bool OwnPlace::undisturbed() const {
    return fileIdOf(m_path) == m_known && (!m_log || fileIdOf(logOf(m_path)) == m_log);
}

Result<void> OwnPlace::look() {
    const auto now = fileIdOf(m_path);
    if (!now) return notNow(m_path.string() + " is not there any more; put it back where it was");
    if (!m_known) m_known = now;
    if (now == m_known) {
        if (m_log && fileIdOf(logOf(m_path)) != m_log)
            return notNow("the log of the program file, " + logOf(m_path).string() +
                          ", holds what was stored last, and it is not there any more or another one has "
                          "taken its place; put it back where it was");
        return {};
    }
    const Seen there = seen();
    if (m_refused != there) {
        const std::filesystem::path copy = core::besideName(m_path, "part");
        const bool holds = !m_kept.empty() && holdsAll(copy);
        removeDatabase(copy);
        if (holds && seen() == there) {
            m_known = there.file.id;
            m_log = there.log.id;
            m_refused.reset();
            return {};
        }
        m_refused = there;
    }
    return notNow("another file has taken the place of " + m_path.string() +
                  ", and it lacks what was stored there; nothing is written into it: put the right one back, "
                  "with the file " +
                  logOf(m_path).filename().string() + " if there was one");
}

OwnPlace::Piece OwnPlace::piece(const std::filesystem::path& path) {
    std::error_code none;
    Piece piece;
    piece.id = fileIdOf(path);
    if (!piece.id) return piece;
    piece.bytes = std::filesystem::file_size(path, none);
    piece.written = std::filesystem::last_write_time(path, none);
    return piece;
}

/// Whether its trail is the beginning of ours, or ours of its: no two programs have a seal in common.
bool OwnPlace::isOfOurs(ProgramFile& file) const {
    const auto trail = file.trail();
    if (!trail) return false;
    const std::size_t common = std::min(trail->size(), m_seals.size());
    if (common > 0) return (*trail)[common - 1].seal == m_seals[common - 1];
    const auto attempts = file.attempts();
    const auto rubrics = file.rubrics();
    return attempts && attempts->empty() && rubrics && rubrics->empty();
}

/// Looks into copies of file and log: nothing of theirs is opened by SQLite, migrated or cleared away. First
/// without the log, which may be ours beside a stranger's file: SQLite would see one program in the two.
bool OwnPlace::holdsAll(const std::filesystem::path& copy) const {
    if (!copyBytes(m_path, copy)) return false;
    const auto hasAll = [this](ProgramFile& file) {
        return std::ranges::all_of(m_kept, [&file](const auto& kept) {
            const auto attempt = file.attempt(kept.first);
            return attempt && attempt->events.size() >= kept.second;
        });
    };
    {
        auto alone = ProgramFile::open(copy, OpenMode::ReadOnly);
        if (!alone || !isOfOurs(**alone)) return false;
        if (piece(logOf(m_path)).bytes == 0) return hasAll(**alone);
    }
    if (!copyBytes(logOf(m_path), logOf(copy))) return false;
    auto both = ProgramFile::open(copy, OpenMode::ReadOnly);
    if (!both || !isOfOurs(**both) || !hasAll(**both)) return false;
    auto connection = Connection::open(copy, Access::ReadOnly);
    return connection && unsoundness((*connection)->database()).empty();
}

}  // namespace markerlamp::db
