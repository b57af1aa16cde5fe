#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The pages of a database file as they lie on the disk, read without SQLite, which gives up on a file where
// single pages are damaged. Format: "Database File Format", SQLite (public domain), sections 1 and 4.

#include "core/base/result.h"

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace markerlamp::db {

class RawFile {
public:
    /// The file and, where one lies beside it, the committed part of its log.
    static core::Result<RawFile> read(const std::filesystem::path& path);

    /// A page by its number from 1; nothing where the file ends before it does.
    [[nodiscard]] std::optional<std::string_view> page(std::uint32_t number) const;
    /// Bytes of a page that hold something.
    [[nodiscard]] std::size_t usable() const { return m_usable; }
    [[nodiscard]] std::size_t pageSize() const { return m_pageSize; }
    [[nodiscard]] std::uint32_t pages() const;
    /// The head of the first page says that it is a database.
    [[nodiscard]] bool headWhole() const { return m_headWhole; }
    [[nodiscard]] std::uint32_t applicationId() const;
    [[nodiscard]] std::uint32_t userVersion() const;

private:
    void readLog();

    std::string m_bytes, m_log;
    std::size_t m_pageSize = 4096, m_usable = 4096;
    bool m_headWhole = false;
    std::map<std::uint32_t, std::size_t> m_inLog;  ///< page number to its place in the log
};

/// Big-endian numbers, as everything in the format is.
[[nodiscard]] inline std::uint32_t be16(std::string_view bytes, std::size_t at) {
    return static_cast<std::uint32_t>(static_cast<unsigned char>(bytes[at])) << 8 |
           static_cast<unsigned char>(bytes[at + 1]);
}
[[nodiscard]] inline std::uint32_t be32(std::string_view bytes, std::size_t at) {
    return be16(bytes, at) << 16 | be16(bytes, at + 2);
}

}  // namespace markerlamp::db
