#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// RFC 4180 tables: quoted fields, doubled quotes, CRLF or LF, optional UTF-8 byte order mark.

#include "core/base/result.h"

#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

struct CsvTable {
    std::vector<std::string> header;
    std::vector<std::vector<std::string>> rows;  ///< each as wide as the header
    std::vector<int> lines;                      ///< 1-based line on which each row begins
};

/// Refuses: no header, a doubled column name, a row of another width, a stray quote, text that is not UTF-8,
/// > 64 MiB.
[[nodiscard]] Result<CsvTable> readCsv(std::string_view text, const std::string& name = {});
/// Quotes where RFC 4180 asks for it; lines end in CRLF.
[[nodiscard]] std::string writeCsv(const std::vector<std::string>& header,
                                   const std::vector<std::vector<std::string>>& rows);

/// One field of a row, quoted where RFC 4180 asks for it or where it holds one of `quoteAlso`.
void appendCsvField(std::string& text, std::string_view field, std::string_view quoteAlso = {});

}  // namespace markerlamp::core
