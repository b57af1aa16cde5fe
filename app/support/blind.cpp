// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/blind.h"

#include "core/agreement/attempt_code.h"

namespace markerlamp::app {

std::set<std::string> hiddenFrom(const std::vector<db::AttemptInfo>& infos) {
    const auto asOne = [](const db::AttemptInfo& info) {
        return core::FirstScorings::One{info.id, info.trainee, info.rubric, info.edition};
    };
    std::set<std::string> hidden, open;
    core::FirstScorings firsts;
    bool second = false;
    for (const db::AttemptInfo& info : infos) {
        if (info.state == db::AttemptState::Open) open.insert(info.id);
        second = second || !info.of.empty();
    }
    if (!second || open.empty()) return hidden;
    for (const db::AttemptInfo& info : infos)
        if (info.of.empty()) firsts.add(asOne(info));
    for (const db::AttemptInfo& info : infos) {
        if (info.of.empty()) continue;
        const std::string first = firsts.idOf(info.of, asOne(info));
        if (first.empty()) continue;
        if (open.contains(info.id) && !open.contains(first)) hidden.insert(first);
        if (open.contains(first) && !open.contains(info.id)) hidden.insert(info.id);
    }
    return hidden;
}

std::string hiddenReason() {
    return "another instructor is still scoring this attempt; its marks are shown when both have finished";
}

}  // namespace markerlamp::app
