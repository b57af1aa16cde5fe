// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/salvage/raw_program.h"

#include "db/schema/migrator.h"
#include "db/sqlite/failure.h"

#include <algorithm>
#include <set>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

constexpr const char* kWordsByText = "sqlite_autoindex_word_1";
constexpr std::size_t kSchemaColumns = 5;

using Roots = std::map<std::string, std::uint32_t>;

struct Form {
    std::vector<std::string> columns;
    TreeKind kind = TreeKind::Rows;
};

/// Tables of the fresh file with their columns in the order in which records hold them: without rowids the
/// key comes first.
std::map<std::string, Form> formsOf(SQLite::Database& fresh) {
    std::map<std::string, Form> forms;
    SQLite::Statement tables(
        fresh,
        "SELECT name, wr FROM pragma_table_list WHERE schema = 'main' AND type = 'table' "
        "AND name NOT LIKE 'sqlite@_%' ESCAPE '@' AND name NOT IN ('event_kind', 'erasing')");
    while (tables.executeStep()) {
        Form form;
        const bool keyed = tables.getColumn(1).getInt() != 0;
        form.kind = keyed ? TreeKind::Keys : TreeKind::Rows;
        SQLite::Statement columns(fresh, std::string("SELECT name FROM pragma_table_info(?) ORDER BY ") +
                                             (keyed ? "CASE pk WHEN 0 THEN 1000 ELSE pk END, cid" : "cid"));
        columns.bind(1, tables.getColumn(0).getString());
        while (columns.executeStep()) form.columns.push_back(columns.getColumn(0).getString());
        forms.emplace(tables.getColumn(0).getString(), std::move(form));
    }
    return forms;
}

Roots rootsOfFresh(SQLite::Database& fresh) {
    Roots roots;
    SQLite::Statement rows(fresh, "SELECT name, rootpage FROM sqlite_master WHERE rootpage > 0");
    while (rows.executeStep())
        roots[rows.getColumn(0).getString()] = static_cast<std::uint32_t>(rows.getColumn(1).getInt());
    return roots;
}

/// What the file itself says about its tables: type, name, table, first page, SQL.
Roots rootsOf(const RawTree& schema) {
    Roots roots;
    for (const RawRow& row : schema.rows) {
        if (row.values.size() < 4) continue;
        const auto* name = std::get_if<std::string>(&row.values[1]);
        const auto* root = std::get_if<std::int64_t>(&row.values[3]);
        if (name != nullptr && root != nullptr && *root > 1 && *root < (std::int64_t{1} << 32))
            roots[*name] = static_cast<std::uint32_t>(*root);
    }
    return roots;
}

/// Two places hold each word: the table and the index by its text.
std::map<std::int64_t, std::string> wordsOf(const RawTree& table, const RawTree& index) {
    std::map<std::int64_t, std::string> words;
    const auto add = [&](const RawValue& number, const RawValue& text) {
        if (const auto* at = std::get_if<std::int64_t>(&number))
            if (const auto* word = std::get_if<std::string>(&text)) words.emplace(*at, *word);
    };
    for (const RawRow& row : table.rows)
        if (row.values.size() == 2) add(row.rowid, row.values[1]);
    for (const RawRow& row : index.rows)
        if (row.values.size() == 2) add(row.values[1], row.values[0]);
    return words;
}

/// Indexes of the fresh file: their table and how many values their records have.
struct IndexForm {
    std::string table;
    std::size_t columns = 0;
};
std::map<std::string, IndexForm> indexesOf(SQLite::Database& fresh) {
    std::map<std::string, IndexForm> forms;
    SQLite::Statement rows(fresh,
                           "SELECT name, tbl_name, (SELECT count(*) FROM pragma_index_xinfo(m.name)) FROM "
                           "sqlite_master m WHERE type = 'index' AND rootpage > 0");
    while (rows.executeStep())
        forms[rows.getColumn(0).getString()] = {rows.getColumn(1).getString(),
                                                static_cast<std::size_t>(rows.getColumn(2).getInt())};
    return forms;
}

