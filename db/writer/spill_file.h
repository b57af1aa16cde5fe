#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Where presses wait on disk while the program file cannot be written: one JSON line each, synced.

#include "core/attempt/attempt.h"
#include "core/base/result.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::db {

struct Press {
    std::uint64_t ticket = 0;
    std::string attempt;
    std::optional<core::AttemptHeader> header;  ///< set: the attempt starts
    std::vector<core::Event> events;
    std::string by;  ///< who had signed in; empty: nobody
};

/// Adds lines at the end of a file of mode 0600 and syncs it. Best effort where the disk itself is the
/// trouble.
core::Result<void> appendPresses(const std::filesystem::path& path, const std::vector<Press>& presses);
/// Reads what was written; a torn last line is left out.
core::Result<std::vector<Press>> readPresses(const std::filesystem::path& path);
/// FILE.refused.jsonl: presses that can never be stored.
[[nodiscard]] std::filesystem::path refusedPath(const std::filesystem::path& programFile);

/// The file that holds what waits; each press is written once.
class SpillFile {
public:
    explicit SpillFile(std::filesystem::path path) : m_path(std::move(path)) {}
    void hold(const std::vector<Press>& waiting);
    void remove();

private:
    std::filesystem::path m_path;
    std::uint64_t m_upTo = 0;
};

}  // namespace markerlamp::db
