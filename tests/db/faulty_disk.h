#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A disk under SQLite that fails at a chosen moment, and one that loses power: it remembers what was not yet
// synced, so that at any moment the files can be written down as a cut would leave them.

#include <sqlite3.h>

#include <array>
#include <atomic>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <mutex>
#include <random>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace markerlamp::db::testing {

enum class DiskCall { Open, Read, Write, Truncate, Sync };
constexpr std::size_t kDiskCalls = 5;

class FaultyDisk {
public:
    struct Fault {
        DiskCall call = DiskCall::Write;
        int at = 0;            ///< the how manieth call of this kind, from 1; 0: none fails
        int code = 0;          ///< what SQLite is told
        bool torn = false;     ///< half of the bytes get to the disk
        bool lasting = false;  ///< all later ones fail as well
    };

    FaultyDisk() {
        current() = this;
        m_real = sqlite3_vfs_find(nullptr);
        m_vfs = *m_real;
        m_vfs.zName = "faulty";
        m_vfs.pNext = nullptr;
        m_vfs.szOsFile = static_cast<int>(sizeof(File)) + m_real->szOsFile;
        m_vfs.xOpen = open;
        m_vfs.xDelete = remove;
        sqlite3_vfs_register(&m_vfs, 1);
    }
    ~FaultyDisk() {
        sqlite3_vfs_register(m_real, 1);
        sqlite3_vfs_unregister(&m_vfs);
        current() = nullptr;
    }
    FaultyDisk(const FaultyDisk&) = delete;
    FaultyDisk& operator=(const FaultyDisk&) = delete;

    /// Counts from now on.
    void plan(const Fault& fault) {
        const std::lock_guard lock(m_mutex);
        m_fault = fault;
        m_counts = {};
        m_failed = 0;
    }
    [[nodiscard]] std::array<int, kDiskCalls> counts() const { return m_counts; }
    [[nodiscard]] int failed() const { return m_failed; }

    /// From now on remembers what is not synced and calls `moment` before every call that changes a file.
    void remember(std::function<void()> moment) {
        const std::lock_guard lock(m_mutex);
        m_moment = std::move(moment);
    }
    void forget() {
        const std::lock_guard lock(m_mutex);
        m_moment = {};
        m_files.clear();
    }
    /// The files as a cut at this moment may leave them: of what was not synced any sectors in any order.
    /// Only from inside `moment`. Names as in the folder that was watched.
    [[nodiscard]] std::map<std::string, std::string> afterCut(std::mt19937& random) const {
        std::map<std::string, std::string> files;
        for (const auto& [path, file] : m_files) {
            if (file.removed && random() % 2 == 0) continue;
            std::string bytes = file.synced;
            std::vector<Change> left = file.waiting;
            std::shuffle(left.begin(), left.end(), random);
            for (const Change& change : left)
                if (random() % 2 == 0) apply(bytes, change);
            files[std::filesystem::path(path).filename().string()] = std::move(bytes);
        }
        return files;
    }

private:
    static constexpr std::size_t kSector = 512;

    struct Change {
        std::size_t at = 0;
        std::string bytes;
        bool truncates = false;  ///< to `at`
    };
    struct Kept {
        std::string synced;
        std::vector<Change> waiting;  ///< a sector each
        bool removed = false;
    };
    struct File {
        sqlite3_file base;
        const char* path;
        sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
    };

    static FaultyDisk*& current() {
        static FaultyDisk* disk = nullptr;
        return disk;
    }
    static File* own(sqlite3_file* file) { return reinterpret_cast<File*>(file); }
    static sqlite3_file* real(sqlite3_file* file) { return own(file)->real(); }

    static void apply(std::string& bytes, const Change& change) {
        if (change.truncates) {
            bytes.resize(std::min(bytes.size(), change.at));
            return;
        }
        if (bytes.size() < change.at + change.bytes.size()) bytes.resize(change.at + change.bytes.size());
        bytes.replace(change.at, change.bytes.size(), change.bytes);
    }

    /// The code of the fault that this call meets; SQLITE_OK: none.
    int meet(DiskCall call, bool* torn = nullptr) {
        const std::lock_guard lock(m_mutex);
        const int number = ++m_counts[static_cast<std::size_t>(call)];
        if (m_fault.at == 0 || m_fault.call != call ||
            (m_fault.lasting ? number < m_fault.at : number != m_fault.at))
            return SQLITE_OK;
        ++m_failed;
        if (torn != nullptr) *torn = m_fault.torn;
        return m_fault.code;
    }

    Kept* kept(sqlite3_file* file) {
        if (!m_moment || own(file)->path == nullptr) return nullptr;
        const auto found = m_files.find(own(file)->path);
        return found == m_files.end() ? nullptr : &found->second;
    }

    static int open(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* out) {
        FaultyDisk& disk = *current();
        file->pMethods = nullptr;
        if (const int code = disk.meet(DiskCall::Open); code != SQLITE_OK) return code;
        own(file)->path = name;
        const int rc = disk.m_real->xOpen(disk.m_real, name, real(file), flags, out);
        if (rc != SQLITE_OK) return rc;
        file->pMethods = methods();
        const std::lock_guard lock(disk.m_mutex);
        if (disk.m_moment && name != nullptr) {
            Kept& held = disk.m_files[name];
            if (held.removed || (held.synced.empty() && held.waiting.empty())) {
                std::ostringstream text;
                text << std::ifstream(name, std::ios::binary).rdbuf();
                held = {text.str(), {}, false};
            }
        }
        return SQLITE_OK;
    }

