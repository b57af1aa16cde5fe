// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/salvage/raw_tree.h"

#include "core/base/text.h"

#include <algorithm>
#include <bit>
#include <set>
#include <utility>

namespace markerlamp::db {

namespace {

constexpr int kDeepest = 20;
constexpr unsigned char kKeysInside = 0x02, kRowsInside = 0x05, kKeysLeaf = 0x0a, kRowsLeaf = 0x0d;

/// NULL before numbers before texts, as SQLite orders them.
int compared(const RawValue& a, const RawValue& b) {
    const auto kind = [](const RawValue& value) {
        return std::min<std::size_t>(value.index(), 3) + (value.index() == 1);
    };
    if (kind(a) != kind(b)) return kind(a) < kind(b) ? -1 : 1;
    if (std::holds_alternative<std::string>(a))
        return std::get<std::string>(a).compare(std::get<std::string>(b));
    const auto number = [](const RawValue& value) {
        const auto* whole = std::get_if<std::int64_t>(&value);
        return whole != nullptr     ? static_cast<long double>(*whole)
               : value.index() == 2 ? static_cast<long double>(std::get<double>(value))
                                    : 0.0L;
    };
    return number(a) < number(b) ? -1 : number(a) > number(b) ? 1 : 0;
}

/// Of as many values as both have.
int compared(const RawValues& a, const RawValues& b) {
    for (std::size_t i = 0; i < std::min(a.size(), b.size()); ++i)
        if (const int one = compared(a[i], b[i]); one != 0) return one;
    return 0;
}

/// A number of 1 to 9 bytes; moves `at` behind it.
std::optional<std::uint64_t> varint(std::string_view bytes, std::size_t& at) {
    std::uint64_t value = 0;
    for (int i = 0; i < 9; ++i) {
        if (at >= bytes.size()) return std::nullopt;
        const auto byte = static_cast<unsigned char>(bytes[at++]);
        if (i == 8) return value << 8 | byte;
        value = value << 7 | (byte & 0x7fU);
        if (byte < 0x80) return value;
    }
    return std::nullopt;
}

std::size_t lengthOf(std::uint64_t type) {
    constexpr std::size_t kLengths[] = {0, 1, 2, 3, 4, 6, 8, 8, 0, 0};
    return type < 10 ? kLengths[type] : static_cast<std::size_t>((type - 12) / 2);
}

std::optional<RawValue> valueOf(std::uint64_t type, std::string_view bytes) {
    if (type == 0) return RawValue{};
    if (type == 8 || type == 9) return RawValue{static_cast<std::int64_t>(type - 8)};
    if (type <= 7) {
        auto value =
            static_cast<std::uint64_t>(static_cast<std::int64_t>(static_cast<signed char>(bytes[0])));
        for (std::size_t i = 1; i < bytes.size(); ++i)
            value = value << 8 | static_cast<unsigned char>(bytes[i]);
        if (type == 7) return RawValue{std::bit_cast<double>(value)};
        return RawValue{static_cast<std::int64_t>(value)};
    }
    if (type < 13 || type % 2 == 0) return std::nullopt;  // no bytes stand in a program file
    if (!core::isUtf8(bytes) || bytes.find('\0') != std::string_view::npos) return std::nullopt;
    return RawValue{std::string(bytes)};
}

struct Cell {
    std::size_t begin = 0, end = 0;  ///< in the page
    std::uint32_t child = 0;
    std::int64_t rowid = 0;
    std::uint64_t payload = 0;  ///< bytes of the record
    std::size_t local = 0;      ///< of them in this page, from `record`
    std::size_t record = 0;
    std::uint32_t overflow = 0;
};

class Reader {
public:
    Reader(const RawFile& file, TreeKind kind, std::size_t columns)
        : m_file(file), m_kind(kind), m_columns(columns) {}

    std::vector<RawRow> readAlone(std::uint32_t number) {
        const auto page = m_file.page(number);
        std::vector<Cell> cells;
        std::vector<RawRow> rows;
        std::uint32_t last = 0;
        if (!page || !readPage(*page, number, cells, rows, last) || !inOrder(rows, {})) return {};
        if (m_kind == TreeKind::Rows && last != 0) return {};
        return rows;
    }

    RawTree read(std::uint32_t root) {
        walk(root, {}, 0);
        return std::move(m_tree);
    }

private:
    void lose(const LostRange& range) {
        ++m_tree.pagesLost;
        m_tree.lost.push_back(range);
    }

