// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/event_writer.h"

#include "core/attempt/attempt_document.h"
#include "db/program_file.h"
#include "db/sqlite/failure.h"
#include "db/writer/own_place.h"
#include "db/writer/spill_file.h"

#include <algorithm>
#include <condition_variable>
#include <deque>
#include <mutex>
#include <set>
#include <thread>

namespace markerlamp::db {

using core::Result;

namespace {

/// Adds what the file does not have of a press that may be there already: a commit whose sync failed can turn
/// out to be in the log after all once the file is opened again. True when something was added.
Result<bool> appendMissing(ProgramFile& file, const Press& press) {
    auto stored = file.attempt(press.attempt);
    if (!stored) return core::fail(stored.error());
    const auto have = stored->events.size();
    std::vector<core::Event> missing;
    for (const core::Event& event : press.events) {
        const auto index = static_cast<std::size_t>(event.n) - 1;
        if (index >= have)
            missing.push_back(event);
        else if (!(stored->events[index] == event))
            return core::fail(core::ErrorKind::Conflict, "another event has the number of one that waits");
    }
    if (missing.empty()) return false;
    if (auto done = file.appendEvents(press.attempt, missing); !done) return core::fail(done.error());
    return true;
}

/// The name for the trail, without a role: a press is never lost to what somebody may do.
core::Acting whoPressed(const Press& press) {
    return {press.by, core::Role::Anybody, {}};
}

}  // namespace

struct EventWriter::Impl {
    Impl(std::filesystem::path programFile, Stored onStored, Trouble onTrouble, Options chosen)
        : path(std::move(programFile)),
          stored(std::move(onStored)),
          trouble(std::move(onTrouble)),
          options(chosen),
          spill(path),
          place(path) {
        thread = std::thread([this] { run(); });
    }

    ~Impl() {
        {
            const std::lock_guard lock(mutex);
            stopping = true;
        }
        wake.notify_all();
        thread.join();
    }

    std::uint64_t enqueue(Press press) {
        std::uint64_t ticket = 0;
        {
            const std::lock_guard lock(mutex);
            ticket = ++lastTicket;
            press.ticket = ticket;
            queue.push_back(std::move(press));
        }
        wake.notify_all();
        return ticket;
    }

    /// Opens the file when it is not open: after trouble it may be another one.
    Result<void> open() {
        if (file && !place.undisturbed()) {
            // What is open may be all that there is of what its log holds: it is let go when another file is
            // found to hold that too.
            if (auto same = place.look(); !same) return same;
            file.reset();
            place.logIsHere();
        }
        if (file) return {};
        if (auto same = place.look(); !same) return same;
        auto opened = ProgramFile::open(path);
        if (!opened) {
            place.logIsHere();
            // Whatever keeps the file from opening may pass: a stick that is plugged in again, a copy put
            // back.
            core::Error error = opened.error();
            error.kind = core::ErrorKind::Machine;
            return core::fail(std::move(error));
        }
        file = std::move(*opened);
        place.opened(*file);
        return {};
    }

    /// One press, one transaction.
    Result<void> store(const Press& press) {
        if (auto there = open(); !there) return there;
        file->actAs(whoPressed(press));
        if (press.header) return file->startAttempt(*press.header);
        if (!inTrouble) return file->appendEvents(press.attempt, press.events);
        if (auto added = appendMissing(*file, press); !added) return core::fail(added.error());
        return {};
    }

    /// After trouble the file is opened anew, but for one whose name leads elsewhere: it may come back.
    void close() {
        if (!file || !place.undisturbed()) return;
        file.reset();
        place.logIsHere();
    }

    void run() {
        // The file that is there now is the one, before anybody presses. What is wrong is said then.
        (void)guarded("", [this] { return open(); });
        auto pause = options.retryFirst;
        std::set<std::string> blocked;  // attempts with a press that can never be stored
        for (;;) {
            Press press;
            {
                std::unique_lock lock(mutex);
                wake.wait(lock, [this] { return stopping || !queue.empty(); });
                if (queue.empty()) return;
                press = queue.front();
            }
            const bool skip = blocked.contains(press.attempt);
            const Result<void> done =
                skip ? core::fail(core::ErrorKind::Refused, "an earlier press was refused")
                     : guarded("", [&] { return store(press); });
            const bool permanent = !done && !mayPass(done.error());
            // It would be refused for ever, and so would what builds on it: it is kept for people, and others
            // go on. Where it cannot be kept it waits.
            if (done || (permanent && appendPresses(refusedPath(path), {press}))) {
                if (permanent) {
                    blocked.insert(press.attempt);
                    if (!skip) trouble(&done.error(), waitingNow());
                }
                bool empty = false;
                {
                    const std::lock_guard lock(mutex);
                    queue.pop_front();
                    empty = queue.empty();
                }
                if (done) place.keepInMind(press.attempt, press.events);
                if (done) stored(press.ticket);
                if (done && inTrouble) {
                    if (!empty) {
                        spillWaiting();
                    } else {
                        inTrouble = false;
                        spill.remove();
                        trouble(nullptr, 0);
                    }
                }
                pause = options.retryFirst;
                idle.notify_all();
                continue;
            }
            // The machine failed: hold everything here and in the spill file, and try again.
            inTrouble = true;
            close();
            spillWaiting();
            trouble(&done.error(), waitingNow());
            if (!paused(pause)) return;
            pause = std::min(pause * 2, options.retryMost);
        }
    }

