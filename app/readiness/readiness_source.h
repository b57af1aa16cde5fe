#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Where the desk has its answers from: the program file, read on a connection of its own; tests have another.
// Every call is made on the desk's worker thread, one at a time.

#include "app/readiness/program_readiness.h"

#include <filesystem>
#include <functional>
#include <memory>
#include <string>

namespace markerlamp::app {

struct ReadinessAnswer {
    core::Readiness readiness;
    std::shared_ptr<const core::DrillPlanner>
        planner;         ///< nullptr: not asked for, or there is nothing to plan
    std::string rubric;  ///< what the forecast is about; empty: not known
    int edition = 0;
    std::optional<Outlook> outlook;  ///< nothing: too little is known
};

class ReadinessSource {
public:
    using Progress = ProgramReadiness::Progress;

    virtual ~ReadinessSource() = default;
    /// @param now day, see core::dayOf()
    /// A stop asked for by progress is an error of kind Usage with an empty message.
    virtual core::Result<ReadinessAnswer> answer(const std::string& trainee, double now, bool withPlanner,
                                                 const Progress& progress) = 0;
};

/// Reads all that is needed; called again whenever the file has changed.
using ReadinessOpener =
    std::function<core::Result<std::unique_ptr<ReadinessSource>>(const ReadinessSource::Progress&)>;

/// Opens the file for reading only.
[[nodiscard]] ReadinessOpener readinessOf(const std::filesystem::path& programFile);

/// What progress means when it says stop.
[[nodiscard]] bool wasStopped(const core::Error& error);

}  // namespace markerlamp::app
