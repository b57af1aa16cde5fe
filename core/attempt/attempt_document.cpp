// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/attempt_document.h"

#include "core/attempt/marks.h"
#include "core/base/moment.h"
#include "core/base/text.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <set>

namespace markerlamp::core {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view kFormat = "markerlamp.attempt/1";
constexpr std::size_t kMaxIdBytes = 200;
constexpr std::size_t kMaxTextBytes = 20'000;
constexpr std::size_t kMaxProblems = 200;
constexpr int kMaxDepth = 4;
constexpr std::size_t kMaxLineBytes = 512u << 10;
constexpr std::size_t kMaxKeys = 1200;     // of one object: a bus has at most as many limits as a rubric
constexpr std::size_t kMaxEntries = 1000;  // of one list

/// Collects the problems of one document.
class Report {
public:
    explicit Report(std::string file) : m_file(std::move(file)) {}
    void add(int line, std::string path, std::string id, std::string message, std::string remedy) {
        if (m_problems.size() >= kMaxProblems) return;
        m_problems.push_back(
            {m_file, line, std::move(path), std::move(id), std::move(message), std::move(remedy)});
    }
    [[nodiscard]] bool full() const { return m_problems.size() >= kMaxProblems; }
    [[nodiscard]] std::vector<Problem>& problems() { return m_problems; }

private:
    std::string m_file;
    std::vector<Problem> m_problems;
};

std::string shown(const Json& value) {
    std::string text = value.dump(-1, ' ', false, Json::error_handler_t::replace);
    if (text.size() > 60) text = text.substr(0, 57) + "...";
    return text;
}

/// One JSON object of one line; problems name its keys.
class Line {
public:
    Line(Report& report, int number, Json object)
        : m_report(report), m_number(number), m_object(std::move(object)) {}

    void problem(const std::string& key, const std::string& message, const std::string& remedy) {
        m_report.add(m_number, key, m_object.contains(key) ? shown(m_object[key]) : key, message, remedy);
        m_good = false;
    }
    [[nodiscard]] bool has(const std::string& key) const { return m_object.contains(key); }
    [[nodiscard]] const Json& at(const std::string& key) const { return m_object.at(key); }
    [[nodiscard]] bool good() const { return m_good; }

    void onlyKeys(const std::set<std::string>& allowed, const std::string& where) {
        for (const auto& [key, value] : m_object.items())
            if (!m_report.full() && !allowed.contains(key)) {
                std::string list;
                for (const std::string& known : allowed) list += (list.empty() ? "" : ", ") + known;
                problem(key, "unknown key \"" + key + "\"" + where, "use only " + list);
            }
    }

    /// Non-empty text; empty result and a problem otherwise.
    std::string text(const std::string& key, bool required, std::size_t most = kMaxIdBytes,
                     bool mayBeEmpty = false) {
        if (!has(key)) {
            if (required) problem(key, "\"" + key + "\" is missing", "give it as text");
            return {};
        }
        const Json& value = at(key);
        if (!value.is_string()) {
            problem(key, "\"" + key + "\" is not text", "write it in quotes");
            return {};
        }
        const std::string& content = value.get_ref<const std::string&>();
        if (content.empty() && !mayBeEmpty)
            problem(key, "\"" + key + "\" is empty", "give it or leave the key out");
        if (content.size() > most)
            problem(key, "\"" + key + "\" is longer than " + std::to_string(most) + " bytes", "shorten it");
        if (most == kMaxIdBytes &&
            std::ranges::any_of(content, [](unsigned char c) { return c < 0x20 || c == 0x7f; }))
            problem(key, "\"" + key + "\" holds a control character", "use printable characters only");
        return content;
    }

    std::optional<double> number(const std::string& key, bool required) {
        if (!has(key)) {
            if (required) problem(key, "\"" + key + "\" is missing", "give it as a number");
            return std::nullopt;
        }
        if (!at(key).is_number() || !std::isfinite(at(key).get<double>()) ||
            std::abs(at(key).get<double>()) > 1e12) {
            problem(key, "\"" + key + "\" is not a usable number", "give a finite number without quotes");
            return std::nullopt;
        }
        return at(key).get<double>();
    }

    std::optional<int> integer(const std::string& key) {
        if (!has(key)) {
            problem(key, "\"" + key + "\" is missing", "give it as a whole number");
            return std::nullopt;
        }
        const Json& value = at(key);
        if (!value.is_number_integer() || value.get<double>() < 1 || value.get<double>() > 1e9) {
            problem(key, "\"" + key + "\" is not a whole number from 1 up",
                    "give a whole number without quotes");
            return std::nullopt;
        }
        return value.get<int>();
    }

