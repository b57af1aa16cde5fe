// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/signs/readiness_sign.h"

#include "forms/style/fonts.h"

#include <QImage>
#include <QtMath>

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <functional>
#include <vector>

namespace markerlamp::forms {
namespace {

using core::ReadinessWord;

/// The sign as pure black and white on `roles`' ground: 1 where it is nearer to ink than to ground.
QImage oneBit(const Roles& roles, const QSize& size, const std::function<void(QPainter&)>& paint) {
    QImage image(size, QImage::Format_RGB32);
    image.fill(roles.ground);
    QPainter painter(&image);
    paint(painter);
    painter.end();
    const int middle = (qGray(roles.ground.rgb()) + qGray(roles.ink.rgb())) / 2;
    const bool lightInk = qGray(roles.ink.rgb()) > middle;
    QImage result(size, QImage::Format_Mono);
    for (int y = 0; y < size.height(); ++y)
        for (int x = 0; x < size.width(); ++x)
            result.setPixel(x, y, (qGray(image.pixel(x, y)) > middle) == lightInk ? 1 : 0);
    return result;
}

int count(const QImage& picture, const QRect& part) {
    int set = 0;
    for (int y = part.top(); y <= part.bottom(); ++y)
        for (int x = part.left(); x <= part.right(); ++x) set += picture.pixelIndex(x, y);
    return set;
}

int differing(const QImage& a, const QImage& b) {
    int different = 0;
    for (int y = 0; y < a.height(); ++y)
        for (int x = 0; x < a.width(); ++x) different += a.pixelIndex(x, y) != b.pixelIndex(x, y) ? 1 : 0;
    return different;
}

constexpr std::array kWords{ReadinessWord::Ready, ReadinessWord::Close, ReadinessWord::NotYet,
                            ReadinessWord::TooLittle};

// Sizes of the design: 14 px in lists, 24 px beside the word.
TEST(ReadinessSign, EveryTwoShapesDifferInBlackAndWhiteInEveryPaletteAndSize) {
    for (const Roles& roles : {Roles::day(), Roles::sun(), Roles::preDawn(), Roles::paper()})
        for (const int size : {14, 24}) {
            std::vector<QImage> pictures;
            for (const ReadinessWord word : kWords)
                pictures.push_back(oneBit(roles, {40, 40}, [&](QPainter& p) {
                    paintReadiness(p, QRectF(8, 8, size, size), word, roles);
                }));
            for (std::size_t i = 0; i < pictures.size(); ++i)
                for (std::size_t j = i + 1; j < pictures.size(); ++j)
                    // A tenth of the square at least: no two that a copier could merge.
                    EXPECT_GT(differing(pictures[i], pictures[j]), size * size / 14)
                        << size << ": " << i << " and " << j;
        }
}

TEST(ReadinessSign, CloseFillsTheLeftHalfOnly) {
    const Roles roles = Roles::day();
    const QImage close = oneBit(roles, {40, 40}, [&](QPainter& p) {
        paintReadiness(p, QRectF(8, 8, 24, 24), ReadinessWord::Close, roles);
    });
    EXPECT_EQ(count(close, QRect(14, 16, 5, 8)), 40) << "left of the middle is ink";
    EXPECT_EQ(count(close, QRect(22, 16, 5, 8)), 0) << "right of it is ground";
}

TEST(ReadinessSign, UsesInkAlone) {
    // Any colour besides ink and ground would be read as shown, said or as a judgement.
    const Roles roles = Roles::day();
    for (const ReadinessWord word : kWords) {
        QImage image(40, 40, QImage::Format_RGB32);
        image.fill(roles.ground);
        QPainter painter(&image);
        paintReadiness(painter, QRectF(8, 8, 24, 24), word, roles);
        painter.end();
        for (int y = 0; y < 40; ++y)
            for (int x = 0; x < 40; ++x) {
                const QColor color = image.pixelColor(x, y);
                EXPECT_LT(std::abs(color.red() - color.blue()), 12) << x << ' ' << y;
            }
    }
}

class OfTenLine : public ::testing::Test {
protected:
    Roles roles = Roles::day();
    QFont font = type(13);
    QRectF place{10, 4, 280, 44};
    QString unit = QStringLiteral("in 10");
    QImage picture(const OfTen* value) const {
        return oneBit(roles, {320, 60}, [&](QPainter& p) { paintOfTen(p, place, value, unit, font, roles); });
    }
    int at(double share) const { return qRound(ofTenX(place, share, unit, font)); }
};

TEST_F(OfTenLine, DrawsDotAndIntervalWhereTheSharesAre) {
    const OfTen value{0.7, 0.5, 0.9};
    const QImage picture = this->picture(&value);
    const int y = 10;  // rect.top() + 6
    EXPECT_EQ(picture.pixelIndex(at(0.7), y - 4), 1) << "the dot is thicker than the line";
    EXPECT_EQ(picture.pixelIndex(at(0.6), y - 4), 0);
    for (const double share : {0.51, 0.6, 0.8, 0.89}) EXPECT_EQ(picture.pixelIndex(at(share), y), 1) << share;
    for (const double share : {0.3, 0.47, 0.93}) EXPECT_EQ(picture.pixelIndex(at(share), y), 0) << share;
}

TEST_F(OfTenLine, StaysInItsPlaceWhateverTheValue) {
    for (const OfTen& value : {OfTen{0, 0, 0}, OfTen{1, 1, 1}, OfTen{-3, -9, 7},
                               OfTen{std::nan(""), std::nan(""), std::nan("")}}) {
        const QImage picture = this->picture(&value);
        EXPECT_EQ(count(picture, QRect(0, 0, 320, 60)), count(picture, QRect(10, 4, 280, 44)))
            << value.chance;
        EXPECT_GT(count(picture, QRect(10, 4, 280, 13)), 60) << "a dot is there";
    }
}

TEST_F(OfTenLine, WithoutAValueOnlyTheAxisIsThere) {
    const QImage picture = this->picture(nullptr);
    EXPECT_EQ(count(picture, QRect(0, 0, 320, 14)), 0);
    EXPECT_GT(count(picture, QRect(0, 14, 320, 46)), 200);
}

TEST_F(OfTenLine, NeedsTheHeightItSays) {
    const OfTen value{0.4, 0.1, 0.6};
    const QImage picture = this->picture(&value);
    const int bottom = qCeil(place.top() + ofTenHeight(font));
    EXPECT_EQ(count(picture, QRect(0, bottom, 320, 60 - bottom)), 0);
}

TEST(OfTenCell, TellsLowAndHighApart) {
    const Roles roles = Roles::day();
    const auto cell = [&](const OfTen& value) {
        return oneBit(roles, {112, 28},
                      [&](QPainter& p) { paintOfTenCell(p, QRectF(4, 2, 104, 24), value, roles); });
    };
    EXPECT_GT(differing(cell({0.2, 0.1, 0.3}), cell({0.8, 0.7, 0.9})), 100);
    EXPECT_GT(differing(cell({0.5, 0.4, 0.6}), cell({0.5, 0.1, 0.9})), 60) << "a wide interval looks wide";
}

}  // namespace
}  // namespace markerlamp::forms
