// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The way of an edition: from an edition, a limit set or a document; its previews and what it would do; put
// in use, left, taken up again, thrown away.

#include "../../support/sample_attempt.h"
#include "editor_fixture.h"

#include "app/rubrics/draft_keeping.h"
#include "app/rubrics/edition_preview.h"
#include "app/rubrics/effect_chart.h"
#include "app/scoring/scoring_model.h"
#include "app/scoring/scoring_page.h"
#include "app/support/table_view.h"
#include "core/rubric/new_edition.h"

#include <gmock/gmock.h>

#include <QCheckBox>
#include <QComboBox>
#include <QDoubleSpinBox>
#include <QTabWidget>

namespace markerlamp::testing {
namespace {

using ::testing::HasSubstr;

class EditionWay : public EditorFixture {};

TEST_F(EditionWay, PuttingItInUseMakesTheNextEditionAndLeavesTheOldOne) {
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

TEST_F(EditionWay, AnUnfinishedDraftSurvivesTheWindowAndCanBeThrownAway) {
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

TEST_F(EditionWay, ALimitSetOrADocumentBeginsADraft) {
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

TEST_F(EditionWay, ThePreviewsAreOfTheDraftAndKeepNothing) {
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

class EditorOverTheDemo : public EditorFixture {
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
