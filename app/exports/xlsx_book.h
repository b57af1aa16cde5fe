#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The tables as one spreadsheet (Office Open XML, ECMA-376): a sheet that says what it is, and one each for
// roster, attempts, steps and weak zones. Numbers are numbers, dates dates, and a text is always a text,
// whatever it begins with. Rows go to disk as they come; the file appears whole or not at all.

#include "core/export/tables.h"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

namespace markerlamp::app {

class XlsxBook final : public core::TableSink {
public:
    /// @param rowsASheet of data, in [1, kMostRows]: what does not fit goes on in a further sheet "steps 2"
    static core::Result<std::unique_ptr<XlsxBook>> begin(const std::filesystem::path& path,
                                                         const std::string& programTitle,
                                                         const std::string& day,
                                                         std::int64_t rowsASheet = kMostRows);
    ~XlsxBook() override;
    XlsxBook(const XlsxBook&) = delete;
    XlsxBook& operator=(const XlsxBook&) = delete;

    core::Result<void> row(core::TableId table, const core::Row& row) override;
    /// Puts the file in its place.
    core::Result<void> publish();
    [[nodiscard]] std::int64_t rows(core::TableId table) const;
    [[nodiscard]] int sheets(core::TableId table) const;
    /// Texts that were longer than a cell may be, and were cut.
    [[nodiscard]] std::int64_t cut() const;

    /// A sheet has 1,048,576 rows (ECMA-376, part 1, 18.17.2.4 and the limits that spreadsheet programs
    /// state); one is the header.
    static constexpr std::int64_t kMostRows = 1'048'575;

private:
    struct Impl;
    explicit XlsxBook(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> m_impl;
};

}  // namespace markerlamp::app
