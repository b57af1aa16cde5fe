#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads the track record of a program file in the background.

#include "app/support/file_reader.h"
#include "core/readiness/track_record.h"

#include <optional>

namespace markerlamp::app {

/// What is known so far: the frozen forecasts come first, the past replayed takes longer.
struct TrackReading {
    core::TrackRecord frozen;
    std::optional<core::TrackRecord> replayed;
};

using TrackReader = FileReader<TrackReading>;
void readTrack(TrackReader::Promise& promise, db::ProgramFile& file);

}  // namespace markerlamp::app
