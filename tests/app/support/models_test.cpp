// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Every item model under Qt's own checker, and what tables put on the clipboard.

#include "app/rubrics/step_tree.h"
#include "app/support/clipboard.h"
#include "app/support/rows_model.h"
#include "app/trainees/zones_table.h"
#include "../../support/sample_attempt.h"

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QClipboard>
#include <QGuiApplication>
#include <QMimeData>
#include <QSortFilterProxyModel>

namespace markerlamp::app {
namespace {

constexpr auto kFatal = QAbstractItemModelTester::FailureReportingMode::Fatal;

std::vector<Row> someRows() {
    return {{QStringLiteral("b"), {Cell{QStringLiteral("Bo")}, sortedCell(QStringLiteral("9"), 9)}},
            {QStringLiteral("a"), {Cell{QStringLiteral("A\tx")}, sortedCell(QStringLiteral("10"), 10)}},
            {QStringLiteral("short"), {Cell{QStringLiteral("only one cell")}}}};
}

}  // namespace

TEST(RowsModel, KeepsTheRulesOfModels) {
    RowsModel model({{QStringLiteral("name")}, {QStringLiteral("count"), true}});
    QAbstractItemModelTester tester(&model, kFatal);
    model.setRows(someRows());
    model.setRows({});
    model.setRows(someRows());
    model.setColumns({{QStringLiteral("one")}});
    model.setRows(someRows());
    EXPECT_EQ(model.rowCount(), 3);
    EXPECT_EQ(model.columnCount(), 1);
}

TEST(RowsModel, FindsRowsByTheirId) {
    RowsModel model({{QStringLiteral("name")}, {QStringLiteral("count"), true}});
    model.setRows(someRows());
    EXPECT_EQ(model.rowOf(QStringLiteral("a")), 1);
    EXPECT_EQ(model.rowOf(QStringLiteral("none")), -1);
    EXPECT_EQ(model.idAt(0), QStringLiteral("b"));
    EXPECT_EQ(model.idAt(7), QString());
}

TEST(RowsModel, SortsByValueAndNotByText) {
    RowsModel model({{QStringLiteral("name")}, {QStringLiteral("count"), true}});
    model.setRows(someRows());
    QSortFilterProxyModel sorted;
    QAbstractItemModelTester tester(&sorted, kFatal);
    sorted.setSourceModel(&model);
    sorted.setSortRole(RowsModel::SortRole);
    sorted.sort(1, Qt::DescendingOrder);
    EXPECT_EQ(sorted.index(0, 1).data().toString(), QStringLiteral("10"));
}

TEST(Clipboard, TablesLeaveAsTsvAndHtml) {
    RowsModel model({{QStringLiteral("name")}, {QStringLiteral("lamps")}});
    model.setRows({{QStringLiteral("1"), {Cell{QStringLiteral("a\tb\nc")}, paintedCell(7, QStringLiteral("shown"))}},
                   {QStringLiteral("2"), {Cell{QStringLiteral("<b>")}, Cell{}}}});
    EXPECT_EQ(tableAsTsv(model), QStringLiteral("name\tlamps\na b c\tshown\n<b>\t\n"));
    EXPECT_TRUE(tableAsHtml(model).contains(QStringLiteral("<td>&lt;b&gt;</td>")));
    EXPECT_EQ(copyTable(model), 2);
    const QMimeData* data = QGuiApplication::clipboard()->mimeData();
    EXPECT_TRUE(data->hasText());
    EXPECT_TRUE(data->hasHtml());
}

TEST(StepTree, KeepsTheRulesOfModelsAndFindsSteps) {
    Theme theme;
    StepTree tree(theme);
    QAbstractItemModelTester tester(tree.model(), kFatal);
    const core::Rubric rubric = markerlamp::testing::builtInRubric("air-brake-school-bus");
    tree.setRubric(rubric);
    EXPECT_EQ(tree.model()->rowCount(), static_cast<int>(rubric.zones.size()) + 1);
    EXPECT_FALSE(tree.currentStep().isEmpty());
    const QString title = QString::fromStdString(rubric.zones.back().steps.back().title);
    EXPECT_TRUE(tree.find(title).contains(title));
    EXPECT_EQ(tree.currentStep().toStdString(), rubric.zones.back().steps.back().id);
    EXPECT_EQ(tree.find(QStringLiteral("no such step anywhere")), QString());
}

}  // namespace markerlamp::app
