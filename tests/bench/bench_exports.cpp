// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What it takes to export a district (3,000 attempts), and with MARKERLAMP_BENCH_STATE=1 a state (60,000).
// Prints a table; judges nothing.

#include "app/exports/export_tables.h"
#include "core/readiness/practice_record.h"
#include "db/program_file.h"
#include "district.h"

#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <filesystem>

#include <sys/resource.h>

namespace {

using namespace markerlamp;
namespace fs = std::filesystem;

double peakMegabytes() {
    rusage usage{};
    ::getrusage(RUSAGE_SELF, &usage);
    return static_cast<double>(usage.ru_maxrss) / 1024;
}

double megabytes(const fs::path& path) {
    if (fs::is_regular_file(path)) return static_cast<double>(fs::file_size(path)) / 1e6;
    double all = 0;
    for (const auto& entry : fs::recursive_directory_iterator(path))
        if (entry.is_regular_file()) all += static_cast<double>(entry.file_size()) / 1e6;
    return all;
}

template <class Export>
void measure(const char* what, const fs::path& out, Export run) {
    const auto start = std::chrono::steady_clock::now();
    const core::Result<app::TablesWritten> written = run(out);
    const double took = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    if (!written) {
        std::fprintf(stderr, "%s: %s\n", what, written.error().message.c_str());
        std::exit(1);
    }
    std::printf(
        "%-12s %8.1f s  %9lld rows of steps in %d sheet(s)  %8.1f MB on disk  %6.0f MB of memory at most\n",
        what, took, static_cast<long long>(written->steps), written->stepSheets, megabytes(out),
        peakMegabytes());
}

}  // namespace

int main() {
    std::setvbuf(stdout, nullptr, _IOLBF, 0);  // each line as it comes: a district takes its time
    const std::size_t attempts = std::getenv("MARKERLAMP_BENCH_STATE") != nullptr ? 60000 : 3000;
    std::string pattern = (fs::temp_directory_path() / "bench-exports-XXXXXX").string();
    const fs::path folder = ::mkdtemp(pattern.data());
    {
        auto made = db::ProgramFile::create(folder / "p.markerlamp").value();
        bench::fill(*made, attempts);
    }
    auto file = db::ProgramFile::open(folder / "p.markerlamp", db::OpenMode::ReadOnly).value();
    std::printf("%zu attempts of %zu trainees; memory before: %.0f MB\n", attempts, file->trainees()->size(),
                peakMegabytes());
    const app::ExportMoment moment{core::dayOf("2026-03-16T06:00:00-05:00").value(), "2026-03-16"};
    measure("CSV", folder / "csv",
            [&](const fs::path& out) { return app::exportCsv(*file, out, moment, {}); });
    measure("study", folder / "study",
            [&](const fs::path& out) { return app::exportStudy(*file, out, {}, moment, {}); });
    measure("spreadsheet", folder / "p.xlsx",
            [&](const fs::path& out) { return app::exportSpreadsheet(*file, out, moment, {}); });
    file.reset();
    fs::remove_all(folder);
    return 0;
}
