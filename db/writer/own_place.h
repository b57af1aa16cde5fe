#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Tells the program file that was opened from whatever else comes under its name while it is in use: another
// program of that name, or the file put back by hand, log and all. Looks without touching: a connection of
// SQLite would take one file's log for another's, and clear it away when it closes.

#include "core/attempt/attempt.h"
#include "core/base/result.h"
#include "db/program_file.h"
#include "db/sqlite/file_id.h"
#include "db/sqlite/held_place.h"

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace markerlamp::db {

class OwnPlace {
public:
    /// The file that lies there now is the one; where none does, the first that comes.
    explicit OwnPlace(const std::filesystem::path& programFile);

    /// The file was opened: from here on its changes and the log beside it belong to it.
    void opened(ProgramFile& file);
    /// The log that lies beside it now is the file's, if any does: opening makes it, closing may clear it
    /// away.
    void logIsHere();
    /// These events of the attempt, or its start alone, are in the file.
    void keepInMind(const std::string& attempt, std::span<const core::Event> events);

    /// Whether file and log lie under their names as they did.
    [[nodiscard]] bool undisturbed() const;
    /// Whether what lies there may be opened: the same file with its log, or one that holds everything that
    /// was stored and has not changed for a while, which is the one from then on. Errors are Machine: what is
    /// wrong may be put right.
    core::Result<void> look();

private:
    /// What lies under a name, and when it changed last.
    struct Piece {
        std::optional<FileId> id;
        std::uintmax_t bytes = 0;
        std::filesystem::file_time_type written;
        bool operator==(const Piece&) const = default;
    };
    struct Seen {
        Piece file, log;
        bool operator==(const Seen&) const = default;
    };
    struct Kept {
        std::size_t events = 0;
        std::optional<core::Event> last;
    };

    friend core::Result<void> logFits(const std::filesystem::path& programFile);

    [[nodiscard]] static Piece piece(const std::filesystem::path& path);
    [[nodiscard]] static Seen seenAt(const std::filesystem::path& path);
    [[nodiscard]] Seen seen() const { return seenAt(m_path); }
    core::Result<void> lookAtAnother();
    void take(const Seen& there);
    [[nodiscard]] core::Result<bool> isOfOurs(ProgramFile& file) const;
    [[nodiscard]] core::Result<bool> hasAll(ProgramFile& file) const;
    [[nodiscard]] core::Result<bool> copyHoldsAll(const std::filesystem::path& copy) const;

    std::filesystem::path m_path;
    HeldPlace m_held;
    std::optional<FileId> m_known, m_log, m_index;
    std::vector<std::string> m_seals;    ///< of the trail as it was when the file was opened
    std::map<std::string, Kept> m_kept;  ///< attempts that were stored
    std::optional<Seen> m_watched;       ///< another file, and since when it is like that
    std::chrono::steady_clock::time_point m_since;
    std::optional<Seen> m_refused;  ///< not looked into again until it changes
};

/// Whether a log that was left beside a file that nobody has open, by a crash, is this file's: SQLite would
/// take any. Looks into copies. Refused where the file alone is sound and with the log it is not, or is
/// another program; a file that changes meanwhile is in use, and so is its log.
core::Result<void> logFits(const std::filesystem::path& programFile);

}  // namespace markerlamp::db
