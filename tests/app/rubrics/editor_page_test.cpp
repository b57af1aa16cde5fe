// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Writing the next edition in the window: from an edition, a limit set, a file; by keys alone; what is wrong
// and where; what it would do; the previews; put in use, left, taken up again, thrown away.

#include "../window_fixture.h"

#include "../../support/sample_attempt.h"

#include "app/rubrics/draft_keeping.h"
#include "app/rubrics/edition_preview.h"
#include "app/rubrics/editor_page.h"
#include "app/rubrics/effect_block.h"
#include "app/rubrics/effect_chart.h"
#include "app/rubrics/rubric_page.h"
#include "app/rubrics/rule_drawing.h"
#include "app/rubrics/step_form.h"
#include "app/rubrics/step_tree.h"
#include "app/scoring/scoring_model.h"
#include "app/scoring/scoring_page.h"
#include "app/support/table_view.h"
#include "app/support/text_widgets.h"
#include "core/rubric/new_edition.h"

#include <gmock/gmock.h>

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QDoubleSpinBox>
#include <QLineEdit>
#include <QListWidget>
#include <QMessageBox>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QSpinBox>
#include <QTabWidget>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;
using ::testing::Contains;
using ::testing::HasSubstr;

class EditorPageTest : public WindowFixture {
protected:
    void SetUp() override { openEmpty(); }

    [[nodiscard]] app::EditorPage& page() { return *m_window->findChild<app::EditorPage*>(); }
    [[nodiscard]] app::RubricPage& editions() { return *m_window->findChild<app::RubricPage*>(); }
    [[nodiscard]] app::Draft& draft() { return *page().draft(); }
    [[nodiscard]] const core::Rubric& rubric() { return draft().rubric(); }
    [[nodiscard]] db::ProgramFile& file() { return m_window->session()->file(); }
    [[nodiscard]] app::StepTree& tree() { return *page().findChild<app::StepTree*>(); }
    [[nodiscard]] app::RuleDrawing& rules() { return *page().findChild<app::RuleDrawing*>(); }
    template <class W>
    W& named(const char* name) {
        for (auto* one : page().findChildren<W*>())
            if (one->isVisible() && one->accessibleName() == QLatin1String(name)) return *one;
        throw std::runtime_error(std::string("nothing is called ") + name);
    }
    [[nodiscard]] QLineEdit& field(const char* name) { return named<QLineEdit>(name); }

    void begin(const char* id = "air-brake-school-bus") {
        m_window->showPage(PageId::Rubric);
        settle();
        editions().choose(QLatin1String(id), 1);
        trigger("edition.edit");
        ASSERT_TRUE(page().isOpen());
        ASSERT_EQ(m_window->currentPage(), &page());
    }
    void select(const char* zone, const char* step = "") {
        ASSERT_TRUE(tree().select(QLatin1String(zone), QLatin1String(step)));
        tree().setFocus();
        settle();
    }
    static void type(QLineEdit& field, const QString& text) {
        field.setFocus();
        field.selectAll();
        QTest::keyClicks(&field, text);
    }
    /// A key where the focus is.
    void key(Qt::Key key, Qt::KeyboardModifiers modifiers = Qt::NoModifier) {
        QTest::keyClick(QApplication::focusWidget(), key, modifiers);
        settle();
    }
    /// The same of a key that opens a dialog.
    void keyWithDialog(Qt::Key code, const std::function<void(QDialog&)>& look) {
        whileDialog([&] { QTest::keyClick(QApplication::focusWidget(), code); }, look);
        QApplication::setActiveWindow(m_window.get());
        settle();
    }
    static QLineEdit* fieldOf(QDialog& dialog, const char* label) {
        for (auto* one : dialog.findChildren<QLabel*>())
            if (one->text().remove(QLatin1Char('&')) == QLatin1String(label))
                if (auto* found = qobject_cast<QLineEdit*>(one->buddy())) return found;
        throw std::runtime_error(std::string("no field ") + label);
    }
    static QPushButton* buttonOf(QWidget& root, const QString& words) {
        for (auto* one : root.findChildren<QPushButton*>())
            if (one->text().remove(QLatin1Char('&')) == words) return one;
        throw std::runtime_error("no button " + app::ss(words));
    }
    static std::string wordsIn(QWidget& root) {
        QString all;
        for (auto* text : root.findChildren<QLabel*>())
            if (text->isVisible()) all += text->text() + QLatin1Char('\n');
        return app::ss(all);
    }
    /// Types a title into the small question for it.
    static std::function<void(QDialog&)> answer(const QString& title) {
        return [title](QDialog& dialog) {
            auto* line = dialog.findChild<QLineEdit*>();
            ASSERT_NE(line, nullptr);
            line->setText(title);
            dialog.accept();
        };
    }
    void waitForEffect() {
        ASSERT_TRUE(QTest::qWaitFor([this] { return page().effect().effect() != nullptr; }, 120000));
    }
};

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
        buttonOf(dialog, QStringLiteral("Add right"))->click();
        lists[0]->setFocus();
        lists[0]->setCurrentRow(0);
        buttonOf(dialog, QStringLiteral("Remove"))->click();
        QTest::keyClick(&dialog, Qt::Key_Return);
        EXPECT_TRUE(dialog.isVisible()) << "one side is empty";
        choice->setCurrentIndex(choice->findData(QStringLiteral("secured")));
        buttonOf(dialog, QStringLiteral("Add left"))->click();
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

