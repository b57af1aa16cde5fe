// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: a small program file with bytes changed, cut or with a log of noise beside it. Whatever
// the bytes, it is opened or refused, everything is read, verified, copied, pressed into and salvaged; what
// salvage writes is sound, and what only looks on changes nothing.

#include "db/copies/copies.h"
#include "db/copies/verify.h"
#include "db/salvage/salvage.h"
#include "scratch.h"

#include <sqlite3.h>

using namespace markerlamp;

namespace {

const fuzz::Scratch& scratch() {
    static const fuzz::Scratch folder;
    return folder;
}

/// Small pages, so that most changes hit a record and not an empty place.
const std::string& seed() {
    static const std::string bytes = [] {
        const auto path = scratch() / "seed";
        fuzz::makeProgram(path);
        sqlite3* handle = nullptr;
        sqlite3_open(path.c_str(), &handle);
        if (sqlite3_exec(handle, "PRAGMA journal_mode = DELETE; PRAGMA page_size = 512; VACUUM", nullptr,
                         nullptr, nullptr) != SQLITE_OK)
            std::abort();
        sqlite3_close(handle);
        return fuzz::bytesOf(path);
    }();
    return bytes;
}

void readAll(db::ProgramFile& file) {
    if (const auto attempts = file.attempts())
        for (const db::AttemptInfo& info : *attempts) (void)file.attempt(info.id);
    (void)file.personFiles();
    (void)file.instructors();
    (void)file.buses();
    (void)file.facts();
    (void)file.rubrics();
    (void)file.limitSets();
    (void)file.forecasts();
    (void)file.overrides();
    (void)file.allTestResults();
    (void)file.settlements();
    (void)file.sheetRecords();
    (void)file.lastRecords();
    (void)file.practiceRecord();
    (void)file.wrongFigures();
}

void press(const std::filesystem::path& path) {
    auto file = db::ProgramFile::open(path);
    if (!file) return;
    core::Event event;
    event.n = 1;
    event.kind = core::EventKind::Show;
    event.step = "start";
    if ((*file)->startAttempt(fuzz::header("a-2"))) (void)(*file)->appendEvents("a-2", std::vector{event});
    (void)(*file)->refillProjections();
}

void look(const std::filesystem::path& path, const std::string& bytes) {
    (void)db::verifyProgram(path);
    if (auto file = db::ProgramFile::open(path, db::OpenMode::ReadOnly)) readAll(**file);
    // What a log or a journal holds gets into the file whoever opens it.
    const bool alone = !std::filesystem::exists(path.string() + "-wal") &&
                       !std::filesystem::exists(path.string() + "-journal");
    if (alone && fuzz::bytesOf(path) != bytes) std::abort();
}

bool isSound(const std::filesystem::path& path) {
    const auto report = db::verifyProgram(path);
    return report && report->good();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    std::string_view input(reinterpret_cast<const char*>(data), size);
    if (input.empty()) return 0;
    // What is done to the bytes, and what is then done with the file: one thing each, for the sake of the
    // number of inputs.
    const auto way = static_cast<unsigned>(static_cast<std::uint8_t>(input.front()));
    const unsigned harm = way / 4;
    input.remove_prefix(1);
    std::string bytes = harm >= 62 ? std::string(input) : fuzz::patched(seed(), input);
    if (harm >= 52 && harm < 56 && !input.empty())
        bytes.resize(bytes.size() * static_cast<std::uint8_t>(input.front()) / 256);
    scratch().clearBut("seed");
    const auto path = scratch() / "p";
    fuzz::write(path, bytes);
    if (harm >= 56 && harm < 59) fuzz::write(scratch() / "p-wal", input);
    if (harm >= 59 && harm < 62) fuzz::write(scratch() / "p-journal", input);
    switch (way % 4) {
        case 0:
            look(path, bytes);
            break;
        case 1:
            if (db::salvage(path, scratch() / "new") && !isSound(scratch() / "new")) std::abort();
            break;
        case 2:
            if (db::copyTo(path, scratch() / "copy") && !db::verifyProgram(scratch() / "copy")) std::abort();
            break;
        default:
            press(path);
    }
    return 0;
}