    static int remove(sqlite3_vfs*, const char* name, int syncFolder) {
        FaultyDisk& disk = *current();
        {
            const std::lock_guard lock(disk.m_mutex);
            if (disk.m_moment) {
                disk.m_moment();
                if (syncFolder != 0)
                    disk.m_files.erase(name);
                else if (const auto found = disk.m_files.find(name); found != disk.m_files.end())
                    found->second.removed = true;
            }
        }
        return disk.m_real->xDelete(disk.m_real, name, syncFolder);
    }

    static int write(sqlite3_file* file, const void* bytes, int count, sqlite3_int64 at) {
        FaultyDisk& disk = *current();
        bool torn = false;
        if (const int code = disk.meet(DiskCall::Write, &torn); code != SQLITE_OK) {
            if (torn) (void)real(file)->pMethods->xWrite(real(file), bytes, count / 2, at);
            return code;
        }
        const std::lock_guard lock(disk.m_mutex);
        if (Kept* held = disk.kept(file)) {
            disk.m_moment();
            const std::string_view all(static_cast<const char*>(bytes), static_cast<std::size_t>(count));
            for (std::size_t i = 0; i < all.size(); i += kSector)
                held->waiting.push_back(
                    {static_cast<std::size_t>(at) + i, std::string(all.substr(i, kSector)), false});
        }
        return real(file)->pMethods->xWrite(real(file), bytes, count, at);
    }

    static int truncate(sqlite3_file* file, sqlite3_int64 size) {
        FaultyDisk& disk = *current();
        if (const int code = disk.meet(DiskCall::Truncate); code != SQLITE_OK) return code;
        const std::lock_guard lock(disk.m_mutex);
        if (Kept* held = disk.kept(file)) {
            disk.m_moment();
            held->waiting.push_back({static_cast<std::size_t>(size), {}, true});
        }
        return real(file)->pMethods->xTruncate(real(file), size);
    }

    static int sync(sqlite3_file* file, int how) {
        FaultyDisk& disk = *current();
        if (const int code = disk.meet(DiskCall::Sync); code != SQLITE_OK) return code;
        const std::lock_guard lock(disk.m_mutex);
        if (Kept* held = disk.kept(file)) {
            disk.m_moment();
            for (const Change& change : held->waiting) apply(held->synced, change);
            held->waiting.clear();
        }
        return real(file)->pMethods->xSync(real(file), how);
    }

    static const sqlite3_io_methods* methods() {
        static const sqlite3_io_methods table = [] {
            sqlite3_io_methods m{};
            m.iVersion = 2;
            m.xClose = [](sqlite3_file* f) {
                const int rc = real(f)->pMethods == nullptr ? SQLITE_OK : real(f)->pMethods->xClose(real(f));
                f->pMethods = nullptr;
                return rc;
            };
            m.xRead = [](sqlite3_file* f, void* into, int count, sqlite3_int64 at) {
                if (const int code = current()->meet(DiskCall::Read); code != SQLITE_OK) return code;
                return real(f)->pMethods->xRead(real(f), into, count, at);
            };
            m.xWrite = write;
            m.xTruncate = truncate;
            m.xSync = sync;
            m.xFileSize = [](sqlite3_file* f, sqlite3_int64* size) {
                return real(f)->pMethods->xFileSize(real(f), size);
            };
            m.xLock = [](sqlite3_file* f, int how) { return real(f)->pMethods->xLock(real(f), how); };
            m.xUnlock = [](sqlite3_file* f, int how) { return real(f)->pMethods->xUnlock(real(f), how); };
            m.xCheckReservedLock = [](sqlite3_file* f, int* held) {
                return real(f)->pMethods->xCheckReservedLock(real(f), held);
            };
            m.xFileControl = [](sqlite3_file* f, int op, void* argument) {
                return real(f)->pMethods->xFileControl(real(f), op, argument);
            };
            m.xSectorSize = [](sqlite3_file* f) { return real(f)->pMethods->xSectorSize(real(f)); };
            // A disk of the plain kind: no promises about what it does at once.
            m.xDeviceCharacteristics = [](sqlite3_file*) { return 0; };
            m.xShmMap = [](sqlite3_file* f, int region, int size, int extend, void volatile** at) {
                return real(f)->pMethods->xShmMap(real(f), region, size, extend, at);
            };
            m.xShmLock = [](sqlite3_file* f, int offset, int n, int flags) {
                return real(f)->pMethods->xShmLock(real(f), offset, n, flags);
            };
            m.xShmBarrier = [](sqlite3_file* f) { real(f)->pMethods->xShmBarrier(real(f)); };
            m.xShmUnmap = [](sqlite3_file* f, int remove) {
                return real(f)->pMethods->xShmUnmap(real(f), remove);
            };
            return m;
        }();
        return &table;
    }

    sqlite3_vfs m_vfs{};
    sqlite3_vfs* m_real = nullptr;
    mutable std::mutex m_mutex;
    Fault m_fault;
    std::array<int, kDiskCalls> m_counts{};
    std::atomic<int> m_failed{0};
    std::function<void()> m_moment;
    std::map<std::string, Kept> m_files;
};

}  // namespace markerlamp::db::testing
