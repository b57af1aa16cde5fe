// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/result.h"

namespace markerlamp::core {

std::string toText(const Problem& problem) {
    std::string text;
    if (!problem.file.empty()) text += problem.file + ":";
    if (problem.line > 0) text += (problem.file.empty() ? "line " : "") + std::to_string(problem.line) + ":";
    if (!text.empty()) text += " ";
    if (!problem.path.empty()) text += problem.path + ": ";
    text += problem.message;
    if (!problem.remedy.empty()) text += "; " + problem.remedy;
    return text;
}

}  // namespace markerlamp::core
