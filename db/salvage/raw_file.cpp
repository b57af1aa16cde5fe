// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/salvage/raw_file.h"

#include "core/base/files.h"

#include <algorithm>
#include <utility>

namespace markerlamp::db {

using core::Result;

namespace {

constexpr std::size_t kMostBytes = std::size_t{4} << 30;
constexpr std::string_view kMagic("SQLite format 3\0", 16);
constexpr std::size_t kLogHead = 32, kFrameHead = 24;
constexpr std::uint32_t kLogMagic = 0x377f0682;

bool isPageSize(std::size_t size) {
    return size >= 512 && size <= 65536 && (size & (size - 1)) == 0;
}

/// The log's running sum over pairs of words; the magic says in which order their bytes count.
class LogSum {
public:
    explicit LogSum(bool bigEndian) : m_big(bigEndian) {}
    void add(std::string_view bytes) {
        for (std::size_t at = 0; at + 8 <= bytes.size(); at += 8) {
            m_first += word(bytes, at) + m_second;
            m_second += word(bytes, at + 4) + m_first;
        }
    }
    [[nodiscard]] bool is(std::string_view bytes, std::size_t at) const {
        return be32(bytes, at) == m_first && be32(bytes, at + 4) == m_second;
    }

private:
    [[nodiscard]] std::uint32_t word(std::string_view bytes, std::size_t at) const {
        const std::uint32_t big = be32(bytes, at);
        return m_big ? big : __builtin_bswap32(big);
    }
    bool m_big;
    std::uint32_t m_first = 0, m_second = 0;
};

}  // namespace

Result<RawFile> RawFile::read(const std::filesystem::path& path) {
    auto bytes = core::readDocument(path, kMostBytes);
    if (!bytes) return core::fail(bytes.error());
    if (bytes->size() > kMostBytes)
        return core::fail(core::ErrorKind::Refused, path.string() + " is too large to be read out");
    RawFile file;
    file.m_bytes = std::move(*bytes);
    if (file.m_bytes.size() >= 100 && file.m_bytes.starts_with(kMagic)) {
        const std::size_t said = be16(file.m_bytes, 16);
        const std::size_t size = said == 1 ? 65536 : said;
        const auto reserved = static_cast<unsigned char>(file.m_bytes[20]);
        if (isPageSize(size) && size - reserved >= 480) {
            file.m_pageSize = size;
            file.m_usable = size - reserved;
            file.m_headWhole = true;
        }
    }
    if (auto log = core::readDocument(path.string() + "-wal", kMostBytes); log && log->size() <= kMostBytes) {
        file.m_log = std::move(*log);
        file.readLog();
    }
    return file;
}

void RawFile::readLog() {
    if (m_log.size() < kLogHead || (be32(m_log, 0) | 1U) != (kLogMagic | 1U)) return;
    const std::size_t said = be32(m_log, 8);
    if (!isPageSize(said) || (m_headWhole && said != m_pageSize)) return;
    LogSum sum((be32(m_log, 0) & 1U) != 0);
    sum.add(std::string_view(m_log).substr(0, 24));
    if (!sum.is(m_log, 24)) return;
    if (!m_headWhole) m_pageSize = m_usable = said;
    std::map<std::uint32_t, std::size_t> waiting;
    for (std::size_t at = kLogHead; at + kFrameHead + m_pageSize <= m_log.size();
         at += kFrameHead + m_pageSize) {
        const std::string_view frame = std::string_view(m_log).substr(at, kFrameHead + m_pageSize);
        sum.add(frame.substr(0, 8));
        sum.add(frame.substr(kFrameHead));
        if (frame.substr(8, 8) != std::string_view(m_log).substr(16, 8) || !sum.is(frame, 16)) break;
        waiting[be32(frame, 0)] = at + kFrameHead;
        if (be32(frame, 4) == 0) continue;
        // A commit: all up to here counts.
        for (const auto& [number, place] : waiting) m_inLog[number] = place;
        waiting.clear();
    }
}

std::optional<std::string_view> RawFile::page(std::uint32_t number) const {
    if (number == 0) return std::nullopt;
    if (const auto found = m_inLog.find(number); found != m_inLog.end())
        return std::string_view(m_log).substr(found->second, m_pageSize);
    const std::size_t at = static_cast<std::size_t>(number - 1) * m_pageSize;
    if (at + m_pageSize > m_bytes.size()) return std::nullopt;
    return std::string_view(m_bytes).substr(at, m_pageSize);
}

std::uint32_t RawFile::pages() const {
    const auto inFile = static_cast<std::uint32_t>(m_bytes.size() / m_pageSize);
    return m_inLog.empty() ? inFile : std::max(inFile, m_inLog.rbegin()->first);
}

std::uint32_t RawFile::applicationId() const {
    const auto first = page(1);
    return first ? be32(*first, 68) : 0;
}

std::uint32_t RawFile::userVersion() const {
    const auto first = page(1);
    return first ? be32(*first, 60) : 0;
}

}  // namespace markerlamp::db
