// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/writer/own_place.h"

#include "core/base/files.h"
#include "db/copies/sound_copy.h"
#include "db/sqlite/connection.h"
#include "db/sqlite/failure.h"

#include <algorithm>
#include <utility>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

constexpr std::size_t kMostBytes = std::size_t{4} << 30;
/// Whoever copies a file there is done when it has not changed for so long.
constexpr std::chrono::seconds kSettled{2};
constexpr const char* kTag = "look";

tl::unexpected<core::Error> notNow(std::string message) {
    return core::fail(ErrorKind::Machine, std::move(message));
}

Result<void> copyBytes(const std::filesystem::path& from, const std::filesystem::path& to) {
    const auto bytes = core::readDocument(from, kMostBytes);
    if (!bytes) return core::fail(bytes.error());
    if (bytes->size() > kMostBytes)
        return core::fail(ErrorKind::Refused, "it is larger than any program file");
    return core::writeWhole(to, *bytes);
}

/// Goes away with whatever was made of it.
struct Copy {
    std::filesystem::path path;
    explicit Copy(std::filesystem::path name) : path(std::move(name)) {}
    ~Copy() { removeDatabase(path); }
    Copy(const Copy&) = delete;
    Copy& operator=(const Copy&) = delete;
};

/// What a look left that was cut off. Nobody else has the file meanwhile.
void removeCopiesOf(const std::filesystem::path& path) {
    const std::string begins = "." + path.filename().string() + "." + kTag + "-";
    std::error_code ec;
    std::vector<std::filesystem::path> left;
    for (const auto& entry : std::filesystem::directory_iterator(path.parent_path(), ec))
        if (entry.path().filename().string().starts_with(begins)) left.push_back(entry.path());
    for (const auto& one : left) std::filesystem::remove(one, ec);
}

}  // namespace

OwnPlace::OwnPlace(const std::filesystem::path& programFile)
    : m_path(realPath(programFile)), m_held(m_path), m_known(fileIdOf(m_path)) {
    m_held.set(m_known, {});
    removeCopiesOf(m_path);
}

void OwnPlace::opened(ProgramFile& file) {
    logIsHere();
    const auto trail = file.trail();
    if (!trail) return;
    m_seals.clear();
    for (const core::TrailEntry& entry : *trail) m_seals.push_back(entry.seal);
}

void OwnPlace::logIsHere() {
    m_log = fileIdOf(logOf(m_path));
    m_index = fileIdOf(logIndexOf(m_path));
    m_held.set(m_known, m_log);
}

void OwnPlace::keepInMind(const std::string& attempt, std::span<const core::Event> events) {
    Kept& kept = m_kept[attempt];
    if (events.empty() || static_cast<std::size_t>(events.back().n) <= kept.events) return;
    kept = {static_cast<std::size_t>(events.back().n), events.back()};
}

bool OwnPlace::undisturbed() const {
    return fileIdOf(m_path) == m_known && (!m_log || fileIdOf(logOf(m_path)) == m_log);
}

Result<void> OwnPlace::look() {
    const auto now = fileIdOf(m_path);
    if (!now) return notNow(m_path.string() + " is not there any more; put it back where it was");
    if (!m_known) {
        m_known = now;
        m_held.set(m_known, m_log);
    }
    if (now != m_known) return lookAtAnother();
    if (!m_log || fileIdOf(logOf(m_path)) == m_log) return {};
    return notNow("the log of the program file, " + logOf(m_path).string() +
                  ", holds what was stored last, and it is not there any more or another one has taken its "
                  "place; put it back where it was, or close the program, which puts all of it into the "
                  "file, and open it again");
}

Result<void> OwnPlace::lookAtAnother() {
    const Seen there = seen();
    const auto time = std::chrono::steady_clock::now();
    if (m_watched != there) {
        m_watched = there;
        m_since = time;
    }
    const std::string taken = "another file has taken the place of " + m_path.string();
    // Two files would write into one log, each by an index of its own: what one stored the other would
    // overwrite.
    if (m_log && there.log.id == m_log)
        return notNow(taken +
                      ", beside the log of the one before; nothing is written into it: put the right "
                      "one back");
    if (time - m_since < kSettled)
        return notNow(taken + "; it is looked into when it has not changed for a while");
    if (m_refused != there) {
        const Copy copy(core::besideName(m_path, kTag));
        const auto holds = guarded("", [&] { return copyHoldsAll(copy.path); });
        if (!holds && mayPass(holds.error()))
            return notNow(taken + ", which cannot be looked into now: " + holds.error().message);
        if (holds && *holds && seen() == there) {
            take(there);
            return {};
        }
        m_refused = there;
    }
    return notNow(taken +
                  ", and it lacks what was stored there; nothing is written into it: put the right one back, "
                  "with the file " +
                  logOf(m_path).filename().string() + " if there was one");
}

