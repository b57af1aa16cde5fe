// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/signs/signs.h"

#include <QImage>

#include <gtest/gtest.h>

namespace markerlamp::forms {
namespace {

constexpr int kWidth = 160;
constexpr int kHeight = 60;

/// The sign as pure black and white, half as bright as the middle being black.
QImage oneBit(const std::function<void(QPainter&)>& paint) {
    QImage image(kWidth, kHeight, QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    paint(painter);
    painter.end();
    QImage result(kWidth, kHeight, QImage::Format_Mono);
    for (int y = 0; y < kHeight; ++y)
        for (int x = 0; x < kWidth; ++x) result.setPixel(x, y, qGray(image.pixel(x, y)) < 128 ? 1 : 0);
    return result;
}

int differing(const QImage& a, const QImage& b) {
    int count = 0;
    for (int y = 0; y < kHeight; ++y)
        for (int x = 0; x < kWidth; ++x) count += a.pixelIndex(x, y) != b.pixelIndex(x, y) ? 1 : 0;
    return count;
}

// Bar A4 of the design: every two states differ in 1-bit, in the day palette and on paper.
TEST(Signs, EveryTwoLampStatesDifferInBlackAndWhite) {
    for (const Roles& roles : {Roles::day(), Roles::sun(), Roles::paper()}) {
        std::vector<QImage> pictures;
        for (const LampState state : {LampState::Open, LampState::Lit, LampState::Half, LampState::Wrong,
                                      LampState::Omitted, LampState::NotObserved, LampState::NotReached})
            pictures.push_back(
                oneBit([&](QPainter& p) { paintLamp(p, QRectF(20, 16, 28, 28), state, roles); }));
        pictures.push_back(oneBit(
            [&](QPainter& p) { paintLamp(p, QRectF(20, 16, 28, 28), LampState::Lit, roles, 1, true); }));
        for (std::size_t i = 0; i < pictures.size(); ++i)
            for (std::size_t j = i + 1; j < pictures.size(); ++j)
                EXPECT_GT(differing(pictures[i], pictures[j]), 40) << i << " and " << j;
    }
}

TEST(Signs, EveryTwoCapsuleStatesDifferInBlackAndWhite) {
    for (const int points : {1, 3, 6}) {
        std::vector<QImage> pictures;
        const auto add = [&](LampState capsule, BeadState bead, bool pending = false) {
            SignState state;
            state.capsule = capsule;
            state.beads.assign(static_cast<std::size_t>(points), bead);
            state.pending = pending;
            const QSizeF size = capsuleSize(points, 28);
            pictures.push_back(oneBit(
                [&](QPainter& p) { paintCapsule(p, QRectF(QPointF(30, 8), size), state, Roles::day()); }));
        };
        add(LampState::Open, BeadState::Open);
        add(LampState::Open, BeadState::Lit);
        add(LampState::Open, BeadState::Lit, true);
        add(LampState::Open, BeadState::Wrong);
        add(LampState::Half, BeadState::Open);
        add(LampState::Wrong, BeadState::Open);
        add(LampState::Omitted, BeadState::Open);
        add(LampState::NotObserved, BeadState::Open);
        add(LampState::NotReached, BeadState::Open);
        for (std::size_t i = 0; i < pictures.size(); ++i)
            for (std::size_t j = i + 1; j < pictures.size(); ++j)
                EXPECT_GT(differing(pictures[i], pictures[j]), 20)
                    << points << " points: " << i << " and " << j;
    }
}

TEST(Signs, FollowTheMarks) {
    core::StepMarks marks;
    marks.points = {core::PointMark::Said, core::PointMark::Wrong, core::PointMark::Open};
    marks.shown = true;
    marks.position = 3;
    marks.prompts = 2;
    const SignState state = signState(marks, true);
    EXPECT_EQ(state.shown, LampState::Lit);
    EXPECT_EQ(state.beads, (std::vector{BeadState::Lit, BeadState::Wrong, BeadState::Open}));
    EXPECT_EQ(state.letter, QStringLiteral("x"));
    EXPECT_EQ(state.prompts, 2);
    core::StepMarks gap;
    gap.points = {core::PointMark::Open};
    gap.unseen = true;
    EXPECT_EQ(signState(gap, false).capsule, LampState::NotObserved);
    EXPECT_EQ(signState(gap, false).letter, QStringLiteral("U"));
    gap.hasShow = false;
    EXPECT_EQ(signState(gap, false).shown, LampState::None);
}

}  // namespace
}  // namespace markerlamp::forms