TEST_F(EditorPageTest, PuttingItInUseMakesTheNextEditionAndLeavesTheOldOne) {
    begin();
    const std::string before = *file().rubricText("air-brake-school-bus", 1);
    trigger("edition.publish");
    EXPECT_EQ(QApplication::activeModalWidget(), nullptr) << "nothing is different yet";
    select("air-brakes", "applied-leak");
    type(field("Title"), QStringLiteral("Leak, pedal down"));
    // Another edition comes in meanwhile.
    core::Rubric other = **file().rubric("air-brake-school-bus", 1);
    other.edition = 2;
    other.about = "Another one.";
    ASSERT_TRUE(file().addRubric(core::writeRubric(other)));
    m_window->session()->noteRubricsChanged();
    EXPECT_EQ(rubric().edition, 3);
    const core::Rubric expected = rubric();
    withDialog("edition.publish", [](QDialog& dialog) {
        EXPECT_THAT(app::ss(dialog.windowTitle()), HasSubstr("edition 3"));
        auto* table = dialog.findChild<app::TableView*>();
        ASSERT_EQ(table->model()->rowCount(), 1);
        EXPECT_THAT(app::ss(table->model()->index(0, 1).data().toString()), HasSubstr("Leak, pedal down"));
        buttonOf(dialog, QStringLiteral("Put edition 3 in use"))->click();
    });
    EXPECT_FALSE(page().isOpen());
    EXPECT_EQ(m_window->currentPage(), &editions());
    EXPECT_EQ(editions().rubric()->edition, 3);
    const auto stored = file().rubric("air-brake-school-bus", 3);
    ASSERT_TRUE(stored);
    EXPECT_EQ(**stored, expected);
    EXPECT_EQ(*file().rubricText("air-brake-school-bus", 1), before);
    EXPECT_FALSE(*app::keptDraft(file(), "air-brake-school-bus")) << "the draft has become an edition";
}

TEST_F(EditorPageTest, AnUnfinishedDraftSurvivesTheWindowAndCanBeThrownAway) {
    begin();
    select("air-brakes", "applied-leak");
    field("Title").setFocus();
    field("Title").selectAll();
    QTest::keyClick(&field("Title"), Qt::Key_Backspace);
    ASSERT_FALSE(draft().isSound());
    const core::Rubric written = rubric();
    const QString path = m_window->session()->path();
    m_window->close();
    m_window.reset();
    makeWindow();
    ASSERT_TRUE(m_window->openFile(path));
    m_window->showPage(PageId::Rubric);
    settle();
    EXPECT_EQ(m_window->currentPage(), &editions());
    editions().choose(QStringLiteral("air-brake-school-bus"), 1);
    buttonOf(editions(), QStringLiteral("Go on with the draft"))->click();
    settle();
    ASSERT_TRUE(page().isOpen());
    EXPECT_EQ(rubric(), written);
    EXPECT_EQ(draft().base()->edition, 1);
    // Other pages come and go; the draft stays in front of the editions.
    m_window->showPage(PageId::Trainees);
    trigger("view.rubric");
    EXPECT_EQ(m_window->currentPage(), &page());
    EXPECT_EQ(m_window->currentPageId(), PageId::Rubric);
    trigger("edition.leave");
    EXPECT_EQ(m_window->currentPage(), &editions());
    trigger("edition.edit");
    ASSERT_TRUE(page().isOpen());
    withDialog("edition.drop", [](QDialog& dialog) { QTest::keyClick(&dialog, Qt::Key_Escape); });
    EXPECT_TRUE(page().isOpen()) << "Esc keeps it";
    withDialog("edition.drop",
               [](QDialog& dialog) { buttonOf(dialog, QStringLiteral("Throw it away"))->click(); });
    EXPECT_FALSE(page().isOpen());
    EXPECT_TRUE(app::draftsIn(file())->empty());
    EXPECT_NO_THROW(buttonOf(editions(), QStringLiteral("Write the next edition")));
}

