#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A folder that goes away with the test, a small rubric, and a disk whose syncs can be counted and made to
// fail.

#include "core/attempt/attempt_document.h"
#include "db/program_file.h"

#include <sqlite3.h>

#include <atomic>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>

namespace markerlamp::db::testing {

class Folder {
public:
    /// @param quick in memory where the system has a place for that: tests that make hundreds of files
    explicit Folder(bool quick = false) {
        const bool memory = quick && std::filesystem::is_directory("/dev/shm");
        std::string pattern =
            ((memory ? std::filesystem::path("/dev/shm") : std::filesystem::temp_directory_path()) /
             "markerlamp-XXXXXX")
                .string();
        m_path = ::mkdtemp(pattern.data());
    }
    ~Folder() {
        std::error_code ec;
        std::filesystem::remove_all(m_path, ec);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::filesystem::path operator/(const std::string& name) const { return m_path / name; }

private:
    std::filesystem::path m_path;
};

inline const std::string kRubric = R"(format: markerlamp.rubric/1
id: small
edition: 1
title: Small rubric
equipment: {air-brakes: Air brakes}
pass: {percent: 80}
limits:
  leak: {high: 3, unit: psi, source: "common practice, no published source"}
zones:
  - id: brakes
    title: Brakes
    steps:
      - {id: start, title: Guarded start, show: Set the brake}
      - id: leak-test
        title: Leak test
        show: Hold the pedal
        say: [{id: limit, text: at most 3 psi}, {id: engine, text: engine off}]
        reading: {quantity: loss, limit: leak}
)";

inline core::Attempt sampleAttempt(const std::string& id = "a-1") {
    return core::readAttempt(
               R"({"format":"markerlamp.attempt/1","id":")" + id +
               R"(","rubric":"small","edition":1,"trainee":"t-1","instructor":"i-1","bus":"14","equipment":["air-brakes"],"zones":["brakes"],"limits":{"leak":{"high":2}},"started":"2026-03-02T06:10:00-05:00"}
{"n":1,"t":0,"do":"show","step":"start"}
{"n":2,"t":3.25,"do":"say","step":"leak-test","point":"limit","value":3,"unit":"psi"}
{"n":3,"t":4,"do":"reading","step":"leak-test","value":1.5,"unit":"psi"}
{"n":4,"t":5,"do":"note","text":"calm"}
{"n":5,"t":9.5,"do":"retract","event":2}
{"n":6,"t":20,"do":"end"}
{"n":7,"t":20,"do":"say","step":"leak-test","point":"engine","by":"i-1","at":"2026-03-02T07:00:00-05:00"}
)")
        .value();
}

inline std::unique_ptr<ProgramFile> programWithRubric(const std::filesystem::path& path) {
    auto file = ProgramFile::create(path).value();
    if (file->addRubric(kRubric).value() != Added::New) std::abort();
    return file;
}

/// All files below a folder, by their path in it.
inline std::map<std::string, std::string> everything(const std::filesystem::path& dir) {
    std::map<std::string, std::string> files;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(dir)) {
        if (!entry.is_regular_file()) continue;
        std::ostringstream text;
        text << std::ifstream(entry.path(), std::ios::binary).rdbuf();
        files[std::filesystem::relative(entry.path(), dir).string()] = text.str();
    }
    return files;
}

/// Counts the syncs of every file SQLite opens from now on, and lets them fail.
class WatchedDisk {
public:
    static std::atomic<int>& syncs() {
        static std::atomic<int> count{0};
        return count;
    }
    static std::atomic<bool>& failing() {
        static std::atomic<bool> fails{false};
        return fails;
    }

    WatchedDisk() {
        syncs() = 0;
        failing() = false;
        real() = sqlite3_vfs_find(nullptr);
        m_vfs = *real();
        m_vfs.zName = "watched";
        m_vfs.pNext = nullptr;
        m_vfs.xOpen = [](sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* out) {
            const int rc = real()->xOpen(real(), name, file, flags, out);
            if (rc == SQLITE_OK && file->pMethods != nullptr) {
                // SQLite has a table of its own for files that it never locks, so each is watched by itself.
                static std::map<const sqlite3_io_methods*, sqlite3_io_methods> watched;
                const auto [entry, fresh] = watched.emplace(file->pMethods, *file->pMethods);
                realSync() = file->pMethods->xSync;
                if (fresh)
                    entry->second.xSync = [](sqlite3_file* f, int how) {
                        ++syncs();
                        return failing() ? SQLITE_IOERR_FSYNC : realSync()(f, how);
                    };
                file->pMethods = &entry->second;
            }
            return rc;
        };
        sqlite3_vfs_register(&m_vfs, 1);
    }
    ~WatchedDisk() {
        sqlite3_vfs_register(real(), 1);
        sqlite3_vfs_unregister(&m_vfs);
    }

private:
    static sqlite3_vfs*& real() {
        static sqlite3_vfs* vfs = nullptr;
        return vfs;
    }
    static int (*&realSync())(sqlite3_file*, int) {
        static int (*sync)(sqlite3_file*, int) = nullptr;
        return sync;
    }
    sqlite3_vfs m_vfs{};
};

/// Runs SQL behind the program's back; the error text, empty when it went through.
inline std::string rawSql(const std::filesystem::path& path, const std::string& sql) {
    sqlite3* handle = nullptr;
    sqlite3_open(path.c_str(), &handle);
    char* message = nullptr;
    sqlite3_exec(handle, sql.c_str(), nullptr, nullptr, &message);
    const std::string text = message != nullptr ? message : "";
    sqlite3_free(message);
    sqlite3_close(handle);
    return text;
}

}  // namespace markerlamp::db::testing