void OwnPlace::take(const Seen& there) {
    // The index beside it is of the file before: a connection would cut off what others look into.
    if (const auto index = fileIdOf(logIndexOf(m_path)); index && index == m_index) {
        std::error_code ec;
        std::filesystem::remove(logIndexOf(m_path), ec);
    }
    m_known = there.file.id;
    m_log = there.log.id;
    m_held.set(m_known, m_log);
    m_refused.reset();
    m_watched.reset();
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

OwnPlace::Seen OwnPlace::seenAt(const std::filesystem::path& path) {
    return {piece(path), piece(logOf(path))};
}

/// Whether its trail is the beginning of ours, or ours of its: no two programs have a seal in common. A file
/// without a trail is of ours when there is nothing in it.
Result<bool> OwnPlace::isOfOurs(ProgramFile& file) const {
    const auto trail = file.trail();
    if (!trail) return core::fail(trail.error());
    const std::size_t common = std::min(trail->size(), m_seals.size());
    if (common > 0) return (*trail)[common - 1].seal == m_seals[common - 1];
    const auto attempts = file.attempts();
    const auto rubrics = file.rubrics();
    if (!attempts) return core::fail(attempts.error());
    if (!rubrics) return core::fail(rubrics.error());
    return attempts->empty() && rubrics->empty();
}

/// Everything that was there when the file was opened, as the trail tells it, and that was stored since.
Result<bool> OwnPlace::hasAll(ProgramFile& file) const {
    const auto trail = file.trail();
    if (!trail) return core::fail(trail.error());
    if (trail->size() < m_seals.size() || (m_seals.empty() && m_kept.empty())) return false;
    for (const auto& [id, kept] : m_kept) {
        const auto attempt = file.attempt(id);
        if (!attempt && mayPass(attempt.error())) return core::fail(attempt.error());
        if (!attempt || attempt->events.size() < kept.events) return false;
        if (kept.last && !(attempt->events[kept.events - 1] == *kept.last)) return false;
    }
    return true;
}

/// Looks into copies of file and log: nothing of theirs is opened by SQLite, migrated or cleared away. First
/// without the log, which may be ours beside a stranger's file: SQLite would see one program in the two.
Result<bool> OwnPlace::copyHoldsAll(const std::filesystem::path& copy) const {
    if (auto copied = copyBytes(m_path, copy); !copied) return core::fail(copied.error());
    {
        auto alone = ProgramFile::open(copy, OpenMode::ReadOnly);
        if (!alone) return core::fail(alone.error());
        auto ours = isOfOurs(**alone);
        if (!ours || !*ours) return ours;
    }
    if (piece(logOf(m_path)).bytes > 0)
        if (auto copied = copyBytes(logOf(m_path), logOf(copy)); !copied) return core::fail(copied.error());
    {
        auto whole = ProgramFile::open(copy, OpenMode::ReadOnly);
        if (!whole) return core::fail(whole.error());
        auto ours = isOfOurs(**whole);
        if (!ours || !*ours) return ours;
        auto all = hasAll(**whole);
        if (!all || !*all) return all;
    }
    auto connection = Connection::open(copy, Access::ReadOnly);
    if (!connection) return core::fail(connection.error());
    return unsoundness((*connection)->database()).empty();
}

namespace {

/// Nothing: it cannot be read, or is damaged.
std::optional<std::vector<core::TrailEntry>> trailOfSound(const std::filesystem::path& copy) {
    {
        auto connection = Connection::open(copy, Access::ReadOnly);
        if (!connection) return {};
        // Where the pages of two files are mixed SQLite may not get as far as an answer.
        const auto sound =
            guarded("", [&]() -> Result<bool> { return unsoundness((*connection)->database()).empty(); });
        if (!sound || !*sound) return {};
    }
    auto file = ProgramFile::open(copy, OpenMode::ReadOnly);
    if (!file) return {};
    auto trail = (*file)->trail();
    if (!trail) return {};
    return std::move(*trail);
}

}  // namespace

Result<void> logFits(const std::filesystem::path& programFile) {
    const std::filesystem::path path = realPath(programFile), log = logOf(path);
    std::error_code ec;
    if (const auto bytes = std::filesystem::file_size(log, ec); ec || bytes == 0) return {};
    return guarded(path.string() + " cannot be looked into", [&]() -> Result<void> {
        const OwnPlace::Seen before = OwnPlace::seenAt(path);
        const Copy copy(core::besideName(path, kTag));
        if (auto copied = copyBytes(path, copy.path); !copied) return copied;
        const auto alone = trailOfSound(copy.path);
        if (!alone) return {};  // cut off while the log was taken in, or damaged: the log can only mend it
        if (auto copied = copyBytes(log, logOf(copy.path)); !copied) return copied;
        const auto whole = trailOfSound(copy.path);
        const bool fits = whole && whole->size() >= alone->size() &&
                          (alone->empty() || (*whole)[alone->size() - 1].seal == alone->back().seal);
        if (fits || OwnPlace::seenAt(path) != before) return {};
        return core::fail(ErrorKind::Refused,
                          log.string() +
                              " is the log of another file, which had the name of this one: put that "
                              "file back, or, if this is the right one, move the log away and keep it");
    });
}

}  // namespace markerlamp::db
