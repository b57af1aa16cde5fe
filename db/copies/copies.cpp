// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/copies/copies.h"

#include "core/base/files.h"
#include "core/base/text.h"
#include "db/copies/copies_folder.h"
#include "db/copies/sealed_copy.h"
#include "db/copies/sound_copy.h"
#include "db/program_file.h"
#include "db/schema/migrator.h"
#include "db/sqlite/failure.h"
#include "db/whole_files.h"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <ctime>
#include <random>

#include <sys/stat.h>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

constexpr std::int64_t kMsPerSecond = 1000;

bool newer(const CopyFile& a, const CopyFile& b) {
    return a.name.ms != b.name.ms ? a.name.ms > b.name.ms : a.name.count > b.name.count;
}

/// Copies before a change of form lie beside the file itself; they bear no instant.
void addMigrationCopies(const std::filesystem::path& program, std::vector<CopyFile>& copies) {
    const std::string start = program.filename().string() + ".before-";
    std::error_code ec;
    std::filesystem::directory_iterator entry(std::filesystem::absolute(program, ec).parent_path(), ec);
    for (; !ec && entry != std::filesystem::directory_iterator(); entry.increment(ec)) {
        const std::string name = entry->path().filename().string();
        struct stat status = {};
        if (!name.starts_with(start) || !name.ends_with(".bak") ||
            ::stat(entry->path().c_str(), &status) != 0)
            continue;
        copies.push_back({entry->path(),
                          {std::int64_t{status.st_mtime} * kMsPerSecond, core::CopyReason::Migration, 1},
                          static_cast<std::uintmax_t>(status.st_size),
                          false});
    }
}

const CopyFile* newestGood(const std::vector<CopyFile>& newestFirst) {
    const auto found = std::ranges::find_if(
        newestFirst, [](const CopyFile& copy) { return copy.name.reason != core::CopyReason::Damaged; });
    return found == newestFirst.end() ? nullptr : &*found;
}

std::vector<CopyFile> sortedCopiesIn(const std::filesystem::path& folder) {
    std::vector<CopyFile> copies = copiesIn(folder);
    std::ranges::sort(copies, newer);
    return copies;
}

/// Only called when the newest copy was looked through just now.
void thinOut(const std::filesystem::path& folder, std::int64_t nowMs, std::vector<std::string>& removed) {
    const std::vector<CopyFile> copies = copiesIn(folder);
    std::vector<core::CopyToKeep> asked;
    for (const CopyFile& copy : copies)
        asked.push_back({copy.name.ms, copy.name.reason != core::CopyReason::Damaged});
    core::KeepRule rule;
    rule.minutesEast = minutesEastAt(nowMs);
    for (const std::size_t place : core::copiesThatGo(asked, nowMs, rule)) {
        std::error_code ec;
        if (std::filesystem::remove(copies[place].path, ec) && !ec)
            removed.push_back(copies[place].path.string());
    }
}

/// What a run that broke off left; nobody works in the folder while it is locked.
void removeParts(const std::filesystem::path& folder) {
    std::error_code ec;
    std::vector<std::filesystem::path> parts;
    std::filesystem::directory_iterator entry(folder, ec);
    for (; !ec && entry != std::filesystem::directory_iterator(); entry.increment(ec)) {
        const std::string name = entry->path().filename().string();
        if (name.starts_with(".") && name.find(".markerlamp.part-") != std::string::npos)
            parts.push_back(entry->path());
    }
    for (const auto& part : parts) std::filesystem::remove(part, ec);
}

std::int64_t erasedAt(Connection& connection) {
    const std::string text = factOf(connection, kErasedFact);
    std::int64_t ms = 0;
    std::from_chars(text.data(), text.data() + text.size(), ms);
    return ms;
}

/// Brings the newest copy to the second place and thins out there. Where people were erased while the place
/// could not be reached, the copies from before that go first.
Result<void> bringToSecondPlace(const std::filesystem::path& program, std::int64_t nowMs) {
    auto connection = Connection::open(program, Access::ReadOnly);
    if (!connection) return core::fail(connection.error());
    return guarded("the second place cannot be used", [&]() -> Result<void> {
        const std::filesystem::path folder = secondFolder(**connection, program);
        if (folder.empty()) return {};
        if (auto made = privateFolder(folder); !made) return made;
        removeParts(folder);
        const std::int64_t erased = erasedAt(**connection) / kMsPerSecond * kMsPerSecond;
        for (const CopyFile& copy : copiesIn(folder)) {
            std::error_code ec;
            if (copy.name.ms < erased) std::filesystem::remove(copy.path, ec);
        }
        const std::vector<CopyFile> here = sortedCopiesIn(copiesFolder(program));
        const CopyFile* newest = newestGood(here);
        if (newest == nullptr) return {};
        core::CopyName name = newest->name;
        const std::string seal = factOf(**connection, kSecondSealFact);
        name.sealed = !seal.empty();
        const std::filesystem::path there = folder / core::copyFileName(name);
        std::error_code ec;
        if (name.sealed) {
            const auto key = SealKey::fromText(seal);
            if (!key) return core::fail(ErrorKind::Refused, "the passphrase of its copies is to be set anew");
            // With another passphrase from now on: the newest copy is sealed with the new one.
            if (std::filesystem::exists(there, ec) && !SealReader::open(there, *key))
                std::filesystem::remove(there, ec);
            if (!std::filesystem::exists(there, ec))
                if (auto done = sealCopy(newest->path, there, *key); !done) return done;
            for (const CopyFile& copy : copiesIn(folder))
                if (!copy.name.sealed) std::filesystem::remove(copy.path, ec);
        } else if (!std::filesystem::exists(there, ec)) {
            auto source = Connection::open(newest->path, Access::ReadOnly);
            if (!source) return core::fail(source.error());
            if (auto done = soundCopy(**source, newest->path, there); !done) return done;
        }
        std::vector<std::string> removed;
        thinOut(folder, nowMs, removed);
        return {};
    });
}