    std::vector<std::string> texts(const std::string& key) {
        std::vector<std::string> list;
        if (!has(key) || !at(key).is_array()) {
            problem(key, has(key) ? "\"" + key + "\" is not a list" : "\"" + key + "\" is missing",
                    "give a list of texts, which may be empty");
            return list;
        }
        if (at(key).size() > kMaxEntries) {
            problem(key, "\"" + key + "\" has more than " + std::to_string(kMaxEntries) + " entries",
                    "shorten it");
            return list;
        }
        for (const Json& item : at(key)) {
            if (!item.is_string() || item.get_ref<const std::string&>().empty() ||
                item.get_ref<const std::string&>().size() > kMaxIdBytes) {
                problem(key, "an entry of \"" + key + "\" is not a text", "give a list of ids in quotes");
                return list;
            }
            if (std::ranges::find(list, item.get<std::string>()) != list.end())
                problem(key, "\"" + item.get<std::string>() + "\" stands twice in \"" + key + "\"",
                        "name it once");
            list.push_back(item.get<std::string>());
        }
        return list;
    }

private:
    Report& m_report;
    int m_number;
    Json m_object;
    bool m_good = true;
};

bool isDateTime(std::string_view text) {
    return millisecondsOf(text).has_value();
}

/// Parses one line into an object; refuses deep nesting and doubled keys.
std::optional<Json> parseLine(Report& report, int number, std::string_view text) {
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
            report.add(number, {}, {}, "the line is nested too deeply", "write one flat JSON object");
        } else if (crowded) {
            report.add(number, {}, {}, "an object has more than " + std::to_string(kMaxKeys) + " keys",
                       "use only the keys of the format");
        } else if (!doubled.empty()) {
            report.add(number, doubled, doubled, "key \"" + doubled + "\" stands twice",
                       "give each key once");
        } else if (!value.is_object()) {
            report.add(number, {}, {}, "the line is not a JSON object", "write one JSON object on each line");
        } else {
            return value;
        }
    } catch (const nlohmann::json::exception& e) {
        report.add(number, {}, {}, "the line is not JSON", "write one JSON object on each line, in UTF-8");
    }
    return std::nullopt;
}

void readHeader(Line& line, AttemptHeader& header) {
    line.onlyKeys({"format", "id", "rubric", "edition", "trainee", "instructor", "bus", "equipment", "zones",
                   "limits", "started", "of"},
                  " in the header");
    if (const std::string format = line.text("format", true); !format.empty() && format != kFormat)
        line.problem("format", "the format is not known", "write \"markerlamp.attempt/1\"");
    header.id = line.text("id", true);
    header.rubric = line.text("rubric", true);
    header.edition = line.integer("edition").value_or(1);
    header.trainee = line.text("trainee", true);
    header.instructor = line.text("instructor", true);
    header.bus = line.text("bus", true);
    header.equipment = line.texts("equipment");
    header.zones = line.texts("zones");
    header.started = line.text("started", true);
    if (!header.started.empty() && !isDateTime(header.started))
        line.problem("started", "\"started\" is not a date and time with its offset",
                     "write it like 2026-03-02T06:10:00-05:00");
    if (line.has("of")) header.of = line.text("of", true);
    if (!header.of.empty() && header.of == header.id)
        line.problem("of", "the attempt names itself as its first scoring", "name the other attempt");
    if (!line.has("limits")) return;
    const Json& limits = line.at("limits");
    if (!limits.is_object()) {
        line.problem("limits", "\"limits\" is not an object",
                     "write {\"limit-id\":{\"low\":..,\"high\":..}}");
        return;
    }
    for (const auto& [id, bounds] : limits.items()) {
        LimitBounds own;
        bool good = bounds.is_object() && !bounds.empty();
        if (good)
            for (const auto& [key, value] : bounds.items()) {
                if ((key != "low" && key != "high") || !value.is_number() ||
                    !std::isfinite(value.get<double>())) {
                    good = false;
                    break;
                }
                (key == "low" ? own.low : own.high) = value.get<double>();
            }
        if (good && own.low && own.high && *own.low > *own.high) good = false;
        if (!good)
            line.problem("limits", "limit \"" + id + "\" needs low and/or high, with low not above high",
                         "write {\"" + id + "\":{\"low\":..,\"high\":..}} with numbers and no other key");
        else
            header.limits.emplace(id, own);
    }
}

