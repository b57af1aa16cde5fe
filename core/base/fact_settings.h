#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Settings that a program file keeps as facts (key, value): how each is read and written, and what is said of
// one that makes no sense. `S` is the struct of settings.

#include "core/base/result.h"
#include "core/base/text.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <functional>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace markerlamp::core {

using FactPairs = std::vector<std::pair<std::string, std::string>>;

/// How one setting is read from its fact and written to it.
template <class S>
struct FactSetting {
    std::string key;
    std::string right;  ///< what would be right
    std::function<bool(S&, const std::string&)> read;
    std::function<std::string(const S&)> write;
};

/// The whole text as a plain number: no sign but minus, no spaces, nothing after it.
[[nodiscard]] inline std::optional<double> plainNumber(std::string_view text) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

/// One line of text without blanks at its ends, at most `most` bytes.
[[nodiscard]] inline bool isOneLine(const std::string& text, std::size_t most) {
    return text.size() <= most && isUtf8(text) &&
           (text.empty() || (text.front() != ' ' && text.back() != ' ')) &&
           std::ranges::none_of(text, [](unsigned char c) { return c < 0x20 || c == 0x7f; });
}

template <class S>
FactSetting<S> yesNoFact(std::string key, bool S::*member) {
    return {std::move(key), "write yes or no",
            [member](S& settings, const std::string& text) {
                settings.*member = text == "yes";
                return text == "yes" || text == "no";
            },
            [member](const S& settings) { return settings.*member ? "yes" : "no"; }};
}

template <class S>
FactSetting<S> wholeFact(std::string key, int S::*member, int least, int most) {
    return {std::move(key),
            "write a whole number from " + std::to_string(least) + " to " + std::to_string(most),
            [=](S& settings, const std::string& text) {
                const auto value = plainNumber(text);
                if (!value || *value < least || *value > most || *value != std::floor(*value)) return false;
                settings.*member = static_cast<int>(*value);
                return true;
            },
            [member](const S& settings) { return std::to_string(settings.*member); }};
}

template <class S>
FactSetting<S> numberFact(std::string key, double S::*member, double least, double most) {
    return {std::move(key), "write a number from " + shortestText(least) + " to " + shortestText(most),
            [=](S& settings, const std::string& text) {
                const auto value = plainNumber(text);
                if (!value || *value < least || *value > most) return false;
                settings.*member = *value;
                return true;
            },
            [member](const S& settings) { return shortestText(settings.*member); }};
}

/// @param least 0: it may be left empty
template <class S>
FactSetting<S> lineFact(std::string key, std::string S::*member, std::size_t least, std::size_t most) {
    return {std::move(key),
            least > 0 ? "write a short wording of at most " + std::to_string(most) + " bytes on one line"
                      : "write at most " + std::to_string(most) + " bytes on one line, or nothing",
            [=](S& settings, const std::string& text) {
                settings.*member = text;
                return text.size() >= least && isOneLine(text, most);
            },
            [member](const S& settings) { return settings.*member; }};
}

[[nodiscard]] inline Problem factProblem(const std::string& key, const std::string& value,
                                         std::string message, std::string remedy) {
    return {{}, 0, key, value, std::move(message), std::move(remedy)};
}

/// Reads the facts that begin with one of the prefixes; all problems are added to `problems`.
template <class S>
S readFacts(const std::vector<FactSetting<S>>& all, const std::vector<std::string_view>& prefixes,
            const FactPairs& facts, std::vector<Problem>& problems) {
    S settings;
    std::vector<std::string> known;
    for (const FactSetting<S>& setting : all) known.push_back(setting.key);
    std::set<std::string_view> seen;
    for (const auto& [key, value] : facts) {
        if (std::ranges::none_of(prefixes, [&key = key](std::string_view p) { return key.starts_with(p); }))
            continue;
        const auto found = std::ranges::find(all, key, &FactSetting<S>::key);
        if (found == all.end()) {
            const std::string near = nearest(key, known);
            std::string list;
            for (const std::string& one : known) list += (list.empty() ? "" : ", ") + one;
            problems.push_back(factProblem(key, key, "there is no such setting",
                                           near.empty() ? "use one of " + list : "did you mean " + near));
        } else if (!seen.insert(key).second) {
            problems.push_back(factProblem(key, value, "the setting stands twice", "give it once"));
        } else if (!found->read(settings, value)) {
            problems.push_back(
                factProblem(key, value, "\"" + value + "\" makes no sense here", found->right));
        }
    }
    return settings;
}

template <class S>
FactPairs writeFacts(const std::vector<FactSetting<S>>& all, const S& settings) {
    FactPairs facts;
    for (const FactSetting<S>& setting : all) facts.emplace_back(setting.key, setting.write(settings));
    return facts;
}

}  // namespace markerlamp::core
