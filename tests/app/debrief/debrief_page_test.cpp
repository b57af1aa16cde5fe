// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The debrief in the window: amending end to end, what the trainee may see, tables that say what the pictures
// show.

#include "../window_fixture.h"

#include "app/debrief/amend_dialog.h"
#include "app/debrief/debrief_page.h"
#include "app/debrief/debrief_views.h"
#include "app/support/data_table_dialog.h"
#include "app/support/sign_widgets.h"
#include "app/support/table_view.h"
#include "app/trainees/trainee_page.h"

#include <QAbstractItemModelTester>
#include <QClipboard>
#include <QComboBox>
#include <QDateTime>
#include <QLineEdit>
#include <QPushButton>
#include <QTabWidget>

#include <set>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

// The leak checker of the sanitizer build looks at this one too: zones without a must-pass step leave no
// list.
TEST(ResultStrip, HasGatesOnlyForMustPassSteps) {
    const app::Theme theme;
    app::ResultStrip strip(theme);
    app::Debrief debrief;
    debrief.result = QStringLiteral("Pass");
    strip.setDebrief(debrief);
    EXPECT_TRUE(strip.findChildren<app::GateWidget*>().isEmpty());
    debrief.mustPass.resize(2);
    strip.setDebrief(debrief);
    EXPECT_EQ(strip.findChildren<app::GateWidget*>().size(), 2);
    debrief.mustPass.clear();
    strip.setDebrief(debrief);
    QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);
    EXPECT_TRUE(strip.findChildren<app::GateWidget*>().isEmpty());
}

class DebriefPageTest : public WindowFixture {
protected:
    void SetUp() override {
        openDemo();
        m_window->showPage(PageId::Debrief);
        settle();
    }
    [[nodiscard]] app::DebriefPage& page() { return *m_window->findChild<app::DebriefPage*>(); }
    [[nodiscard]] db::ProgramFile& file() { return m_window->session()->file(); }
    void show(const std::string& attempt) {
        page().showAttempt(app::qs(attempt));
        settle();
        ASSERT_EQ(page().debrief().attempt.toStdString(), attempt);
    }
    /// An ended attempt with at least this many missed steps and some order fault where wanted.
    [[nodiscard]] std::string attemptWith(std::size_t missed, bool displaced, bool amended = false) {
        const auto infos = file().attempts();
        for (const auto& info : *infos) {
            if (info.state != db::AttemptState::Ended || info.amended != amended || !info.of.empty())
                continue;
            const auto debrief = app::loadDebrief(*m_window->session(), app::qs(info.id));
            if (debrief && debrief->missed.size() >= missed && (debrief->order.displaced > 0) == displaced)
                return info.id;
        }
        ADD_FAILURE() << "the demo has no such attempt";
        return {};
    }
    /// Everything that a person can read on the page now, also by assistive technology.
    [[nodiscard]] QString visibleWords() {
        QStringList words;
        for (QWidget* widget : page().findChildren<QWidget*>()) {
            if (!widget->isVisible()) continue;
            words << widget->accessibleName() << widget->accessibleDescription() << widget->toolTip();
            if (const auto* label = qobject_cast<QLabel*>(widget)) words << label->text();
            if (const auto* button = qobject_cast<QPushButton*>(widget)) words << button->text();
            if (const auto* table = qobject_cast<QTableView*>(widget))
                for (int row = 0; row < table->model()->rowCount(); ++row)
                    for (int column = 0; column < table->model()->columnCount(); ++column)
                        words << table->model()->index(row, column).data().toString();
        }
        return words.join(QLatin1Char('\n')).replace(QChar::Nbsp, QLatin1Char(' '));
    }
    [[nodiscard]] static QPushButton* button(QWidget& root, const QString& words) {
        for (auto* one : root.findChildren<QPushButton*>())
            if (QString(one->text()).remove(QLatin1Char('&')) == words) return one;
        ADD_FAILURE() << "no button " << words.toStdString();
        return nullptr;
    }
    [[nodiscard]] static core::StepOutcome outcomeOf(const app::Debrief& debrief, const std::string& id) {
        for (const auto& step : debrief.scored.card.steps)
            if (step.step == id) return step.outcome;
        throw std::out_of_range(id);
    }
    struct Change {
        QString step;
        QString outcome;
    };
    /// Amends the attempt in front through the dialog, as instructor `by`.
    void amend(const QString& reason, const QString& by, const std::vector<Change>& changes) {
        withDialog("attempt.amend", [&](QDialog& dialog) {
            ASSERT_NE(qobject_cast<app::AmendDialog*>(&dialog), nullptr);
            QPushButton* good = button(dialog, QStringLiteral("Amend"));
            EXPECT_FALSE(good->isEnabled()) << "neither a reason nor a change";
            auto* who = dialog.findChild<QComboBox*>();
            who->setCurrentIndex(who->findData(by));
            auto* table = dialog.findChild<app::TableView*>();
            QAbstractItemModelTester tester(table->model(),
                                            QAbstractItemModelTester::FailureReportingMode::Fatal);
            for (const Change& change : changes) {
                for (int row = 0; row < table->model()->rowCount(); ++row)
                    if (table->model()->index(row, 0).data(app::RowsModel::IdRole) == change.step)
                        table->selectRowAt(row);
                ASSERT_EQ(table->currentId(), change.step);
                QTest::mouseClick(button(dialog, change.outcome), Qt::LeftButton);
                EXPECT_EQ(table->currentIndex().siblingAtColumn(4).data().toString(), change.outcome);
            }
            EXPECT_FALSE(good->isEnabled()) << "no reason yet";
            QTest::keyClicks(dialog.findChild<QLineEdit*>(), reason);
            ASSERT_TRUE(good->isEnabled());
            QTest::mouseClick(good, Qt::LeftButton);
        });
        settle();
    }
};

