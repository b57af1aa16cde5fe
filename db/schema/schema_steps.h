#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The numbered migration steps, embedded at build time from db/schema/NNNN_name.sql.

#include <string>
#include <vector>

namespace markerlamp::db {

struct SchemaStep {
    int number = 0;
    std::string name;
    std::string sql;
};

/// Ascending by number, 1, 2, 3, ... without gaps.
[[nodiscard]] const std::vector<SchemaStep>& schemaSteps();

}  // namespace markerlamp::db