/// Which pages something leads to.
class Reached {
public:
    explicit Reached(const RawFile& file) : m_file(file) {
        addFreePages();
        constexpr std::size_t kLockedByte = std::size_t{1} << 30;
        m_pages.insert(static_cast<std::uint32_t>(kLockedByte / file.pageSize() + 1));  // never used
    }
    void add(const RawTree& tree) { m_pages.insert(tree.pages.begin(), tree.pages.end()); }
    [[nodiscard]] std::vector<std::uint32_t> others() const {
        std::vector<std::uint32_t> strays;
        for (std::uint32_t number = 1; number <= m_file.pages(); ++number)
            if (!m_pages.contains(number)) strays.push_back(number);
        return strays;
    }

private:
    /// The list of free pages: a chain of pages with numbers of others (section 1.5 of the format).
    void addFreePages() {
        const auto first = m_file.page(1);
        if (!first || !m_file.headWhole()) return;
        for (std::uint32_t trunk = be32(*first, 32); trunk != 0;) {
            const auto page = m_file.page(trunk);
            if (!page || !m_pages.insert(trunk).second) return;
            const std::size_t count = std::min<std::size_t>(be32(*page, 4), m_file.usable() / 4 - 2);
            for (std::size_t i = 0; i < count; ++i) m_pages.insert(be32(*page, 8 + 4 * i));
            trunk = be32(*page, 0);
        }
    }

    const RawFile& m_file;
    std::set<std::uint32_t> m_pages;
};

/// Reads what else the file has, only to know which pages belong to something.
void reachOthers(const RawFile& file, const Roots& roots, const RawProgram& program,
                 const std::map<std::string, IndexForm>& indexes, Reached& reached) {
    for (const auto& [name, root] : roots) {
        if (program.tables.contains(name) || indexes.contains(name)) continue;
        for (const TreeKind kind : {TreeKind::Rows, TreeKind::Keys})
            if (const RawTree tree = readTree(file, root, kind, 0); tree.lost.empty()) reached.add(tree);
    }
}

void lookAtStrays(const RawFile& file, const Reached& reached, std::size_t eventColumns,
                  RawProgram& program) {
    for (const std::uint32_t number : reached.others()) {
        ++program.strays;
        for (const RawRow& row : readPageAlone(file, number, TreeKind::Keys, eventColumns)) {
            if (row.values.size() < 2) continue;
            const auto* attempt = std::get_if<std::int64_t>(&row.values[0]);
            const auto* n = std::get_if<std::int64_t>(&row.values[1]);
            if (attempt != nullptr && n != nullptr) {
                std::int64_t& most = program.strayEvents[*attempt];
                most = std::max(most, *n);
            }
        }
    }
}

}  // namespace

Result<RawProgram> readRawProgram(const std::filesystem::path& damaged, Connection& fresh) {
    const auto file = RawFile::read(damaged);
    if (!file) return core::fail(file.error());
    const bool ours =
        file->headWhole() && file->applicationId() == static_cast<std::uint32_t>(kApplicationId);
    if (file->headWhole() && !ours && file->applicationId() != 0)
        return core::fail(ErrorKind::Refused,
                          damaged.string() + " is a database, but not a Markerlamp program file");
    if (ours && file->userVersion() > static_cast<std::uint32_t>(schemaSteps().back().number))
        return core::fail(
            ErrorKind::NewerFile,
            damaged.string() + " was made by a newer version of this program; read it out with that");
    return guarded(damaged.string() + " cannot be read out", [&]() -> Result<RawProgram> {
        RawProgram program;
        const Roots usual = rootsOfFresh(fresh.database());
        const RawTree schema = readTree(*file, 1, TreeKind::Rows, kSchemaColumns);
        Roots roots = rootsOf(schema);
        program.guessed = !schema.lost.empty();
        for (const auto& [name, root] : usual)
            if (program.guessed) roots.emplace(name, root);
        std::size_t rows = 0;
        for (auto& [name, form] : formsOf(fresh.database())) {
            RawTable& table = program.tables[name];
            table.columns = form.columns;
            const auto root = roots.find(name);
            if (root == roots.end()) continue;
            table.found = true;
            table.tree = readTree(*file, root->second, form.kind, form.columns.size());
            rows += table.tree.rows.size();
        }
        if (rows == 0)
            return core::fail(ErrorKind::Refused,
                              "nothing of a program file can be read in " + damaged.string());
        Reached reached(*file);
        reached.add(schema);
        for (const auto& [name, table] : program.tables) reached.add(table.tree);
        const auto indexes = indexesOf(fresh.database());
        RawTree index;
        for (const auto& [name, form] : indexes) {
            const auto root = roots.find(name);
            if (root == roots.end()) continue;
            RawTree tree = readTree(*file, root->second, TreeKind::Keys, form.columns);
            reached.add(tree);
            if (const auto table = program.tables.find(form.table); table != program.tables.end())
                table->second.indexed = std::max(table->second.indexed, static_cast<int>(tree.rows.size()));
            if (name == kWordsByText) index = std::move(tree);
        }
        reachOthers(*file, roots, program, indexes, reached);
        lookAtStrays(*file, reached, program.tables.at("event").columns.size(), program);
        program.words = wordsOf(program.tables["word"].tree, index);
        return program;
    });
}

}  // namespace markerlamp::db
