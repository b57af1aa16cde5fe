#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Everything that the debrief shows, worked out without a window: counts, facts, what to say next time, the
// plan, the order, notes, and the amendments.

#include "app/debrief/order_picture.h"
#include "core/attempt/recorder.h"
#include "core/history/history.h"
#include "forms/signs/signs.h"

#include <QString>
#include <QStringList>

#include <vector>

namespace markerlamp::app {

class Session;

struct MustPassFact {
    QString text;
    forms::LampState state = forms::LampState::Open;  ///< Lit = met, Open = not, Half = not observed
};

struct PlanFact {
    QString title;
    int column = 0;
    int row = 0;
    int satisfied = 0;
    int observed = 0;
    bool inScope = false;
    bool weak = false;  ///< under the pass mark
};

struct MissedLine {
    int rank = 0;
    core::SayNext say;
    forms::SignState sign;
    QString lampWords;  ///< "shown, 2 of 3 points"
    QString sentence;   ///< rich text: what to say or show next time
    QString missing;    ///< the same, plain and short, for the table
    QString caution;    ///< of the step
};

struct NoteLine {
    QString kind;
    QString step;
    QString text;
};

struct Amendment {
    QString by;
    QString at;
    QString reason;
};

/// One number of the result strip.
struct CountFact {
    int count = 0;
    QString words;
};

struct Debrief {
    QString attempt;
    QString traineeKey;
    QString traineeName;
    QString code;    ///< by which another instructor names the attempt
    int number = 0;  ///< of the trainee's attempts; 0 when it is not one that counts
    QStringList facts;
    QString result;
    QString resultLine;
    QString reasons;
    std::vector<CountFact> counts;
    std::vector<MustPassFact> mustPass;
    std::vector<MissedLine> missed;  ///< ranked; the first five are said, the rest is the table
    std::vector<PlanFact> plan;
    int planRows = 3;
    double passPercent = 0;
    OrderPicture order;
    std::vector<NoteLine> notes;
    std::vector<Amendment> amendments;
    bool ended = true;
    core::ScoredAttempt scored;
};

/// How many lines stand in "say next time"; the table goes on from there.
inline constexpr int kSayNextLines = 5;

struct DebriefNames {
    QString trainee;
    QString instructor;
    QString bus;
};

/// history: oldest first; its last entry is the attempt. counted: it is one of the trainee's numbered
/// attempts.
[[nodiscard]] Debrief makeDebrief(const std::vector<core::ScoredAttempt>& history, const DebriefNames& names,
                                  bool counted = true);
/// Reads what it needs from the file.
[[nodiscard]] core::Result<Debrief> loadDebrief(Session& session, const QString& attemptId);

struct OutcomeChange {
    QString step;
    core::Outcome outcome = core::Outcome::Both;
    bool prompted = false;  ///< with help
    bool wrong = false;     ///< something wrong was said or done, whatever else; no outcome then
};

/// The events of an amendment: the reason as a note, then each change, all with who and when. The attempt
/// must be ended; refuses an empty reason.
[[nodiscard]] core::Result<std::vector<core::Event>> amendmentEvents(
    const core::ScoredAttempt& scored, const std::vector<OutcomeChange>& changes, const QString& reason,
    const QString& by, const std::string& at);

/// "shown, 2 of 3 points said, prompted once".
[[nodiscard]] QString marksWords(const core::StepMarks& marks);

}  // namespace markerlamp::app
