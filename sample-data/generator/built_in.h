#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The rubrics and limit sets that travel inside the program.

#include <string>
#include <vector>

namespace markerlamp::demo {

struct BuiltInDocument {
    std::string name;  ///< file name, *.rubric.yaml or *.limits.yaml
    std::string text;
};

/// Sorted by name.
[[nodiscard]] const std::vector<BuiltInDocument>& builtInDocuments();

}  // namespace markerlamp::demo