TEST_F(DebriefPageTest, AmendingStoresWhoWhenAndWhyAndKeepsTheFirstRecord) {
    const std::string id = attemptWith(8, false);
    show(id);
    const core::Attempt before = *file().attempt(id);
    const core::Scorecard card = page().debrief().scored.card;
    const auto instructors = *file().instructors();
    ASSERT_GE(instructors.size(), 2u);
    core::Instructor by = instructors.front();
    if (by.key == before.header.instructor) by = instructors.back();
    // One that was missed becomes good, a good one becomes a gap.
    const std::string missed = page().debrief().missed.front().say.step;
    std::string good;
    for (const auto& step : card.steps)
        if (good.empty() && step.outcome == core::StepOutcome::Satisfied) good = step.step;
    const QDateTime start = QDateTime::currentDateTime().addSecs(-2);

    amend(QStringLiteral("seen again on the recording"), app::qs(by.key),
          {{app::qs(missed), QStringLiteral("shown and said")}, {app::qs(good), QStringLiteral("omitted")}});

    const core::Attempt after = *file().attempt(id);
    EXPECT_EQ(after.header, before.header);
    ASSERT_GT(after.events.size(), before.events.size() + 2);
    for (std::size_t i = 0; i < before.events.size(); ++i) EXPECT_EQ(after.events[i], before.events[i]);
    const core::Event& reason = after.events[before.events.size()];
    EXPECT_EQ(reason.kind, core::EventKind::Note);
    EXPECT_EQ(reason.text, "seen again on the recording");
    for (std::size_t i = before.events.size(); i < after.events.size(); ++i) {
        EXPECT_EQ(after.events[i].by, by.key);
        const QDateTime at = QDateTime::fromString(app::qs(after.events[i].at), Qt::ISODate);
        EXPECT_GE(at, start);
        EXPECT_LE(at, QDateTime::currentDateTime());
    }

    const app::Debrief& debrief = page().debrief();
    EXPECT_EQ(outcomeOf(debrief, missed), core::StepOutcome::Satisfied);
    EXPECT_EQ(outcomeOf(debrief, good), core::StepOutcome::Omitted);
    EXPECT_EQ(debrief.scored.card, core::score(*debrief.scored.rubric, after, true));
    EXPECT_EQ(debrief.scored.card.seconds, card.seconds);
    // Shown: who by name, why, and the triangle on the step.
    const QString words = visibleWords();
    EXPECT_TRUE(words.contains(app::qs(by.name))) << words.toStdString();
    EXPECT_TRUE(words.contains(QLatin1String("seen again on the recording")));
    bool triangle = false;
    for (const app::MissedLine& line : debrief.missed)
        if (line.say.step == good)
            triangle = line.sign.amended && line.lampWords.contains(QLatin1String("amended"));
    EXPECT_TRUE(triangle);
    // The lists say so, with the new figures.
    const auto info = **file().attemptInfo(id);
    EXPECT_TRUE(info.amended);
    EXPECT_EQ(info.earned, debrief.scored.card.earned);
    m_window->findChild<app::TraineePage*>()->showTrainee(app::qs(before.header.trainee));
    m_window->showPage(PageId::Trainee);
    settle();
    bool listed = false;
    for (auto* table : m_window->findChild<app::TraineePage*>()->findChildren<app::TableView*>())
        if (table->accessibleName() == QLatin1String("Attempts"))
            for (int row = 0; row < table->model()->rowCount(); ++row)
                if (table->model()->index(row, 0).data(app::RowsModel::IdRole) == app::qs(id))
                    listed =
                        table->model()->index(row, 10).data().toString().contains(QLatin1String("amended"));
    EXPECT_TRUE(listed);
}

