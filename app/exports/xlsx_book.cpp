// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/exports/xlsx_book.h"

#include "core/base/files.h"
#include "core/base/moment.h"

#include <xlsxwriter.h>

#include <array>
#include <cstdio>
#include <system_error>
#include <utility>

namespace markerlamp::app {

namespace {

using core::Cell;
using core::Column;
using core::ColumnKind;
using core::ErrorKind;
using core::fail;
using core::Result;
using core::TableId;

/// Characters of a cell, as UTF-16 counts them; the limit that spreadsheet programs state.
constexpr std::size_t kMostUnits = 32767;
/// Spreadsheets count days from here; before March 1900 they count differently.
constexpr std::int64_t kDayZero = -25569;
constexpr std::int64_t kFirstSureDay = 61;
/// Bytes; the form's own limit is 4 GiB.
constexpr std::uintmax_t kMostInPlainZip = std::uintmax_t{2} << 30;

/// Days as a spreadsheet counts them, the hour of the place as their part; nothing for what is no date.
std::optional<double> serialOf(const std::string& text, ColumnKind kind) {
    const bool moment = kind == ColumnKind::Moment;
    if (moment && !core::millisecondsOf(text)) return std::nullopt;
    const auto day = core::dayCountOf(moment ? core::localDateOf(text) : std::string_view(text));
    if (!day || *day - kDayZero < kFirstSureDay) return std::nullopt;
    const auto two = [&text](std::size_t at) { return (text[at] - '0') * 10 + (text[at + 1] - '0'); };
    double part = 0;
    if (moment) {
        const bool seconds = text.size() > 18 && text[16] == ':';
        part = (two(11) * 3600 + two(14) * 60 + (seconds ? two(17) : 0)) / 86400.0;
    }
    return static_cast<double>(*day - kDayZero) + part;
}

/// What a cell may hold instead of the character `one` (UTF-8): XML knows neither control characters nor two
/// of the last code points, and a line ends in LF there.
std::string_view allowed(std::string_view one, std::string_view next) {
    if (one == "\r") return next == "\n" ? std::string_view() : "\n";
    const auto first = static_cast<unsigned char>(one.front());
    if ((first < 0x20 && one != "\n" && one != "\t") || one == "\xEF\xBF\xBE" || one == "\xEF\xBF\xBF")
        return "\xEF\xBF\xBD";
    return one;
}

/// Nothing longer than a cell takes, and no character that it does not take.
std::string fitting(std::string_view text, bool& cut) {
    std::string fit;
    fit.reserve(text.size());
    std::size_t units = 0;
    while (!text.empty()) {
        const auto lead = static_cast<unsigned char>(text.front());
        const std::size_t bytes = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
        units += bytes == 4 ? 2 : 1;
        if (units > kMostUnits) {
            cut = true;
            break;
        }
        const std::string_view one = text.substr(0, bytes);
        text.remove_prefix(one.size());
        fit += allowed(one, text.substr(0, 1));
    }
    return fit;
}

std::string sheetName(const core::Table& table, int number) {
    std::string name(table.name);
    for (char& c : name)
        if (c == '-') c = ' ';
    return number == 1 ? name : name + " " + std::to_string(number);
}

struct Sheet {
    lxw_worksheet* page = nullptr;  ///< of the workbook
    int number = 0;                 ///< "steps 2"
    std::int64_t rows = 0;          ///< of data in this sheet
    std::int64_t all = 0;           ///< in all sheets of the table
};

}  // namespace

struct XlsxBook::Impl {
    std::filesystem::path target, part;
    std::string folder;  ///< the library keeps a pointer to it
    lxw_workbook* book = nullptr;
    std::array<lxw_format*, 8> formats{};  ///< by ColumnKind; nullptr: the usual one
    lxw_format* bold = nullptr;
    lxw_format* wrapped = nullptr;
    std::array<Sheet, 4> sheets;
    std::int64_t rowsASheet = kMostRows;
    std::int64_t cut = 0;

