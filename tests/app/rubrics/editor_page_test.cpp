// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What is written in the rubric editor: fields, steps, points, limits, order rules, by keys and by its links;
// what is wrong and where.

#include "editor_fixture.h"

#include "app/rubrics/step_form.h"
#include "app/scoring/scoring_page.h"
#include "app/support/table_view.h"

#include <gmock/gmock.h>

#include <QCheckBox>
#include <QComboBox>
#include <QDoubleSpinBox>
#include <QListWidget>
#include <QPlainTextEdit>
#include <QSpinBox>

namespace markerlamp::testing {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

class EditorPageTest : public EditorFixture {};

TEST_F(EditorPageTest, ADraftBeginsAsTheEditionAndFieldsChangeIt) {
    begin();
    const core::Rubric before = **file().rubric("air-brake-school-bus", 1);
    core::Rubric expected = before;
    expected.edition = 2;
    EXPECT_EQ(rubric(), expected);
    select("air-brakes", "applied-leak");
    EXPECT_EQ(field("Title").text().toStdString(), before.step("applied-leak")->title);
    type(field("Title"), QStringLiteral("Leak, pedal down"));
    type(field("Show"), QStringLiteral("Hold it"));
    type(field("Only when the bus has"), QStringLiteral("air-brakes, !abs"));
    type(field("Caution"), QStringLiteral("Mind the chocks"));
    type(field("Source"), QStringLiteral("a test"));
    named<QSpinBox>("Weight").setValue(4);
    named<QDoubleSpinBox>("Minutes").setValue(2.25);
    named<QSpinBox>("Points needed").setValue(3);
    for (auto* box : page().findChildren<QCheckBox*>())
        if (box->text() == QLatin1String("Must pass")) box->click();
    core::Step& step = *core::findStep(expected, "applied-leak");
    step.title = "Leak, pedal down";
    step.show = "Hold it";
    step.when = {"air-brakes", "!abs"};
    step.caution = "Mind the chocks";
    step.source = "a test";
    step.weight = 4;
    step.minutes = 2.25;
    step.sayNeeded = 3;
    step.mustPass = !step.mustPass;
    EXPECT_EQ(rubric(), expected);
    EXPECT_EQ(draft().stack().count(), 9) << "one step of undo for each field";
    EXPECT_TRUE(tree().currentIndex().data().toString().contains(QLatin1String("Leak, pedal down")));
    EXPECT_EQ(**file().rubric("air-brake-school-bus", 1), before) << "the edition in use stays";
    EXPECT_EQ(file().rubrics()->size(), 2u) << "a draft is no edition";
}

TEST_F(EditorPageTest, UndoIsTheDraftsOwnAlsoInAFieldAndTheMenuNamesIt) {
    begin();
    select("air-brakes", "applied-leak");
    const QString title = field("Title").text();
    type(field("Title"), QStringLiteral("Other"));
    ASSERT_TRUE(field("Title").hasFocus());
    EXPECT_TRUE(m_window->action(QStringLiteral("edit.undo"))->text().contains(QLatin1String("title of")));
    select("left-side", rubric().zone("left-side")->steps.front().id.c_str());
    field("Title").setFocus();
    key(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_EQ(tree().currentStep(), QStringLiteral("applied-leak")) << "it leads to what it took back";
    EXPECT_EQ(field("Title").text(), title);
    EXPECT_FALSE(m_window->action(QStringLiteral("edit.undo"))->isEnabled());
    field("Title").setFocus();
    key(Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier);
    EXPECT_EQ(field("Title").text(), QStringLiteral("Other"));
    trigger("edit.undo");
    EXPECT_EQ(rubric().zones, (*file().rubric("air-brake-school-bus", 1))->zones);
}

TEST_F(EditorPageTest, StepsAndZonesAreAddedMovedAndRetiredByKeys) {
    begin();
    select("air-brakes", "applied-leak");
    keyWithDialog(Qt::Key_Insert, answer(QStringLiteral("Air hoses")));
    EXPECT_EQ(tree().currentStep(), QStringLiteral("air-hoses"));
    const auto place = core::placeOf(rubric(), "air-hoses");
    ASSERT_TRUE(place);
    EXPECT_EQ(rubric().zones[place->zone].steps[place->step - 1].id, "applied-leak");
    EXPECT_FALSE(draft().isSound()) << "it has nothing to show yet";
    type(field("Show"), QStringLiteral("Point at the hoses"));
    EXPECT_TRUE(draft().isSound());
    tree().setFocus();
    key(Qt::Key_Up, Qt::AltModifier);
    EXPECT_EQ(core::placeOf(rubric(), "air-hoses")->step, place->step - 1);
    EXPECT_EQ(tree().currentStep(), QStringLiteral("air-hoses"));
    EXPECT_TRUE(tree().hasFocus());
    key(Qt::Key_Down, Qt::AltModifier);
    key(Qt::Key_Delete);
    EXPECT_EQ(rubric().step("air-hoses"), nullptr);
    trigger("edit.undo");
    EXPECT_NE(rubric().step("air-hoses"), nullptr);

    select("air-brakes");
    withDialog("edition.zone", answer(QStringLiteral("Air tanks")));
    EXPECT_EQ(tree().currentZone(), QStringLiteral("air-tanks"));
    EXPECT_EQ(field("Title").text(), QStringLiteral("Air tanks"));
    keyWithDialog(Qt::Key_Insert, answer(QStringLiteral("Tank drained")));
    EXPECT_EQ(rubric().zone("air-tanks")->steps.front().id, "tank-drained");
    select("air-tanks");
    key(Qt::Key_F2);
    EXPECT_TRUE(field("Title").hasFocus());
    QTest::keyClicks(&field("Title"), QStringLiteral("Tanks"));
    EXPECT_EQ(rubric().zone("air-tanks")->title, "Tanks");
    select("air-tanks");
    key(Qt::Key_Delete);
    EXPECT_EQ(rubric().zone("air-tanks"), nullptr);
    EXPECT_EQ(rubric().step("tank-drained"), nullptr);
}

TEST_F(EditorPageTest, PointsAreAddedEditedMovedAndRetired) {
    begin();
    select("air-brakes", "applied-leak");
    auto& points = named<app::TableView>("Points to be said");
    const std::size_t before = rubric().step("applied-leak")->say.size();
    points.setFocus();
    points.selectRowAt(0);
    keyWithDialog(Qt::Key_Insert, [](QDialog& dialog) {
        QTest::keyClick(&dialog, Qt::Key_Return);
        EXPECT_TRUE(dialog.isVisible()) << "a point without text is refused";
        EXPECT_THAT(wordsIn(dialog), HasSubstr("the text is empty"));
        fieldOf(dialog, "Text")->setText(QStringLiteral("needle stands still"));
        dialog.findChild<QPlainTextEdit*>()->setPlainText(QStringLiteral("it does not move\n\nsteady"));
        auto* number = dialog.findChild<QComboBox*>();
        number->setCurrentIndex(number->findData(QStringLiteral("own")));
        fieldOf(dialog, "High")->setText(QStringLiteral("3"));
        fieldOf(dialog, "Unit")->setText(QStringLiteral("psi"));
        fieldOf(dialog, "Tolerance")->setText(QStringLiteral("0.5"));
        dialog.accept();
    });
    const core::Step& step = *rubric().step("applied-leak");
    ASSERT_EQ(step.say.size(), before + 1);
    EXPECT_EQ(step.say[1], (core::Point{"needle-stands-still",
                                        "needle stands still",
                                        {"it does not move", "steady"},
                                        core::PointNumber{"", {}, 3.0, "psi", 0.5}}));
    EXPECT_EQ(points.currentId(), QStringLiteral("needle-stands-still"));
    key(Qt::Key_Down, Qt::AltModifier);
    EXPECT_EQ(rubric().step("applied-leak")->say[2].id, "needle-stands-still");
    EXPECT_EQ(points.currentId(), QStringLiteral("needle-stands-still"));
    keyWithDialog(Qt::Key_Return, [](QDialog& dialog) {
        EXPECT_EQ(fieldOf(dialog, "Text")->text(), QStringLiteral("needle stands still"));
        auto* number = dialog.findChild<QComboBox*>();
        number->setCurrentIndex(number->findData(QStringLiteral("limit:applied-leak")));
        dialog.accept();
    });
    EXPECT_EQ(rubric().step("applied-leak")->say[2].number->limit, "applied-leak");
    EXPECT_EQ(rubric().step("applied-leak")->say[2].id, "needle-stands-still") << "the id stays";
    points.setFocus();
    key(Qt::Key_Delete);
    EXPECT_EQ(rubric().step("applied-leak")->say.size(), before);
    EXPECT_EQ(rubric().zones, (*file().rubric("air-brake-school-bus", 1))->zones);
}

TEST_F(EditorPageTest, TheLinksDoWhatTheKeysDo) {
    begin();
    select("air-brakes", "applied-leak");
    const auto link = [this](const char* name) -> QPushButton& { return named<QPushButton>(name); };
    const std::size_t before = rubric().step("applied-leak")->say.size();
    whileDialog([&] { QTest::mouseClick(&link("Points to be said: Add"), Qt::LeftButton); },
                [](QDialog& dialog) {
                    fieldOf(dialog, "Text")->setText(QStringLiteral("needle stands still"));
                    dialog.accept();
                });
    QApplication::setActiveWindow(m_window.get());
    EXPECT_EQ(rubric().step("applied-leak")->say.size(), before + 1);
    const auto& points = named<app::TableView>("Points to be said");
    ASSERT_EQ(points.currentId(), QStringLiteral("needle-stands-still"));
    QTest::mouseClick(&link("Points to be said: Retire"), Qt::LeftButton);
    EXPECT_EQ(rubric().step("applied-leak")->say.size(), before);
    whileDialog([&] { QTest::mouseClick(&link("Limits with their sources: Edit"), Qt::LeftButton); },
                [](QDialog& dialog) { EXPECT_EQ(dialog.windowTitle(), QStringLiteral("Edit the limit")); });
}

TEST_F(EditorPageTest, ReadingOfAStepIsEditedAndTakenOut) {
    begin();
    select("air-brakes", "applied-leak");
    auto* reading = page().findChild<app::StepForm*>()->findChild<QPushButton*>();
    whileDialog([&] { reading->click(); },
                [](QDialog& dialog) {
                    fieldOf(dialog, "Quantity")->setText(QStringLiteral("drop"));
                    for (auto* box : dialog.findChildren<QCheckBox*>())
                        if (box->text().contains(QLatin1String("must be taken"))) box->setChecked(true);
                    dialog.accept();
                });
    EXPECT_EQ(rubric().step("applied-leak")->reading->quantity, "drop");
    EXPECT_TRUE(rubric().step("applied-leak")->reading->required);
    whileDialog([&] { reading->click(); },
                [](QDialog& dialog) {
                    auto* number = dialog.findChild<QComboBox*>();
                    number->setCurrentIndex(number->findData(QStringLiteral("none")));
                    dialog.accept();
                });
    EXPECT_FALSE(rubric().step("applied-leak")->reading);
}

TEST_F(EditorPageTest, LimitsAreAddedEditedAndKeptWhileUsed) {
    begin();
    auto& limits = named<app::TableView>("Limits with their sources");
    limits.setFocus();
    limits.selectRowAt(0);
    const std::string first = rubric().limits.front().id;
    keyWithDialog(Qt::Key_F2, [](QDialog& dialog) {
        fieldOf(dialog, "High")->setText(QStringLiteral("two"));
        QTest::keyClick(&dialog, Qt::Key_Return);
        EXPECT_THAT(wordsIn(dialog), HasSubstr("\"two\" is not a number"));
        fieldOf(dialog, "High")->setText(QStringLiteral("2"));
        fieldOf(dialog, "Source")->setText(QStringLiteral("the maker"));
        dialog.accept();
    });
    EXPECT_EQ(rubric().limits.front().high, 2);
    EXPECT_EQ(rubric().limits.front().source, "the maker");
    EXPECT_TRUE(limits.model()->index(0, 3).data().toString().startsWith(QLatin1String("was ")));
    limits.setFocus();
    key(Qt::Key_Delete);
    EXPECT_NE(rubric().limit(first), nullptr) << "steps use it";
    keyWithDialog(Qt::Key_Insert, [&first](QDialog& dialog) {
        fieldOf(dialog, "Id")->setText(app::qs(first));
        fieldOf(dialog, "Low")->setText(QStringLiteral("1"));
        fieldOf(dialog, "Unit")->setText(QStringLiteral("psi"));
        QTest::keyClick(&dialog, Qt::Key_Return);
        EXPECT_THAT(wordsIn(dialog), HasSubstr("is taken"));
        EXPECT_THAT(wordsIn(dialog), HasSubstr("the source is missing"));
        fieldOf(dialog, "Id")->setText(QStringLiteral("tank-drain"));
        fieldOf(dialog, "Source")->setText(QStringLiteral("invented"));
        dialog.accept();
    });
    EXPECT_EQ(limits.currentId(), QStringLiteral("tank-drain"));
    limits.setFocus();
    key(Qt::Key_Delete);
    EXPECT_EQ(rubric().limit("tank-drain"), nullptr);
}

TEST_F(EditorPageTest, AnOrderRuleIsDrawnAndItsCircleShownAtOnce) {
    begin();
    select("air-brakes", "spring-brakes");
    rules().setFocus();
    keyWithDialog(Qt::Key_Insert, [](QDialog& dialog) {
        auto* choice = dialog.findChild<QComboBox*>();
        EXPECT_EQ(choice->currentData().toString(), QStringLiteral("spring-brakes")) << "the step at hand";
        EXPECT_THAT(wordsIn(dialog), HasSubstr("No circle"));
        choice->setCurrentIndex(choice->findData(QStringLiteral("cut-out")));
        buttonOf(dialog, QStringLiteral("Add to the list"))->click();
        EXPECT_THAT(wordsIn(dialog), HasSubstr("A circle: "));
        EXPECT_THAT(wordsIn(dialog), HasSubstr("(this rule)"));
        dialog.accept();
    });
    ASSERT_EQ(rubric().order.back().chain, (std::vector<std::string>{"spring-brakes", "cut-out"}));
    EXPECT_EQ(rules().currentRule(), QStringLiteral("spring-brakes-before-cut-out"));
    const QString drawn = rules().model()->index(0, 0).data(Qt::AccessibleTextRole).toString();
    EXPECT_THAT(drawn.toStdString(), HasSubstr("go in a circle: "));
    EXPECT_THAT(wordsIn(page()), HasSubstr("go in a circle"));
    EXPECT_FALSE(draft().isSound());
    // Neither preview nor publishing; the check leads to the circle.
    trigger("edition.publish");
    EXPECT_EQ(QApplication::activeModalWidget(), nullptr);
    EXPECT_TRUE(rules().hasFocus());
    rules().selectRule(QStringLiteral("spring-brakes-before-cut-out"));
    key(Qt::Key_Delete);
    EXPECT_TRUE(draft().isSound());

    // A rule over zones, changed to the other kind.
    rules().selectRule(QStringLiteral("secured-before-hood"));
    keyWithDialog(Qt::Key_Return, [](QDialog& dialog) {
        auto lists = dialog.findChildren<QListWidget*>();
        ASSERT_EQ(lists.size(), 2);
        auto* choice = dialog.findChild<QComboBox*>();
        choice->setCurrentIndex(choice->findData(QStringLiteral("zone:engine")));
        buttonOf(dialog, QStringLiteral("Add to Then"))->click();
        lists[0]->setFocus();
        lists[0]->setCurrentRow(0);
        buttonOf(dialog, QStringLiteral("Remove"))->click();
        QTest::keyClick(&dialog, Qt::Key_Return);
        EXPECT_TRUE(dialog.isVisible()) << "one side is empty";
        choice->setCurrentIndex(choice->findData(QStringLiteral("secured")));
        buttonOf(dialog, QStringLiteral("Add to First"))->click();
        fieldOf(dialog, "Why")->setText(QStringLiteral("a test"));
        dialog.accept();
    });
    const auto changed = std::ranges::find(rubric().order, "secured-before-hood", &core::OrderRule::id);
    EXPECT_EQ(changed->first, std::vector<std::string>{"secured"});
    EXPECT_THAT(changed->then, Contains("zone:engine"));
    EXPECT_EQ(changed->why, "a test");
}

TEST_F(EditorPageTest, TheWholeRubricsFieldsEquipmentAndSections) {
    begin();
    tree().select({}, {});
    settle();
    type(field("Title"), QStringLiteral("Our rubric"));
    named<QDoubleSpinBox>("Pass mark, %").setValue(85);
    named<QDoubleSpinBox>("Minutes allowed").setValue(0);
    page().findChild<QPlainTextEdit*>()->setPlainText(QStringLiteral("All ours."));
    EXPECT_EQ(rubric().title, "Our rubric");
    EXPECT_EQ(rubric().about, "All ours.");
    EXPECT_EQ(rubric().pass.percent, 85);
    EXPECT_FALSE(rubric().pass.minutes);
    auto& equipment = named<app::TableView>("Equipment");
    equipment.setFocus();
    keyWithDialog(Qt::Key_Insert, [](QDialog& dialog) {
        fieldOf(dialog, "Title")->setText(QStringLiteral("Wings"));
        fieldOf(dialog, "Tag")->setText(QStringLiteral("Air Brakes"));
        QTest::keyClick(&dialog, Qt::Key_Return);
        EXPECT_THAT(wordsIn(dialog), HasSubstr("is not an id"));
        fieldOf(dialog, "Tag")->setText(QStringLiteral("wings"));
        dialog.accept();
    });
    EXPECT_EQ(rubric().equipment.back(), (std::pair<std::string, std::string>{"wings", "Wings"}));
    equipment.setFocus();
    key(Qt::Key_Delete);
    EXPECT_NE(rubric().equipment.back().first, "wings");
    equipment.selectRowAt(0);
    key(Qt::Key_Delete);
    EXPECT_EQ(rubric().equipment, (*file().rubric("air-brake-school-bus", 1))->equipment)
        << "steps ask for it";
    auto& sections = named<app::TableView>("Sections");
    sections.setFocus();
    keyWithDialog(Qt::Key_F2, [](QDialog& dialog) {
        fieldOf(dialog, "Share of tests")->setText(QStringLiteral("2"));
        QTest::keyClick(&dialog, Qt::Key_Return);
        EXPECT_THAT(wordsIn(dialog), HasSubstr("between 0 and 1"));
        fieldOf(dialog, "Share of tests")->setText(QStringLiteral("0.4"));
        dialog.accept();
    });
    EXPECT_EQ(rubric().sections.front().share, 0.4);
    EXPECT_EQ(rubric().sections.front().zones,
              (*file().rubric("air-brake-school-bus", 1))->sections.front().zones);
}

TEST_F(EditorPageTest, TheCheckLeadsFromOneWrongThingToTheNext) {
    begin();
    draft().change(QStringLiteral("spoil"), {}, [](core::Rubric& spoilt) {
        core::findStep(spoilt, "horn")->title.clear();
        core::findStep(spoilt, "applied-leak")->say.front().text.clear();
        spoilt.limits[1].source.clear();
    });
    settle();
    QTest::qWait(300);
    EXPECT_THAT(wordsIn(page()), HasSubstr("3 things to mend."));
    std::set<std::string> places;
    for (int i = 0; i < 3; ++i) {
        trigger("edition.check");
        QWidget* focus = QApplication::focusWidget();
        if (focus == &named<app::TableView>("Limits with their sources"))
            places.insert("limit " + app::ss(named<app::TableView>("Limits with their sources").currentId()));
        else
            places.insert(app::ss(tree().currentStep() + QLatin1Char(' ') + focus->accessibleName()));
    }
    EXPECT_EQ(places, (std::set<std::string>{"limit " + rubric().limits[1].id, "horn Title",
                                             "applied-leak Points to be said"}));
    EXPECT_EQ(page().effect().effect(), nullptr);
    EXPECT_THAT(app::ss(page().effect().effectWords()), HasSubstr("once nothing is wrong"));
    // What is wrong cannot be put in use or looked at as if it were not.
    for (const char* command : {"edition.publish", "edition.preview"}) {
        trigger(command);
        EXPECT_EQ(QApplication::activeModalWidget(), nullptr) << command;
    }
    draft().stack().undo();
    settle();
    QTest::qWait(300);
    EXPECT_THAT(wordsIn(page()), ::testing::Not(HasSubstr("to mend")));
}

}  // namespace
}  // namespace markerlamp::testing
