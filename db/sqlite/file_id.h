#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which file lies under a name: two files may have the same name one after the other.

#include <filesystem>
#include <optional>
#include <system_error>

#include <sys/stat.h>

namespace markerlamp::db {

struct FileId {
    dev_t device = 0;
    ino_t number = 0;
    bool operator==(const FileId&) const = default;
};

/// Nothing where no file can be seen.
[[nodiscard]] inline std::optional<FileId> fileIdOf(const std::filesystem::path& path) {
    struct stat status = {};
    if (::stat(path.c_str(), &status) != 0) return std::nullopt;
    return FileId{status.st_dev, status.st_ino};
}

/// What SQLite keeps beside a database: the log, and the index of the log.
[[nodiscard]] inline std::filesystem::path logOf(const std::filesystem::path& database) {
    return database.string() + "-wal";
}
[[nodiscard]] inline std::filesystem::path logIndexOf(const std::filesystem::path& database) {
    return database.string() + "-shm";
}

/// Links followed, as SQLite does: a log lies beside the file itself.
[[nodiscard]] inline std::filesystem::path realPath(const std::filesystem::path& path) {
    std::error_code ec;
    auto real = std::filesystem::weakly_canonical(path, ec);
    return ec || real.empty() ? path : real;
}

}  // namespace markerlamp::db