    ~Impl() {
        if (book != nullptr) lxw_workbook_free(book);
        std::error_code ignored;
        if (!part.empty()) std::filesystem::remove(part, ignored);
    }
    void makeFormats();
    void writeAbout(const std::string& programTitle, const std::string& day);
    Result<void> addSheet(const core::Table& table);
    lxw_error write(lxw_worksheet* page, lxw_row_t row, lxw_col_t column, const Cell& cell, ColumnKind kind);
    lxw_error writeText(lxw_worksheet* page, lxw_row_t row, lxw_col_t column, const std::string& text,
                        lxw_format* format = nullptr);
    void finishSheets();
    [[nodiscard]] Result<void> roomFor();
    [[nodiscard]] tl::unexpected<core::Error> failed(lxw_error code) const {
        return fail(ErrorKind::Machine, target.string() + " cannot be written: " + lxw_strerror(code));
    }
};

void XlsxBook::Impl::makeFormats() {
    const auto make = [this](ColumnKind kind, const char* pattern) {
        lxw_format* format = workbook_add_format(book);
        format_set_num_format(format, pattern);
        formats[static_cast<std::size_t>(kind)] = format;
    };
    make(ColumnKind::Whole, "0");
    make(ColumnKind::Percent, "0.00%");  // so fine that 79.96 does not look like a pass at 80
    make(ColumnKind::Share, "0.0%");
    make(ColumnKind::Date, "yyyy-mm-dd");
    make(ColumnKind::Moment, "yyyy-mm-dd hh:mm");
    bold = workbook_add_format(book);
    format_set_bold(bold);
    wrapped = workbook_add_format(book);
    format_set_text_wrap(wrapped);
    format_set_align(wrapped, LXW_ALIGN_VERTICAL_TOP);
}

lxw_error XlsxBook::Impl::writeText(lxw_worksheet* page, lxw_row_t row, lxw_col_t column,
                                    const std::string& text, lxw_format* format) {
    bool tooLong = false;
    const std::string fit = fitting(text, tooLong);
    if (tooLong) ++cut;
    // Never worksheet_write_formula or _url: whatever a text begins with, it is a text.
    return worksheet_write_string(page, row, column, fit.c_str(), format);
}

lxw_error XlsxBook::Impl::write(lxw_worksheet* page, lxw_row_t row, lxw_col_t column, const Cell& cell,
                                ColumnKind kind) {
    lxw_format* format = formats[static_cast<std::size_t>(kind)];
    if (const auto* text = std::get_if<std::string>(&cell)) {
        if (kind == ColumnKind::Date || kind == ColumnKind::Moment)
            if (const auto serial = serialOf(*text, kind))
                return worksheet_write_number(page, row, column, *serial, format);
        return writeText(page, row, column, *text);
    }
    if (const auto* whole = std::get_if<std::int64_t>(&cell))
        return worksheet_write_number(page, row, column, static_cast<double>(*whole), format);
    if (const auto* number = std::get_if<double>(&cell))
        return worksheet_write_number(page, row, column,
                                      kind == ColumnKind::Percent ? *number / 100 : *number, format);
    if (const auto* yes = std::get_if<bool>(&cell))
        return worksheet_write_boolean(page, row, column, *yes ? 1 : 0, nullptr);
    return LXW_NO_ERROR;
}

void XlsxBook::Impl::writeAbout(const std::string& programTitle, const std::string& day) {
    lxw_worksheet* page = workbook_add_worksheet(book, "about");
    worksheet_set_column(page, 0, 0, 14, nullptr);
    worksheet_set_column(page, 1, 1, 24, nullptr);
    worksheet_set_column(page, 2, 2, 90, nullptr);
    lxw_row_t row = 0;
    const auto line = [&](const std::string& text, lxw_format* format = nullptr) {
        writeText(page, row++, 0, text, format);
    };
    line(programTitle.empty() ? "Practice inspections of a training program"
                              : "Practice inspections: " + programTitle,
         bold);
    line("Written by Markerlamp on " + day + ". It is a copy: changes here change nothing in the program.");
    line(
        "It holds names and marks of people. Keep it as you keep their records, and delete it when it is "
        "done "
        "with.");
    line(
        "Percent cells hold the number as a share (80 % is 0.8). Times are by the clock of the place. Empty "
        "means not known.");
    line("Training record: the official test, the state's manual and the program's safety rules decide.");
    line({});
    writeText(page, row, 0, "sheet", bold);
    writeText(page, row, 1, "column", bold);
    writeText(page, row++, 2, "what is in it", bold);
    for (const core::Table& table : core::exportTables()) {
        writeText(page, row, 0, sheetName(table, 1));
        writeText(page, row++, 2, std::string(table.about));
        for (const Column& column : table.columns) {
            writeText(page, row, 0, sheetName(table, 1));
            writeText(page, row, 1, std::string(column.name));
            writeText(page, row++, 2, std::string(column.about), wrapped);
        }
    }
}

Result<void> XlsxBook::Impl::addSheet(const core::Table& table) {
    Sheet& sheet = sheets[static_cast<std::size_t>(table.id)];
    ++sheet.number;
    sheet.rows = 0;
    sheet.page = workbook_add_worksheet(book, sheetName(table, sheet.number).c_str());
    if (sheet.page == nullptr) return failed(LXW_ERROR_CREATING_TMPFILE);
    const auto columns = static_cast<lxw_col_t>(table.columns.size());
    for (lxw_col_t i = 0; i < columns; ++i) {
        const Column& column = table.columns[i];
        worksheet_set_column(sheet.page, i, i, column.width, nullptr);
        if (const auto code = writeText(sheet.page, 0, i, std::string(column.name), bold);
            code != LXW_NO_ERROR)
            return failed(code);
    }
    worksheet_freeze_panes(sheet.page, 1, 0);
    worksheet_repeat_rows(sheet.page, 0, 0);
    worksheet_set_landscape(sheet.page);
    return {};
}

/// Filters reach from the header to the last row, which is known only now.
void XlsxBook::Impl::finishSheets() {
    for (const core::Table& table : core::exportTables()) {
        const Sheet& sheet = sheets[static_cast<std::size_t>(table.id)];
        worksheet_autofilter(sheet.page, 0, 0, static_cast<lxw_row_t>(sheet.rows),
                             static_cast<lxw_col_t>(table.columns.size() - 1));
    }
}

/// The library does not look whether its temporary files could be written, so that on a full disk rows would
/// be missing without a word. They lie unpacked twice on the disk before the packed file is made.
Result<void> XlsxBook::Impl::roomFor() {
    std::uintmax_t unpacked = 0;
    lxw_worksheet* page = nullptr;
    STAILQ_FOREACH(page, book->worksheets, list_pointers) {
        std::FILE* file = page->optimize_tmpfile;
        if (file == nullptr) continue;
        if (std::fflush(file) != 0 || std::ferror(file) != 0) return failed(LXW_ERROR_CREATING_TMPFILE);
        if (const auto size = ::ftello(file); size > 0) unpacked += static_cast<std::uintmax_t>(size);
    }
    std::error_code ec;
    const auto space = std::filesystem::space(folder, ec);
    if (!ec && space.available < 2 * unpacked)
        return fail(ErrorKind::Machine, "the disk of " + target.string() + " is too full: " +
                                            std::to_string(2 * unpacked / 1000000 + 1) + " MB are needed");
    // Only for what needs it: some programs call a file in that form damaged.
    if (unpacked > kMostInPlainZip) book->options.use_zip64 = LXW_TRUE;
    return {};
}

XlsxBook::XlsxBook(std::unique_ptr<Impl> impl) : m_impl(std::move(impl)) {}
XlsxBook::~XlsxBook() = default;

Result<std::unique_ptr<XlsxBook>> XlsxBook::begin(const std::filesystem::path& path,
                                                  const std::string& programTitle, const std::string& day,
                                                  std::int64_t rowsASheet) {
    auto target = core::replaceTarget(path);
    if (!target) return fail(target.error());
    auto impl = std::make_unique<Impl>();
    impl->target = *target;
    impl->rowsASheet = rowsASheet;
    const auto part = core::besideName(*target, "part");
    if (auto made = core::createPrivateFile(part); !made) return fail(made.error());
    impl->part = part;
    const auto folder = target->parent_path();
    impl->folder = folder.empty() ? "." : folder.string();
    lxw_workbook_options options{};
    options.constant_memory = LXW_TRUE;
    options.tmpdir = impl->folder.data();  // nameless files there, gone with the process
    impl->book = workbook_new_opt(part.c_str(), &options);
    if (impl->book == nullptr) return impl->failed(LXW_ERROR_MEMORY_MALLOC_FAILED);
    lxw_doc_properties properties{};
    char title[] = "Practice inspections", company[] = "", comments[] = "Written by Markerlamp";
    properties.title = title;
    properties.company = company;
    properties.comments = comments;
    workbook_set_properties(impl->book, &properties);
    impl->makeFormats();
    impl->writeAbout(programTitle, day);
    for (const core::Table& table : core::exportTables())
        if (auto added = impl->addSheet(table); !added) return fail(added.error());
    return std::unique_ptr<XlsxBook>(new XlsxBook(std::move(impl)));
}

Result<void> XlsxBook::row(TableId id, const core::Row& row) {
    const core::Table& table = core::exportTable(id);
    Sheet& sheet = m_impl->sheets[static_cast<std::size_t>(id)];
    if (sheet.rows == m_impl->rowsASheet) {
        worksheet_autofilter(sheet.page, 0, 0, static_cast<lxw_row_t>(sheet.rows),
                             static_cast<lxw_col_t>(table.columns.size() - 1));
        if (auto added = m_impl->addSheet(table); !added) return added;
    }
    ++sheet.rows;
    ++sheet.all;
    for (std::size_t i = 0; i < row.size(); ++i)
        if (const auto code = m_impl->write(sheet.page, static_cast<lxw_row_t>(sheet.rows),
                                            static_cast<lxw_col_t>(i), row[i], table.columns[i].kind);
            code != LXW_NO_ERROR)
            return m_impl->failed(code);
    return {};
}

Result<void> XlsxBook::publish() {
    m_impl->finishSheets();
    if (auto room = m_impl->roomFor(); !room) return room;
    const auto code = workbook_close(std::exchange(m_impl->book, nullptr));
    if (code != LXW_NO_ERROR) return m_impl->failed(code);
    if (auto done = core::supersede(m_impl->part, m_impl->target); !done) return done;
    m_impl->part.clear();
    return {};
}

std::int64_t XlsxBook::rows(TableId table) const {
    return m_impl->sheets[static_cast<std::size_t>(table)].all;
}
int XlsxBook::sheets(TableId table) const {
    return m_impl->sheets[static_cast<std::size_t>(table)].number;
}
std::int64_t XlsxBook::cut() const {
    return m_impl->cut;
}

}  // namespace markerlamp::app
