// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the card says and where its links lead.

#include "app/readiness/readiness_card.h"

#include "app/readiness/override_dialog.h"
#include "app/readiness/readiness_words.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/theme.h"
#include "readiness_support.h"

#include <gtest/gtest.h>

#include <QAccessible>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QRadioButton>
#include <QRegularExpression>
#include <QSignalSpy>
#include <QTemporaryDir>

namespace markerlamp {
namespace {

using app::ReadinessCard;
using State = app::ReadinessStanding::State;
using testing::eventually;

class ReadinessCardTest : public ::testing::Test {
protected:
    void SetUp() override {
        auto made = app::Session::create(m_dir.filePath(QStringLiteral("small.markerlamp")), false);
        ASSERT_TRUE(made) << made.error().message;
        m_session = std::move(*made);
        core::Trainee trainee;
        trainee.key = "t-1";
        trainee.name = "Trainee A";
        ASSERT_TRUE(m_session->file().saveTrainee(trainee));
        core::Instructor instructor;
        instructor.key = "i-1";
        instructor.name = "K. Invented";
        ASSERT_TRUE(m_session->file().saveInstructor(instructor));
        m_desk = std::make_unique<app::ReadinessDesk>(*m_session, testing::opener(m_script),
                                                      [this] { return m_now; });
    }
    void show(ReadinessCard::Width width) {
        m_card = std::make_unique<ReadinessCard>(m_theme, *m_desk, width);
        m_card->resize(width == ReadinessCard::Width::Wide ? 838 : 588, 170);
        m_card->show();
        m_card->showTrainee(one());
    }
    void showKnown(ReadinessCard::Width width = ReadinessCard::Width::Wide) {
        show(width);
        ASSERT_TRUE(eventually([&] { return m_desk->of(one()).state == State::Known; }));
        QTest::qWait(5);
    }
    static QString one() { return QStringLiteral("t-1"); }
    [[nodiscard]] QStringList texts() const {
        QStringList all;
        for (const QLabel* label : m_card->findChildren<QLabel*>())
            if (label->isVisible() && !label->text().isEmpty()) all << label->text();
        for (const QPushButton* button : m_card->findChildren<QPushButton*>())
            if (button->isVisible()) all << button->text();
        return all;
    }
    [[nodiscard]] QLabel* label(const QString& start) const {
        for (QLabel* one : m_card->findChildren<QLabel*>())
            if (one->isVisible() && one->text().startsWith(start)) return one;
        return nullptr;
    }
    [[nodiscard]] QPushButton* link(const QString& words) const {
        for (QPushButton* one : m_card->findChildren<QPushButton*>())
            if (one->isVisible() && one->text() == words) return one;
        return nullptr;
    }

