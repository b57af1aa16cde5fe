#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Stores presses on a thread of its own: input never waits for the disk. Each press is one committed and
// synced transaction, in order. When a write fails the presses stay in memory and in a spill file beside the
// program file, and are tried again until they are stored.

#include "core/attempt/attempt.h"
#include "core/base/result.h"

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace markerlamp::db {

class EventWriter {
public:
    /// Called on the writer's thread. `upTo`: every ticket up to this one is durable now.
    using Stored = std::function<void(std::uint64_t upTo)>;
    /// Called on the writer's thread when the state changes: an error when writing fails, none when it works
    /// again.
    using Trouble = std::function<void(const core::Error* error, std::size_t waiting)>;

    struct Options {
        std::chrono::milliseconds retryFirst{250};
        std::chrono::milliseconds retryMost{5000};
    };

    EventWriter(std::filesystem::path programFile, Stored stored, Trouble trouble);
    EventWriter(std::filesystem::path programFile, Stored stored, Trouble trouble, Options options);
    /// Stops; what could not be stored stays in the spill file.
    ~EventWriter();
    EventWriter(const EventWriter&) = delete;
    EventWriter& operator=(const EventWriter&) = delete;

    /// Never blocks on the disk. Returns the ticket of the press, counting up from 1.
    std::uint64_t startAttempt(core::AttemptHeader header);
    /// @param by who has signed in, for the trail; empty: nobody
    std::uint64_t append(std::string attemptId, std::vector<core::Event> events, std::string by = {});
    /// Waits until all is stored or the time is over; true when all is stored.
    bool flush(std::chrono::milliseconds patience);
    [[nodiscard]] std::size_t waiting() const;

    [[nodiscard]] static std::filesystem::path spillPath(const std::filesystem::path& programFile);
    /// Stores what an earlier run left in the spill file, and removes it. Returns the number of presses
    /// stored.
    static core::Result<int> recoverSpill(const std::filesystem::path& programFile);

private:
    struct Impl;
    std::unique_ptr<Impl> m_impl;
};

}  // namespace markerlamp::db
