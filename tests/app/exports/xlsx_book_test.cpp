// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The spreadsheet at its edges; whole programs are read back in tests/cli/export_tables_test.

#include "app/exports/xlsx_book.h"

#include "../../support/other_reader.h"

#include <gtest/gtest.h>

#include <QDir>
#include <QTemporaryDir>

namespace markerlamp::app {
namespace {

using core::Row;
using core::TableId;
using nlohmann::json;

class Xlsx : public ::testing::Test {
protected:
    [[nodiscard]] std::string path(const char* name = "x.xlsx") const {
        return m_dir.filePath(QLatin1String(name)).toStdString();
    }
    std::unique_ptr<XlsxBook> begin(std::int64_t rowsASheet = XlsxBook::kMostRows) {
        auto book = XlsxBook::begin(path(), "=cmd|' /C calc'!A0", "2026-03-13", rowsASheet);
        EXPECT_TRUE(book) << book.error().message;
        return std::move(*book);
    }
    /// A row of the table with this text in every text column, else empty cells.
    static Row rowWith(TableId id, const std::string& text) {
        Row row;
        for (const core::Column& column : core::exportTable(id).columns)
            row.push_back(column.kind == core::ColumnKind::Text ? core::Cell(text) : core::Cell());
        return row;
    }
    [[nodiscard]] QStringList files() const {
        return QDir(m_dir.path()).entryList(QDir::Files | QDir::Hidden);
    }

    QTemporaryDir m_dir;
};

TEST_F(Xlsx, GoesOnInAFurtherSheetWhereOneIsFull) {
    auto book = begin(3);
    for (int i = 1; i <= 8; ++i) {
        Row row = rowWith(TableId::Steps, "x");
        row[3] = std::int64_t{i};
        ASSERT_TRUE(book->row(TableId::Steps, row));
        if (i > 3) continue;
        ASSERT_TRUE(book->row(TableId::Roster, rowWith(TableId::Roster, "r")));
    }
    EXPECT_EQ(book->rows(TableId::Steps), 8);
    EXPECT_EQ(book->sheets(TableId::Steps), 3);
    EXPECT_EQ(book->sheets(TableId::Roster), 1);
    ASSERT_TRUE(book->publish());
    const auto read = testing::readByOther("read-xlsx.py", path());
    if (!read) GTEST_SKIP() << "no /usr/bin/python3 with openpyxl";
    EXPECT_EQ((*read)["order"],
              json({"about", "roster", "attempts", "steps", "weak zones", "steps 2", "steps 3"}));
    int next = 1;
    for (const auto& [name, rows] :
         {std::pair("steps", 3), std::pair("steps 2", 3), std::pair("steps 3", 2)}) {
        const json& sheet = (*read)["sheets"][name];
        ASSERT_EQ(sheet["rows"].size(), static_cast<std::size_t>(rows) + 1) << name;
        EXPECT_EQ(sheet["rows"][0][0][1], "attempt");
        EXPECT_EQ(sheet["frozen"], "A2");
        EXPECT_TRUE(sheet["filter"].get<std::string>().ends_with(std::to_string(rows + 1)));
        for (int row = 1; row <= rows; ++row)
            EXPECT_EQ(sheet["rows"][static_cast<std::size_t>(row)][3][1], next++);
    }
}

/// Titles and texts that begin like formulas, links and markup (OWASP, "CSV Injection") are texts.
TEST_F(Xlsx, NeverWritesAFormula) {
    const std::vector<std::string> evil{"=1+1",
                                        "+1",
                                        "-1",
                                        "@SUM(A1)",
                                        "=HYPERLINK(\"http://x\")",
                                        "http://example.invalid",
                                        "<f>1+1</f>",
                                        "&amp;",
                                        "{=1}",
                                        " lead",
                                        "trail "};
    auto book = begin();
    for (const std::string& text : evil)
        ASSERT_TRUE(book->row(TableId::Roster, rowWith(TableId::Roster, text)));
    ASSERT_TRUE(book->publish());
    const auto read = testing::readByOther("read-xlsx.py", path());
    if (!read) GTEST_SKIP() << "no /usr/bin/python3 with openpyxl";
    const json& rows = (*read)["sheets"]["roster"]["rows"];
    for (std::size_t i = 0; i < evil.size(); ++i) {
        EXPECT_EQ(rows[i + 1][1][0], "s") << evil[i];
        EXPECT_EQ(rows[i + 1][1][1], evil[i]);
    }
    EXPECT_EQ((*read)["sheets"]["about"]["rows"][0][0][0], "s");
}

TEST_F(Xlsx, CutsWhatACellDoesNotHoldAndCountsIt) {
    auto book = begin();
    std::string buses;  // two units of UTF-16 each
    for (int i = 0; i < 20000; ++i) buses += "\xF0\x9F\x9A\x8C";
    Row row = rowWith(TableId::Roster, "");
    row[0] = std::string(40000, 'a');
    row[1] = buses;
    row[2] = std::string(32767, 'b');
    ASSERT_TRUE(book->row(TableId::Roster, row));
    EXPECT_EQ(book->cut(), 2);
    ASSERT_TRUE(book->publish());
    const auto read = testing::readByOther("read-xlsx.py", path());
    if (!read) GTEST_SKIP() << "no /usr/bin/python3 with openpyxl";
    const json& cells = (*read)["sheets"]["roster"]["rows"][1];
    EXPECT_EQ(cells[0][1].get<std::string>().size(), 32767u);
    EXPECT_EQ(cells[1][1].get<std::string>().size(), 4u * 16383u);
    EXPECT_EQ(cells[2][1].get<std::string>().size(), 32767u);
}

TEST_F(Xlsx, LeavesNothingUnlessItIsPublished) {
    {
        auto book = begin();
        for (int i = 0; i < 1000; ++i) ASSERT_TRUE(book->row(TableId::Steps, rowWith(TableId::Steps, "x")));
    }
    EXPECT_EQ(files(), QStringList());
    {
        auto book = begin();
        ASSERT_TRUE(book->publish());
    }
    EXPECT_EQ(files(), QStringList(QStringLiteral("x.xlsx")));
    EXPECT_EQ(
        QFile::permissions(m_dir.filePath(QStringLiteral("x.xlsx"))) & (QFile::ReadGroup | QFile::ReadOther),
        0);
}

}  // namespace
}  // namespace markerlamp::app
