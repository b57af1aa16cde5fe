#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The tables of a damaged program file, as far as they can be read.

#include "core/base/result.h"
#include "db/salvage/raw_tree.h"
#include "db/sqlite/connection.h"

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace markerlamp::db {

struct RawTable {
    std::vector<std::string> columns;  ///< in the order of the records
    RawTree tree;
    bool found = false;  ///< false: the file has no such table, or says nothing about it
    int indexed = 0;     ///< so many records its indexes name
};

struct RawProgram {
    std::map<std::string, RawTable> tables;  ///< those of today's schema
    std::map<std::int64_t, std::string> words;
    bool guessed = false;
    int strays = 0;  ///< pages that no table, no index and no list of free pages leads to
    /// The highest number of an event in a stray page, by attempt: where one stands, later events may be
    /// lost.
    std::map<std::int64_t, std::int64_t> strayEvents;
};

/// @param fresh an empty file of today's schema: what tables there are, and where a new file has them
core::Result<RawProgram> readRawProgram(const std::filesystem::path& damaged, Connection& fresh);

}  // namespace markerlamp::db
