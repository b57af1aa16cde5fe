#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The six letters by which people name an attempt to one another, and which first scoring a second one means.

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// Made from the attempt's id, so that it is the same on every workstation. Twenty capitals: no I, O, Q that
/// could be taken for digits or for one another, and no vowels, so that no word comes out.
[[nodiscard]] std::string attemptCode(std::string_view id);
[[nodiscard]] bool isAttemptCode(std::string_view text);
/// What a person typed, as a code: capitals, without blanks and hyphens. Not checked.
[[nodiscard]] std::string typedCode(std::string_view text);

/// Which attempt a second scoring is of. Its header names the first one's id; or its code, where the two were
/// scored at the same time on two machines and the id was not known.
class FirstScorings {
public:
    struct One {
        std::string id, trainee, rubric;
        int edition = 1;
    };
    void add(One one);
    /// The id of the first scoring that `of` means; empty when it is not there. A code of several attempts
    /// means the one of this trainee and edition, and none when that is not a single one either.
    [[nodiscard]] std::string idOf(const std::string& of, const One& second) const;

private:
    std::map<std::string, One> m_byId;
    std::multimap<std::string, std::string> m_byCode;
};

}  // namespace markerlamp::core
