// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/report_dialogs.h"
#include "app/support/table_view.h"

#include <gtest/gtest.h>

#include <QTextBrowser>

namespace markerlamp::app {
namespace {

using Outcome = db::ImportReport::Outcome;

TEST(ImportDialog, ShowsWhatATableChangedBeforeWhatIsNew) {
    db::ImportReport report;
    report.items.push_back({"a.attempt.jsonl", "attempt", "a-1", Outcome::Added, {}, {}});
    report.items.push_back({"people.csv",
                            "people",
                            "2 rows",
                            Outcome::Changed,
                            {},
                            {{"t-1", {{"permit_expires", true, "2026-07-05", "2026-01-05"}}},
                             {"t-2", {{"note", false, {}, {}}}}}});
    report.toComplete = {"bus 14"};
    const Theme theme;
    ImportDialog dialog(theme, report, QStringLiteral("2 documents"), nullptr);
    auto* table = dialog.findChild<TableView*>();
    auto* detail = dialog.findChild<QTextBrowser*>();
    ASSERT_TRUE(table != nullptr && detail != nullptr);
    EXPECT_EQ(detail->toPlainText(),
              QStringLiteral("Changed:\nt-1: permit_expires 2026-07-05 -> 2026-01-05\nt-2: note"));
    table->selectRowAt(1);
    EXPECT_EQ(detail->toPlainText(), QStringLiteral("To be completed: bus 14"));
}

}  // namespace
}  // namespace markerlamp::app
