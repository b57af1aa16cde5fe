// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of the program file at the size of a district, each beside the limit that the design sets or a
// peer: what plain sqlite3 needs to step through the same rows. Prints a table; judges nothing.

#include "core/attempt/attempt_document.h"
#include "core/scoring/scorecard.h"
#include "db/copies/copies.h"
#include "db/copies/verify.h"
#include "db/event_writer.h"
#include "db/exchange/exchange.h"
#include "db/program_file.h"
#include "db/salvage/salvage.h"
#include "demo/generator/built_in.h"
#include "demo/generator/demo_program.h"
#include "district.h"

#include <sqlite3.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <vector>

namespace {

using namespace markerlamp;
using Clock = std::chrono::steady_clock;

double seconds(Clock::time_point since) {
    return std::chrono::duration<double>(Clock::now() - since).count();
}

void row(const char* what, double measured, const char* unit, double limit) {
    std::printf("%-58s %10.3f %-3s  limit %8.3f  ratio %6.2f\n", what, measured, unit, limit,
                measured / limit);
}

/// Steps through every event with plain sqlite3 and touches every column, as a reader must.
double plainRead(const std::filesystem::path& path) {
    sqlite3* handle = nullptr;
    sqlite3_open_v2(path.c_str(), &handle, SQLITE_OPEN_READONLY, nullptr);
    sqlite3_stmt* statement = nullptr;
    sqlite3_prepare_v2(
        handle,
        "SELECT n, t, kind, step, point, value, low, high, unit, text, retracts, by_whom, at_time FROM "
        "event ORDER BY attempt, n",
        -1, &statement, nullptr);
    const auto start = Clock::now();
    double sum = 0;
    while (sqlite3_step(statement) == SQLITE_ROW)
        for (int column = 0; column < 13; ++column)
            sum += sqlite3_column_type(statement, column) == SQLITE_NULL ? 0 : 1;
    const double took = seconds(start);
    sqlite3_finalize(statement);
    sqlite3_close(handle);
    if (sum < 1) std::printf("no events\n");
    return took;
}

double median(std::vector<double> values) {
    std::ranges::sort(values);
    return values[values.size() / 2];
}

/// 95th percentile of 400 presses, each a show and three points.
void tap(const std::filesystem::path& path, core::AttemptHeader header, const char* what, double limit) {
    auto file = db::ProgramFile::open(path).value();
    header.id = std::string("tap ") + what;
    if (!file->startAttempt(header)) std::abort();
    const core::Rubric rubric = *file->rubric(header.rubric, header.edition).value();
    const core::Step& step = rubric.zones.front().steps.front();
    std::vector<double> taps;
    for (int press = 0; press < 400; ++press) {
        std::vector<core::Event> events;
        for (int k = 0; k < 4; ++k) {
            core::Event& event = events.emplace_back();
            event.n = press * 4 + k + 1;
            event.t = press;
            event.kind = core::EventKind::Show;
            event.step = step.id;
        }
        const auto start = Clock::now();
        if (!file->appendEvents(header.id, events)) std::abort();
        taps.push_back(seconds(start) * 1000);
    }
    std::ranges::sort(taps);
    row(what, taps[380], "ms", limit);
}

/// What SQLite alone needs for a copy and its integrity check.
double plainCopy(const std::filesystem::path& path, const std::filesystem::path& to) {
    const auto start = Clock::now();
    sqlite3 *from = nullptr, *copy = nullptr;
    sqlite3_open_v2(path.c_str(), &from, SQLITE_OPEN_READONLY, nullptr);
    sqlite3_open(to.c_str(), &copy);
    sqlite3_backup* backup = sqlite3_backup_init(copy, "main", from, "main");
    sqlite3_backup_step(backup, -1);
    sqlite3_backup_finish(backup);
    sqlite3_exec(copy, "PRAGMA integrity_check; PRAGMA foreign_key_check", nullptr, nullptr, nullptr);
    sqlite3_close(copy);
    sqlite3_close(from);
    return seconds(start);
}

/// Copies of a district, and reading it out as if it were damaged.
void copies(const std::filesystem::path& path, const std::filesystem::path& dir) {
    const double plain = plainCopy(path, dir / "plain");
    std::printf("plain sqlite3, backup and checks: %.3f s\n", plain);
    auto start = Clock::now();
    if (!db::keepCopy(path, {core::CopyReason::Start, 0, false})) std::abort();
    row("a copy, looked through", seconds(start), "s", 2 * plain);
    start = Clock::now();
    if (const auto kept = db::keepCopy(path, {core::CopyReason::Day, 0, true}); !kept || !kept->made.empty())
        std::abort();
    row("seeing that nothing was changed", seconds(start), "s", 10);
    start = Clock::now();
    if (!db::verifyProgram(path)->good()) std::abort();
    row("verify, every figure worked out again", seconds(start), "s", 20);
    start = Clock::now();
    if (!db::salvage(path, dir / "salvaged")->everything()) std::abort();
    row("read out page by page into a new file", seconds(start), "s", 60);
}

}  // namespace

