// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the scoring page shows: nothing cut or overlapping at any size, direction or palette; states told
// apart; everything named for assistive technology.

#include "../support/sample_attempt.h"
#include "app/scoring/board_part.h"
#include "app/scoring/compact_part.h"
#include "app/scoring/dock_part.h"
#include "app/scoring/header_part.h"
#include "app/scoring/keypad_part.h"
#include "app/scoring/listening_part.h"
#include "app/scoring/plan_part.h"
#include "app/scoring/strip_part.h"
#include "scoring_page_fixture.h"
#include "text_recorder.h"

#include <QAccessible>
#include <QImage>
#include <QTranslator>

#include <set>

namespace markerlamp {
namespace {

using app::Surface;
using core::Outcome;

TEST(LongClock, ShowsAnyTimeThatADocumentCanHave) {
    EXPECT_EQ(app::longClock(-1), QStringLiteral("00:00:00"));
    EXPECT_EQ(app::longClock(3723.9), QStringLiteral("01:02:03"));
    EXPECT_EQ(app::longClock(1e12), QStringLiteral("277777777:46:40")) << "the largest that the reader takes";
}

class ScoringPageLook : public testing::ScoringPageFixture {
protected:
    /// The built-in rubric with every step of it on the bus.
    void openBuiltIn(QSize size) {
        const auto rubric =
            std::make_shared<const core::Rubric>(testing::builtInRubric("air-brake-school-bus"));
        open(size, rubric, testing::wholeAttempt(*rubric, testing::equipmentWithout(*rubric)).header);
    }
    /// Every state a tile can have, somewhere in the first zones.
    void scoreAllStates() {
        app::ScoringModel& model = *m_page->model();
        const auto press = [&](Outcome outcome) {
            m_clock.pass(3);
            model.outcome(outcome);
        };
        press(Outcome::Both);
        press(Outcome::Partly);
        press(Outcome::ShownOnly);
        press(Outcome::SaidOnly);
        press(Outcome::Omitted);
        press(Outcome::NotObserved);
        model.armPrompt();
        press(Outcome::Both);
        model.flipPoint(0);
        model.wrong();
        press(Outcome::Both);
    }
    [[nodiscard]] std::vector<Surface*> visibleParts() {
        std::vector<Surface*> parts;
        for (Surface* part : m_page->findChildren<Surface*>())
            if (part->isVisible()) parts.push_back(part);
        return parts;
    }
    /// No text leaves its part or runs into another one.
    void expectTextsClear(const char* what) {
        for (Surface* part : visibleParts()) {
            testing::TextRecorder recorder(part->size());
            QPainter painter(&recorder);
            part->paint(painter);
            painter.end();
            const auto& texts = recorder.texts();
            const QString name = QString::fromLatin1(part->metaObject()->className());
            for (std::size_t i = 0; i < texts.size(); ++i) {
                EXPECT_TRUE(QRectF(part->rect()).adjusted(-1, -1, 1, 1).contains(texts[i].ink))
                    << what << ": " << name.toStdString() << " cuts \"" << texts[i].text.toStdString()
                    << "\"";
                for (std::size_t j = i + 1; j < texts.size(); ++j)
                    EXPECT_FALSE(
                        texts[i].ink.adjusted(1, 1, -1, -1).intersects(texts[j].ink.adjusted(1, 1, -1, -1)))
                        << what << ": " << name.toStdString() << " paints \"" << texts[i].text.toStdString()
                        << "\" over \"" << texts[j].text.toStdString() << "\"";
            }
        }
    }
    void walkEverything(const char* what) {
        app::ScoringModel& model = *m_page->model();
        SCOPED_TRACE(what);
        expectTextsClear("at the start");
        scoreAllStates();
        for (const auto& zone : model.zones()) {
            model.goTo(zone.first);
            for (int i = zone.first; i < zone.first + zone.count; ++i) {
                model.goTo(i);
                expectTextsClear(model.step(i).id.c_str());
            }
            m_clock.pass(20);
            model.outcome(Outcome::Both);
            expectTextsClear(zone.id.c_str());
        }
        key(Qt::Key_N);
        expectTextsClear("note");
        key(Qt::Key_Escape);
        key(Qt::Key_Slash, Qt::NoModifier, QStringLiteral("/"));
        expectTextsClear("find");
        key(Qt::Key_Escape);
        key(Qt::Key_F9);
        expectTextsClear("cover");
        key(Qt::Key_F9);
        m_sink.fail(QStringLiteral("the disk is full"), 12);
        expectTextsClear("trouble");
        key(Qt::Key_Return, Qt::ControlModifier);
        expectTextsClear("settle");
    }
    [[nodiscard]] QImage picture(Surface* part) {
        QImage image(part->size(), QImage::Format_RGB32);
        image.fill(Qt::white);
        QPainter painter(&image);
        part->paint(painter);
        return image;
    }
};

TEST_F(ScoringPageLook, NoTextIsCutOrPaintedOverAtTheDrawnSize) {
    openBuiltIn({1366, 720});
    walkEverything("1366x720");
}

TEST_F(ScoringPageLook, NoTextIsCutOrPaintedOverOnTheSmallCard) {
    openBuiltIn({683, 384});
    ASSERT_TRUE(m_page->isCompact());
    walkEverything("683x384");
}

TEST_F(ScoringPageLook, NoTextIsCutOrPaintedOverOnAMiddlingScreen) {
    openBuiltIn({1024, 600});
    walkEverything("1024x600");
}

TEST_F(ScoringPageLook, NoTextIsCutOrPaintedOverFromRightToLeft) {
    QApplication::setLayoutDirection(Qt::RightToLeft);
    openBuiltIn({1366, 720});
    walkEverything("right to left");
    QApplication::setLayoutDirection(Qt::LeftToRight);
}

TEST_F(ScoringPageLook, NoTextIsCutOrPaintedOverWithLargeTargetsAndDenseTiles) {
    m_theme.setRough(true);
    m_settings.setDenseTiles(true);
    openBuiltIn({1920, 1032});
    walkEverything("rough, dense");
}

/// Every text of the program a third longer, as some languages need it.
class LongerWords final : public QTranslator {
public:
    [[nodiscard]] bool isEmpty() const override { return false; }
    [[nodiscard]] QString translate(const char*, const char* source, const char*, int n) const override {
        QString text = QString::fromUtf8(source);
        if (n >= 0) text.replace(QLatin1String("%n"), QString::number(n));
        const auto more = (text.size() * 35 + 99) / 100;
        for (qsizetype i = 0; i < more; ++i) text += QLatin1Char(i % 6 == 0 ? ' ' : 'e');
        return text;
    }
};

TEST_F(ScoringPageLook, NoTextIsCutOrPaintedOverWhenWordsAreAThirdLonger) {
    LongerWords longer;
    QCoreApplication::installTranslator(&longer);
    openBuiltIn({1366, 720});
    walkEverything("longer words");
    QCoreApplication::removeTranslator(&longer);
}

TEST_F(ScoringPageLook, NoStepPointOrZoneOfTheBuiltInRubricIsCutShort) {
    openBuiltIn({1366, 720});
    app::ScoringModel& model = *m_page->model();
    std::set<QString> shortened;
    for (int i = 0; i < model.stepCount(); ++i) {
        model.goTo(i);
        m_clock.pass(3);
        model.outcome(Outcome::Both);
        for (Surface* part :
             std::vector<Surface*>{part<app::StripPart>(), part<app::PlanPart>(), part<app::ListeningPart>(),
                                   part<app::DockPart>(), part<app::HeaderPart>()}) {
            testing::TextRecorder recorder(part->size());
            QPainter painter(&recorder);
            part->paint(painter);
            painter.end();
            for (const auto& text : recorder.texts())
                if (text.text.contains(QChar(0x2026))) shortened.insert(text.text);
        }
    }
    for (const QString& text : shortened) ADD_FAILURE() << text.toStdString();
}

TEST_F(ScoringPageLook, NoCautionOfTheBuiltInRubricIsCutShort) {
    // What keeps people from under the wheels is read whole or not at all.
    for (const QSize size : {QSize(1366, 720), QSize(683, 384)}) {
        openBuiltIn(size);
        app::ScoringModel& model = *m_page->model();
        for (int i = 0; i < model.stepCount(); ++i) {
            const QString caution = QString::fromStdString(model.step(i).caution);
            if (caution.isEmpty()) continue;
            model.goTo(i);
            const bool compact = part<app::CompactPart>()->isVisible();
            Surface* shows = compact ? static_cast<Surface*>(part<app::CompactPart>())
                                     : static_cast<Surface*>(part<app::BoardPart>());
            testing::TextRecorder recorder(shows->size());
            QPainter painter(&recorder);
            shows->paint(painter);
            painter.end();
            QString painted;
            for (const auto& text : recorder.texts()) painted += text.text + QLatin1Char(' ');
            EXPECT_TRUE(painted.contains(caution))
                << size.width() << " wide, " << model.step(i).id << ": " << painted.toStdString();
        }
    }
}

TEST_F(ScoringPageLook, FromRightToLeftTheDockChangesSideAndTargetsFollow) {
    QApplication::setLayoutDirection(Qt::RightToLeft);
    open();
    EXPECT_EQ(part<app::DockPart>()->x(), 0);
    auto* board = part<app::BoardPart>();
    // The first tile stands at the right now, and a touch there scores it.
    EXPECT_GT(middleOf(board, 0).x(), board->width() / 2);
    tap(board, 0);
    EXPECT_TRUE(m_page->model()->marks(0).shown);
    QApplication::setLayoutDirection(Qt::LeftToRight);
}

TEST_F(ScoringPageLook, TheDockStandsWhereTheSettingSays) {
    m_settings.setDockLeft(true);
    open();
    EXPECT_EQ(part<app::DockPart>()->x(), 0);
    m_settings.setDockLeft(false);
    EXPECT_EQ(part<app::DockPart>()->geometry().right(), m_page->width() - 1);
}

TEST_F(ScoringPageLook, TargetsKeepTheirMillimetresAtEveryDensity) {
    for (const double pxPerMm : {4.33, 6.0, 8.66}) {  // 110 to 220 dots per inch
        m_theme.setPxPerMm(pxPerMm);
        m_page.reset();
        const double factor = pxPerMm / 4.41;
        open({qRound(1366 * factor), qRound(720 * factor)});
        for (const auto& pad : part<app::DockPart>()->targets())
            EXPECT_GE(std::min(pad.rect.width(), pad.rect.height()) / pxPerMm, 20.0) << pxPerMm;
        for (const auto& tile : part<app::BoardPart>()->targets())
            if (tile.id < 100) {
                EXPECT_GE(tile.rect.height() / pxPerMm, 15.0 - 0.1) << pxPerMm;
            }
    }
}

TEST_F(ScoringPageLook, ALampIsHalfTonedUntilItIsDurableOnEveryPart) {
    open();
    m_sink.storesAtOnce = false;
    key(Qt::Key_Space);
    std::vector<QImage> pending;
    const std::vector<Surface*> parts{part<app::StripPart>(), part<app::BoardPart>()};
    for (Surface* part : parts) pending.push_back(picture(part));
    m_sink.store();
    for (std::size_t i = 0; i < parts.size(); ++i)
        EXPECT_NE(picture(parts[i]), pending[i]) << parts[i]->metaObject()->className();
}

TEST_F(ScoringPageLook, AFailedWriteStandsInTheHeaderAndPressesGoOn) {
    open();
    m_sink.storesAtOnce = false;
    key(Qt::Key_Space);
    m_sink.fail(QStringLiteral("the disk is full"), 1);
    auto* header = part<app::HeaderPart>();
    EXPECT_EQ(header->stateWords(), QStringLiteral("not saved, 1 waiting"));
    testing::TextRecorder recorder(header->size());
    QPainter painter(&recorder);
    header->paint(painter);
    painter.end();
    EXPECT_TRUE(std::ranges::any_of(
        recorder.texts(), [](const auto& t) { return t.text == QStringLiteral("not saved, 1 waiting"); }));
    key(Qt::Key_Space);
    EXPECT_EQ(m_sink.presses.size(), 2u);
    EXPECT_TRUE(m_page->model()->pending(0));
    m_sink.store();
    m_sink.fail({}, 0);
    EXPECT_EQ(header->stateWords(), QStringLiteral("running"));
    EXPECT_FALSE(m_page->model()->pending(0));
}

TEST_F(ScoringPageLook, PalettesChangeTheColoursAndNotThePlaces) {
    open();
    scoreAllStates();
    QRectF place;
    for (const auto choice :
         {app::Theme::Choice::Day, app::Theme::Choice::PreDawn, app::Theme::Choice::Sun}) {
        m_theme.setChoice(choice);
        const QImage image = m_page->grab().toImage();
        EXPECT_EQ(QColor(image.pixel(300, 140)).name(), m_theme.roles().ground.name());
        const auto tiles = part<app::BoardPart>()->targets();
        ASSERT_FALSE(tiles.empty());
        const QRectF now = tiles.front().rect;
        if (!place.isNull()) {
            EXPECT_EQ(now, place);
        }
        place = now;
    }
}

// --- assistive technology ---

void walk(QAccessibleInterface* node, int depth, int& interactive, QStringList& unnamed) {
    ASSERT_LT(depth, 30);
    if (node == nullptr || !node->isValid()) return;
    const auto state = node->state();
    if (state.focusable && !state.invisible) {
        ++interactive;
        if (node->text(QAccessible::Name).trimmed().isEmpty() || node->role() == QAccessible::NoRole)
            unnamed << (node->object() != nullptr
                            ? QString::fromLatin1(node->object()->metaObject()->className())
                            : QStringLiteral("a target"));
    }
    for (int i = 0; i < node->childCount(); ++i) {
        QAccessibleInterface* child = node->child(i);
        ASSERT_NE(child, nullptr);
        walk(child, depth + 1, interactive, unnamed);
    }
}

TEST_F(ScoringPageLook, EverythingThatCanBePressedHasANameAndARole) {
    for (const QSize size : {QSize(1366, 720), QSize(683, 384)}) {
        m_page.reset();
        open(size);
        for (const auto& step :
             {std::function<void()>([] {}), std::function<void()>([this] { key(Qt::Key_Space); }),
              std::function<void()>([this] { key(Qt::Key_N); }), std::function<void()>([this] {
                  key(Qt::Key_Escape);
                  key(Qt::Key_Slash, Qt::NoModifier, QStringLiteral("/"));
              }),
              std::function<void()>([this] {
                  key(Qt::Key_Escape);
                  key(Qt::Key_T);
              }),
              std::function<void()>([this] { key(Qt::Key_Return, Qt::ControlModifier); })}) {
            step();
            int interactive = 0;
            QStringList unnamed;
            walk(QAccessible::queryAccessibleInterface(m_page.get()), 0, interactive, unnamed);
            EXPECT_TRUE(unnamed.isEmpty()) << unnamed.join(QLatin1Char(' ')).toStdString();
            EXPECT_GT(interactive, 10);
        }
    }
}

TEST_F(ScoringPageLook, AssistiveTechnologyPressesTilesAndPads) {
    open();
    auto* board = QAccessible::queryAccessibleInterface(part<app::BoardPart>());
    QAccessibleInterface* first = board->child(0);
    ASSERT_NE(first, nullptr);
    EXPECT_EQ(first->text(QAccessible::Name), QStringLiteral("1 Tire tread depth"));
    EXPECT_TRUE(first->text(QAccessible::Description).contains(QLatin1String("open")));
    QAccessibleActionInterface* action = first->actionInterface();
    ASSERT_NE(action, nullptr);
    ASSERT_TRUE(action->actionNames().contains(QStringLiteral("Shown")));
    action->doAction(QStringLiteral("Shown"));
    EXPECT_EQ(m_sink.lastPress(), "show a");
    EXPECT_TRUE(first->text(QAccessible::Description).contains(QLatin1String("shown")));
    EXPECT_TRUE(first->rect().isValid());
    auto* dock = QAccessible::queryAccessibleInterface(part<app::DockPart>());
    dock->child(0)->actionInterface()->doAction(QAccessibleActionInterface::pressAction());
    EXPECT_EQ(m_sink.presses.size(), 2u);
}

TEST_F(ScoringPageLook, TabReachesEveryPartAndEscComesBack) {
    open();
    std::set<QWidget*> reached;
    for (int i = 0; i < 12; ++i) {
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
        reached.insert(QApplication::focusWidget());
    }
    for (Surface* part : visibleParts())
        if (!part->targets().empty() && qobject_cast<app::KeypadPart*>(part) == nullptr) {
            EXPECT_TRUE(reached.count(part) > 0) << part->metaObject()->className();
        }
    // Arrows walk, Enter presses, and the letters of the page still act.
    part<app::DockPart>()->setFocus();
    key(Qt::Key_Right);
    key(Qt::Key_Return);
    EXPECT_EQ(m_sink.lastPress(), "show a; partly a");
    key(Qt::Key_J);
    EXPECT_EQ(m_sink.lastPress(), "show b");
}

}  // namespace
}  // namespace markerlamp