    /// Waits; what is pressed meanwhile goes beside the file at once. False when the writer stops.
    bool paused(std::chrono::milliseconds pause) {
        const auto until = std::chrono::steady_clock::now() + pause;
        for (;;) {
            bool woken = false, stops = false;
            {
                std::unique_lock lock(mutex);
                woken = wake.wait_until(lock, until, [this] { return stopping || lastTicket > heldUpTo; });
                stops = stopping;
            }
            if (woken) spillWaiting();
            if (stops || !woken) return !stops;
        }
    }

    [[nodiscard]] std::size_t waitingNow() {
        const std::lock_guard lock(mutex);
        return queue.size();
    }

    void spillWaiting() {
        std::vector<Press> waiting;
        {
            const std::lock_guard lock(mutex);
            waiting.assign(queue.begin(), queue.end());
            heldUpTo = lastTicket;
        }
        spill.hold(waiting);
    }

    std::filesystem::path path;
    Stored stored;
    Trouble trouble;
    Options options;
    SpillFile spill;
    OwnPlace place;                     ///< of the writer's thread
    std::unique_ptr<ProgramFile> file;  ///< the thread's own
    std::mutex mutex;
    std::condition_variable wake, idle;
    std::deque<Press> queue;
    std::uint64_t lastTicket = 0;
    bool stopping = false;
    std::uint64_t heldUpTo = 0;  ///< up to here the spill file was asked to take what waits
    bool inTrouble = false;      ///< of the writer's thread: the last try failed
    std::thread thread;
};

EventWriter::EventWriter(std::filesystem::path programFile, Stored stored, Trouble trouble)
    : EventWriter(std::move(programFile), std::move(stored), std::move(trouble), Options{}) {}

EventWriter::EventWriter(std::filesystem::path programFile, Stored stored, Trouble trouble, Options options)
    : m_impl(std::make_unique<Impl>(std::move(programFile), std::move(stored), std::move(trouble), options)) {
}

EventWriter::~EventWriter() = default;

std::uint64_t EventWriter::startAttempt(core::AttemptHeader header) {
    Press press;
    press.attempt = header.id;
    press.header = std::move(header);
    return m_impl->enqueue(std::move(press));
}

std::uint64_t EventWriter::append(std::string attemptId, std::vector<core::Event> events, std::string by) {
    Press press;
    press.attempt = std::move(attemptId);
    press.events = std::move(events);
    press.by = std::move(by);
    return m_impl->enqueue(std::move(press));
}

bool EventWriter::flush(std::chrono::milliseconds patience) {
    std::unique_lock lock(m_impl->mutex);
    return m_impl->idle.wait_for(lock, patience, [this] { return m_impl->queue.empty(); });
}

std::size_t EventWriter::waiting() const {
    return m_impl->waitingNow();
}

std::filesystem::path EventWriter::spillPath(const std::filesystem::path& programFile) {
    return spillPlaces(programFile).front();
}

Result<int> EventWriter::recoverSpill(const std::filesystem::path& programFile) {
    std::error_code ec;
    std::vector<std::filesystem::path> places;
    for (const auto& place : spillPlaces(programFile))
        if (std::filesystem::exists(place, ec)) places.push_back(place);
    if (places.empty()) return 0;
    auto presses = readSpilled(places);
    if (!presses) return core::fail(presses.error());
    auto file = ProgramFile::open(programFile);
    if (!file) return core::fail(file.error());
    const auto doNotFit = [&places](core::Error error) {
        if (!mayPass(error))
            error.message = places.front().string() + " holds presses that do not fit this file (" +
                            error.message +
                            "); put the file back that they belong to, or move them away and keep them";
        return core::fail(std::move(error));
    };
    int count = 0;
    for (Press& press : *presses) {
        if (press.header) {
            if (auto known = (*file)->attemptInfo(press.header->id); known && !*known) ++count;
            if (auto done = (*file)->startAttempt(*press.header); !done) return doNotFit(done.error());
            continue;
        }
        (*file)->actAs(whoPressed(press));
        auto added = appendMissing(**file, press);
        if (!added) return doNotFit(added.error());
        if (*added) ++count;
    }
    for (const auto& place : places) std::filesystem::remove(place, ec);
    return count;
}

}  // namespace markerlamp::db
