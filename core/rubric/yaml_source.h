#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Typed, bounded access to a YAML document that collects every problem with line and path instead of stopping
// at the first. Private to the readers of core/rubric.

#include "core/base/result.h"

#include <yaml-cpp/yaml.h>

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

class YamlReport {
public:
    explicit YamlReport(std::string file) : m_file(std::move(file)) {}
    void add(int line, std::string path, std::string id, std::string message, std::string remedy);
    [[nodiscard]] bool empty() const { return m_problems.empty(); }
    /// Further problems are not kept.
    [[nodiscard]] bool full() const;
    /// In document order.
    [[nodiscard]] std::vector<Problem> take();

private:
    std::string m_file;
    std::vector<Problem> m_problems;
};

/// Parses after looking at size, encoding, nesting, aliases and control characters; nothing is parsed that
/// fails.
[[nodiscard]] std::optional<YAML::Node> parseYaml(std::string_view yaml, std::size_t mostBytes,
                                                  YamlReport& report);

/// One mapping of the document. Keys are checked for doubles when it is made.
class YamlMap {
public:
    YamlMap(const YAML::Node& node, std::string path, YamlReport& report);

    [[nodiscard]] bool has(std::string_view key) const;
    [[nodiscard]] const std::vector<std::string>& keys() const { return m_keys; }
    [[nodiscard]] const std::string& path() const { return m_path; }
    /// key empty: the mapping itself.
    void problem(std::string_view key, std::string id, std::string message, std::string remedy);
    /// Refuses every other key and names the nearest allowed one.
    void only(std::initializer_list<const char*> allowed);

    std::string text(const char* key, bool required);
    std::optional<double> number(const char* key, bool required = false);
    std::optional<int> integer(const char* key, bool required, int least, int most);
    bool flag(const char* key, bool otherwise);
    std::vector<std::string> texts(const char* key, bool required);
    std::optional<YamlMap> map(const char* key, bool required);
    /// The mappings of a list; entries that are none are reported and left out.
    std::vector<YamlMap> maps(const char* key, bool required, std::size_t most);
    /// Path of the entry `index` of the list under `key`.
    [[nodiscard]] std::string pathOf(std::string_view key) const;

private:
    [[nodiscard]] YAML::Node node(std::string_view key) const;

    YAML::Node m_node;
    std::string m_path;
    YamlReport* m_report;
    std::vector<std::string> m_keys;
    std::vector<YAML::Node> m_keyNodes;
    std::vector<YAML::Node> m_values;
};

}  // namespace markerlamp::core
