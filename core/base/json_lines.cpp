// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/json_lines.h"

#include "core/base/moment.h"
#include "core/base/text.h"

#include <algorithm>
#include <cmath>

namespace markerlamp::core {

namespace {

constexpr std::size_t kMaxProblems = 200;
constexpr int kMaxDepth = 4;
constexpr std::size_t kMaxLineBytes = 512u << 10;
constexpr std::size_t kMaxKeys = 1200;     // of one object: a bus has at most as many limits as a rubric
constexpr std::size_t kMaxEntries = 1000;  // of one list

std::string shown(const Json& value) {
    std::string text = value.dump(-1, ' ', false, Json::error_handler_t::replace);
    if (text.size() > 60) text = text.substr(0, 57) + "...";
    return text;
}

std::string named(const std::string& key) {
    return "\"" + key + "\"";
}

/// Parses one line into an object; refuses deep nesting and doubled keys.
std::optional<Json> parseLine(ProblemList& problems, int number, std::string_view text) {
    std::vector<std::set<std::string>> keys;
    std::string doubled;
    bool deep = false;
    bool crowded = false;
    const auto watch = [&](int depth, Json::parse_event_t event, Json& parsed) {
        if (depth > kMaxDepth) deep = true;
        if (event == Json::parse_event_t::object_start) keys.emplace_back();
        if (event == Json::parse_event_t::object_end && !keys.empty()) keys.pop_back();
        if (event == Json::parse_event_t::key && !keys.empty() &&
            !keys.back().insert(parsed.get<std::string>()).second)
            doubled = parsed.get<std::string>();
        if (!keys.empty() && keys.back().size() > kMaxKeys) crowded = true;
        return !deep && !crowded;
    };
    try {
        Json value = Json::parse(text.begin(), text.end(), watch);
        if (deep) {
            problems.add(number, {}, {}, "the line is nested too deeply", "write one flat JSON object");
        } else if (crowded) {
            problems.add(number, {}, {}, "an object has more than " + std::to_string(kMaxKeys) + " keys",
                         "use only the keys of the format");
        } else if (!doubled.empty()) {
            problems.add(number, doubled, doubled, "key \"" + doubled + "\" stands twice",
                         "give each key once");
        } else if (!value.is_object()) {
            problems.add(number, {}, {}, "the line is not a JSON object",
                         "write one JSON object on each line");
        } else {
            return value;
        }
    } catch (const nlohmann::json::exception&) {
        problems.add(number, {}, {}, "the line is not JSON", "write one JSON object on each line, in UTF-8");
    }
    return std::nullopt;
}

}  // namespace

void ProblemList::add(int line, std::string path, std::string id, std::string message, std::string remedy) {
    if (full()) return;
    m_problems.push_back(
        {m_file, line, std::move(path), std::move(id), std::move(message), std::move(remedy)});
}

bool ProblemList::full() const {
    return m_problems.size() >= kMaxProblems;
}

void JsonLine::problem(const std::string& key, const std::string& message, const std::string& remedy) {
    m_problems.add(m_number, key, m_object.contains(key) ? shown(m_object[key]) : key, message, remedy);
    m_good = false;
}

void JsonLine::onlyKeys(const std::set<std::string>& allowed, const std::string& where) {
    for (const auto& [key, value] : m_object.items())
        if (!m_problems.full() && !allowed.contains(key)) {
            std::string list;
            for (const std::string& known : allowed) list += (list.empty() ? "" : ", ") + known;
            problem(key, "unknown key \"" + key + "\"" + where, "use only " + list);
        }
}

std::string JsonLine::text(const std::string& key, bool required, std::size_t most, bool mayBeEmpty) {
    if (!has(key)) {
        if (required) problem(key, named(key) + " is missing", "give it as text");
        return {};
    }
    const Json& value = at(key);
    if (!value.is_string()) {
        problem(key, named(key) + " is not text", "write it in quotes");
        return {};
    }
    const std::string& content = value.get_ref<const std::string&>();
    if (content.empty() && !mayBeEmpty)
        problem(key, named(key) + " is empty", "give it or leave the key out");
    if (content.size() > most)
        problem(key, named(key) + " is longer than " + std::to_string(most) + " bytes", "shorten it");
    if (most == kMaxIdBytes &&
        std::ranges::any_of(content, [](unsigned char c) { return c < 0x20 || c == 0x7f; }))
        problem(key, named(key) + " holds a control character", "use printable characters only");
    return content;
}

std::optional<double> JsonLine::number(const std::string& key, bool required) {
    if (!has(key)) {
        if (required) problem(key, named(key) + " is missing", "give it as a number");
        return std::nullopt;
    }
    if (!at(key).is_number() || !std::isfinite(at(key).get<double>()) ||
        std::abs(at(key).get<double>()) > 1e12) {
        problem(key, named(key) + " is not a usable number", "give a finite number without quotes");
        return std::nullopt;
    }
    return at(key).get<double>();
}

std::optional<int> JsonLine::integer(const std::string& key, int least) {
    if (!has(key)) {
        problem(key, named(key) + " is missing", "give it as a whole number");
        return std::nullopt;
    }
    const Json& value = at(key);
    if (!value.is_number_integer() || value.get<double>() < least || value.get<double>() > 1e9) {
        problem(key, named(key) + " is not a whole number from " + std::to_string(least) + " up",
                "give a whole number without quotes");
        return std::nullopt;
    }
    return value.get<int>();
}

std::optional<bool> JsonLine::boolean(const std::string& key, bool required) {
    if (!has(key)) {
        if (required) problem(key, named(key) + " is missing", "give true or false");
        return std::nullopt;
    }
    if (!at(key).is_boolean()) {
        problem(key, named(key) + " is neither true nor false", "give true or false without quotes");
        return std::nullopt;
    }
    return at(key).get<bool>();
}

std::vector<std::string> JsonLine::texts(const std::string& key) {
    std::vector<std::string> list;
    if (!has(key) || !at(key).is_array()) {
        problem(key, named(key) + (has(key) ? " is not a list" : " is missing"),
                "give a list of texts, which may be empty");
        return list;
    }
    if (at(key).size() > kMaxEntries) {
        problem(key, named(key) + " has more than " + std::to_string(kMaxEntries) + " entries", "shorten it");
        return list;
    }
    for (const Json& item : at(key)) {
        if (!item.is_string() || item.get_ref<const std::string&>().empty() ||
            item.get_ref<const std::string&>().size() > kMaxIdBytes) {
            problem(key, "an entry of " + named(key) + " is not a text", "give a list of ids in quotes");
            return list;
        }
        if (std::ranges::find(list, item.get<std::string>()) != list.end())
            problem(key, named(item.get<std::string>()) + " stands twice in " + named(key), "name it once");
        list.push_back(item.get<std::string>());
    }
    return list;
}

std::string JsonLine::moment(const std::string& key) {
    std::string moment = text(key, true);
    if (!moment.empty() && !millisecondsOf(moment))
        problem(key, named(key) + " is not a date and time with its offset",
                "write it like 2026-03-02T06:10:00-05:00");
    return moment;
}

void JsonLine::format(std::string_view known) {
    if (const std::string format = text("format", true); !format.empty() && format != known)
        problem("format", "the format is not known", "write " + named(std::string(known)));
}

void readJsonLines(std::string_view text, const JsonLinesForm& form, ProblemList& problems,
                   const std::function<void(int, JsonLine*)>& take) {
    if (text.size() > form.mostBytes) {
        problems.add(0, {}, {}, form.tooLarge, form.tooLargeRemedy);
        return;
    }
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    if (text.empty()) problems.add(1, {}, {}, "the document is empty", "begin with the header line");
    int number = 0;
    while (!text.empty() && !problems.full()) {
        ++number;
        const auto end = text.find('\n');
        std::string_view line = text.substr(0, end);
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
        if (line.ends_with('\r')) line.remove_suffix(1);
        if (static_cast<std::size_t>(number) > form.mostLines) {
            problems.add(number, {}, {}, form.tooManyLines, form.tooManyLinesRemedy);
            return;
        }
        if (line.size() > kMaxLineBytes) {
            problems.add(number, {}, {}, "the line is longer than 512 KiB", form.oneALine);
            return;
        }
        if (line.empty()) {
            problems.add(number, {}, {}, "the line is empty", "write one JSON object on each line");
            continue;
        }
        auto object = parseLine(problems, number, line);
        if (!object) {
            take(number, nullptr);
            continue;
        }
        JsonLine read(problems, number, std::move(*object));
        take(number, &read);
    }
}

std::string quotedJson(const std::string& text) {
    return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

JsonObjectText& JsonObjectText::raw(std::string_view key, const std::string& value) {
    m_text += (m_text.size() > 1 ? ",\"" : "\"") + std::string(key) + "\":" + value;
    return *this;
}

JsonObjectText& JsonObjectText::text(std::string_view key, const std::string& value) {
    return raw(key, quotedJson(value));
}

JsonObjectText& JsonObjectText::textIf(std::string_view key, const std::string& value) {
    return value.empty() ? *this : text(key, value);
}

JsonObjectText& JsonObjectText::number(std::string_view key, double value) {
    return raw(key, shortestText(value));
}

JsonObjectText& JsonObjectText::numberIf(std::string_view key, const std::optional<double>& value) {
    return value ? number(key, *value) : *this;
}

JsonObjectText& JsonObjectText::boolean(std::string_view key, bool value) {
    return raw(key, value ? "true" : "false");
}

JsonObjectText& JsonObjectText::list(std::string_view key, const std::vector<std::string>& values) {
    std::string text = "[";
    for (const std::string& value : values) text += (text.size() > 1 ? "," : "") + quotedJson(value);
    return raw(key, text + "]");
}

}  // namespace markerlamp::core