TEST_F(DebriefPageTest, CancellingAnAmendmentChangesNothing) {
    const std::string id = attemptWith(1, false);
    show(id);
    const core::Attempt before = *file().attempt(id);
    withDialog("attempt.amend", [&](QDialog& dialog) {
        QTest::keyClicks(dialog.findChild<QLineEdit*>(), QStringLiteral("a slip"));
        QTest::mouseClick(button(dialog, QStringLiteral("omitted")), Qt::LeftButton);
        QTest::mouseClick(button(dialog, QStringLiteral("Leave as it is")), Qt::LeftButton);
        EXPECT_FALSE(button(dialog, QStringLiteral("Amend"))->isEnabled()) << "nothing would change";
        QTest::mouseClick(button(dialog, QStringLiteral("omitted")), Qt::LeftButton);
        QTest::keyClick(&dialog, Qt::Key_Escape);
    });
    EXPECT_EQ(*file().attempt(id), before);
    EXPECT_FALSE((**file().attemptInfo(id)).amended);
}

TEST_F(DebriefPageTest, SayNextTimeShowsTheFirstFiveAndTheTableGoesOn) {
    show(attemptWith(8, false));
    const auto& missed = page().debrief().missed;
    const auto* list = page().findChild<app::SayNextList*>();
    QStringList titles;
    for (const auto* label : list->findChildren<QLabel*>())
        if (label->isVisible()) titles << label->text();
    const QString shown = titles.join(QLatin1Char('\n'));
    for (int i = 0; i < app::kSayNextLines; ++i) {
        const app::MissedLine& line = missed[static_cast<std::size_t>(i)];
        EXPECT_TRUE(shown.contains(app::qs(line.say.title).toHtmlEscaped())) << line.say.title;
        EXPECT_TRUE(shown.contains(line.sentence)) << line.say.title;
    }
    for (auto* table : page().findChildren<app::TableView*>()) {
        if (table->accessibleName() != QLatin1String("Also missed")) continue;
        QAbstractItemModelTester tester(table->model(),
                                        QAbstractItemModelTester::FailureReportingMode::Fatal);
        ASSERT_EQ(table->model()->rowCount(), static_cast<int>(missed.size()) - app::kSayNextLines);
        for (int row = 0; row < table->model()->rowCount(); ++row)
            EXPECT_EQ(table->model()->index(row, 0).data(app::RowsModel::IdRole).toString().toStdString(),
                      missed[static_cast<std::size_t>(row + app::kSayNextLines)].say.step);
    }
}

