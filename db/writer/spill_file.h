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

/// Adds lines at the end of a file of mode 0600 and syncs it. All of them or none: what was written by half
/// is taken away again.
core::Result<void> appendPresses(const std::filesystem::path& path, const std::vector<Press>& presses);
/// Reads what was written; lines torn by the end of the power are left out.
core::Result<std::vector<Press>> readPresses(const std::filesystem::path& path);
/// Where presses wait: beside the program file, and, where nothing can be written there (a stick that was
/// pulled out), in the data folder of the user, under a name that says nothing.
[[nodiscard]] std::vector<std::filesystem::path> spillPlaces(const std::filesystem::path& programFile);
/// What waits in these places, each attempt's presses in their order.
core::Result<std::vector<Press>> readSpilled(const std::vector<std::filesystem::path>& places);
/// FILE.refused.jsonl: presses that can never be stored.
[[nodiscard]] std::filesystem::path refusedPath(const std::filesystem::path& programFile);

/// The file that holds what waits, in the first place that takes it; each press is written once.
class SpillFile {
public:
    explicit SpillFile(const std::filesystem::path& programFile) : m_places(spillPlaces(programFile)) {}
    void hold(const std::vector<Press>& waiting);
    void remove();

private:
    std::vector<std::filesystem::path> m_places;
    std::uint64_t m_upTo = 0;
};

}  // namespace markerlamp::db