std::set<std::string> keysOf(EventKind kind) {
    switch (kind) {
        case EventKind::Show:
        case EventKind::Partly:
        case EventKind::Prompt:
        case EventKind::Omit:
        case EventKind::Unseen:
        case EventKind::Unreached:
            return {"step"};
        case EventKind::Say:
            return {"step", "point", "value", "low", "high", "unit"};
        case EventKind::Wrong:
            return {"step", "point", "text"};
        case EventKind::Reading:
            return {"step", "value", "unit"};
        case EventKind::Fault:
        case EventKind::Note:
            return {"step", "text"};
        case EventKind::Retract:
            return {"event"};
        case EventKind::Pause:
        case EventKind::Resume:
        case EventKind::End:
            return {};
    }
    return {};
}

/// Where the document stands while its events are read.
struct Progress {
    double t = 0;
    bool running = true;
    std::optional<double> end;
    std::set<int> taken;
};

void readEvent(Line& line, Attempt& attempt, Progress& progress) {
    Event event;
    const int expected = static_cast<int>(attempt.events.size()) + 1;
    event.n = line.integer("n").value_or(expected);
    if (line.good() && event.n != expected)
        line.problem("n", "events are not numbered without gaps", "write n " + std::to_string(expected));
    event.n = expected;
    const auto t = line.number("t", true);
    if (t && *t < 0) line.problem("t", "the time is before the start", "give seconds since the start");
    if (t && *t < progress.t)
        line.problem("t", "the time runs backwards", "give at least the time of the line before");
    event.t = t.value_or(progress.t);

    const std::string word = line.text("do", true);
    const auto kind = eventKindFromWord(word);
    if (!kind) {
        if (!word.empty())
            line.problem(
                "do", "\"" + word + "\" is not an event",
                "use show, say, partly, wrong, prompt, reading, fault, omit, unseen, unreached, note, pause, "
                "resume, retract or end");
        attempt.events.push_back(std::move(event));
        return;
    }
    event.kind = *kind;
    std::set<std::string> allowed = keysOf(event.kind);
    allowed.insert({"n", "t", "do"});
    if (progress.end) allowed.insert({"by", "at"});
    line.onlyKeys(allowed, " in a \"" + word + "\" event");

    const bool stepRequired = keysOf(event.kind).contains("step") && event.kind != EventKind::Note;
    if (keysOf(event.kind).contains("step")) event.step = line.text("step", stepRequired);
    if (event.kind == EventKind::Say || (event.kind == EventKind::Wrong && line.has("point")))
        event.point = line.text("point", true);
    if (event.kind == EventKind::Note ||
        ((event.kind == EventKind::Wrong || event.kind == EventKind::Fault) && line.has("text")))
        event.text = line.text("text", event.kind == EventKind::Note, kMaxTextBytes, true);
    if (event.kind == EventKind::Reading) {
        event.value = line.number("value", true);
        event.unit = line.text("unit", true);
    }
    if (event.kind == EventKind::Say) {
        event.value = line.number("value", false);
        event.low = line.number("low", false);
        event.high = line.number("high", false);
        if (line.has("value") && (line.has("low") || line.has("high")))
            line.problem("value", "a value and a pair of bounds stand together",
                         "give either value or low and high");
        if (line.has("low") != line.has("high"))
            line.problem(line.has("low") ? "low" : "high", "one bound of the pair is missing",
                         "give both low and high");
        if (event.low && event.high && *event.low > *event.high)
            line.problem("low", "low is above high", "give the smaller number as low");
        const bool number = event.value || event.low || event.high;
        if (number || line.has("unit")) event.unit = line.text("unit", true);
        if (!number && line.has("unit"))
            line.problem("unit", "a unit stands without a number", "give value, or low and high");
    }
    if (event.kind == EventKind::Retract) {
        const auto target = line.integer("event");
        event.retracts = target.value_or(0);
        if (target && *target >= event.n) {
            line.problem("event", "event " + std::to_string(*target) + " has not happened yet",
                         "name an earlier event");
        } else if (target) {
            const EventKind other = attempt.events[static_cast<std::size_t>(*target) - 1].kind;
            if (other == EventKind::Pause || other == EventKind::Resume || other == EventKind::End ||
                other == EventKind::Retract)
                line.problem("event",
                             "event " + std::to_string(event.retracts) + " (" + std::string(toWord(other)) +
                                 ") cannot be taken back",
                             "name an event that marks a step or a note");
            else if (!progress.taken.insert(*target).second)
                line.problem("event", "event " + std::to_string(*target) + " is already taken back",
                             "take it back once");
        }
    }

    if (progress.end) {
        if (event.kind == EventKind::Pause || event.kind == EventKind::Resume || event.kind == EventKind::End)
            line.problem("do", "\"" + word + "\" stands after the end",
                         "after the end only amendments may follow");
        event.by = line.text("by", true);
        event.at = line.text("at", true);
        if (!event.at.empty() && !isDateTime(event.at))
            line.problem("at", "\"at\" is not a date and time with its offset",
                         "write it like 2026-03-02T06:10:00-05:00");
        if (t && *t != *progress.end)
            line.problem("t", "the time of an amendment differs from that of the end",
                         "repeat the time of the end");
    } else if (event.kind == EventKind::Pause || event.kind == EventKind::Resume) {
        const bool pausing = event.kind == EventKind::Pause;
        if (progress.running != pausing)
            line.problem("do", pausing ? "the clock already stands still" : "the clock is already running",
                         "let pause and resume take turns");
        progress.running = !pausing;
    } else if (event.kind == EventKind::End) {
        progress.end = event.t;
    }
    progress.t = std::max(progress.t, event.t);
    attempt.events.push_back(std::move(event));
}

