// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/export/study_keys.h"

#include "core/base/moment.h"

#include <sodium.h>

#include <cassert>
#include <cstdint>
#include <cstdlib>

namespace markerlamp::core {

namespace {

/// 1970 to 2026 and later go to 2103 and later; never past the four digits of a year.
constexpr std::uint64_t kFewestWeeks = 4000;
constexpr std::uint64_t kWeeksToChooseFrom = 5000;
constexpr std::size_t kKeyBytes = 10;
constexpr std::size_t kSaltDigits = 2 * sizeof(StudySalt);

constexpr char kHex[] = "0123456789abcdef";

std::string hexOf(const unsigned char* bytes, std::size_t count) {
    std::string text;
    for (std::size_t i = 0; i < count; ++i) {
        text += kHex[bytes[i] >> 4];
        text += kHex[bytes[i] & 15];
    }
    return text;
}

std::string_view domainOf(KeyKind kind) {
    switch (kind) {
        case KeyKind::Trainee:
            return "T";
        case KeyKind::Instructor:
            return "I";
        case KeyKind::Bus:
            return "B";
        case KeyKind::Group:
            return "G";
        case KeyKind::Attempt:
            return "A";
        default:
            return "R";
    }
}

/// The library asks for it once; it may be called again, also from several threads.
void wakeSodium() {
    if (sodium_init() < 0) std::abort();  // no source of randomness: nothing secret can be made
}

}  // namespace

StudySalt freshSalt() {
    wakeSodium();
    StudySalt salt;
    randombytes_buf(salt.data(), salt.size());
    return salt;
}

Result<StudySalt> readSalt(std::string_view text, const std::string& name) {
    while (!text.empty() && (text.back() == '\n' || text.back() == '\r')) text.remove_suffix(1);
    StudySalt salt{};
    bool sound = text.size() == kSaltDigits;
    for (std::size_t i = 0; sound && i < text.size(); ++i) {
        const auto digit = std::string_view(kHex).find(text[i]);
        sound = digit != std::string_view::npos;
        if (sound) salt[i / 2] = static_cast<unsigned char>(salt[i / 2] * 16 + digit);
    }
    if (sound) return salt;
    return fail(ErrorKind::Refused, name + " is no salt file: it holds " + std::to_string(kSaltDigits) +
                                        " digits 0-9 a-f on one line; name a file that is not there, and one "
                                        "is made");
}

std::string toText(const StudySalt& salt) {
    return hexOf(salt.data(), salt.size()) + "\n";
}

std::array<unsigned char, 16> StudyKeys::hash(std::string_view domain, std::string_view name) const {
    wakeSodium();
    std::string message(domain);
    message += '\0';
    message += name;
    std::array<unsigned char, 16> out{};
    [[maybe_unused]] const int done =
        crypto_generichash(out.data(), out.size(), reinterpret_cast<const unsigned char*>(message.data()),
                           message.size(), m_salt.data(), m_salt.size());
    assert(done == 0);
    return out;
}

std::string StudyKeys::of(KeyKind kind, std::string_view name) const {
    if (name.empty()) return {};
    return std::string(domainOf(kind)) + hexOf(hash(domainOf(kind), name).data(), kKeyBytes);
}

int StudyKeys::shiftDays(std::string_view trainee) const {
    const auto bytes = hash("weeks", trainee);
    std::uint64_t number = 0;
    for (std::size_t i = 0; i < sizeof number; ++i) number = number << 8 | bytes[i];
    return static_cast<int>(7 * (kFewestWeeks + number % kWeeksToChooseFrom));
}

Cell StudyKeys::shifted(std::string_view dateOrMoment, ColumnKind kind, int days) const {
    if (kind == ColumnKind::Date) {
        const auto day = dayCountOf(dateOrMoment);
        return day ? Cell(dateOfDayCount(*day + days)) : Cell();
    }
    if (!millisecondsOf(dateOrMoment)) return {};
    const auto day = dayCountOf(localDateOf(dateOrMoment));
    if (!day) return {};
    // YYYY-MM-DDTHH:MM...
    const std::string_view hour = dateOrMoment.substr(11, 2), minute = dateOrMoment.substr(14, 2);
    const int quarter = ((minute[0] - '0') * 10 + (minute[1] - '0')) / 15 * 15;
    return dateOfDayCount(*day + days) + "T" + std::string(hour) +
           (quarter == 0 ? ":00" : ":" + std::to_string(quarter));
}

}  // namespace markerlamp::core
