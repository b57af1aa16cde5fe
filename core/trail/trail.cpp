// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/trail/trail.h"

#include <sodium.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <map>
#include <set>

namespace markerlamp::core {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kHashBytes = 32;
constexpr std::size_t kSaltBytes = 16;

template <std::size_t N>
std::string hexadecimal(const std::array<unsigned char, N>& bytes) {
    std::string text(2 * N + 1, '\0');
    sodium_bin2hex(text.data(), text.size(), bytes.data(), N);
    text.pop_back();
    return text;
}

/// Bytes that are no UTF-8 are written as the replacement character: an entry must never be in the way.
std::string textOf(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

/// Of what the program wrote itself; what somebody else put there reads as an empty object.
Json wordsOf(const TrailEntry& entry) {
    Json words = Json::parse(entry.words, nullptr, false);
    return words.is_object() ? words : Json::object();
}

std::string shown(const Json& value) {
    return value.is_string() ? value.get<std::string>() : textOf(value);
}

/// "7: say, leak-test, engine"
std::string eventText(const Json& event) {
    if (!event.is_object()) return shown(event);
    std::string text;
    for (const auto& [name, value] : event.items()) {
        if (name == "n") {
            text.insert(0, shown(value) + ":");
        } else if (name != "t" && name != "by" && name != "at") {
            text += (text.empty() || text.ends_with(':') ? " " : ", ") + shown(value);
        }
    }
    return text;
}

std::vector<std::string_view> linesOf(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        if (end > 0) lines.push_back(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return lines;
}

/// Numbers of the entries whose words were taken out, as the entries about erasing tell.
std::map<std::int64_t, std::int64_t> erasedBy(const std::vector<TrailEntry>& entries) {
    std::map<std::int64_t, std::int64_t> by;
    for (const TrailEntry& entry : entries) {
        if (entry.what != kPersonErased || entry.erased()) continue;
        const Json words = wordsOf(entry);
        const auto numbers = words.find("entries");
        if (numbers == words.end() || !numbers->is_array()) continue;
        for (const Json& number : *numbers)
            if (number.is_number_integer()) by[number.get<std::int64_t>()] = entry.number;
    }
    return by;
}

}  // namespace

std::string blake2b(std::string_view text) {
    std::array<unsigned char, kHashBytes> hash{};
    crypto_generichash(hash.data(), hash.size(), reinterpret_cast<const unsigned char*>(text.data()),
                       text.size(), nullptr, 0);
    return hexadecimal(hash);
}

std::string trailSalt() {
    std::array<unsigned char, kSaltBytes> bytes{};
    // Also safe where nothing has set the library up: it reads the system's source itself.
    randombytes_buf(bytes.data(), bytes.size());
    return hexadecimal(bytes);
}

std::string digestOf(const TrailEntry& entry) {
    return blake2b(textOf(Json::array({entry.salt, entry.trainee, entry.subject, entry.words})));
}

std::string sealOf(std::string_view before, const TrailEntry& entry) {
    return blake2b(textOf(
        Json::array({before, entry.number, entry.at, entry.atMs, entry.by, entry.what, entry.digest})));
}

std::optional<TrailFlaw> firstFlaw(const std::vector<TrailEntry>& entries) {
    const auto erased = erasedBy(entries);
    std::string before;
    std::int64_t expected = 1;
    for (const TrailEntry& entry : entries) {
        if (entry.number != expected)
            return TrailFlaw{expected, "it is missing: entry " + std::to_string(entry.number) + " follows " +
                                           std::to_string(expected - 1)};
        if (entry.erased()) {
            const auto by = erased.find(entry.number);
            if (by == erased.end() || by->second <= entry.number)
                return TrailFlaw{entry.number,
                                 "what it says was taken out, and no erasing of a person tells of it"};
        } else if (digestOf(entry) != entry.digest) {
            return TrailFlaw{entry.number, "what it says is not what was written"};
        }
        if (sealOf(before, entry) != entry.seal)
            return TrailFlaw{entry.number, "its seal does not fit it and the entry before"};
        before = entry.seal;
        ++expected;
    }
    return std::nullopt;
}

std::optional<std::string> wordsOfChange(const TrailFields& was, const TrailFields& is) {
    const auto valueIn = [](const TrailFields& fields, const std::string& name) {
        const auto found = std::ranges::find(fields, name, &TrailFields::value_type::first);
        return found == fields.end() ? std::string() : found->second;
    };
    Json before = Json::object();
    Json after = Json::object();
    const auto look = [&](const std::string& name) {
        const std::string old = valueIn(was, name);
        const std::string now = valueIn(is, name);
        if (old == now) return;
        if (!old.empty()) before[name] = old;
        if (!now.empty()) after[name] = now;
    };
    for (const auto& field : is) look(field.first);
    for (const auto& field : was) look(field.first);
    if (before.empty() && after.empty()) return std::nullopt;
    Json words = Json::object();
    if (!was.empty()) words["was"] = std::move(before);
    words["is"] = std::move(after);
    return textOf(words);
}

std::string wordsOfDocument(std::string_view jsonLines) {
    const auto lines = linesOf(jsonLines);
    Json record = lines.empty() ? Json::object() : Json::parse(lines.back(), nullptr, false);
    if (!record.is_object()) record = Json::object();
    return textOf(Json{{"is", std::move(record)}});
}

std::string wordsOfAttempt(std::string_view jsonLines, std::size_t added) {
    Json words{{"document", blake2b(jsonLines)}};
    const auto lines = linesOf(jsonLines);
    Json events = Json::array();
    for (std::size_t i = lines.size() - std::min(added, lines.size()); i < lines.size(); ++i)
        events.push_back(Json::parse(lines[i], nullptr, false));
    if (!events.empty()) words["events"] = std::move(events);
    return textOf(words);
}

std::string wordsOfErasing(const std::vector<std::int64_t>& entries, const std::string& as) {
    return textOf(Json{{"entries", entries}, {"as", as}});
}

std::string documentDigest(const TrailEntry& entry) {
    const Json words = wordsOf(entry);
    const auto found = words.find("document");
    return found != words.end() && found->is_string() ? found->get<std::string>() : std::string();
}

std::vector<TrailField> fieldsOf(const TrailEntry& entry) {
    std::vector<TrailField> fields;
    const Json words = wordsOf(entry);
    const auto part = [&words](const char* name) {
        const auto found = words.find(name);
        return found != words.end() && found->is_object() ? *found : Json::object();
    };
    const Json was = part("was");
    const Json is = part("is");
    // A licence number is hidden until somebody asks to see it, here too.
    const auto shownIn = [&entry](const std::string& name, const Json& value) {
        std::string text = shown(value);
        if (entry.what != kLicenceChanged || name != "number") return text;
        constexpr std::size_t kLastSeen = 2;
        return "\u2026" + text.substr(text.size() - std::min(text.size(), kLastSeen));
    };
    for (const auto& [name, value] : is.items())
        fields.push_back(
            {name, was.contains(name) ? shownIn(name, was[name]) : std::string(), shownIn(name, value)});
    for (const auto& [name, value] : was.items())
        if (!is.contains(name)) fields.push_back({name, shownIn(name, value), {}});
    for (const auto& [name, value] : words.items()) {
        if (name == "was" || name == "is" || name == "document") continue;
        if (name != "events" || !value.is_array()) {
            fields.push_back({name, {}, shown(value)});
            continue;
        }
        for (const Json& event : value) fields.push_back({"event", {}, eventText(event)});
    }
    return fields;
}

}  // namespace markerlamp::core