TEST_F(DebriefPageTest, TraineeViewShowsNoOtherNamesAndNoPrivateNotes) {
    const std::string id = attemptWith(3, true);
    show(id);
    const core::Attempt attempt = *file().attempt(id);
    const auto instructors = *file().instructors();
    // The amendment brings another name and a reason that is not for the trainee's eyes.
    amend(QStringLiteral("trainer had looked away"), app::qs(instructors.back().key),
          {{app::qs(page().debrief().missed.front().say.step), QStringLiteral("omitted")}});
    core::Trainee own = **file().trainee(attempt.header.trainee);
    own.note = "nervous with this trainer";
    ASSERT_TRUE(file().saveTrainee(own));
    std::set<std::string> others;
    for (const auto& one : instructors) others.insert(one.name);
    const auto trainees = *file().trainees();
    for (const auto& one : trainees)
        if (one.key != own.key) others.insert(one.name);

    const auto check = [&] {
        const QString words = visibleWords();
        for (const std::string& name : others) EXPECT_FALSE(words.contains(app::qs(name))) << name;
        EXPECT_FALSE(words.contains(QLatin1String("looked away")));
        EXPECT_FALSE(words.contains(QLatin1String("nervous")));
        for (const app::NoteLine& note : page().debrief().notes)
            EXPECT_FALSE(note.kind == QLatin1String("note") && words.contains(note.text))
                << note.text.toStdString();
        EXPECT_TRUE(words.contains(app::qs(own.name)));
        EXPECT_TRUE(words.contains(app::qs(page().debrief().missed.front().say.title)));
    };
    trigger("attempt.trainee-view");
    ASSERT_TRUE(page().traineeView());
    check();
    EXPECT_FALSE(m_window->action(QStringLiteral("attempt.amend"))->isEnabled()) << "its form names people";
    // Neither another palette nor news about the attempt bring the names back.
    for (int i = 0; i < 4; ++i) {
        m_theme.cycle();
        settle();
        check();
    }
    m_window->session()->noteAttemptChanged(app::qs(id));
    settle();
    check();
    // 18 pt as it was designed for: 24 px at 96 dpi.
    for (const auto* label : page().findChild<app::TraineeView*>()->findChildren<QLabel*>())
        EXPECT_GE(label->font().pixelSize(), 24) << label->text().toStdString();
    QTest::keyClick(&page(), Qt::Key_Escape);
    EXPECT_FALSE(page().traineeView());
    EXPECT_TRUE(visibleWords().contains(QLatin1String("looked away")));
}

TEST_F(DebriefPageTest, DataTablesSayWhatThePicturesShow) {
    show(attemptWith(6, true));
    const app::Debrief& debrief = page().debrief();
    withDialog("view.data", [&](QDialog& dialog) {
        auto* tabs = dialog.findChild<QTabWidget*>();
        ASSERT_EQ(tabs->count(), 3);
        std::map<QString, QAbstractItemModel*> models;
        for (int i = 0; i < tabs->count(); ++i) {
            models[tabs->tabText(i)] = qobject_cast<QTableView*>(tabs->widget(i))->model();
            QAbstractItemModelTester tester(models[tabs->tabText(i)],
                                            QAbstractItemModelTester::FailureReportingMode::Fatal);
        }
        const auto text = [](QAbstractItemModel* model, int row, int column) {
            return model->index(row, column).data().toString();
        };
        auto* plan = models[QStringLiteral("Plan")];
        ASSERT_NE(plan, nullptr);
        ASSERT_EQ(plan->rowCount(), static_cast<int>(debrief.plan.size()));
        const QString spoken = page().findChild<app::PlanView*>()->accessibleDescription();
        for (int row = 0; row < plan->rowCount(); ++row) {
            const app::PlanFact& fact = debrief.plan[static_cast<std::size_t>(row)];
            EXPECT_EQ(text(plan, row, 0), fact.title);
            if (!fact.inScope) continue;
            EXPECT_EQ(text(plan, row, 1).toInt(), fact.satisfied);
            EXPECT_EQ(text(plan, row, 2).toInt(), fact.observed);
            EXPECT_TRUE(spoken.contains(
                QStringLiteral("%1 %2 of %3").arg(fact.title).arg(fact.satisfied).arg(fact.observed)));
        }
        auto* order = models[QStringLiteral("Order")];
        ASSERT_NE(order, nullptr);
        ASSERT_EQ(order->rowCount(), static_cast<int>(debrief.order.ticks.size()));
        int displaced = 0;
        std::set<int> places;
        for (int row = 0; row < order->rowCount(); ++row) {
            EXPECT_EQ(text(order, row, 0).toInt(), row + 1);
            EXPECT_EQ(text(order, row, 1), debrief.order.ticks[static_cast<std::size_t>(row)].title);
            places.insert(text(order, row, 2).toInt());
            displaced += text(order, row, 3) == QLatin1String("out of place") ? 1 : 0;
        }
        EXPECT_EQ(displaced, static_cast<int>(debrief.scored.card.displaced.size()));
        EXPECT_EQ(static_cast<int>(places.size()), order->rowCount()) << "each place once";
        EXPECT_EQ(*places.begin(), 1);
        EXPECT_EQ(*places.rbegin(), order->rowCount());
        EXPECT_EQ(models[QStringLiteral("Missed")]->rowCount(), static_cast<int>(debrief.missed.size()));
    });
    const QString order = page().findChild<app::OrderView*>()->accessibleDescription();
    for (const app::OrderGroup& group : debrief.order.groups) EXPECT_TRUE(order.contains(group.sentence));
    EXPECT_FALSE(order.isEmpty());
}

