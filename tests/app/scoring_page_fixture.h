#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The live page in a window of its own, over the small rubric, a clock that tests turn and a sink that keeps
// what it is given. Keys come with their places on the keyboard, as a real one sends them.

#include "app/scoring/scoring_page.h"
#include "app/scoring/surface.h"
#include "app/settings/settings.h"
#include "app/support/theme.h"
#include "scoring_support.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

namespace markerlamp::testing {

class ScoringPageFixture : public ::testing::Test {
protected:
    ScoringPageFixture() : m_settings(m_dir.filePath(QStringLiteral("settings.ini"))) {}

    void open(QSize size = {1366, 720}, std::shared_ptr<const core::Rubric> rubric = smallRubric(),
              core::AttemptHeader header = smallHeader()) {
        make(size);
        const auto started = m_page->start(std::move(rubric), std::move(header));
        ASSERT_TRUE(started) << started.error().message;
        settle();
    }
    void make(QSize size) {
        app::ScoringServices services;
        services.sink = &m_sink;
        services.clock = &m_clock;
        services.attempt = [this](const QString&) -> core::Result<core::Attempt> { return m_stored; };
        services.rubric = [](const std::string&, int) -> core::Result<std::shared_ptr<const core::Rubric>> {
            return smallRubric();
        };
        services.traineeName = [](const std::string&) { return QStringLiteral("Trainee A"); };
        services.keepAwake = [this](bool awake) { m_awake = awake; };
        services.busTitle = [](const std::string&) { return QStringLiteral("Bus 14"); };
        m_page = std::make_unique<app::ScoringPage>(m_theme, m_settings, services);
        m_page->resize(size);
        m_page->show();
        QApplication::setActiveWindow(m_page.get());
        m_page->setFocus();
    }
    static void settle() { QTest::qWait(5); }

    /// The code of a key's place (linux/input-event-codes.h); 0: not needed here.
    static quint32 placeOf(int key) {
        static const QString rows[] = {QStringLiteral("1234567890"), QStringLiteral("QWERTYUIOP"),
                                       QStringLiteral("ASDFGHJKL"), QStringLiteral("ZXCVBNM")};
        static const quint32 first[] = {2, 16, 30, 44};
        for (int row = 0; row < 4; ++row)
            if (key < 128)
                if (const auto at = rows[row].indexOf(QChar(key)); at >= 0)
                    return first[row] + static_cast<quint32>(at);
        return key == Qt::Key_Space ? 57 : 0;
    }
    /// Goes where the focus is, half a second after the key before.
    void key(int key, Qt::KeyboardModifiers modifiers = Qt::NoModifier, const QString& text = {},
             bool repeat = false) {
        m_clock.pass(0.5);
        QWidget* target = QApplication::focusWidget() != nullptr ? QApplication::focusWidget() : m_page.get();
        QKeyEvent event = keyEvent(key, text, modifiers, placeOf(key), repeat);
        QApplication::sendEvent(target, &event);
    }
    template <class Part>
    Part* part() {
        return m_page->findChild<Part*>();
    }
    /// Middle of a target as it is seen, in its part's coordinates.
    static QPoint middleOf(const app::Surface* surface, int id) {
        const auto target = surface->target(id);
        EXPECT_TRUE(target) << "no target " << id;
        return target ? surface->seenRect(*target).center().toPoint() : QPoint();
    }
    /// A finger at this place: pressed and released, half a second after what came before.
    void touch(QWidget* widget, const QPoint& at) {
        m_clock.pass(0.5);
        static QPointingDevice* const device = QTest::createTouchDevice();
        QTest::touchEvent(widget, device).press(0, at, widget);
        QTest::touchEvent(widget, device).release(0, at, widget);
        settle();
    }
    void tap(app::Surface* surface, int id) { touch(surface, middleOf(surface, id)); }

    QTemporaryDir m_dir;
    app::Settings m_settings;
    app::Theme m_theme;
    KeptSink m_sink;
    TurnedClock m_clock;
    core::Attempt m_stored;
    bool m_awake = false;  ///< what the page asked for last
    std::unique_ptr<app::ScoringPage> m_page;
};

}  // namespace markerlamp::testing
