// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/track/track_reader.h"

#include "app/readiness/program_readiness.h"

namespace markerlamp::app {

namespace {

constexpr double kReading = 0.2;  ///< of the way, for reading and scoring the attempts

}  // namespace

void readTrack(TrackReader::Promise& promise, db::ProgramFile& file) {
    auto readiness = ProgramReadiness::read(file, TrackReader::part(promise, 0, kReading));
    if (promise.isCanceled()) return;
    if (!readiness) {
        promise.addResult(core::fail(readiness.error()));
        return;
    }
    TrackReading reading;
    reading.frozen = (*readiness)->frozen();
    promise.addResult(reading);
    core::TrackRecord replayed = (*readiness)->replayed(TrackReader::part(promise, kReading, 1));
    if (promise.isCanceled()) return;
    reading.replayed = std::move(replayed);
    promise.addResult(std::move(reading));
}

}  // namespace markerlamp::app