TEST_F(DebriefPageTest, CopyHoldsEveryMissedStepAndTheNotesWhereTheyHaveTheFocus) {
    show(attemptWith(8, false));
    const app::Debrief& debrief = page().debrief();
    trigger("edit.copy");
    QStringList lines = QApplication::clipboard()->text().split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    ASSERT_EQ(lines.size(), static_cast<int>(debrief.missed.size()) + 1);
    for (int i = 0; i < static_cast<int>(debrief.missed.size()); ++i) {
        const QStringList cells = lines[i + 1].split(QLatin1Char('\t'));
        EXPECT_EQ(cells[0].toInt(), i + 1);
        EXPECT_EQ(cells[1], app::qs(debrief.missed[static_cast<std::size_t>(i)].say.title));
    }
    for (auto* table : page().findChildren<app::TableView*>())
        if (table->accessibleName() == QLatin1String("Notes and readings") && table->isVisible()) {
            table->setFocus();
            trigger("edit.copy");
            lines = QApplication::clipboard()->text().split(QLatin1Char('\n'), Qt::SkipEmptyParts);
            EXPECT_EQ(lines.size(), static_cast<int>(debrief.notes.size()) + 1);
        }
}

TEST_F(DebriefPageTest, HeadShowsEveryFactOfTheAttemptWhole) {
    const std::string id = attemptWith(1, false);
    core::Trainee trainee = **file().trainee((*file().attempt(id)).header.trainee);
    trainee.name = "Bartholomew Longwinded-Invented";
    ASSERT_TRUE(file().saveTrainee(trainee));
    m_window->session()->notePeopleChanged();
    for (const int width : {1366, 1024}) {
        m_window->resize(width, 768);
        show(id);
        bool found = false;
        for (const auto* label : page().findChildren<app::Text*>()) {
            if (!label->isVisible() || !label->text().contains(QLatin1String("edition"))) continue;
            found = true;
            const QString words = QString(label->text()).replace(QChar::Nbsp, QLatin1Char(' '));
            for (const QString& fact : page().debrief().facts)
                EXPECT_TRUE(words.contains(fact)) << fact.toStdString();
            const QRect needed = label->fontMetrics().boundingRect(
                QRect(0, 0, label->width(), 1000), static_cast<int>(Qt::TextWordWrap), label->text());
            EXPECT_LE(needed.height(), label->height()) << "at " << width;
            EXPECT_LE(needed.width(), label->width()) << "at " << width;
        }
        EXPECT_TRUE(found);
    }
}

}  // namespace
}  // namespace markerlamp::testing