/// False as well when the newest copy cannot be read: then a new one is wanted.
bool heldByNewest(const std::filesystem::path& program) {
    const std::vector<CopyFile> copies = sortedCopiesIn(copiesFolder(program));
    const CopyFile* newest = newestGood(copies);
    if (newest == nullptr) return false;
    const auto same = sameRecords(program, newest->path);
    return same && *same;
}

}  // namespace

std::filesystem::path copiesFolder(const std::filesystem::path& program) {
    return program.string() + ".copies";
}

std::vector<CopyFile> copiesOf(const std::filesystem::path& program, const std::filesystem::path& second) {
    std::vector<CopyFile> copies = copiesIn(copiesFolder(program));
    addMigrationCopies(program, copies);
    if (!second.empty())
        for (CopyFile& copy : copiesIn(second)) {
            copy.second = true;
            copies.push_back(std::move(copy));
        }
    std::ranges::stable_sort(copies, newer);
    return copies;
}

Result<CopyKept> keepCopy(const std::filesystem::path& program, const CopyRequest& request) {
    // Before the folder is made: none is wanted beside what is not there.
    std::error_code ec;
    if (!std::filesystem::is_regular_file(program, ec))
        return core::fail(ErrorKind::NotFound, "there is no file " + program.string());
    auto lock = CopiesLock::take(program);
    if (!lock) return core::fail(lock.error());
    removeParts(copiesFolder(program));
    const std::int64_t now = request.nowMs != 0 ? request.nowMs : nowInMs();
    CopyKept kept;
    if (!request.onlyIfChanged || !heldByNewest(program)) {
        auto made = makeCopy(program, request.reason, now);
        if (!made) return core::fail(made.error());
        kept.made = std::move(*made);
        thinOut(copiesFolder(program), now, kept.removed);
    }
    if (auto second = bringToSecondPlace(program, now); !second) {
        kept.second = second.error();
        kept.second->message = "no copy was brought to the second place: " + kept.second->message;
    }
    return kept;
}

Result<void> copyTo(const std::filesystem::path& program, const std::filesystem::path& name) {
    if (auto there = core::folderIsThere(name); !there) return there;
    std::error_code ec;
    if (std::filesystem::exists(std::filesystem::symlink_status(name, ec)))
        return core::fail(ErrorKind::Refused, name.string() + " is there already; choose another name");
    auto source = Connection::open(program, Access::ReadOnly);
    if (!source) return core::fail(source.error());
    if (auto ours = identify(**source, program); !ours) return core::fail(ours.error());
    return soundCopy(**source, program, name);
}

Result<std::filesystem::path> secondPlaceOf(ProgramFile& file) {
    auto place = file.fact(kSecondPlaceFact);
    if (!place) return core::fail(place.error());
    return std::filesystem::path(place->value_or(""));
}

Result<std::filesystem::path> secondFolderOf(ProgramFile& file) {
    auto place = secondPlaceOf(file);
    if (!place || place->empty()) return place;
    auto id = file.fact(kCopiesIdFact);
    if (!id) return core::fail(id.error());
    return *place / (file.path().filename().string() + ".copies-" + id->value_or(""));
}

Result<void> setSecondPlace(ProgramFile& file, const std::filesystem::path& place) {
    if (place.empty()) return file.setFact(kSecondPlaceFact, "");
    std::error_code ec;
    const std::filesystem::path real = std::filesystem::canonical(place, ec);
    if (ec || !std::filesystem::is_directory(real, ec))
        return core::fail(ErrorKind::Refused, place.string() +
                                                  " is not a folder; name one on another disk, a stick or a "
                                                  "share of the network");
    if (std::filesystem::equivalent(real, copiesFolder(file.path()), ec))
        return core::fail(ErrorKind::Refused,
                          place.string() + " is where the copies lie already; name a folder on another disk");
    if (!core::isUtf8(real.string()))
        return core::fail(ErrorKind::Refused,
                          "the name of that folder is not written in UTF-8; choose another");
    return file.transaction([&]() -> Result<void> {
        auto id = file.fact(kCopiesIdFact);
        if (!id) return core::fail(id.error());
        if (!*id) {
            // Two programs whose files have one name may share a place.
            std::random_device random;
            char text[17];
            std::snprintf(text, sizeof text, "%08x%08x", static_cast<unsigned>(random()),
                          static_cast<unsigned>(random()));
            if (auto set = file.setFact(kCopiesIdFact, text); !set) return set;
        }
        return file.setFact(kSecondPlaceFact, real.string());
    });
}

int minutesEastAt(std::int64_t ms) {
    const auto seconds = static_cast<std::time_t>(ms / kMsPerSecond);
    std::tm local{};
    return ::localtime_r(&seconds, &local) == nullptr ? 0 : static_cast<int>(local.tm_gmtoff / 60);
}

std::int64_t nowInMs() {
    using namespace std::chrono;
    return duration_cast<milliseconds>(system_clock::now().time_since_epoch()).count();
}

}  // namespace markerlamp::db