    QTemporaryDir m_dir;
    app::Theme m_theme;
    std::unique_ptr<app::Session> m_session;
    std::shared_ptr<testing::Script> m_script = std::make_shared<testing::Script>();
    QDateTime m_now = QDateTime::fromString(QStringLiteral("2026-03-12T06:50:00-05:00"), Qt::ISODate);
    std::unique_ptr<app::ReadinessDesk> m_desk;
    std::unique_ptr<ReadinessCard> m_card;
};

TEST_F(ReadinessCardTest, SaysTheWordTheSentenceAndWhatWouldChangeIt) {
    showKnown();
    const QString all = texts().join(QLatin1Char('\n'));
    EXPECT_NE(label(QStringLiteral("Close")), nullptr) << all.toStdString();
    EXPECT_TRUE(all.contains(QStringLiteral("About 7 in 10 would pass (likely 5 to 9).")))
        << all.toStdString();
    EXPECT_TRUE(all.contains(app::qs(m_desk->of(one()).answer.readiness.change)));
    EXPECT_TRUE(m_card->accessibleDescription().contains(QStringLiteral("Close. About 7 in 10")));
    EXPECT_TRUE(m_card->remark().contains(QStringLiteral("12 Mar"))) << m_card->remark().toStdString();
}

TEST_F(ReadinessCardTest, NeverShowsABareNumber) {
    // A percentage would be read as a mark; so would 0.71.
    for (const auto width : {ReadinessCard::Width::Wide, ReadinessCard::Width::Narrow}) {
        showKnown(width);
        static const QRegularExpression bare(QStringLiteral("7[01] ?%|0[.,]7|52|88"));
        for (const QString& text : texts()) EXPECT_FALSE(text.contains(bare)) << text.toStdString();
    }
}

TEST_F(ReadinessCardTest, ShutGatesStandFirstAndBold) {
    for (const auto width : {ReadinessCard::Width::Wide, ReadinessCard::Width::Narrow}) {
        showKnown(width);
        const QLabel* shut = label(QStringLiteral("Rims not by oneself"));
        const QLabel* unknown = label(QStringLiteral("no theory result"));
        ASSERT_NE(shut, nullptr);
        ASSERT_NE(unknown, nullptr);
        EXPECT_TRUE(shut->font().bold());
        EXPECT_FALSE(unknown->font().bold());
        const QLabel* met = label(QStringLiteral("Medical card"));
        if (met == nullptr) met = label(QStringLiteral("open: "));
        ASSERT_NE(met, nullptr) << texts().join(QLatin1Char('\n')).toStdString();
        EXPECT_LT(shut->mapTo(m_card.get(), QPoint()).y(), unknown->mapTo(m_card.get(), QPoint()).y());
        EXPECT_LT(unknown->mapTo(m_card.get(), QPoint()).y(), met->mapTo(m_card.get(), QPoint()).y());
    }
}

TEST_F(ReadinessCardTest, ReasonsAreLinksToTheMarks) {
    showKnown();
    QSignalSpy asked(m_card.get(), &ReadinessCard::marksRequested);
    QPushButton* step = link(QStringLiteral("Rims"));
    ASSERT_NE(step, nullptr) << texts().join(QLatin1Char('\n')).toStdString();
    EXPECT_TRUE(step->accessibleName().contains(QStringLiteral("1 of 4")))
        << step->accessibleName().toStdString();
    step->setFocus();
    QTest::keyClick(step, Qt::Key_Space);
    ASSERT_EQ(asked.count(), 1);
    EXPECT_EQ(asked[0][0].toString(), QStringLiteral("a-2")) << "the newest of its attempts";
    EXPECT_EQ(asked[0][1].toString(), QStringLiteral("b"));
    QPushButton* gate = link(QStringLiteral("marks"));
    ASSERT_NE(gate, nullptr);
    QTest::mouseClick(gate, Qt::LeftButton);
    ASSERT_EQ(asked.count(), 2);
    EXPECT_EQ(asked[1][1].toString(), QStringLiteral("b"));
    EXPECT_TRUE(gate->accessibleName().contains(QStringLiteral("Rims"))) << "marks of what is said";
}

TEST_F(ReadinessCardTest, TooLittleDataShowsNoMarkOnTheLine) {
    m_script->answer = [](const std::string& trainee, double now, bool, const auto&) {
        return core::Result<app::ReadinessAnswer>(testing::tooLittleAnswer(trainee, now));
    };
    showKnown();
    EXPECT_NE(label(QStringLiteral("Too little data")), nullptr);
    const auto* line = m_card->findChild<app::OfTenLine*>();
    ASSERT_NE(line, nullptr);
    EXPECT_TRUE(line->accessibleName().contains(QStringLiteral("too little data")));
    EXPECT_EQ(link(QStringLiteral("Rims")), nullptr) << "nothing can be said to hold it back";
    EXPECT_NE(label(QStringLiteral("Rims not by oneself")), nullptr) << "gates are facts all the same";
}

TEST_F(ReadinessCardTest, ComputingShowsHowFarItIsAndCanBeStopped) {
    std::atomic<bool> slow{true};
    m_script->answer = [&](const std::string& trainee, double now, bool, const auto& progress) {
        return slow ? testing::untilStopped(progress)
                    : core::Result<app::ReadinessAnswer>(testing::closeAnswer(trainee, now));
    };
    show(ReadinessCard::Width::Wide);
    ASSERT_TRUE(eventually([&] {
        const auto* bar = m_card->findChild<QProgressBar*>();
        return bar != nullptr && bar->isVisible() && bar->value() > 40;
    }));
    QPushButton* stop = link(QStringLiteral("Stop"));
    ASSERT_NE(stop, nullptr);
    stop->click();
    ASSERT_TRUE(eventually([&] { return link(QStringLiteral("Work it out")) != nullptr; }));
    slow = false;
    link(QStringLiteral("Work it out"))->click();
    EXPECT_TRUE(eventually([&] { return label(QStringLiteral("Close")) != nullptr; }));
}

TEST_F(ReadinessCardTest, AFailureIsSaidAndCanBeTriedAgain) {
    m_script->open = [] {
        return core::Result<void>(core::fail(core::ErrorKind::Machine, "the disk is gone"));
    };
    show(ReadinessCard::Width::Narrow);
    ASSERT_TRUE(eventually([&] { return link(QStringLiteral("Try again")) != nullptr; }));
    EXPECT_TRUE(texts().join(QLatin1Char(' ')).contains(QStringLiteral("the disk is gone")));
    m_script->open = [] { return core::Result<void>(); };
    link(QStringLiteral("Try again"))->click();
    EXPECT_TRUE(eventually([&] { return label(QStringLiteral("Close")) != nullptr; }));
}

TEST_F(ReadinessCardTest, WhileScoringItWaits) {
    m_desk->hold(true);
    show(ReadinessCard::Width::Wide);
    QTest::qWait(5);
    EXPECT_NE(label(QStringLiteral("Worked out when scoring is over")), nullptr);
    m_desk->hold(false);
    EXPECT_TRUE(eventually([&] { return label(QStringLiteral("Close")) != nullptr; }));
}

TEST_F(ReadinessCardTest, AnOwnWordIsVisibleWithItsReasonAndTheFigures) {
    showKnown();
    ASSERT_TRUE(m_desk->setOverride(one(), core::ReadinessWord::Ready, QStringLiteral("two clean days"),
                                    QStringLiteral("i-1")));
    QTest::qWait(5);
    EXPECT_NE(label(QStringLiteral("Ready")), nullptr);
    const QString all = texts().join(QLatin1Char('\n'));
    EXPECT_TRUE(all.contains(
        QStringLiteral("Set to Ready by K. Invented, 12 Mar 2026: two clean days. The figures say Close.")))
        << all.toStdString();
}

TEST_F(ReadinessCardTest, NothingLiesOverAnythingElse) {
    for (const auto width : {ReadinessCard::Width::Wide, ReadinessCard::Width::Narrow}) {
        showKnown(width);
        QList<QRect> places;
        for (const QWidget* child : m_card->findChildren<QWidget*>()) {
            if (!child->isVisible() || child->findChild<QWidget*>() != nullptr) continue;
            const QRect place(child->mapTo(m_card.get(), QPoint()), child->size());
            EXPECT_GE(place.left(), 0);
            EXPECT_LE(place.right(), m_card->width()) << child->metaObject()->className();
            for (const QRect& other : places) EXPECT_FALSE(other.intersects(place));
            places << place;
        }
        EXPECT_GT(places.size(), 12);
    }
}

TEST_F(ReadinessCardTest, TheDialogAsksForReasonAndNameAndKeepsTheList) {
    showKnown();
    app::OverrideDialog dialog(m_theme, *m_desk, one(), nullptr);
    dialog.show();
    const auto button = [&](const QString& words) -> QPushButton* {
        for (QPushButton* one : dialog.findChildren<QPushButton*>())
            if (one->text().remove(QLatin1Char('&')) == words) return one;
        return nullptr;
    };
    QPushButton* keep = button(QStringLiteral("Keep this word"));
    ASSERT_NE(keep, nullptr);
    EXPECT_FALSE(keep->isEnabled());
    for (QRadioButton* word : dialog.findChildren<QRadioButton*>())
        if (word->text() == QStringLiteral("Ready")) word->setChecked(true);
    EXPECT_FALSE(keep->isEnabled()) << "no reason yet";
    QTest::keyClicks(dialog.findChild<QLineEdit*>(), QStringLiteral("two clean days"));
    EXPECT_TRUE(keep->isEnabled()) << "the only instructor is chosen";
    EXPECT_FALSE(button(QStringLiteral("Take it back"))->isVisible()) << "there is nothing to take back";
    keep->click();
    EXPECT_EQ(dialog.result(), QDialog::Accepted);
    ASSERT_EQ(m_desk->overridesOf(one()).size(), 1u);
    EXPECT_EQ(m_desk->overridesOf(one()).front().word, core::ReadinessWord::Ready);

    app::OverrideDialog again(m_theme, *m_desk, one(), nullptr);
    again.show();
    QPushButton* back = nullptr;
    for (QPushButton* one : again.findChildren<QPushButton*>())
        if (one->text().contains(QStringLiteral("back"))) back = one;
    ASSERT_NE(back, nullptr);
    EXPECT_TRUE(back->isVisible());
    QTest::keyClicks(again.findChild<QLineEdit*>(), QStringLiteral("another bus"));
    m_now = m_now.addSecs(1);
    back->click();
    EXPECT_EQ(m_desk->of(one()).answer.readiness.word, core::ReadinessWord::Close);
}

TEST(ReadinessWords, ChancesStandInTens) {
    EXPECT_EQ(app::inTenWords(0.71), QStringLiteral("about 7 in 10"));
    EXPECT_EQ(app::inTenWords(0.999), QStringLiteral("nearly all"));
    EXPECT_EQ(app::inTenWords(0.001), QStringLiteral("hardly any"));
    EXPECT_EQ(app::gainWords(0.052, 0, core::DrillAim::PassChance), QStringLiteral("5 more in 100 pass"));
    EXPECT_EQ(app::gainWords(0.001, 0, core::DrillAim::PassChance), QStringLiteral("a little"));
    EXPECT_EQ(app::gainWords(0, 2.2, core::DrillAim::ExpectedScore), QStringLiteral("2 points"));
}

}  // namespace
}  // namespace markerlamp
