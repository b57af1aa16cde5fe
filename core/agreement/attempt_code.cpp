// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/attempt_code.h"

#include "core/base/fnv.h"

#include <algorithm>

namespace markerlamp::core {

namespace {

constexpr std::string_view kLetters = "BCDFGHJKLMNPRSTVWXYZ";
constexpr std::size_t kLength = 6;

}  // namespace

std::string attemptCode(std::string_view id) {
    std::uint64_t rest = fnv1a(id);
    std::string code;
    for (std::size_t i = 0; i < kLength; ++i) {
        code += kLetters[rest % kLetters.size()];
        rest /= kLetters.size();
    }
    return code;
}

bool isAttemptCode(std::string_view text) {
    return text.size() == kLength && text.find_first_not_of(kLetters) == std::string_view::npos;
}

std::string typedCode(std::string_view text) {
    std::string code;
    for (const char c : text) {
        if (c == ' ' || c == '-' || c == '\t') continue;
        code += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    }
    return code;
}

void FirstScorings::add(One one) {
    m_byCode.emplace(attemptCode(one.id), one.id);
    const std::string id = one.id;
    m_byId.emplace(id, std::move(one));
}

std::string FirstScorings::idOf(const std::string& of, const One& second) const {
    if (m_byId.contains(of)) return of;
    const auto [from, to] = m_byCode.equal_range(of);
    std::vector<std::string> alike;
    for (auto at = from; at != to; ++at) {
        const One& one = m_byId.at(at->second);
        if (one.trainee == second.trainee && one.rubric == second.rubric && one.edition == second.edition)
            alike.push_back(one.id);
    }
    if (alike.size() == 1) return alike.front();
    // Another workstation may know the trainee by another key: a code that only one attempt has is enough.
    if (std::distance(from, to) == 1) return from->second;
    return {};
}

}  // namespace markerlamp::core
