// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The rubric page in the window: tree, step in full, limits, rules, remarks, and the new edition that a limit
// set makes.

#include "../window_fixture.h"

#include "../../support/sample_attempt.h"

#include "app/rubrics/rubric_page.h"
#include "app/rubrics/step_tree.h"
#include "app/support/table_view.h"
#include "app/support/text_widgets.h"
#include "core/rubric/new_edition.h"

#include <QAbstractItemModelTester>
#include <QComboBox>
#include <QLineEdit>
#include <QPushButton>
#include <QTabWidget>
#include <QTextBrowser>

#include <set>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class RubricPageTest : public WindowFixture {
protected:
    void SetUp() override {
        openEmpty();
        showRubric();
    }
    void showRubric() {
        m_window->showPage(PageId::Rubric);
        settle();
        ASSERT_NE(page().rubric(), nullptr);
    }
    [[nodiscard]] app::RubricPage& page() { return *m_window->findChild<app::RubricPage*>(); }
    [[nodiscard]] db::ProgramFile& file() { return m_window->session()->file(); }
    [[nodiscard]] app::StepTree& tree() { return *page().findChild<app::StepTree*>(); }
    [[nodiscard]] QString words(const char* name) {
        for (auto* text : page().findChildren<QTextBrowser*>())
            if (text->accessibleName() == QLatin1String(name)) return text->toPlainText();
        ADD_FAILURE() << "no text " << name;
        return {};
    }
    [[nodiscard]] app::TableView& limits() { return *page().findChild<app::TableView*>(); }
    /// Shows the edition of the air-brake rubric, or another.
    void choose(const QString& id, int edition) {
        auto* box = page().findChild<QComboBox*>();
        const int at = box->findData(QStringList{id, QString::number(edition)});
        ASSERT_GE(at, 0);
        box->setCurrentIndex(at);
        emit box->activated(at);
        settle();
        ASSERT_EQ(page().rubric()->id, app::ss(id));
    }
    static QPushButton* makeButton(QDialog& dialog) {
        for (auto* one : dialog.findChildren<QPushButton*>())
            if (one->text() == QLatin1String("&Make the edition")) return one;
        return nullptr;
    }
};

TEST_F(RubricPageTest, TreeHoldsEveryZoneAndStep) {
    QAbstractItemModelTester tester(tree().model(), QAbstractItemModelTester::FailureReportingMode::Fatal);
    const core::Rubric& rubric = *page().rubric();
    const QAbstractItemModel& model = *tree().model();
    ASSERT_EQ(model.rowCount(), static_cast<int>(rubric.zones.size()) + 1);
    for (std::size_t z = 0; z < rubric.zones.size(); ++z) {
        const QModelIndex zone = model.index(static_cast<int>(z) + 1, 0);
        EXPECT_EQ(zone.data().toString().toStdString(), rubric.zones[z].title);
        ASSERT_EQ(model.rowCount(zone), static_cast<int>(rubric.zones[z].steps.size()));
        for (std::size_t s = 0; s < rubric.zones[z].steps.size(); ++s) {
            const QModelIndex step = model.index(static_cast<int>(s), 0, zone);
            EXPECT_EQ(step.data(app::StepTree::StepRole).toString().toStdString(),
                      rubric.zones[z].steps[s].id);
            EXPECT_EQ(step.data(app::StepTree::RemarkRole).toString() == QLatin1String("must pass"),
                      rubric.zones[z].steps[s].mustPass);
        }
    }
}

TEST_F(RubricPageTest, StepIsShownInFullWithPointsNumbersAndCaution) {
    choose(QStringLiteral("air-brake-school-bus"), 1);
    const core::Rubric& rubric = *page().rubric();
    const core::Step& step = *rubric.step("applied-leak");
    QLineEdit& find = *page().findChild<QLineEdit*>();
    find.setText(app::qs(step.title));
    QTest::keyClick(&find, Qt::Key_Return);
    ASSERT_EQ(tree().currentStep(), QStringLiteral("applied-leak"));
    const QString text = words("Step in full");
    EXPECT_TRUE(text.contains(app::qs(step.show)));
    for (const core::Point& point : step.say) EXPECT_TRUE(text.contains(app::qs(point.text))) << point.text;
    EXPECT_EQ(text.contains(QLatin1String("must pass")), step.mustPass);
    if (!step.caution.empty()) {
        EXPECT_TRUE(text.contains(app::qs(step.caution)));
    }
    EXPECT_TRUE(text.contains(app::qs(rubric.limit("applied-leak")->source)));
    EXPECT_EQ(limits().currentId(), QStringLiteral("applied-leak")) << "its limit is chosen";
}

