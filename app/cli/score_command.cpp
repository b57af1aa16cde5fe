// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp score`: attempt documents against a rubric document. Nothing is printed on standard output
// unless every document is sound.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "core/attempt/attempt_document.h"
#include "core/base/files.h"
#include "core/rubric/rubric_reader.h"
#include "core/scoring/scorecard.h"

#include <QString>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp score --rubric RUBRIC ATTEMPT... [--json]\n\n"
    "Scores attempt documents (*.attempt.jsonl) against a rubric (*.rubric.yaml) and prints their\n"
    "scorecards in the order given. When any document is refused, every problem of all of them is listed\n"
    "on standard error with file and line, and nothing is printed.\n\n"
    "  --rubric RUBRIC  the rubric, of the edition that the attempts name\n"
    "  --json           one card a line (markerlamp.scorecard/1) instead of text\n"
    "  --help           this text\n\n"
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 the machine failed.\n\n"
    "Training support only: the official test, the state's manual, the vehicle maker's limits and the\n"
    "program's safety rules decide.\n";

/// "label  a, b, c" on a line of its own; nothing when there are none.
void listLine(std::string& text, const char* label, const std::vector<std::string>& ids) {
    if (ids.empty()) return;
    std::string line;
    for (const std::string& id : ids) line += (line.empty() ? "" : ", ") + id;
    text += QStringLiteral("  %1 %2\n")
                .arg(QLatin1String(label), -10)
                .arg(QString::fromStdString(line))
                .toStdString();
}

std::vector<std::string> stepsWith(const core::Scorecard& card, core::StepOutcome outcome) {
    std::vector<std::string> ids;
    for (const core::StepScore& step : card.steps)
        if (step.outcome == outcome) ids.push_back(step.step);
    return ids;
}

QString oneDecimal(double value) {
    return QString::number(value, 'f', 1);
}

std::string toText(const core::Scorecard& card, const core::Rubric& rubric, const std::string& file) {
    std::string text = file + ": " + std::string(core::toWord(card.result)) + "\n";
    const auto line = [&](const char* label, const QString& value) {
        text += QStringLiteral("  %1 %2\n").arg(QLatin1String(label), -10).arg(value).toStdString();
    };
    line("percent", QStringLiteral("%1 (%2 of %3; %4 to pass)")
                        .arg(oneDecimal(card.percent))
                        .arg(card.earned)
                        .arg(card.possible)
                        .arg(rubric.pass.percent));
    line("shown", QStringLiteral("%1 percent, said %2 percent")
                      .arg(oneDecimal(card.shownPercent), oneDecimal(card.saidPercent)));
    int mustPass = 0;
    int mustPassMet = 0;
    for (const core::StepScore& score : card.steps) {
        const core::Step* step = rubric.step(score.step);
        if (step == nullptr || !step->mustPass) continue;
        ++mustPass;
        if (score.outcome == core::StepOutcome::Satisfied) ++mustPassMet;
    }
    if (mustPass > 0) line("must-pass", QStringLiteral("%1 of %2 satisfied").arg(mustPassMet).arg(mustPass));
    line("order", QStringLiteral("%1 percent").arg(oneDecimal(card.orderPercent)));
    listLine(text, "displaced", card.displaced);
    listLine(text, "broken", card.brokenRules);
    for (const auto outcome :
         {core::StepOutcome::Wrong, core::StepOutcome::Omitted, core::StepOutcome::Partial,
          core::StepOutcome::Prompted, core::StepOutcome::Unseen, core::StepOutcome::Unreached})
        listLine(text, core::toWord(outcome).data(), stepsWith(card, outcome));
    const auto seconds = std::llround(card.seconds);
    line("time", QStringLiteral("%1:%2").arg(seconds / 60).arg(seconds % 60, 2, 10, QLatin1Char('0')));
    std::vector<std::string> reasons;
    for (const core::Reason& reason : card.reasons) {
        std::string entry(core::toWord(reason.code));
        if (!reason.step.empty()) entry += " " + reason.step;
        if (!reason.rule.empty()) entry += " " + reason.rule;
        reasons.push_back(entry);
    }
    listLine(text, "reasons", reasons);
    return text;
}

/// Everything that is wrong with the documents, so that it can be told in one go.
class Complaints {
public:
    void add(core::Error error) {
        m_worst = std::max(m_worst, reportError(error));
        ++m_documents;
    }
    [[nodiscard]] bool any() const { return m_documents > 0; }
    [[nodiscard]] int exitCode() const { return m_worst; }
    [[nodiscard]] int documents() const { return m_documents; }

private:
    int m_worst = kDone;
    int m_documents = 0;
};

}  // namespace

int scoreCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, {"--rubric"});
    if (!arguments.problem().empty()) return wrongUsage("score", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp);
    const std::string rubricPath = arguments.value("--rubric").value_or("");
    if (rubricPath.empty()) return wrongUsage("score", "--rubric RUBRIC is missing", kHelp);
    const Words& paths = arguments.rest();
    if (paths.empty()) return wrongUsage("score", "no attempt is named", kHelp);

    Complaints complaints;
    std::shared_ptr<const core::Rubric> rubric;
    const auto takeRubric = [&]() -> core::Result<core::Rubric> {
        const auto text = core::readDocument(rubricPath, core::kMaxRubricBytes);
        if (!text) return core::fail(text.error());
        return core::readRubric(*text, rubricPath);
    };
    if (auto read = takeRubric())
        rubric = std::make_shared<const core::Rubric>(std::move(*read));
    else
        complaints.add(read.error());

    std::vector<core::Attempt> attempts;
    for (const std::string& name : paths) {
        const auto text = core::readDocument(name, core::kMaxAttemptBytes);
        if (!text) {
            complaints.add(text.error());
            continue;
        }
        auto attempt = core::readAttempt(*text, name);
        if (!attempt) {
            complaints.add(attempt.error());
            continue;
        }
        if (!rubric) continue;
        std::vector<core::Problem> problems = core::checkAgainstRubric(*attempt, *rubric, name);
        if (!problems.empty()) {
            complaints.add(
                {core::ErrorKind::Refused, name + " does not fit the rubric", {}, std::move(problems)});
            continue;
        }
        attempts.push_back(std::move(*attempt));
    }
    if (complaints.any()) {
        std::fprintf(stderr, "markerlamp: nothing was scored, documents refused: %d of %d\n",
                     complaints.documents(), static_cast<int>(paths.size()) + 1);
        return complaints.exitCode();
    }

    const core::Scorer scorer(rubric);
    std::string output;
    for (std::size_t i = 0; i < attempts.size(); ++i) {
        const core::Scorecard card = scorer.score(attempts[i]);
        output += arguments.has("--json") ? core::toJson(card) + "\n" : toText(card, *rubric, paths[i]);
    }
    std::fwrite(output.data(), 1, output.size(), stdout);
    return kDone;
}

}  // namespace markerlamp::app
