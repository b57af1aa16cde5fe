// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/signs/readiness_sign.h"

#include <QFontMetricsF>
#include <QPainterPath>
#include <QPen>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace markerlamp::forms {

namespace {

double stroke(double width, const Roles& roles, double scale) {
    return std::max(width, roles.minStroke) * scale;
}

double clamped(double share) {
    return std::isfinite(share) ? std::clamp(share, 0.0, 1.0) : 0.0;
}

/// Lines that run along an axis stay sharp: no smoothing, whole widths.
void fillLine(QPainter& p, const QRectF& rect, const QColor& color) {
    p.save();
    p.setRenderHint(QPainter::Antialiasing, false);
    p.fillRect(rect, color);
    p.restore();
}

/// Interval and dot with their middle at `y`.
void intervalAndDot(QPainter& p, double low, double at, double high, double y, const Roles& roles,
                    double scale) {
    const double width = stroke(3, roles, scale), radius = 5 * scale;
    fillLine(p, QRectF(low, y - width / 2, std::max(high - low, width), width), roles.ink);
    p.setPen(Qt::NoPen);
    p.setBrush(roles.ink);
    p.drawEllipse(QPointF(at, y), radius, radius);
}

}  // namespace

void paintReadiness(QPainter& p, const QRectF& square, core::ReadinessWord word, const Roles& roles,
                    double scale) {
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    const double width = stroke(square.width() < 20 * scale ? 2 : 2.5, roles, scale);
    const QRectF ring = square.adjusted(width / 2, width / 2, -width / 2, -width / 2);
    QPen pen(roles.ink, width);
    if (word == core::ReadinessWord::TooLittle) {
        // As many dots as fit with gaps of one and a half dots, evenly round the circle.
        const double around = std::numbers::pi * ring.width() / width;
        const double dots = std::max(6.0, std::floor(around / 2.5));
        pen.setCapStyle(Qt::FlatCap);
        pen.setDashPattern({1.0, around / dots - 1.0});
    }
    p.setPen(pen);
    p.setBrush(word == core::ReadinessWord::Ready ? roles.ink : roles.ground);
    p.drawEllipse(ring);
    if (word == core::ReadinessWord::Close) {
        QPainterPath half;
        half.moveTo(square.center());
        half.arcTo(ring, 90, 180);
        half.closeSubpath();
        p.setPen(Qt::NoPen);
        p.fillPath(half, roles.ink);
    }
    p.restore();
}

double ofTenX(const QRectF& rect, double share, const QString& unit, const QFont& font) {
    const QFontMetricsF metrics(font);
    const double left = std::max(metrics.horizontalAdvance(QLatin1Char('0')) / 2, 6.0);
    // The unit runs on to the right of its number.
    const double right = metrics.horizontalAdvance(QStringLiteral("10")) / 2 +
                         (unit.isEmpty() ? 0 : metrics.horizontalAdvance(QLatin1Char(' ') + unit));
    const double from = rect.left() + left, to = std::max(from + 1, rect.right() - std::max(right, 6.0));
    return from + (to - from) * clamped(share);
}

double ofTenHeight(const QFont& font, double scale) {
    return 22 * scale + QFontMetricsF(font).height();
}

void paintOfTen(QPainter& p, const QRectF& rect, const OfTen* value, const QString& unit, const QFont& font,
                const Roles& roles, double scale) {
    const auto x = [&](double share) { return ofTenX(rect, share, unit, font); };
    const QFontMetricsF metrics(font);
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    const double thin = stroke(1, roles, scale);
    const double base = std::round(rect.top() + 18 * scale);
    fillLine(p, QRectF(x(0), base, x(1) - x(0) + thin, thin), roles.muted);
    for (int tick = 0; tick <= 10; ++tick) {
        const double length = (tick % 5 == 0 ? 7 : 4) * scale;
        const double at = std::round(x(tick / 10.0));
        fillLine(p, QRectF(at, base - length, thin, length), roles.muted);
        if (tick % 5 != 0) continue;
        const QString number = QString::number(tick);
        p.setFont(font);
        p.setPen(roles.muted);
        p.drawText(QPointF(at - metrics.horizontalAdvance(number) / 2, base + 5 * scale + metrics.ascent()),
                   tick == 10 && !unit.isEmpty() ? number + QLatin1Char(' ') + unit : number);
    }
    if (value != nullptr)
        intervalAndDot(p, x(std::min(value->low, value->chance)), x(value->chance),
                       x(std::max(value->high, value->chance)), std::round(rect.top() + 6 * scale), roles,
                       scale);
    p.restore();
}

void paintOfTenCell(QPainter& p, const QRectF& rect, const OfTen& value, const Roles& roles, double scale) {
    const double pad = 6 * scale;
    const auto x = [&](double share) {
        return rect.left() + pad + (rect.width() - 2 * pad) * clamped(share);
    };
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    const double y = std::round(rect.center().y()), thin = stroke(1, roles, scale);
    fillLine(p, QRectF(x(0), y - thin / 2, x(1) - x(0), thin), roles.hair);
    for (const double end : {0.0, 1.0})
        fillLine(p, QRectF(std::round(x(end)), y - 4 * scale, thin, 8 * scale), roles.line);
    intervalAndDot(p, x(std::min(value.low, value.chance)), x(value.chance),
                   x(std::max(value.high, value.chance)), y, roles, scale);
    p.restore();
}

}  // namespace markerlamp::forms