    void walk(std::uint32_t number, const LostRange& within, int depth) {
        const auto page = m_file.page(number);
        std::vector<Cell> cells;
        std::vector<RawRow> rows;
        std::uint32_t last = 0;
        if (!page || depth > kDeepest || !m_seen.insert(number).second ||
            !readPage(*page, number, cells, rows, last) || !inOrder(rows, within) ||
            (depth > 0 && rows.empty()))  // only a root may hold nothing
            return lose(within);
        m_tree.pages.push_back(number);
        if (last == 0) {  // a leaf
            for (RawRow& row : rows) take(std::move(row), within);
            return;
        }
        LostRange range{within.after, {}};
        for (std::size_t i = 0; i <= cells.size(); ++i) {
            const bool behindAll = i == cells.size();
            range.before = behindAll ? within.before : std::optional(keyOf(rows[i]));
            walk(behindAll ? last : cells[i].child, range, depth + 1);
            if (behindAll) return;
            range.after = range.before;
            // Inside a tree of keys stand records, too; inside one of rows only their numbers.
            if (m_kind == TreeKind::Keys) take(std::move(rows[i]), range);
        }
    }

    void take(RawRow row, const LostRange& within) {
        if (row.cut) lose(m_kind == TreeKind::Rows ? LostRange{keyOf(row), keyOf(row)} : within);
        m_tree.rows.push_back(std::move(row));
    }

    [[nodiscard]] RawValues keyOf(const RawRow& row) const {
        return m_kind == TreeKind::Rows ? RawValues{row.rowid} : row.values;
    }

    [[nodiscard]] bool inOrder(const std::vector<RawRow>& rows, const LostRange& within) const {
        std::optional<RawValues> before = within.after;
        for (const RawRow& row : rows) {
            const RawValues key = keyOf(row);
            // A row number may stand inside the tree and in a leaf; a key stands in one place.
            const int most = m_kind == TreeKind::Rows && within.before ? 0 : -1;
            if (before && compared(*before, key) >= 0 && !row.cut) return false;
            if (within.before && compared(key, *within.before) > most && !row.cut) return false;
            if (!row.cut) before = key;
        }
        return true;
    }

    /// @param last the child behind all cells; 0: a leaf
    bool readPage(std::string_view page, std::uint32_t number, std::vector<Cell>& cells,
                  std::vector<RawRow>& rows, std::uint32_t& last) {
        const std::size_t head = number == 1 ? 100 : 0;
        const auto type = static_cast<unsigned char>(page[head]);
        const bool leaf = type == kKeysLeaf || type == kRowsLeaf;
        if (type !=
            (m_kind == TreeKind::Rows ? (leaf ? kRowsLeaf : kRowsInside) : (leaf ? kKeysLeaf : kKeysInside)))
            return false;
        const std::size_t count = be16(page, head + 3);
        const std::size_t pointers = head + (leaf ? 8 : 12);
        const std::size_t said = be16(page, head + 5);
        const std::size_t content = said == 0 ? 65536 : said;
        if (pointers + 2 * count > content || content > m_file.usable()) return false;
        if (!leaf) {
            last = be32(page, head + 8);
            if (last == 0 || count == 0) return false;
        }
        for (std::size_t i = 0; i < count; ++i) {
            const auto cell = readCell(page, be16(page, pointers + 2 * i), leaf);
            if (!cell || cell->begin < content) return false;
            cells.push_back(*cell);
        }
        return accountsForAll(page, head, content, cells) && readRows(page, leaf, cells, rows);
    }

    [[nodiscard]] std::optional<Cell> readCell(std::string_view page, std::size_t at, bool leaf) const {
        Cell cell;
        cell.begin = at;
        const std::string_view used = page.substr(0, m_file.usable());
        if (!leaf) {
            if (at + 4 > used.size()) return std::nullopt;
            cell.child = be32(used, at);
            at += 4;
        }
        const bool hasRecord = leaf || m_kind == TreeKind::Keys;
        if (hasRecord) {
            const auto payload = varint(used, at);
            if (!payload || *payload == 0 || *payload > (std::uint64_t{1} << 30)) return std::nullopt;
            cell.payload = *payload;
        }
        if (m_kind == TreeKind::Rows) {
            const auto rowid = varint(used, at);
            if (!rowid) return std::nullopt;
            cell.rowid = static_cast<std::int64_t>(*rowid);
        }
        if (hasRecord) {
            cell.record = at;
            cell.local = localOf(cell.payload);
            at += cell.local;
            if (cell.local < cell.payload) {
                if (at + 4 > used.size()) return std::nullopt;
                cell.overflow = be32(used, at);
                at += 4;
            }
        }
        if (at > used.size()) return std::nullopt;
        cell.end = std::max(at, cell.begin + 4);
        return cell;
    }