TEST_F(RubricPageTest, LimitsRulesSectionsAndRemarksAreShown) {
    const core::Rubric& rubric = *page().rubric();
    ASSERT_EQ(limits().model()->rowCount(), static_cast<int>(rubric.limits.size()));
    for (std::size_t i = 0; i < rubric.limits.size(); ++i) {
        const QModelIndex row = limits().model()->index(static_cast<int>(i), 0);
        const core::Limit& limit = rubric.limits[i];
        EXPECT_EQ(row.siblingAtColumn(1).data().toString(),
                  app::boundsText(limit.low, limit.high, app::qs(limit.unit), limit.exclusive));
        EXPECT_EQ(row.siblingAtColumn(2).data().toString().toStdString(), limit.source);
    }
    const QString rules = words("Order rules, sections, limit sets and remarks");
    for (const core::OrderRule& rule : rubric.order) EXPECT_TRUE(rules.contains(app::qs(rule.id))) << rule.id;
    for (const core::Section& section : rubric.sections) EXPECT_TRUE(rules.contains(app::qs(section.title)));
    EXPECT_TRUE(rules.contains(QLatin1String("nothing to remark")));

    // One with a title that is longer than the 40 characters a tile holds.
    core::Rubric wordy = rubric;
    wordy.id = "wordy";
    wordy.zones.front().steps.front().title = "A title of a step that is much longer than a tile can hold";
    ASSERT_TRUE(file().addRubric(core::writeRubric(wordy)));
    m_window->session()->noteRubricsChanged();
    choose(QStringLiteral("wordy"), 1);
    const auto warnings = core::rubricWarnings(wordy);
    ASSERT_EQ(warnings.size(), 1u);
    EXPECT_TRUE(
        words("Order rules, sections, limit sets and remarks").contains(app::qs(warnings[0].message)));
}

TEST_F(RubricPageTest, LimitSetMakesTheNextFreeEdition) {
    choose(QStringLiteral("air-brake-school-bus"), 1);
    const core::LimitSet set = builtInLimits("modernised-test");
    (void)file().addLimitSet(builtInText("modernised-test.limits.yaml"));
    core::Rubric taken = *page().rubric();
    taken.edition = 4;
    ASSERT_TRUE(file().addRubric(core::writeRubric(taken)));
    m_window->session()->noteRubricsChanged();
    choose(QStringLiteral("air-brake-school-bus"), 1);
    const core::Rubric before = *page().rubric();
    const auto expected = core::compareLimits(before, set);
    ASSERT_FALSE(expected.changes.empty());
    withDialog("program.edition", [&](QDialog& dialog) {
        auto* sets = dialog.findChild<QComboBox*>();
        sets->setCurrentIndex(sets->findData(QStringLiteral("modernised-test")));
        const auto* model = dialog.findChild<app::TableView*>()->model();
        ASSERT_EQ(model->rowCount(), static_cast<int>(expected.changes.size()));
        for (int row = 0; row < model->rowCount(); ++row) {
            const core::LimitChange& change = expected.changes[static_cast<std::size_t>(row)];
            const auto text = [&](int column) { return model->index(row, column).data().toString(); };
            const auto bounds = [](const core::Limit& limit) {
                return app::boundsText(limit.low, limit.high, app::qs(limit.unit), limit.exclusive);
            };
            EXPECT_EQ(text(0).toStdString(), change.before.id);
            EXPECT_EQ(text(1), bounds(change.before));
            EXPECT_EQ(text(2), bounds(change.after));
            EXPECT_EQ(text(3).toStdString(), change.before.source);
            EXPECT_EQ(text(4).toStdString(), change.after.source);
        }
        ASSERT_TRUE(makeButton(dialog)->isEnabled());
        makeButton(dialog)->click();
    });
    EXPECT_EQ(page().rubric()->edition, 5) << "1 and 4 are taken";
    const auto stored = file().rubric("air-brake-school-bus", 5);
    ASSERT_TRUE(stored);
    EXPECT_EQ(**stored, *core::newEdition(before, set, 5));
    EXPECT_EQ(**file().rubric("air-brake-school-bus", 1), before);
    // What the new one has against each earlier one, the newest first; the first edition has none before it.
    withDialog("view.data", [&](QDialog& dialog) {
        auto* tables = dialog.findChild<QTabWidget*>();
        ASSERT_EQ(tables->count(), 2);
        EXPECT_EQ(tables->tabText(0), QStringLiteral("Against edition 4"));
        const auto* rows = qobject_cast<app::TableView*>(tables->widget(1))->model();
        std::set<QString> limits;
        for (int row = 0; row < rows->rowCount(); ++row) limits.insert(rows->index(row, 0).data().toString());
        for (const core::LimitChange& change : expected.changes)
            EXPECT_EQ(limits.count(QStringLiteral("limit ") + app::qs(change.before.id)), 1u)
                << change.before.id;
    });
    choose(QStringLiteral("air-brake-school-bus"), 1);
    EXPECT_FALSE(m_window->action(QStringLiteral("view.data"))->isEnabled());
}

TEST_F(RubricPageTest, EditionThatChangesNothingIsRefusedAndWhatTheRubricLacksIsNamed) {
    choose(QStringLiteral("air-brake-school-bus"), 1);
    core::LimitSet same{"same", "The same", "", page().rubric()->limits};
    core::Limit strange = same.limits.front();
    strange.id = "wing-span";
    same.limits.push_back(strange);
    ASSERT_TRUE(file().addLimitSet(core::writeLimitSet(same)));
    const std::size_t editions = file().rubrics()->size();
    withDialog("program.edition", [&](QDialog& dialog) {
        auto* sets = dialog.findChild<QComboBox*>();
        sets->setCurrentIndex(sets->findData(QStringLiteral("same")));
        EXPECT_FALSE(makeButton(dialog)->isEnabled());
        QString told;
        for (auto* text : dialog.findChildren<app::Text*>()) told += text->text();
        EXPECT_TRUE(told.contains(QLatin1String("changes nothing"))) << told.toStdString();
        EXPECT_TRUE(told.contains(QLatin1String("wing-span"))) << told.toStdString();
        QTest::keyClick(&dialog, Qt::Key_Escape);
    });
    EXPECT_EQ(file().rubrics()->size(), editions);
}

}  // namespace
}  // namespace markerlamp::testing
