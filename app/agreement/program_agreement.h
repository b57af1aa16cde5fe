#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a program file says about second scorings: the pairs, what was settled, how far instructors agree.
// Shared by window and command line. Holds nothing of a pair of which one scoring is still open.

#include "core/agreement/kept_choices.h"
#include "core/agreement/settlement.h"
#include "core/agreement/shared_attempts.h"
#include "core/agreement/strictness.h"
#include "db/program_file.h"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::app {

/// The closed scorings of attempts that have more than one: first ones and second ones, no settled records.
[[nodiscard]] core::Result<std::vector<core::ScoredAttempt>> scoringsToCompare(db::ProgramFile& file);

/// A second scoring with its first, both closed.
struct PairOnFile {
    core::ScoredAttempt first, second;
    std::optional<core::Settlement> settled;      ///< the newest record of this pair
    std::optional<core::Attempt> settledAttempt;  ///< what it holds
    core::Choices kept;                           ///< chosen since, and not settled yet
};

/// A second scoring that cannot be compared yet.
struct WaitingScoring {
    enum class Why { SecondOpen, FirstOpen, FirstMissing, OtherEdition } why = Why::FirstMissing;
    std::string id;
    std::string code;  ///< of the attempt it is of
};

struct ProgramAgreement {
    std::vector<PairOnFile> pairs;  ///< newest first scoring first
    std::vector<WaitingScoring> waiting;
    std::vector<core::SharedAttempt> shared;
    core::Agreement shown, said;  ///< over all pairs
    std::vector<core::DisputedStep> disputed;
    int instructors = 0;  ///< who closed a scoring
};
/// Without the strictness of instructors, which takes a fit: see funnelOf().
[[nodiscard]] core::Result<ProgramAgreement> readAgreement(db::ProgramFile& file);
/// Nothing when progress said stop.
[[nodiscard]] core::Result<std::optional<core::StrictnessFunnel>> funnelOf(
    db::ProgramFile& file, const ProgramAgreement& agreement, const std::function<bool(double)>& progress);

/// A pair that differs and was not settled.
struct OpenPair {
    std::string trainee, first, second;
};
/// @param goOn asked before each pair; false ends it with what was found so far
[[nodiscard]] core::Result<std::vector<OpenPair>> openPairs(db::ProgramFile& file,
                                                            const std::function<bool()>& goOn);

/// Keeps what was chosen for a pair until its record is settled, as a fact of the file of its own
/// (`draft.settling.FIRST.SECOND`). It goes into no export. No choices: nothing is kept.
[[nodiscard]] core::Result<void> keepChoices(db::ProgramFile& file, const std::string& first,
                                             const std::string& second, const core::Choices& choices);
[[nodiscard]] core::Result<core::Choices> keptChoices(db::ProgramFile& file, const std::string& first,
                                                      const std::string& second);

/// Stores what was settled: the attempt that holds it and the record, and takes away what was kept until
/// then; all of it or nothing.
[[nodiscard]] core::Result<void> storeSettlement(db::ProgramFile& file, const core::Attempt& attempt,
                                                 const core::Settlement& settlement);

}  // namespace markerlamp::app