    /// How much of a record stands in its page (section 1.6 of the format).
    [[nodiscard]] std::size_t localOf(std::uint64_t payload) const {
        const std::size_t usable = m_file.usable();
        const std::size_t most = m_kind == TreeKind::Rows ? usable - 35 : (usable - 12) * 64 / 255 - 23;
        if (payload <= most) return static_cast<std::size_t>(payload);
        const std::size_t least = (usable - 12) * 32 / 255 - 23;
        const std::size_t fits = least + static_cast<std::size_t>((payload - least) % (usable - 4));
        return fits <= most ? fits : least;
    }

    /// Cells, free blocks and the count of stray bytes fill the page's end exactly: what the page says of
    /// itself agrees with what lies in it.
    [[nodiscard]] bool accountsForAll(std::string_view page, std::size_t head, std::size_t content,
                                      const std::vector<Cell>& cells) const {
        std::vector<std::pair<std::size_t, std::size_t>> parts;
        for (const Cell& cell : cells) parts.emplace_back(cell.begin, cell.end);
        for (std::size_t block = be16(page, head + 1), before = 0; block != 0; block = be16(page, block)) {
            if (block <= before || block < content || block + 4 > m_file.usable()) return false;
            const std::size_t size = be16(page, block + 2);
            if (size < 4 || block + size > m_file.usable()) return false;
            parts.emplace_back(block, block + size);
            before = block;
        }
        std::ranges::sort(parts);
        std::size_t at = content, stray = 0;
        for (const auto& [begin, end] : parts) {
            if (begin < at) return false;
            stray += begin - at;
            at = end;
        }
        return at <= m_file.usable() &&
               stray + m_file.usable() - at == static_cast<unsigned char>(page[head + 7]);
    }

    bool readRows(std::string_view page, bool leaf, const std::vector<Cell>& cells,
                  std::vector<RawRow>& rows) {
        for (const Cell& cell : cells) {
            RawRow row;
            row.rowid = cell.rowid;
            if (leaf || m_kind == TreeKind::Keys) {
                std::string record(page.substr(cell.record, cell.local));
                row.cut = !addOverflow(cell, record);
                if (!readRecord(record, cell.payload, row)) return false;
            }
            rows.push_back(std::move(row));
        }
        return true;
    }

    /// False: a page of the chain is lost, and the record ends before it.
    bool addOverflow(const Cell& cell, std::string& record) {
        std::set<std::uint32_t> seen;
        for (std::uint32_t next = cell.overflow; record.size() < cell.payload;) {
            const auto page = m_file.page(next);
            if (!page || !seen.insert(next).second) return false;
            m_tree.pages.push_back(next);
            const std::size_t wanted = static_cast<std::size_t>(cell.payload) - record.size();
            record.append(page->substr(4, std::min(wanted, m_file.usable() - 4)));
            next = be32(*page, 0);
            if (record.size() >= cell.payload && next != 0) return false;
        }
        return true;
    }

    bool readRecord(std::string_view record, std::uint64_t payload, RawRow& row) const {
        std::size_t at = 0;
        const auto head = varint(record, at);
        if (!head || *head > record.size() || *head < at) return false;
        const auto headEnd = static_cast<std::size_t>(*head);
        std::vector<std::uint64_t> types;
        std::uint64_t total = headEnd;
        while (at < headEnd) {
            const auto type = varint(record.substr(0, headEnd), at);
            if (!type || *type == 10 || *type == 11) return false;
            types.push_back(*type);
            total += lengthOf(*type);
        }
        if ((m_columns != 0 && types.size() != m_columns) || total != payload) return false;
        at = headEnd;
        for (const std::uint64_t type : types) {
            if (at + lengthOf(type) > record.size()) return row.cut;
            auto value = valueOf(type, record.substr(at, lengthOf(type)));
            if (!value) {
                // In a long text only the overflow pages can be wrong, and they bear no marks of their own.
                if (record.size() <= m_file.usable()) return false;
                row.cut = true;
                return true;
            }
            row.values.push_back(std::move(*value));
            at += lengthOf(type);
        }
        return true;
    }

    const RawFile& m_file;
    TreeKind m_kind;
    std::size_t m_columns;
    RawTree m_tree;
    std::set<std::uint32_t> m_seen;
};

}  // namespace

bool RawTree::mayHaveLost(const RawValues& key) const {
    return std::ranges::any_of(lost, [&](const LostRange& range) {
        return (!range.after || compared(*range.after, key) <= 0) &&
               (!range.before || compared(key, *range.before) <= 0);
    });
}

std::vector<RawRow> readPageAlone(const RawFile& file, std::uint32_t number, TreeKind kind,
                                  std::size_t columns) {
    return Reader(file, kind, columns).readAlone(number);
}

RawTree readTree(const RawFile& file, std::uint32_t root, TreeKind kind, std::size_t columns) {
    return Reader(file, kind, columns).read(root);
}

}  // namespace markerlamp::db
