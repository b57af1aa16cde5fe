#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Brings a program file to the newest schema: tells ours from others' by the application id, keeps a verified
// copy before the first step of a file that has data, runs each step in one transaction with its number.

#include "core/base/result.h"
#include "db/schema/schema_steps.h"
#include "db/sqlite/connection.h"

#include <filesystem>
#include <vector>

namespace markerlamp::db {

/// "MkLp" in ASCII: bytes 68..71 of every program file.
inline constexpr int kApplicationId = 0x4D6B4C70;

struct Migration {
    int from = 0;
    int to = 0;
    std::filesystem::path
        copy;  ///< FILE.before-N.bak, N the first step that was run; empty when none was made
};

/// Refuses what is not ours, by its head or by its tables (Refused), and what a newer program wrote
/// (NewerFile), and changes nothing then.
core::Result<int> identify(Connection& connection, const std::filesystem::path& path,
                           const std::vector<SchemaStep>& steps = schemaSteps());

/// Runs the steps that an identified file lacks. A step that fails leaves the file as it was before that
/// step.
core::Result<Migration> migrate(Connection& connection, const std::filesystem::path& path,
                                const std::vector<SchemaStep>& steps = schemaSteps());

/// Runs all steps on an empty file and sets the application id.
core::Result<void> initialise(Connection& connection, const std::vector<SchemaStep>& steps = schemaSteps());

}  // namespace markerlamp::db