TEST_F(EditorPageTest, ALimitSetOrADocumentBeginsADraft) {
    m_window->showPage(PageId::Rubric);
    settle();
    editions().choose(QStringLiteral("air-brake-school-bus"), 1);
    (void)file().addLimitSet(builtInText("modernised-test.limits.yaml"));
    withDialog("program.edition", [](QDialog& dialog) {
        auto* sets = dialog.findChild<QComboBox*>();
        sets->setCurrentIndex(sets->findData(QStringLiteral("modernised-test")));
        buttonOf(dialog, QStringLiteral("Write on it first"))->click();
    });
    ASSERT_TRUE(page().isOpen());
    EXPECT_EQ(rubric(), *core::newEdition(**file().rubric("air-brake-school-bus", 1),
                                          builtInLimits("modernised-test"), 2));
    EXPECT_EQ(file().rubrics()->size(), 2u) << "no edition yet";
    trigger("edition.leave");

    // The file dialog of the test platform is a dialog of Qt's own.
    const auto openFile = [this](const QString& path, std::vector<std::function<void(QDialog&)>> then) {
        then.insert(then.begin(), [path](QDialog& dialog) {
            dialog.findChild<QLineEdit*>()->setText(path);
            QMetaObject::invokeMethod(&dialog, "accept");
        });
        whileDialogs([this] { trigger("edition.file"); }, then);
        QApplication::setActiveWindow(m_window.get());
    };
    openFile(write(QStringLiteral("broken.rubric.yaml"), "format: markerlamp.rubric/1\nid: broken\n"),
             {[](QDialog& dialog) { EXPECT_THAT(wordsIn(dialog), HasSubstr("refused")); }});
    EXPECT_FALSE(page().isOpen());
    core::Rubric own = **file().rubric("air-brake-school-bus", 1);
    own.title = "Ours";
    openFile(write(QStringLiteral("ours.rubric.yaml"), core::writeRubric(own)),
             {[](QDialog& dialog) { buttonOf(dialog, QStringLiteral("Begin anew"))->click(); }});
    ASSERT_TRUE(page().isOpen());
    EXPECT_EQ(rubric().title, "Ours");
    EXPECT_EQ(rubric().edition, 2);
    trigger("edition.leave");
    own.id = "ours";
    openFile(write(QStringLiteral("new.rubric.yaml"), core::writeRubric(own)), {});
    EXPECT_EQ(rubric().id, "ours");
    EXPECT_EQ(rubric().edition, 1);
    EXPECT_EQ(draft().base(), nullptr);
    withDialog("edition.publish",
               [](QDialog& dialog) { buttonOf(dialog, QStringLiteral("Put edition 1 in use"))->click(); });
    EXPECT_TRUE(file().rubric("ours", 1));
}

TEST_F(EditorPageTest, ThePreviewsAreOfTheDraftAndKeepNothing) {
    begin();
    select("driver-area", "horn");
    type(field("Title"), QStringLiteral("Horn anew"));
    const std::size_t facts = file().facts()->size();
    withDialog("edition.preview", [](QDialog& dialog) {
        auto* preview = qobject_cast<app::ScoringPreview*>(&dialog);
        ASSERT_NE(preview, nullptr);
        ASSERT_TRUE(preview->page().isActive());
        app::ScoringModel& model = *preview->page().model();
        const int at = model.indexOf("horn");
        ASSERT_GE(at, 0);
        EXPECT_EQ(model.title(at), QStringLiteral("Horn anew"));
        model.outcomeOn(at, core::Outcome::Both);
        settle();
        EXPECT_TRUE(model.allStored()) << "the lamp is lit as in earnest";
        EXPECT_TRUE(model.marks(at).shown);
        QTest::keyClick(&preview->page(), Qt::Key_Escape);
        EXPECT_FALSE(dialog.isVisible()) << "Esc leaves it";
    });
    EXPECT_TRUE(file().attempts()->empty());
    EXPECT_LE(file().facts()->size(), facts + 1) << "the draft itself";
    whileDialog([this] { trigger("edition.study"); },
                [](QDialog& dialog) {
                    EXPECT_FALSE(dialog.grab().toImage().isNull());
                    dialog.reject();
                });
}

