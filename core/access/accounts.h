#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Signing in: accounts, what a passphrase must be, how long a next try waits, and the recovery code.

#include "core/access/acting.h"
#include "core/base/result.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace markerlamp::core {

struct Account {
    std::string name;
    Role role = Role::Instructor;
    std::string
        instructor;  ///< key of the instructor whose attempts are their own; a coordinator may do without

    bool operator==(const Account&) const = default;
};

/// Names are one line, instructors have an instructor's key, nobody is Anybody.
[[nodiscard]] Result<void> checkAccount(const Account& account);

/// Length counts and nothing else: a rule about kinds of characters makes people choose "Password1!".
/// NIST SP 800-63B asks for at least 8 characters and against rules of composition (from memory); this is
/// more, as nobody but the delay stands between a laptop and who tries.
inline constexpr std::size_t kLeastPassphrase = 12;   ///< characters
inline constexpr std::size_t kMostPassphrase = 1024;  ///< bytes
[[nodiscard]] Result<void> checkPassphrase(std::string_view passphrase);

/// Milliseconds that a next try has to wait: three tries are free, then 1 second, 2, 4 and so on to five
/// minutes. A clock that was set back makes it neither longer than that nor free.
[[nodiscard]] std::int64_t waitBeforeNextTry(int failures, std::int64_t lastFailureMs, std::int64_t nowMs);

/// 25 characters in five groups: "7KQ2M-...". More than 120 bits.
[[nodiscard]] std::string drawRecoveryCode();
/// As drawRecoveryCode() writes it, whatever case, spaces and dashes it was typed with; nothing when it
/// cannot be one.
[[nodiscard]] std::optional<std::string> typedRecoveryCode(std::string_view typed);

/// "access.idle_minutes": minutes without a touch until the window locks, 0 = never.
inline constexpr const char* kIdleMinutesFact = "access.idle_minutes";
inline constexpr int kUsualIdleMinutes = 10;
inline constexpr int kMostIdleMinutes = 240;
/// What the fact says; the usual one where it says nothing or nonsense.
[[nodiscard]] int idleMinutesOf(const std::optional<std::string>& fact);

}  // namespace markerlamp::core
