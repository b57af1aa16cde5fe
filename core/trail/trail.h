#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The trail: who changed what and when, each entry sealed together with the seal of the one before.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// One change. What it says (salt to words) is empty once the person it is about was erased.
struct TrailEntry {
    std::int64_t number = 0;  ///< from 1 without gaps
    std::string at;           ///< RFC 3339 with offset
    std::int64_t atMs = 0;    ///< the same moment, milliseconds since 1970 UTC
    std::string by;
    std::string what;     ///< machine word, e.g. trainee.changed
    std::string salt;     ///< so that nobody can guess from the digest what was erased
    std::string trainee;  ///< key of the trainee it is about, may be empty
    std::string subject;  ///< id or key of the record
    std::string words;    ///< JSON object
    std::string digest;   ///< of salt, trainee, subject and words
    std::string seal;

    [[nodiscard]] bool erased() const { return words.empty(); }
    bool operator==(const TrailEntry&) const = default;
};

/// BLAKE2b (RFC 7693) of 32 bytes without a key, in lower-case hexadecimal.
[[nodiscard]] std::string blake2b(std::string_view text);
/// A salt that was not there before: 16 random bytes in hexadecimal.
[[nodiscard]] std::string trailSalt();

/// blake2b of the JSON array [salt, trainee, subject, words].
[[nodiscard]] std::string digestOf(const TrailEntry& entry);
/// blake2b of the JSON array [seal before, number, at, atMs, by, what, digest]; before the first entry the
/// seal is empty.
[[nodiscard]] std::string sealOf(std::string_view before, const TrailEntry& entry);

/// The first entry of a trail that is not as it was written, and why.
struct TrailFlaw {
    std::int64_t number = 0;
    std::string message;
};
/// @param entries by number. An entry that says nothing must be named by a later one that tells of an
/// erasing.
[[nodiscard]] std::optional<TrailFlaw> firstFlaw(const std::vector<TrailEntry>& entries);

// --- what an entry says ---

/// Who stands in an entry where nobody was signed in.
inline constexpr std::string_view kNobodySignedIn = "(nobody signed in)";

inline constexpr std::string_view kAttemptEnded = "attempt.ended";
inline constexpr std::string_view kAttemptAmended = "attempt.amended";
inline constexpr std::string_view kAttemptAdded = "attempt.added";
inline constexpr std::string_view kAttemptSetAside = "attempt.set-aside";
inline constexpr std::string_view kAttemptTakenUp = "attempt.taken-up";
inline constexpr std::string_view kAttemptWithoutName = "attempt.without-name";  ///< the trainee was erased
inline constexpr std::string_view kAttemptSalvaged = "attempt.salvaged";
inline constexpr std::string_view kLicenceChanged = "licence.changed";
inline constexpr std::string_view kPersonErased = "person.erased";
inline constexpr std::string_view kFileRestored = "file.restored";
inline constexpr std::string_view kFileSalvaged = "file.salvaged";

/// Named texts of a record; an empty one says nothing.
using TrailFields = std::vector<std::pair<std::string, std::string>>;

/// What differs: {"was": {...}, "is": {...}}. Nothing when nothing does.
[[nodiscard]] std::optional<std::string> wordsOfChange(const TrailFields& was, const TrailFields& is);
/// The record in the last line of its document: {"is": {...}}.
[[nodiscard]] std::string wordsOfDocument(std::string_view jsonLines);
/// An attempt as it is from now on, with its last `added` events: {"document": digest, "events": [...]}.
/// @param jsonLines its document
[[nodiscard]] std::string wordsOfAttempt(std::string_view jsonLines, std::size_t added);
/// {"entries": [numbers], "as": key}
[[nodiscard]] std::string wordsOfErasing(const std::vector<std::int64_t>& entries, const std::string& as);

/// Digest of the attempt's document, when the entry holds one.
[[nodiscard]] std::string documentDigest(const TrailEntry& entry);

/// One line of what an entry says: field, what was, what is.
struct TrailField {
    std::string field;
    std::string was;
    std::string is;

    bool operator==(const TrailField&) const = default;
};
/// For people to read. Of an event its number and what it holds; another list or object is shown as JSON; the
/// digest of a document is left out, and all but the end of a licence number.
[[nodiscard]] std::vector<TrailField> fieldsOf(const TrailEntry& entry);

}  // namespace markerlamp::core
