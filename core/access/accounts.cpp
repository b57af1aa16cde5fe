// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/access/accounts.h"

#include "core/base/fact_settings.h"
#include "core/base/text.h"

#include <sodium.h>

#include <algorithm>
#include <cmath>

namespace markerlamp::core {

namespace {

constexpr int kFreeTries = 3;
constexpr std::int64_t kFirstWaitMs = 1000;
constexpr std::int64_t kMostWaitMs = 5 * 60 * 1000;
constexpr std::size_t kMostName = 100;

// Nothing that is taken for something else on paper: no 0 O, 1 I L.
constexpr std::string_view kAlphabet = "23456789ABCDEFGHJKMNPQRSTUVWXYZ";
constexpr std::size_t kCodeLength = 25, kGroup = 5;
static_assert(kAlphabet.size() == 31);  // 25 log2(31) = 123.8 bits

std::string grouped(std::string_view characters) {
    std::string code;
    for (std::size_t i = 0; i < characters.size(); ++i) {
        if (i > 0 && i % kGroup == 0) code += '-';
        code += characters[i];
    }
    return code;
}

std::size_t charactersIn(std::string_view text) {
    return static_cast<std::size_t>(
        std::ranges::count_if(text, [](unsigned char c) { return (c & 0xC0) != 0x80; }));
}

}  // namespace

Result<void> checkAccount(const Account& account) {
    if (account.name.empty() || !isOneLine(account.name, kMostName))
        return fail(ErrorKind::Refused, "the name must be one line of 1 to " + std::to_string(kMostName) +
                                            " bytes without blanks at its ends");
    if (account.role == Role::Anybody)
        return fail(ErrorKind::Refused, "an account needs a role; choose instructor or coordinator");
    if (account.role == Role::Instructor && account.instructor.empty())
        return fail(ErrorKind::Refused,
                    "an instructor's account needs the instructor whose attempts are theirs; choose one");
    return {};
}

Result<void> checkPassphrase(std::string_view passphrase) {
    if (!isUtf8(passphrase) || passphrase.find('\0') != std::string_view::npos)
        return fail(ErrorKind::Refused, "the passphrase is not text; write it in UTF-8");
    if (charactersIn(passphrase) < kLeastPassphrase)
        return fail(ErrorKind::Refused, "the passphrase is too short; use at least " +
                                            std::to_string(kLeastPassphrase) +
                                            " characters, such as four words");
    if (passphrase.size() > kMostPassphrase)
        return fail(ErrorKind::Refused,
                    "the passphrase is too long; use at most " + std::to_string(kMostPassphrase) + " bytes");
    return {};
}

std::int64_t waitBeforeNextTry(int failures, std::int64_t lastFailureMs, std::int64_t nowMs) {
    if (failures < kFreeTries) return 0;
    const int doublings = std::min(failures - kFreeTries, 20);
    const std::int64_t whole = std::min(kFirstWaitMs << doublings, kMostWaitMs);
    if (nowMs <= lastFailureMs) return whole;  // the clock was set back
    // No sum that could overflow: the instants come out of a file. Their distance fits into 64 bits without
    // sign.
    const auto since = static_cast<std::uint64_t>(nowMs) - static_cast<std::uint64_t>(lastFailureMs);
    return since >= static_cast<std::uint64_t>(whole) ? 0 : whole - static_cast<std::int64_t>(since);
}

std::string drawRecoveryCode() {
    std::string code;
    if (sodium_init() < 0) return code;
    for (std::size_t i = 0; i < kCodeLength; ++i)
        code += kAlphabet[randombytes_uniform(static_cast<std::uint32_t>(kAlphabet.size()))];
    return grouped(code);
}

std::optional<std::string> typedRecoveryCode(std::string_view typed) {
    std::string code;
    for (const char c : typed) {
        if (c == ' ' || c == '-' || c == '\t' || c == '\n' || c == '\r') continue;
        const char upper = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
        if (kAlphabet.find(upper) == std::string_view::npos || code.size() == kCodeLength)
            return std::nullopt;
        code += upper;
    }
    if (code.size() != kCodeLength) return std::nullopt;
    return grouped(code);
}

int idleMinutesOf(const std::optional<std::string>& fact) {
    const auto value = fact ? plainNumber(*fact) : std::nullopt;
    if (!value || *value < 0 || *value > kMostIdleMinutes || *value != std::floor(*value))
        return kUsualIdleMinutes;
    return static_cast<int>(*value);
}

}  // namespace markerlamp::core
