// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/demo_file.h"

#include "app/shell/new_program.h"
#include "app/support/display.h"
#include "db/program_file.h"
#include "db/whole_files.h"
#include "demo/generator/demo_program.h"

#include <optional>

namespace markerlamp::app {

namespace {

using core::Result;

constexpr int kFreshDays = 14;

/// A file made beside another; goes away unless it took that one's place.
class Fresh {
public:
    explicit Fresh(const std::filesystem::path& path) : m_path(db::freshNameFor(path)) {}
    ~Fresh() { db::discardFresh(m_path); }
    Fresh(const Fresh&) = delete;
    Fresh& operator=(const Fresh&) = delete;
    [[nodiscard]] const std::filesystem::path& path() const { return m_path; }

private:
    std::filesystem::path m_path;
};

/// The last day of the demo in this file when that lies too long ago; empty for other files.
Result<std::optional<std::string>> staleUntil(const std::filesystem::path& path, const QDate& today) {
    // For writing: an older file is brought up to date first, so that it can be compared.
    auto file = db::ProgramFile::open(path);
    if (!file) return core::fail(file.error());
    auto until = (*file)->fact(kDemoUntilFact);
    if (!until) return core::fail(until.error());
    if (!*until) return std::nullopt;
    const QDate day = QDate::fromString(qs(**until), Qt::ISODate);
    return day.isValid() && day.daysTo(today) > kFreshDays ? *until : std::nullopt;
}

}  // namespace

std::string demoDay(const QDate& today) {
    return demo::lastWorkingDayUpTo(ss(today.addDays(-1).toString(Qt::ISODate)));
}

Result<bool> renewDemo(const std::filesystem::path& path, const QDate& today) {
    auto until = staleUntil(path, today);
    if (!until) return core::fail(until.error());
    if (!*until) return false;
    {
        const Fresh asMade(path);
        if (auto made = makeProgram(asMade.path(), **until); !made) return core::fail(made.error());
        const auto same = db::sameRecords(path, asMade.path());
        if (!same) return core::fail(same.error());
        if (!*same) return false;
    }
    const Fresh fresh(path);
    if (auto made = makeProgram(fresh.path(), demoDay(today)); !made) return core::fail(made.error());
    if (auto done = db::replaceProgram(path, fresh.path()); !done) return core::fail(done.error());
    return true;
}

}  // namespace markerlamp::app