std::string quoted(const std::string& text) {
    return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

/// Builds one JSON object with keys in the order in which they are added.
class ObjectText {
public:
    ObjectText& raw(std::string_view key, const std::string& value) {
        m_text += (m_text.size() > 1 ? ",\"" : "\"") + std::string(key) + "\":" + value;
        return *this;
    }
    ObjectText& text(std::string_view key, const std::string& value) { return raw(key, quoted(value)); }
    ObjectText& textIf(std::string_view key, const std::string& value) {
        return value.empty() ? *this : text(key, value);
    }
    ObjectText& number(std::string_view key, double value) { return raw(key, shortestText(value)); }
    ObjectText& numberIf(std::string_view key, const std::optional<double>& value) {
        return value ? number(key, *value) : *this;
    }
    ObjectText& list(std::string_view key, const std::vector<std::string>& values) {
        std::string text = "[";
        for (const std::string& value : values) text += (text.size() > 1 ? "," : "") + quoted(value);
        return raw(key, text + "]");
    }
    [[nodiscard]] std::string done() const { return m_text + "}"; }

private:
    std::string m_text = "{";
};

}  // namespace

Result<Attempt> readAttempt(std::string_view jsonl, const std::string& name) {
    Report report(name);
    Attempt attempt;
    if (jsonl.size() > kMaxAttemptBytes) {
        report.add(0, {}, {}, "the document is larger than 32 MiB",
                   "split it; one attempt is a few hundred lines");
        return fail("the attempt cannot be read", std::move(report.problems()));
    }
    if (jsonl.starts_with("\xEF\xBB\xBF")) jsonl.remove_prefix(3);
    if (jsonl.empty()) report.add(1, {}, {}, "the document is empty", "begin with the header line");
    Progress progress;
    int number = 0;
    while (!jsonl.empty() && !report.full()) {
        ++number;
        const auto end = jsonl.find('\n');
        std::string_view text = jsonl.substr(0, end);
        jsonl.remove_prefix(end == std::string_view::npos ? jsonl.size() : end + 1);
        if (text.ends_with('\r')) text.remove_suffix(1);
        if (static_cast<std::size_t>(number) > kMaxAttemptEvents + 1) {
            report.add(number, {}, {}, "the document has more than 200,000 events", "shorten it");
            break;
        }
        if (text.size() > kMaxLineBytes) {
            report.add(number, {}, {}, "the line is longer than 512 KiB", "write one event on each line");
            break;
        }
        if (text.empty()) {
            report.add(number, {}, {}, "the line is empty", "write one JSON object on each line");
            continue;
        }
        auto object = parseLine(report, number, text);
        if (!object) {
            // Keep the count, so that later lines are not blamed for it.
            if (number > 1) {
                Event unreadable;
                unreadable.n = static_cast<int>(attempt.events.size()) + 1;
                unreadable.t = progress.t;
                attempt.events.push_back(std::move(unreadable));
            }
            continue;
        }
        Line line(report, number, std::move(*object));
        if (number == 1)
            readHeader(line, attempt.header);
        else
            readEvent(line, attempt, progress);
    }
    if (!report.problems().empty()) return fail("the attempt cannot be read", std::move(report.problems()));
    return attempt;
}

