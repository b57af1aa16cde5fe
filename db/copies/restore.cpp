// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/copies/restore.h"

#include "core/base/files.h"
#include "db/copies/copies.h"
#include "db/copies/copies_folder.h"
#include "db/copies/sound_copy.h"
#include "db/schema/migrator.h"
#include "db/sqlite/failure.h"
#include "db/store/trail_store.h"
#include "db/whole_files.h"

#include <map>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

using Facts = std::map<std::string, std::string>;

bool isThere(const std::filesystem::path& path) {
    std::error_code ec;
    return std::filesystem::exists(path, ec);
}

Result<void> copyBytes(const std::filesystem::path& from, const std::filesystem::path& to) {
    if (auto made = core::createPrivateFile(to); !made) return made;
    std::error_code ec;
    std::filesystem::copy_file(from, to, std::filesystem::copy_options::overwrite_existing, ec);
    if (ec) return core::fail(ErrorKind::Machine, from.string() + " cannot be put aside: " + ec.message());
    if (::chmod(to.c_str(), S_IRUSR | S_IWUSR) != 0)
        return core::fail(ErrorKind::Machine, to.string() + " cannot be kept private");
    const int fd = ::open(to.c_str(), O_RDONLY | O_CLOEXEC);
    const bool synced = fd >= 0 && ::fsync(fd) == 0;
    if (fd >= 0) ::close(fd);
    if (!synced) return core::fail(ErrorKind::Machine, to.string() + " cannot be synced");
    return core::syncFolder(to.parent_path());
}

/// The damaged file as it is, with its log; the log keeps the name that makes it the copy's.
Result<std::filesystem::path> putDamagedAside(const std::filesystem::path& program, std::int64_t now) {
    const std::filesystem::path aside = freeName(copiesFolder(program), {now, core::CopyReason::Damaged, 1});
    if (isThere(program.string() + "-wal"))
        if (auto done = copyBytes(program.string() + "-wal", aside.string() + "-wal"); !done)
            return core::fail(done.error());
    if (auto done = copyBytes(program, aside); !done) return core::fail(done.error());
    return aside;
}

/// Takes from a file what belongs to the workstation and not to its records. Nothing from a damaged one.
Facts factsThatStay(const std::filesystem::path& program) {
    Facts facts;
    (void)guarded("", [&]() -> Result<void> {
        auto connection = Connection::open(program, Access::ReadOnly);
        if (!connection || !identify(**connection, program)) return {};
        for (const char* key : {kSecondPlaceFact, kCopiesIdFact, kErasedFact, kSecondSealFact})
            facts[key] = factOf(**connection, key);
        return {};
    });
    return facts;
}

Result<void> makeFresh(const std::filesystem::path& copy, const std::filesystem::path& fresh,
                       const Facts& facts) {
    auto source = Connection::open(copy, Access::ReadOnly);
    if (!source) return core::fail(source.error());
    if (auto done = copyInto(**source, copy, fresh); !done) return done;
    auto made = Connection::open(fresh, Access::ReadWrite);
    if (!made) return core::fail(made.error());
    return guarded(fresh.string() + " cannot be written", [&]() -> Result<void> {
        for (const auto& [key, value] : facts)
            if (!value.empty()) putFact(**made, key, value);
        // A copy of an older form has no trail yet.
        if (!(*made)->database().tableExists("trail_entry")) return {};
        return TrailStore(**made).add({core::kFileRestored, {}, copy.filename().string(), "{}", {}});
    });
}

/// Every connection of another program to a file with a log holds a lock on this byte of the log's index,
/// also where the file is damaged (SQLite, "WAL-mode File Format", section 2.3).
bool indexHeld(const std::filesystem::path& program) {
    constexpr off_t kHeldByAll = 128;
    const int fd = ::open((program.string() + "-shm").c_str(), O_RDWR | O_CLOEXEC);
    if (fd < 0) return false;
    struct flock asked = {};
    asked.l_type = F_WRLCK;
    asked.l_whence = SEEK_SET;
    asked.l_start = kHeldByAll;
    asked.l_len = 1;
    const bool held = ::fcntl(fd, F_GETLK, &asked) == 0 && asked.l_type != F_UNLCK;
    ::close(fd);
    return held;
}

/// Whether something has the file open: whoever leaves last takes the log away. A damaged one may keep it.
Result<bool> closedAndSound(const std::filesystem::path& program) {
    bool sound = false;
    (void)guarded("", [&]() -> Result<void> {
        auto connection = Connection::open(program, Access::ReadWrite);
        if (!connection || !identify(**connection, program)) return {};
        sound = unsoundness((*connection)->database()).empty();
        return {};
    });
    if ((sound && isThere(program.string() + "-wal")) || indexHeld(program))
        return core::fail(ErrorKind::Busy, program.string() + " is open elsewhere; close it first");
    return sound;
}

}  // namespace

Result<Restored> restoreProgram(const std::filesystem::path& copy, const std::filesystem::path& program,
                                std::int64_t nowMs) {
    Restored restored;
    auto report = verifyProgram(copy);
    if (!report) return core::fail(report.error());
    if (!report->good())
        return core::fail(core::Error{ErrorKind::Refused,
                                      copy.string() +
                                          " is not sound, so it replaces nothing; take another copy, or "
                                          "read out what is left of it with --salvage",
                                      report->integrity, report->problems});
    restored.report = std::move(*report);
    if (auto there = core::folderIsThere(program); !there) return core::fail(there.error());
    std::error_code ec;
    if (std::filesystem::equivalent(copy, program, ec))
        return core::fail(ErrorKind::Refused, "the copy and the file to be restored are the same file");
    const bool present = isThere(program);
    if (present && !std::filesystem::is_regular_file(program, ec))
        return core::fail(ErrorKind::Refused, program.string() + " is not a file");
    const std::filesystem::path fresh = freshNameFor(program);
    const auto done = [&]() -> Result<void> {
        if (!present) {
            if (auto made = makeFresh(copy, fresh, {}); !made) return made;
            return publishDatabase(fresh, program);
        }
        auto sound = closedAndSound(program);
        if (!sound) return core::fail(sound.error());
        auto lock = CopiesLock::take(program);
        if (!lock) return core::fail(lock.error());
        const std::int64_t now = nowMs != 0 ? nowMs : nowInMs();
        auto aside =
            *sound ? makeCopy(program, core::CopyReason::Restore, now) : putDamagedAside(program, now);
        if (!aside) return core::fail(aside.error());
        restored.aside = *aside;
        restored.asideDamaged = !*sound;
        if (auto made = makeFresh(copy, fresh, factsThatStay(program)); !made) return made;
        // The log of a damaged file is kept with it; here it would be taken for the fresh one's.
        if (!*sound)
            for (const char* tail : {"-wal", "-shm"}) std::filesystem::remove(program.string() + tail, ec);
        return replaceProgram(program, fresh);
    }();
    discardFresh(fresh);
    if (!done) return core::fail(done.error());
    return restored;
}

}  // namespace markerlamp::db
