// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/yaml_source.h"

#include "core/base/text.h"

#include <yaml-cpp/eventhandler.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <sstream>
#include <unordered_set>

namespace markerlamp::core {

namespace {

constexpr std::size_t kMaxProblems = 500;
constexpr int kMaxNesting = 24;
constexpr std::size_t kMaxText = 20'000;
constexpr std::size_t kMaxNodes = 120'000;  // the largest rubric of sense has a tenth of them
constexpr std::size_t kMaxKeys = 2000;      // of one mapping
constexpr std::size_t kMaxEntries = 2000;   // of one list of texts

int lineOf(const YAML::Node& node) {
    return node.Mark().line + 1;
}

/// A plain (unquoted) scalar; yaml-cpp tags quoted ones "!".
bool isPlain(const YAML::Node& node) {
    return node.IsScalar() && node.Tag() != "!";
}

std::optional<double> asNumber(const YAML::Node& node) {
    if (!isPlain(node)) return std::nullopt;
    const std::string& text = node.Scalar();
    const char* begin = text.data();
    const char* end = begin + text.size();
    if (begin != end && *begin == '+') ++begin;
    double value = 0;
    const auto [rest, error] = std::from_chars(begin, end, value);
    if (error != std::errc() || rest != end || !std::isfinite(value) || std::abs(value) > 1e12)
        return std::nullopt;
    return value;
}

std::string shortened(const YAML::Node& node) {
    if (!node.IsScalar()) return {};
    std::string text = node.Scalar();
    if (text.size() > 60) text = text.substr(0, 57) + "...";
    return text;
}

/// Deepest nesting that the text can have: flow brackets outside quotes, and "- " and indentation of its
/// lines. yaml-cpp recurses, so it must not see more than the stack takes. Also the first anchor or alias
/// outside quotes, if any.
struct Scan {
    int deepest = 0;
    int deepestLine = 0;
    int secondLine = 0;  ///< where a second document begins
};

Scan scan(std::string_view yaml) {
    Scan found;
    int flow = 0;
    int line = 1;
    char quote = 0;
    std::vector<int> indents;
    bool begun = false;
    const auto note = [&] {
        const int depth = flow + static_cast<int>(indents.size());
        if (depth > found.deepest) {
            found.deepest = depth;
            found.deepestLine = line;
        }
    };
    bool lineStart = true;
    for (std::size_t i = 0; i < yaml.size(); ++i) {
        const char c = yaml[i];
        if (lineStart && quote == 0) {
            // Each "- " on a line opens one more level at its column.
            std::size_t at = i;
            while (at < yaml.size() && yaml[at] == ' ') ++at;
            const bool content = at < yaml.size() && yaml[at] != '\n' && yaml[at] != '\r' && yaml[at] != '#';
            if (content) {
                const std::string_view marker = yaml.substr(i, 3);
                if (begun && (marker == "---" || marker == "...") && found.secondLine == 0)
                    found.secondLine = line;
                begun = true;
            }
            if (content && flow == 0) {
                int column = static_cast<int>(at - i);
                while (!indents.empty() && indents.back() > column) indents.pop_back();
                if (indents.empty() || indents.back() < column) indents.push_back(column);
                std::size_t mark = at;
                while (mark + 1 < yaml.size() &&
                       (yaml[mark] == '-' || yaml[mark] == '?' || yaml[mark] == ':') &&
                       yaml[mark + 1] == ' ') {
                    ++mark;
                    while (mark < yaml.size() && yaml[mark] == ' ') ++mark;
                    indents.push_back(static_cast<int>(mark - i));
                    if (indents.size() > 10'000) break;
                }
                note();
            }
        }
        lineStart = false;
        if (c == '\n') {
            ++line;
            lineStart = true;
            continue;
        }
        const char before = i == 0 ? '\n' : yaml[i - 1];
        const bool starts = before == ' ' || before == '\n' || before == '[' || before == '{' ||
                            before == ',' || before == ':' || before == '-';
        if (quote != 0) {
            if (c == '\\' && quote == '"')
                ++i;
            else if (c == quote)
                quote = 0;
            continue;
        }
        if ((c == '"' || c == '\'') && starts) {
            quote = c;
        } else if (c == '[' || c == '{') {
            ++flow;
            note();
        } else if (c == ']' || c == '}') {
            flow = std::max(0, flow - 1);
        } else if (c == '#' && (before == ' ' || before == '\n')) {
            while (i + 1 < yaml.size() && yaml[i + 1] != '\n') ++i;
        }
    }
    return found;
}

/// Finds the first alias, and counts, without building anything: a few aliases can stand for more nodes than
/// memory holds, and a node takes a hundred times the bytes of its text.
class Survey final : public YAML::EventHandler {
public:
    int line = 0;
    std::size_t nodes = 0;

    void OnDocumentStart(const YAML::Mark&) override {}
    void OnDocumentEnd() override {}
    void OnNull(const YAML::Mark&, YAML::anchor_t) override { ++nodes; }
    void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override {
        if (line == 0) line = mark.line + 1;
    }
    void OnScalar(const YAML::Mark&, const std::string&, YAML::anchor_t, const std::string&) override {
        ++nodes;
    }
    void OnSequenceStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                         YAML::EmitterStyle::value) override {
        ++nodes;
    }
    void OnSequenceEnd() override {}
    void OnMapStart(const YAML::Mark&, const std::string&, YAML::anchor_t,
                    YAML::EmitterStyle::value) override {
        ++nodes;
    }
    void OnMapEnd() override {}
};

}  // namespace

void YamlReport::add(int line, std::string path, std::string id, std::string message, std::string remedy) {
    if (full()) return;
    m_problems.push_back(
        {m_file, line, std::move(path), std::move(id), std::move(message), std::move(remedy)});
}

bool YamlReport::full() const {
    return m_problems.size() >= kMaxProblems;
}

std::vector<Problem> YamlReport::take() {
    std::ranges::stable_sort(m_problems, {}, &Problem::line);
    return std::move(m_problems);
}

std::optional<YAML::Node> parseYaml(std::string_view yaml, std::size_t mostBytes, YamlReport& report) {
    if (yaml.size() > mostBytes) {
        report.add(0, {}, {}, "the document is larger than " + std::to_string(mostBytes >> 20) + " MiB",
                   "shorten it");
        return std::nullopt;
    }
    if (!isUtf8(yaml)) {
        report.add(0, {}, {}, "the document is not UTF-8", "save it as UTF-8");
        return std::nullopt;
    }
    if (yaml.find('\0') != std::string_view::npos) {
        report.add(0, {}, {}, "the document holds a zero byte", "save it as plain UTF-8 text");
        return std::nullopt;
    }
    const Scan found = scan(yaml);
    if (found.deepest > kMaxNesting) {
        report.add(found.deepestLine, {}, {},
                   "the document is nested more than " + std::to_string(kMaxNesting) + " deep",
                   "write zones, steps and points as the format has them");
        return std::nullopt;
    }
    if (found.secondLine > 0) {
        report.add(found.secondLine, {}, {}, "the text holds more than one document",
                   "keep one document in a file");
        return std::nullopt;
    }
    try {
        std::istringstream stream{std::string(yaml)};
        YAML::Parser parser(stream);
        Survey survey;
        parser.HandleNextDocument(survey);
        if (survey.nodes > kMaxNodes) {
            report.add(
                0, {}, {},
                "the document has more than " + std::to_string(kMaxNodes) + " keys, values and entries",
                "shorten it");
            return std::nullopt;
        }
        if (survey.line > 0) {
            report.add(survey.line, {}, {}, "an alias stands for a value", "write the value out");
            return std::nullopt;
        }
        // Not LoadAll: it never comes back from some broken texts, such as one that begins with a comma.
        YAML::Node document = YAML::Load(std::string(yaml));
        if (!document.IsMap()) {
            report.add(1, {}, {}, "the document is not a mapping",
                       "begin with \"format: \" and the other keys of the format");
            return std::nullopt;
        }
        return document;
    } catch (const YAML::Exception& e) {
        report.add(e.mark.line + 1, {}, {}, "not YAML: " + e.msg, "mend the text at this line");
    } catch (const std::exception& e) {
        report.add(0, {}, {}, std::string("not YAML: ") + e.what(), "mend the text");
    }
    return std::nullopt;
}

YamlMap::YamlMap(const YAML::Node& mapNode, std::string path, YamlReport& report)
    : m_node(mapNode), m_path(std::move(path)), m_report(&report) {
    std::unordered_set<std::string> seen;
    for (const auto& entry : m_node) {
        if (m_keys.size() == kMaxKeys) {
            report.add(lineOf(entry.first), m_path, {},
                       "the mapping has more than " + std::to_string(kMaxKeys) + " keys", "shorten it");
            break;
        }
        if (!entry.first.IsScalar()) {
            report.add(lineOf(entry.first), m_path, {}, "a key is not text", "write plain keys");
            continue;
        }
        const std::string key = entry.first.Scalar();
        if (!seen.insert(key).second) {
            report.add(lineOf(entry.first), pathOf(key), key, "key \"" + key + "\" stands twice",
                       "give each key once");
            continue;
        }
        m_keys.push_back(key);
        m_keyNodes.push_back(entry.first);
        m_values.push_back(entry.second);
    }
}

bool YamlMap::has(std::string_view key) const {
    return std::ranges::find(m_keys, key) != m_keys.end();
}

YAML::Node YamlMap::node(std::string_view key) const {
    const auto found = std::ranges::find(m_keys, key);
    return found == m_keys.end() ? YAML::Node(YAML::NodeType::Undefined)
                                 : m_values[static_cast<std::size_t>(found - m_keys.begin())];
}

std::string YamlMap::pathOf(std::string_view key) const {
    if (key.empty()) return m_path;
    return m_path.empty() ? std::string(key) : m_path + "." + std::string(key);
}

void YamlMap::problem(std::string_view key, std::string id, std::string message, std::string remedy) {
    int line = m_node.Mark().line + 1;
    if (const auto found = std::ranges::find(m_keys, key); found != m_keys.end()) {
        const auto index = static_cast<std::size_t>(found - m_keys.begin());
        line = lineOf(m_keyNodes[index]);
        if (m_values[index].IsScalar() && lineOf(m_values[index]) > 0) line = lineOf(m_values[index]);
    }
    m_report->add(line, pathOf(key), id.empty() ? std::string(key) : std::move(id), std::move(message),
                  std::move(remedy));
}

void YamlMap::only(std::initializer_list<const char*> allowed) {
    const std::vector<std::string> known(allowed.begin(), allowed.end());
    for (const std::string& key : m_keys) {
        if (m_report->full()) return;
        if (std::ranges::find(known, key) != known.end()) continue;
        const std::string near = nearest(key, known);
        std::string list;
        for (const std::string& k : known) list += (list.empty() ? "" : ", ") + k;
        problem(key, key, "unknown key \"" + key + "\"",
                near.empty() ? "use only " + list : "did you mean \"" + near + "\"?");
    }
}

std::string YamlMap::text(const char* key, bool required) {
    if (!has(key)) {
        if (required) problem({}, key, "\"" + std::string(key) + "\" is missing", "give it as text");
        return {};
    }
    const YAML::Node value = node(key);
    if (!value.IsScalar()) {
        problem(key, {}, "\"" + std::string(key) + "\" is not text", "write one text");
        return {};
    }
    std::string content = value.Scalar();
    while (!content.empty() && (content.back() == '\n' || content.back() == ' ')) content.pop_back();
    if (content.empty())
        problem(key, {}, "\"" + std::string(key) + "\" is empty", "give it or leave the key out");
    if (content.size() > kMaxText)
        problem(key, {}, "\"" + std::string(key) + "\" is longer than 20,000 bytes", "shorten it");
    return content;
}

std::optional<double> YamlMap::number(const char* key, bool required) {
    if (!has(key)) {
        if (required) problem({}, key, "\"" + std::string(key) + "\" is missing", "give it as a number");
        return std::nullopt;
    }
    const auto value = asNumber(node(key));
    if (!value)
        problem(key, shortened(node(key)), "\"" + std::string(key) + "\" is not a usable number",
                "give a finite number without quotes");
    return value;
}

std::optional<int> YamlMap::integer(const char* key, bool required, int least, int most) {
    if (!has(key)) {
        if (required)
            problem({}, key, "\"" + std::string(key) + "\" is missing", "give it as a whole number");
        return std::nullopt;
    }
    const auto value = asNumber(node(key));
    if (!value || *value != std::floor(*value) || *value < least || *value > most) {
        problem(key, shortened(node(key)),
                "\"" + std::string(key) + "\" is not a whole number from " + std::to_string(least) + " to " +
                    std::to_string(most),
                "give a whole number without quotes");
        return std::nullopt;
    }
    return static_cast<int>(*value);
}

bool YamlMap::flag(const char* key, bool otherwise) {
    if (!has(key)) return otherwise;
    const YAML::Node value = node(key);
    if (isPlain(value) && (value.Scalar() == "true" || value.Scalar() == "True" || value.Scalar() == "TRUE"))
        return true;
    if (isPlain(value) &&
        (value.Scalar() == "false" || value.Scalar() == "False" || value.Scalar() == "FALSE"))
        return false;
    problem(key, shortened(value), "\"" + std::string(key) + "\" is neither true nor false",
            "write true or false");
    return otherwise;
}

std::vector<std::string> YamlMap::texts(const char* key, bool required) {
    std::vector<std::string> list;
    if (!has(key)) {
        if (required) problem({}, key, "\"" + std::string(key) + "\" is missing", "give a list of texts");
        return list;
    }
    const YAML::Node value = node(key);
    if (!value.IsSequence()) {
        problem(key, shortened(value), "\"" + std::string(key) + "\" is not a list", "write it as [a, b]");
        return list;
    }
    if (value.size() > kMaxEntries) {
        problem(key, {},
                "\"" + std::string(key) + "\" has more than " + std::to_string(kMaxEntries) + " entries",
                "shorten it");
        return list;
    }
    for (std::size_t i = 0; i < value.size(); ++i) {
        const YAML::Node item = value[i];
        if (!item.IsScalar() || item.Scalar().empty() || item.Scalar().size() > 2000)
            m_report->add(lineOf(item), pathOf(key) + "[" + std::to_string(i) + "]", shortened(item),
                          "the entry is not a text", "write one text");
        else
            list.push_back(item.Scalar());
    }
    return list;
}

std::optional<YamlMap> YamlMap::map(const char* key, bool required) {
    if (!has(key)) {
        if (required) problem({}, key, "\"" + std::string(key) + "\" is missing", "give it with its keys");
        return std::nullopt;
    }
    const YAML::Node value = node(key);
    if (!value.IsMap()) {
        problem(key, shortened(value), "\"" + std::string(key) + "\" is not a mapping",
                "write its keys under it");
        return std::nullopt;
    }
    return YamlMap(value, pathOf(key), *m_report);
}

std::vector<YamlMap> YamlMap::maps(const char* key, bool required, std::size_t most) {
    std::vector<YamlMap> list;
    if (!has(key)) {
        if (required) problem({}, key, "\"" + std::string(key) + "\" is missing", "give at least one entry");
        return list;
    }
    const YAML::Node value = node(key);
    if (!value.IsSequence()) {
        problem(key, shortened(value), "\"" + std::string(key) + "\" is not a list",
                "write entries that begin with \"- \"");
        return list;
    }
    if (required && value.size() == 0)
        problem(key, {}, "\"" + std::string(key) + "\" is empty", "give at least one entry");
    if (value.size() > most) {
        problem(key, {}, "\"" + std::string(key) + "\" has more than " + std::to_string(most) + " entries",
                "shorten it");
        return list;
    }
    for (std::size_t i = 0; i < value.size(); ++i) {
        const YAML::Node item = value[i];
        const std::string path = pathOf(key) + "[" + std::to_string(i) + "]";
        if (!item.IsMap())
            m_report->add(lineOf(item), path, shortened(item), "the entry is not a mapping",
                          "write its keys");
        else
            list.emplace_back(item, path, *m_report);
    }
    return list;
}

}  // namespace markerlamp::core
