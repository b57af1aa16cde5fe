#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The folders in which copies lie: made for the owner alone, locked while one is made or all are removed.

#include "core/base/result.h"
#include "core/copies/copies.h"
#include "db/copies/copies.h"
#include "db/sqlite/connection.h"

#include <filesystem>
#include <string>
#include <vector>

namespace markerlamp::db {

inline constexpr const char* kSecondPlaceFact = "ui.copies.second";
inline constexpr const char* kCopiesIdFact = "ui.copies.id";
/// When a person was last erased, milliseconds since 1970 UTC: copies from before are to go where they are
/// reached only later.
inline constexpr const char* kErasedFact = "ui.copies.erased";
/// The key that copies in the second place are sealed with.
inline constexpr const char* kSecondSealFact = "ui.copies.seal";

/// Held while a copy is made, so that erasing never misses one that was begun before; waits for it. Makes the
/// folder with mode 0700.
class CopiesLock {
public:
    static core::Result<CopiesLock> take(const std::filesystem::path& program);
    CopiesLock(CopiesLock&& other) noexcept;
    CopiesLock(const CopiesLock&) = delete;
    CopiesLock& operator=(CopiesLock&&) = delete;
    CopiesLock& operator=(const CopiesLock&) = delete;
    ~CopiesLock();

private:
    explicit CopiesLock(int fd) : m_fd(fd) {}
    int m_fd;
};

/// Empty where there is no such fact.
[[nodiscard]] std::string factOf(Connection& connection, const std::string& key);
void putFact(Connection& connection, const std::string& key, const std::string& value);

/// PLACE/FILE.copies-ID of an open file; empty: no second place.
[[nodiscard]] std::filesystem::path secondFolder(Connection& connection,
                                                 const std::filesystem::path& program);
/// Makes the folder with mode 0700 where its parent is there; NotFound otherwise.
core::Result<void> privateFolder(const std::filesystem::path& folder);

/// The copies in one folder, in no order.
[[nodiscard]] std::vector<CopyFile> copiesIn(const std::filesystem::path& folder);
/// A name that is free in the folder.
[[nodiscard]] std::filesystem::path freeName(const std::filesystem::path& folder, core::CopyName name);
/// makeCopy with the folder locked already.
core::Result<std::filesystem::path> makeCopy(const std::filesystem::path& program, core::CopyReason reason,
                                             std::int64_t nowMs);
/// Removes every copy in a folder, and what runs that broke off left there. The first that cannot be removed
/// ends it.
core::Result<void> removeCopiesIn(const std::filesystem::path& folder, std::vector<std::string>& removed);

}  // namespace markerlamp::db
