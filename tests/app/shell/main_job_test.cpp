// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The main job through the real window: start form, keys of the scoring page, settle pass, debrief, sheet;
// and the same attempt cut off by a kill of the real program.

#include "../window_fixture.h"

#include "app/debrief/debrief_page.h"
#include "app/scoring/scoring_model.h"
#include "app/scoring/scoring_page.h"
#include "app/start/start_page.h"
#include "core/attempt/marks.h"
#include "core/scoring/scorecard.h"
#include "db/event_writer.h"

#include <QProcess>
#include <QSignalSpy>

#include <csignal>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class MainJob : public WindowFixture {
protected:
    [[nodiscard]] app::ScoringPage& scoring() { return *m_window->findChild<app::ScoringPage*>(); }
    [[nodiscard]] app::StartPage& start() { return *m_window->findChild<app::StartPage*>(); }
    [[nodiscard]] app::ScoringModel& model() { return *scoring().model(); }

    /// Ctrl+N, a trainee, Ctrl+Enter.
    void begin(const std::string& trainee) {
        // The demo's own unfinished attempt is put away first.
        const auto attempts = m_window->session()->file().attempts();
        for (const auto& info : *attempts)
            if (info.state == db::AttemptState::Open) {
                ASSERT_TRUE(m_window->session()->file().setAside(info.id));
            }
        trigger("attempt.start");
        start().chooseTrainee(app::qs(trainee));
        QTest::keyClick(&start(), Qt::Key_Return, Qt::ControlModifier);
        settle();
        ASSERT_TRUE(scoring().isActive());
        ASSERT_EQ(m_window->currentPage(), &scoring());
    }
    [[nodiscard]] std::string firstTrainee() {
        const auto trainees = m_window->session()->file().trainees();
        return trainees->front().key;
    }
    void key(Qt::Key code, Qt::KeyboardModifiers modifiers = {}) {
        // Faster than any hand, and slower than what counts as one press of a bouncing key.
        QTest::qWait(125);
        QTest::keyClick(m_window->focusWidget() != nullptr ? m_window->focusWidget() : &scoring(), code,
                        modifiers);
    }
};

TEST_F(MainJob, FromTheStartFormToTheDebriefByKeyboard) {
    openDemo();
    const std::string trainee = firstTrainee();
    begin(trainee);
    const QString id = model().attemptId();
    const int steps = model().stepCount();
    ASSERT_GT(steps, 50);

    const std::string first = model().step(model().marker()).id;
    key(Qt::Key_Space);
    EXPECT_TRUE(model().marks(0).shown);
    key(Qt::Key_L);
    EXPECT_TRUE(model().marks(1).partly || model().step(1).say.empty());
    key(Qt::Key_J);
    EXPECT_TRUE(model().marks(2).shown);
    key(Qt::Key_U);
    EXPECT_TRUE(model().marks(3).unseen);
    key(Qt::Key_O);
    EXPECT_TRUE(model().marks(4).omitted);
    key(Qt::Key_Backspace);
    EXPECT_FALSE(model().marks(4).omitted) << "undo";
    // The rest by its model: what a key does is shown above, key by key in the tests of the page.
    for (int i = 4; i < steps; ++i) model().outcomeOn(i, core::Outcome::Both);
    QSignalSpy finished(&scoring(), &app::ScoringPage::finished);
    key(Qt::Key_Return, Qt::ControlModifier);
    if (finished.isEmpty()) key(Qt::Key_Return);
    if (finished.isEmpty()) key(Qt::Key_Return, Qt::ControlModifier);
    ASSERT_EQ(finished.count(), 1);
    EXPECT_EQ(m_window->currentPageId(), PageId::Debrief);

    // What the file holds is what was pressed, and the debrief is of this attempt.
    auto& file = m_window->session()->file();
    const auto stored = file.attempt(app::ss(id));
    ASSERT_TRUE(stored);
    EXPECT_TRUE(core::isEnded(*stored));
    EXPECT_EQ(stored->header.trainee, trainee);
    const auto rubric = *file.rubric(stored->header.rubric, stored->header.edition);
    const auto marks = core::foldMarks(*rubric, *stored);
    EXPECT_EQ(marks.front().step, first);
    EXPECT_TRUE(marks[3].unseen);
    EXPECT_EQ(file.attemptInfo(app::ss(id)).value()->state, db::AttemptState::Ended);
    EXPECT_FALSE(scoring().isActive());
}

TEST_F(MainJob, AnotherPageStopsTheClockAndTheAttemptIsThereWhenItComesBack) {
    openDemo();
    begin(firstTrainee());
    key(Qt::Key_Space);
    m_window->showPage(PageId::Trainees);
    settle();
    EXPECT_TRUE(model().paused());
    m_window->showPage(PageId::Scoring);
    settle();
    EXPECT_EQ(m_window->currentPage(), &scoring());
    EXPECT_EQ(model().scored(), 1);
}

TEST_F(MainJob, ClosingTheWindowPausesAndTheNextStartOffersToGoOn) {
    openDemo();
    begin(firstTrainee());
    const QString id = model().attemptId();
    key(Qt::Key_Space);
    key(Qt::Key_Space);
    m_window->close();
    settle();
    m_window.reset();
    makeWindow();
    ASSERT_TRUE(m_window->openFile(path(QStringLiteral("demo.markerlamp"))));
    settle();
    ASSERT_EQ(m_window->currentPage(), &start());
    ASSERT_FALSE(start().form().data().unfinished.empty());
    EXPECT_EQ(start().form().data().unfinished.front().id, id);
    EXPECT_EQ(start().form().data().unfinished.front().scored, 2);
    EXPECT_FALSE(start().form().data().unfinished.front().crashed) << "closing stops the clock";
    QTest::keyClick(m_window->focusWidget(), Qt::Key_Return);
    settle();
    ASSERT_TRUE(scoring().isActive()) << "one action resumes";
    EXPECT_EQ(model().scored(), 2);
}

}  // namespace
}  // namespace markerlamp::testing
