// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/outcomes.h"

#include "core/base/text.h"
#include "core/people/people_table.h"
#include "core/people/person_file.h"

#include <algorithm>
#include <set>
#include <tuple>

namespace markerlamp::core {

namespace {

using Row = std::vector<std::string>;
using What = std::tuple<std::string, std::string, std::string, bool>;

const Row kColumns{"trainee", "date", "segment", "result", "note"};
constexpr std::string_view kPass = "pass";
constexpr std::string_view kFail = "fail";
constexpr std::size_t kMostKey = 200;
constexpr std::size_t kMostNote = 20'000;

What whatOf(const TestResult& result) {
    return {result.trainee, result.date, result.segment, result.passed};
}

std::string idOf(const TestResult& result) {
    std::string text;
    // No field holds a control character, so no two rows run together.
    for (const std::string& field : {result.trainee, result.date, result.segment})
        text.append(field).append(1, '\x1f');
    return "outcome-" + hashText(text.append(result.passed ? kPass : kFail));
}

class Reader {
public:
    Reader(std::string_view csv, const std::string& name, const std::vector<Trainee>& known,
           const std::vector<TestResult>& onFile)
        : m_table(csv, name, kColumns, {"trainee", "date", "segment", "result"}),
          m_segments(kSegments.begin(), kSegments.end()) {
        for (const Trainee& trainee : known) m_trainees.push_back(trainee.key);
        for (const TestResult& result : onFile) {
            m_seen.insert(whatOf(result));
            if (std::ranges::find(m_segments, result.segment) == m_segments.end())
                m_segments.push_back(result.segment);
        }
        m_table.begin();
    }

    Result<Outcomes> read() {
        Outcomes outcomes;
        for (std::size_t row = 0; row < m_table.rows(); ++row) {
            ++outcomes.rows;
            TestResult result = readRow(row);
            if (m_seen.insert(whatOf(result)).second) outcomes.results.push_back(std::move(result));
        }
        if (!m_table.good()) return m_table.refusal();
        for (TestResult& result : outcomes.results) result.id = idOf(result);
        return outcomes;
    }

private:
    TestResult readRow(std::size_t row) {
        TestResult result;
        result.trainee = oneOf(row, "trainee", m_trainees, "is no trainee of this program",
                               "take the person in first, or correct the key");
        m_table.takeDate(result.date, row, "date");
        if (result.date.empty())
            m_table.problem(row, "date", {}, "\"date\" is empty", "write it like 2026-03-31");
        result.segment =
            oneOf(row, "segment", m_segments, "is no segment of the test", "use " + listed(m_segments));
        result.passed = oneOf(row, "result", {std::string(kPass), std::string(kFail)}, "is no result",
                              "write pass or fail") == kPass;
        m_table.take(result.note, row, "note", kMostNote);
        return result;
    }

    std::string oneOf(std::size_t row, const std::string& column, const std::vector<std::string>& known,
                      const std::string& message, const std::string& remedy) {
        std::string value = m_table.text(row, column, kMostKey, true);
        if (!value.empty() && std::ranges::find(known, value) == known.end()) {
            const std::string near = nearest(value, known);
            m_table.problem(row, column, value, "\"" + value + "\" " + message,
                            near.empty() ? remedy : "did you mean \"" + near + "\"?");
        }
        return value;
    }

    PeopleTable m_table;
    std::vector<std::string> m_trainees;
    std::vector<std::string> m_segments;
    std::set<What> m_seen;
};

}  // namespace

Result<Outcomes> readOutcomesCsv(std::string_view csv, const std::string& name,
                                 const std::vector<Trainee>& known, const std::vector<TestResult>& onFile) {
    return Reader(csv, name, known, onFile).read();
}

std::string writeOutcomesCsv(const std::vector<TestResult>& results) {
    std::vector<Row> rows;
    for (const TestResult& result : results)
        rows.push_back({result.trainee, result.date, result.segment,
                        std::string(result.passed ? kPass : kFail), result.note});
    return writeCsv(kColumns, rows);
}

}  // namespace markerlamp::core
