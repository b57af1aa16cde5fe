// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp score`: attempt documents against a rubric document. Nothing is printed on standard output
// unless every document is sound.

#include "core/attempt/attempt_document.h"
#include "core/rubric/rubric_reader.h"
#include "core/scoring/scorecard.h"

#include "app/cli/command_line.h"

#include <QFile>
#include <QString>
#include <QStringList>

#include <algorithm>
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
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 a file could not be read or written.\n\n"
    "Training support only: the official test, the state's manual, the vehicle maker's limits and the\n"
    "program's safety rules decide.\n";

struct Request {
    QString rubric;
    QStringList attempts;
    bool json = false;
    bool help = false;
};

core::Result<Request> parse(const QStringList& arguments) {
    Request request;
    bool optionsEnded = false;
    const auto wrong = [](const QString& message) {
        return core::fail(core::ErrorKind::Usage, message.toStdString() + "; see `markerlamp score --help`");
    };
    for (int i = 0; i < arguments.size(); ++i) {
        const QString& argument = arguments[i];
        if (optionsEnded || !argument.startsWith(QLatin1Char('-'))) {
            request.attempts << argument;
        } else if (argument == QLatin1String("--")) {
            optionsEnded = true;
        } else if (argument == QLatin1String("--help") || argument == QLatin1String("-h")) {
            request.help = true;
            return request;
        } else if (argument == QLatin1String("--json")) {
            request.json = true;
        } else if (argument == QLatin1String("--rubric") || argument.startsWith(QLatin1String("--rubric="))) {
            if (!request.rubric.isEmpty()) return wrong(QStringLiteral("--rubric is given twice"));
            const bool joined = argument.contains(QLatin1Char('='));
            if (!joined && i + 1 < arguments.size())
                request.rubric = arguments[++i];
            else if (joined)
                request.rubric = argument.section(QLatin1Char('='), 1);
            if (request.rubric.isEmpty()) return wrong(QStringLiteral("--rubric needs a file"));
        } else {
            return wrong(QStringLiteral("unknown option %1").arg(argument));
        }
    }
    if (request.rubric.isEmpty()) return wrong(QStringLiteral("--rubric RUBRIC is missing"));
    if (request.attempts.isEmpty()) return wrong(QStringLiteral("no attempt is named"));
    return request;
}

/// The whole file, or one byte more than `most` where it is larger, so that the reader refuses it.
core::Result<std::string> readFile(const QString& path, std::size_t most) {
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly))
        return core::fail(core::ErrorKind::Machine,
                          "cannot read " + path.toStdString() + ": " + file.errorString().toStdString());
    const QByteArray bytes = file.read(static_cast<qint64>(most) + 1);
    if (file.error() != QFileDevice::NoError)
        return core::fail(core::ErrorKind::Machine,
                          "cannot read " + path.toStdString() + ": " + file.errorString().toStdString());
    return bytes.toStdString();
}

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

std::string toText(const core::Scorecard& card, const core::Rubric& rubric, const QString& file) {
    const QString result = QString::fromUtf8(core::toWord(card.result).data());
    std::string text = QStringLiteral("%1: %2\n").arg(file, result).toStdString();
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
    const auto seconds = static_cast<long long>(card.seconds + 0.5);
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

int scoreCommand(const QStringList& arguments) {
    const core::Result<Request> request = parse(arguments);
    if (!request) return reportError(request.error());
    if (request->help) {
        std::fputs(kHelp, stdout);
        return kDone;
    }

    Complaints complaints;
    std::shared_ptr<const core::Rubric> rubric;
    const auto takeRubric = [&]() -> core::Result<core::Rubric> {
        const auto text = readFile(request->rubric, core::kMaxRubricBytes);
        if (!text) return core::fail(text.error());
        return core::readRubric(*text, request->rubric.toStdString());
    };
    if (auto read = takeRubric())
        rubric = std::make_shared<const core::Rubric>(std::move(*read));
    else
        complaints.add(read.error());

    std::vector<core::Attempt> attempts;
    for (const QString& path : request->attempts) {
        const std::string name = path.toStdString();
        const auto text = readFile(path, core::kMaxAttemptBytes);
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
                     complaints.documents(), static_cast<int>(request->attempts.size()) + 1);
        return complaints.exitCode();
    }

    const core::Scorer scorer(rubric);
    std::string output;
    for (std::size_t i = 0; i < attempts.size(); ++i) {
        const core::Scorecard card = scorer.score(attempts[i]);
        output += request->json ? core::toJson(card) + "\n"
                                : toText(card, *rubric, request->attempts[static_cast<int>(i)]);
    }
    if (std::fwrite(output.data(), 1, output.size(), stdout) != output.size() || std::fflush(stdout) != 0)
        return reportError({core::ErrorKind::Machine, "cannot write to standard output", {}, {}});
    return kDone;
}

}  // namespace markerlamp::app