int main() {
    std::string pattern = (std::filesystem::temp_directory_path() / "markerlamp-bench-XXXXXX").string();
    const std::filesystem::path dir = ::mkdtemp(pattern.data());
    const core::Rubric air = bench::builtIn("air-brake-school-bus.rubric.yaml");
    const core::Rubric hydraulic = bench::builtIn("hydraulic-brake-school-bus.rubric.yaml");
    const std::vector<core::Attempt> attempts = bench::attempts(3000);
    std::size_t events = 0;
    for (const core::Attempt& a : attempts) events += a.events.size();
    std::printf("a district: %zu attempts, %zu events\n", attempts.size(), events);

    const auto path = dir / "district.markerlamp";
    auto file = db::ProgramFile::create(path).value();
    for (const auto& document : demo::builtInDocuments())
        if (document.name.ends_with(".rubric.yaml") && !file->addRubric(document.text)) std::abort();
    std::filesystem::create_directory(dir / "in");
    for (const core::Attempt& a : attempts)
        std::ofstream(dir / "in" / (a.header.id + ".attempt.jsonl")) << core::writeAttempt(a);
    auto start = Clock::now();
    const auto report = db::importPaths(*file, {dir / "in"});
    row("import of 3,000 attempts", seconds(start), "s", 20);
    if (!report || !report->allAccepted()) std::printf("some were refused\n");

    std::vector<double> plain, rescore;
    for (int round = 0; round < 5; ++round) {
        plain.push_back(plainRead(path));
        start = Clock::now();
        const core::Scorer scorers[] = {core::Scorer(std::make_shared<core::Rubric>(air)),
                                        core::Scorer(std::make_shared<core::Rubric>(hydraulic))};
        double sum = 0;
        for (const core::Attempt& a : attempts) {
            const auto stored = file->attempt(a.header.id);
            sum += scorers[stored->header.rubric == air.id ? 0 : 1].score(*stored).percent;
        }
        rescore.push_back(seconds(start));
        if (sum <= 0) std::printf("nothing scored\n");
    }
    std::printf("plain sqlite3 over the same rows: %.3f s\n", median(plain));
    row("rescore a district from its file", median(rescore), "s", 2 * median(plain));

    std::vector<double> evidence;
    for (int round = 0; round < 3; ++round) {
        start = Clock::now();
        const auto record = file->practiceRecord().value();
        evidence.push_back(seconds(start));
        if (record->attempts().empty()) std::printf("no evidence\n");
    }
    row("what all attempts say about who can do what", median(evidence), "s", 2);

    file.reset();
    std::vector<double> opening;
    for (int round = 0; round < 5; ++round) {
        start = Clock::now();
        auto opened = db::ProgramFile::open(path).value();
        const auto list = opened->attempts().value();
        opening.push_back(seconds(start));
    }
    row("open the file and list all attempts", median(opening), "s", 1);

    file = db::ProgramFile::open(path).value();
    std::vector<double> page;
    for (int round = 0; round < 50; ++round) {
        start = Clock::now();
        const auto infos =
            file->attempts(attempts[static_cast<std::size_t>(round) * 37].header.trainee).value();
        for (const auto& info : infos)
            if (!file->attempt(info.id)) std::abort();
        page.push_back(seconds(start) * 1000);
    }
    row("read all attempts of one trainee", median(page), "ms", 100);

    // Tap to durable: with the sync of this disk, and in a file system of memory, where a sync costs nothing.
    tap(path, attempts.front().header, "tap to durable, p95, sync and all (the disk decides)", 50);
    const std::filesystem::path memory = "/dev/shm";
    if (std::filesystem::exists(memory)) {
        const auto copy = memory / (dir.filename().string() + ".markerlamp");
        file.reset();
        std::filesystem::copy_file(path, copy);
        tap(copy, attempts.front().header, "tap to durable, p95, work besides the sync", 1);
        for (const char* tail : {"", "-wal", "-shm"}) std::filesystem::remove(copy.string() + tail);
    }
    file.reset();
    copies(path, dir);
    std::filesystem::remove_all(dir);
    return 0;
}
