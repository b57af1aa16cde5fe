// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/copies/verify_trail.h"

#include "core/attempt/attempt_document.h"
#include "db/copies/copies.h"

#include <algorithm>
#include <map>

namespace markerlamp::db {

using core::Result;
using core::TrailEntry;

namespace {

constexpr const char* kRemedy =
    "compare it with a kept copy and with the signed sheets; restore a copy from before if it matters";
constexpr std::size_t kCopiesCompared = 3;

/// The number of an entry, and what it was about.
std::string labelOf(const std::vector<TrailEntry>& entries, std::int64_t number) {
    const auto found = std::ranges::find(entries, number, &TrailEntry::number);
    if (found == entries.end()) return std::to_string(number);
    return std::to_string(number) + " (" + found->at + ", " + found->what + ")";
}

Result<void> lookAtAttempts(ProgramFile& file, const std::vector<TrailEntry>& entries,
                            const std::vector<AttemptInfo>& attempts, FileReport& report,
                            const std::function<bool(double)>& progress) {
    std::map<std::string, const TrailEntry*> last;
    for (const TrailEntry& entry : entries) {
        if (entry.what == core::kFileSalvaged) last.clear();
        if (entry.what.starts_with("attempt.") && !documentDigest(entry).empty())
            last[entry.subject] = &entry;
    }
    const auto wrong = [&](const std::string& id, const std::string& message) {
        report.seals.push_back({{}, 0, "attempt", id, message, kRemedy});
    };
    for (std::size_t i = 0; i < attempts.size(); ++i) {
        const AttemptInfo& info = attempts[i];
        if (progress && i % 64 == 0 &&
            !progress(static_cast<double>(i) / static_cast<double>(attempts.size())))
            return core::fail(core::ErrorKind::Refused, "stopped");
        const auto sealed = last.extract(info.id);
        if (sealed.empty()) {
            report.unsealed += info.state == AttemptState::Ended ? 1 : 0;
            continue;
        }
        const auto attempt = file.attempt(info.id);
        if (!attempt) continue;  // told already
        if (core::blake2b(core::writeAttempt(*attempt)) != documentDigest(*sealed.mapped()))
            wrong(info.id, "it is not as entry " + labelOf(entries, sealed.mapped()->number) + " sealed it");
    }
    for (const auto& [id, entry] : last)
        wrong(id, "it is gone; entry " + labelOf(entries, entry->number) + " sealed it");
    return {};
}

/// The last entry that a copy and the file must have in common; 0: none. A file that was restored or salvaged
/// went on from an older state.
std::int64_t commonOf(const std::vector<TrailEntry>& file, const std::vector<TrailEntry>& copy) {
    auto common = static_cast<std::int64_t>(copy.size());
    for (const TrailEntry& entry : file) {
        if (entry.number > common) break;
        if (entry.what != core::kFileRestored && entry.what != core::kFileSalvaged) continue;
        if (copy[static_cast<std::size_t>(entry.number) - 1].seal != entry.seal) common = entry.number - 1;
    }
    return common;
}

void lookAtCopies(const std::filesystem::path& path, const std::vector<TrailEntry>& entries,
                  FileReport& report) {
    std::vector<CopyFile> copies = copiesOf(path);
    if (copies.size() > kCopiesCompared) copies.resize(kCopiesCompared);
    for (const CopyFile& copy : copies) {
        auto file = ProgramFile::open(copy.path, OpenMode::ReadOnly);
        if (!file) continue;  // verifying that copy tells why
        const auto theirs = (*file)->trail();
        if (!theirs || theirs->empty() || core::firstFlaw(*theirs)) continue;
        const std::int64_t common = commonOf(entries, *theirs);
        if (common == 0) continue;
        const auto place = static_cast<std::size_t>(common) - 1;
        if (place < entries.size() && entries[place].seal == (*theirs)[place].seal) continue;
        const auto first =
            std::ranges::mismatch(entries, *theirs, {}, &TrailEntry::seal, &TrailEntry::seal).in2;
        report.seals.push_back({{},
                                0,
                                "trail",
                                std::to_string(first->number),
                                "the copy " + copy.path.filename().string() + " has entry " +
                                    labelOf(*theirs, first->number) +
                                    ", this file has not: entries were replaced or removed, or an older copy "
                                    "was put here by hand",
                                kRemedy});
    }
}

}  // namespace

Result<void> lookAtTrail(const std::filesystem::path& path, ProgramFile& file,
                         const std::vector<TrailEntry>& entries, FileReport& report,
                         const std::function<bool(double)>& progress) {
    report.trail = static_cast<int>(entries.size());
    if (!entries.empty()) report.seal = entries.back().seal;
    if (const auto flaw = core::firstFlaw(entries)) {
        report.seals.push_back({{},
                                0,
                                "trail",
                                std::to_string(flaw->number),
                                "entry " + labelOf(entries, flaw->number) +
                                    " was changed behind the program's back: " + flaw->message,
                                kRemedy});
        return {};  // what follows it proves nothing
    }
    const auto attempts = file.attempts();
    if (!attempts) return core::fail(attempts.error());
    if (auto looked = lookAtAttempts(file, entries, *attempts, report, progress); !looked) return looked;
    lookAtCopies(path, entries, report);
    return {};
}

}  // namespace markerlamp::db