class EditorOverTheDemo : public EditorPageTest {
protected:
    void SetUp() override { openDemo(); }
};

TEST_F(EditorOverTheDemo, SaysHowManyStoredResultsWouldChangeBeforeItIsPutInUse) {
    begin();
    waitForEffect();
    EXPECT_EQ(page().effect().effect()->changed(), 0) << "nothing is different yet";
    const std::size_t all = page().effect().effect()->results.size();
    EXPECT_GT(all, 50u);
    tree().select({}, {});
    settle();
    named<QDoubleSpinBox>("Pass mark, %").setValue(88);
    EXPECT_EQ(page().effect().effect(), nullptr) << "old figures are not shown as new ones";
    waitForEffect();
    // By the stored results alone: whoever passed with less than 88 no longer does.
    int expected = 0;
    const auto attempts = file().attempts();
    for (const db::AttemptInfo& info : *attempts)
        if (info.rubric == rubric().id && info.of.empty() && info.result == core::AttemptResult::Pass &&
            info.percent < 88)
            ++expected;
    ASSERT_GT(expected, 0);
    const core::EditionEffect effect = *page().effect().effect();
    EXPECT_EQ(effect.noLongerPass(), expected);
    const std::string sentence =
        std::to_string(expected) + " of " + std::to_string(all) + " results would change";
    EXPECT_THAT(app::ss(page().findChild<app::EffectChart*>()->accessibleDescription()), HasSubstr(sentence));
    withDialog("view.data", [&](QDialog& dialog) {
        auto* tables = dialog.findChild<QTabWidget*>();
        ASSERT_EQ(tables->count(), 4);
        EXPECT_EQ(qobject_cast<app::TableView*>(tables->widget(0))->model()->rowCount(), expected);
        EXPECT_EQ(qobject_cast<app::TableView*>(tables->widget(1))->model()->rowCount(),
                  static_cast<int>(all));
        EXPECT_EQ(qobject_cast<app::TableView*>(tables->widget(3))->model()->rowCount(),
                  static_cast<int>(rubric().order.size()));
    });
    withDialog("edition.publish", [&](QDialog& dialog) {
        EXPECT_THAT(wordsIn(dialog), HasSubstr(sentence));
        buttonOf(dialog, QStringLiteral("Put edition 2 in use"))->click();
    });
    // The stored results are what they were.
    const auto after = file().attempts();
    for (std::size_t i = 0; i < attempts->size(); ++i) {
        EXPECT_EQ((*after)[i].result, (*attempts)[i].result);
        EXPECT_EQ((*after)[i].edition, (*attempts)[i].edition);
    }
}

TEST_F(EditorOverTheDemo, WhatIsNewCountsOnlyWhereItIsAskedFor) {
    begin();
    draft().addStep(QStringLiteral("air-brakes"), QStringLiteral("Air hoses"),
                    QStringLiteral("applied-leak"));
    draft().change(QStringLiteral("show"), {}, [](core::Rubric& rubric) {
        core::findStep(rubric, "air-hoses")->show = "Point at them";
        core::findStep(rubric, "air-hoses")->mustPass = true;
    });
    waitForEffect();
    EXPECT_EQ(page().effect().effect()->changed(), 0);
    EXPECT_THAT(wordsIn(page()), HasSubstr("nobody was asked"));
    QCheckBox* count = nullptr;
    for (auto* box : page().findChildren<QCheckBox*>())
        if (box->text().startsWith(QLatin1String("Count what is new"))) count = box;
    ASSERT_NE(count, nullptr);
    count->click();
    waitForEffect();
    EXPECT_EQ(page().effect().effect()->nowPass(), 0);
    EXPECT_GT(page().effect().effect()->noLongerPass(), 0) << "a must-pass step that everybody left out";
}

}  // namespace
}  // namespace markerlamp::testing