std::vector<Problem> checkAgainstRubric(const Attempt& attempt, const Rubric& rubric,
                                        const std::string& name) {
    Report report(name);
    const AttemptHeader& header = attempt.header;
    if (header.rubric != rubric.id)
        report.add(1, "rubric", header.rubric, "the attempt is for rubric \"" + header.rubric + "\"",
                   "score it with that rubric, not with \"" + rubric.id + "\"");
    if (header.edition != rubric.edition)
        report.add(1, "edition", std::to_string(header.edition),
                   "the attempt is for edition " + std::to_string(header.edition),
                   "score it with that edition, not with " + std::to_string(rubric.edition));
    for (const std::string& zone : header.zones)
        if (rubric.zone(zone) == nullptr)
            report.add(1, "zones", zone, "unknown zone \"" + zone + "\"", "use a zone of the rubric");
    for (const std::string& tag : header.equipment)
        if (std::ranges::find(rubric.equipment, tag, &std::pair<std::string, std::string>::first) ==
            rubric.equipment.end())
            report.add(1, "equipment", tag, "unknown equipment \"" + tag + "\"", "use a tag of the rubric");
    for (const auto& [id, bounds] : header.limits)
        if (rubric.limit(id) == nullptr)
            report.add(1, "limits", id, "unknown limit \"" + id + "\"", "use a limit of the rubric");

    std::set<std::string_view> inScope;
    for (const Step* step : stepsInScope(rubric, header)) inScope.insert(step->id);
    for (const Event& event : attempt.events) {
        if (event.step.empty() || report.full()) continue;
        const int line = event.n + 1;
        const Step* step = rubric.step(event.step);
        if (step == nullptr) {
            report.add(line, "step", event.step, "unknown step \"" + event.step + "\"",
                       "use a step of the rubric");
            continue;
        }
        if (!inScope.contains(event.step)) {
            report.add(line, "step", event.step,
                       "step \"" + event.step + "\" is not in scope of this attempt",
                       "name its zone in the header and the equipment that it needs, or leave the event out");
            continue;
        }
        if (!event.point.empty() && std::ranges::find(step->say, event.point, &Point::id) == step->say.end())
            report.add(line, "point", event.point,
                       "step \"" + event.step + "\" has no point \"" + event.point + "\"",
                       "use a point of the step");
        if (event.kind != EventKind::Reading) continue;
        // A number measured where the rubric sets no limit is a fact like any other.
        const auto limit = readingLimit(rubric, header, *step);
        if (limit && limit->unit != event.unit)
            report.add(line, "unit", event.unit, "the reading is in another unit than its limit",
                       "give it in " + limit->unit);
    }
    return std::move(report.problems());
}

std::string writeHeaderLine(const AttemptHeader& header) {
    ObjectText object;
    object.text("format", std::string(kFormat))
        .text("id", header.id)
        .text("rubric", header.rubric)
        .number("edition", header.edition)
        .text("trainee", header.trainee)
        .text("instructor", header.instructor)
        .text("bus", header.bus)
        .list("equipment", header.equipment)
        .list("zones", header.zones);
    if (!header.limits.empty()) {
        ObjectText limits;
        for (const auto& [id, bounds] : header.limits)
            limits.raw(quoted(id).substr(1, quoted(id).size() - 2),
                       ObjectText().numberIf("low", bounds.low).numberIf("high", bounds.high).done());
        object.raw("limits", limits.done());
    }
    return object.text("started", header.started).textIf("of", header.of).done();
}

std::string writeEventLine(const Event& event) {
    ObjectText object;
    object.number("n", event.n).number("t", event.t).text("do", std::string(toWord(event.kind)));
    object.textIf("step", event.step)
        .textIf("point", event.point)
        .numberIf("value", event.value)
        .numberIf("low", event.low)
        .numberIf("high", event.high)
        .textIf("unit", event.unit);
    if (event.kind == EventKind::Note)
        object.text("text", event.text);
    else
        object.textIf("text", event.text);
    if (event.kind == EventKind::Retract) object.number("event", event.retracts);
    return object.textIf("by", event.by).textIf("at", event.at).done();
}

std::string writeAttempt(const Attempt& attempt) {
    std::string text = writeHeaderLine(attempt.header) + "\n";
    for (const Event& event : attempt.events) text += writeEventLine(event) + "\n";
    return text;
}

}  // namespace markerlamp::core
