// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/signs/signs.h"

#include <QFontMetricsF>
#include <QPainterPath>

#include <algorithm>
#include <cmath>

namespace markerlamp::forms {

namespace {

double stroke(double width, const Roles& roles, double scale) {
    return std::max(width, roles.minStroke) * scale;
}

/// A pen of `width` drawn inside the edge, so that nothing moves when a state changes.
void outline(QPainter& p, const QRectF& rect, double radius, double width, const QColor& color,
             const QColor& fill, const QVector<double>& dashes = {}) {
    QPen pen(color, width);
    pen.setJoinStyle(Qt::MiterJoin);
    pen.setCapStyle(Qt::FlatCap);
    if (!dashes.isEmpty()) {
        QVector<double> inPenWidths;
        for (const double d : dashes) inPenWidths << d / width;
        pen.setDashPattern(inPenWidths);
    }
    p.setPen(pen);
    p.setBrush(fill);
    const double inset = width / 2;
    p.drawRoundedRect(rect.adjusted(inset, inset, -inset, -inset), std::max(0.0, radius - inset),
                      std::max(0.0, radius - inset));
}

void fillRound(QPainter& p, const QRectF& rect, double radius, const QColor& color) {
    p.setPen(Qt::NoPen);
    p.setBrush(color);
    p.drawRoundedRect(rect, radius, radius);
}

QPainterPath roundPath(const QRectF& rect, double radius) {
    QPainterPath path;
    path.addRoundedRect(rect, radius, radius);
    return path;
}

/// How many steps begin within the length.
int stepsIn(double length, double step) {
    return static_cast<int>(std::ceil(length / step));
}

/// 45 degree lines over what is clipped.
void hatchLines(QPainter& p, const QRectF& rect, const QColor& color, double width, double pitch) {
    p.setPen(QPen(color, width, Qt::SolidLine, Qt::FlatCap));
    const double step = pitch * std::sqrt(2.0);
    const int lines = stepsIn(rect.width() + 2 * rect.height(), step);
    for (int i = 0; i < lines; ++i) {
        const double x = rect.left() - rect.height() + i * step;
        p.drawLine(QPointF(x, rect.bottom()), QPointF(x + rect.height(), rect.top()));
    }
}

/// Half-tone: a checker of squares in the hue.
void checker(QPainter& p, const QRectF& rect, const QColor& color, double square) {
    p.setPen(Qt::NoPen);
    p.setBrush(color);
    const int rows = stepsIn(rect.height(), square), columns = stepsIn(rect.width(), square);
    for (int row = 0; row < rows; ++row)
        for (int column = row % 2; column < columns; column += 2) {
            const double x = rect.left() + column * square, y = rect.top() + row * square;
            p.drawRect(QRectF(x, y, std::min(square, rect.right() - x), std::min(square, rect.bottom() - y)));
        }
}

void cross(QPainter& p, const QPointF& centre, double half, const QColor& color, double width) {
    p.setPen(QPen(color, width, Qt::SolidLine, Qt::FlatCap));
    p.drawLine(centre + QPointF(-half, -half), centre + QPointF(half, half));
    p.drawLine(centre + QPointF(-half, half), centre + QPointF(half, -half));
}

/// The thick bar of an omitted step, overhanging both sides.
void bar(QPainter& p, const QRectF& rect, const Roles& roles, double scale) {
    const bool small = rect.height() < 24 * scale;
    const double height = (small ? 4 : 6) * scale;
    const double over = (small ? 3 : 8) * scale;
    p.fillRect(QRectF(rect.left() - over, rect.center().y() - height / 2, rect.width() + 2 * over, height),
               roles.ink);
}

void bead(QPainter& p, const QRectF& r, BeadState state, const Roles& roles, double scale, bool pending) {
    const double width = stroke(r.width() < 12 * scale ? 1.5 : 2, roles, scale);
    const QRectF inner = r.adjusted(width / 2, width / 2, -width / 2, -width / 2);
    p.setPen(QPen(state == BeadState::Wrong ? roles.ink : roles.muted, width));
    p.setBrush(roles.ground);
    if (state == BeadState::Lit && !pending) {
        p.setPen(Qt::NoPen);
        p.setBrush(roles.said);
        p.drawEllipse(r);
        return;
    }
    p.drawEllipse(inner);
    if (state == BeadState::Wrong) cross(p, r.center(), r.width() * 0.3, roles.ink, width);
    if (state == BeadState::Lit) {
        QPainterPath path;
        path.addEllipse(inner);
        p.save();
        p.setClipPath(path, Qt::IntersectClip);
        checker(p, r, roles.said, 2 * scale);
        p.restore();
    }
}

}  // namespace

SignState signState(const core::StepMarks& marks, bool mustPass, bool pending) {
    SignState state;
    state.mustPass = mustPass;
    state.pending = pending;
    state.prompts = marks.prompts;
    state.amended = marks.amended;
    for (const core::PointMark point : marks.points)
        state.beads.push_back(point == core::PointMark::Said    ? BeadState::Lit
                              : point == core::PointMark::Wrong ? BeadState::Wrong
                                                                : BeadState::Open);
    const bool anyWrong =
        marks.wrong || std::ranges::find(marks.points, core::PointMark::Wrong) != marks.points.end();
    const auto both = [&](LampState lamp, const QString& letter) {
        state.shown = marks.hasShow ? lamp : LampState::None;
        state.capsule = lamp;
        state.letter = letter;
    };
    if (marks.omitted) {
        both(LampState::Omitted, QStringLiteral("O"));
    } else if (marks.unseen) {
        both(LampState::NotObserved, QStringLiteral("U"));
    } else if (marks.unreached) {
        both(LampState::NotReached, QStringLiteral("R"));
    } else {
        state.shown = !marks.hasShow ? LampState::None : marks.shown ? LampState::Lit : LampState::Open;
        state.capsule = marks.wrong ? LampState::Wrong : marks.partly ? LampState::Half : LampState::Open;
        if (marks.wrong && marks.points.empty() && marks.hasShow) state.shown = LampState::Wrong;
        if (anyWrong)
            state.letter = QStringLiteral("x");
        else if (marks.partly)
            state.letter = QStringLiteral("~");
        else if (marks.fault)
            state.letter = QStringLiteral("F");
    }
    return state;
}

void paintHatch(QPainter& p, const QRectF& rect, const Roles& roles, double scale) {
    p.save();
    p.setClipRect(rect, Qt::IntersectClip);
    hatchLines(p, rect, roles.ink, stroke(rect.height() < 20 * scale ? 1.6 : 2.4, roles, scale),
               (rect.height() < 20 * scale ? 4.5 : 5.66) * scale);
    p.restore();
}

void paintLamp(QPainter& p, const QRectF& r, LampState state, const Roles& roles, double scale,
               bool pending) {
    if (state == LampState::None) return;
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    const double radius = 2 * scale;
    const double width = stroke(r.width() < 18 * scale ? 1.5 : 2, roles, scale);
    switch (state) {
        case LampState::None:
            break;
        case LampState::Open:
            outline(p, r, radius, width, roles.muted, roles.ground);
            break;
        case LampState::Lit:
            if (pending) {
                outline(p, r, radius, width, roles.muted, roles.ground);
                checker(p, r.adjusted(width, width, -width, -width), roles.shown, 2 * scale);
            } else {
                fillRound(p, r, radius, roles.shown);
            }
            break;
        case LampState::Half:
            outline(p, r, radius, width, roles.muted, roles.ground);
            p.fillRect(QRectF(r.left(), r.top(), r.width() / 2, r.height()), roles.shown);
            break;
        case LampState::Wrong:
            outline(p, r, radius, width, roles.ink, roles.ground);
            cross(p, r.center(), r.width() * 0.3, roles.ink, width);
            break;
        case LampState::Omitted:
            outline(p, r, radius, width, roles.muted, roles.ground);
            bar(p, r, roles, scale);
            break;
        case LampState::NotObserved:
            p.save();
            p.setClipPath(roundPath(r, radius), Qt::IntersectClip);
            p.fillRect(r, roles.ground);
            paintHatch(p, r, roles, scale);
            p.restore();
            outline(p, r, radius, width, roles.ink, Qt::transparent);
            break;
        case LampState::NotReached:
            outline(p, r, radius, width, roles.muted, roles.ground, {2 * scale, 4 * scale});
            break;
    }
    p.restore();
}

QSizeF capsuleSize(int points, double height28, double scale) {
    const double unit = height28 / 28 * scale;
    if (points <= 0) return {0, 0};
    if (points < 5) return {std::max(44.0, 18.0 * points + 3.0 * (points - 1) + 10.0) * unit, 28 * unit};
    const int columns = (points + 1) / 2;
    return {std::max(44.0, 14.0 * columns + 4.0 * (columns - 1) + 14.0) * unit, 44 * unit};
}

void paintCapsule(QPainter& p, const QRectF& r, const SignState& state, const Roles& roles, double scale) {
    if (state.beads.empty()) return;
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    const double radius = std::min(r.height() / 2, 14.0 * scale * r.height() / (28 * scale));
    const double width = stroke(r.height() < 20 * scale ? 1.5 : 2, roles, scale);
    const int count = static_cast<int>(state.beads.size());
    const auto beads = [&] {
        const bool two = count >= 5;
        const double unit = two ? r.height() / 44 : r.height() / 28;
        const double size = (two ? 14 : 18) * unit;
        const double gap = (two ? 4 : 3) * unit;
        const int columns = two ? (count + 1) / 2 : count;
        for (int i = 0; i < count; ++i) {
            const int row = i / columns;
            const int inRow = row == 0 ? columns : count - columns;
            const double rowWidth = inRow * size + (inRow - 1) * gap;
            const double x = r.center().x() - rowWidth / 2 + (i % columns) * (size + gap);
            const double y =
                two ? r.center().y() + (row == 0 ? -size - gap / 2 : gap / 2) : r.center().y() - size / 2;
            bead(p, QRectF(x, y, size, size), state.beads[static_cast<std::size_t>(i)], roles, scale,
                 state.pending);
        }
    };
    switch (state.capsule) {
        case LampState::None:
            break;
        case LampState::Open:
        case LampState::Lit:
            outline(p, r, radius, width, roles.muted, roles.ground);
            beads();
            break;
        case LampState::Half:
            outline(p, r, radius, width, roles.muted, roles.ground);
            p.save();
            p.setClipPath(roundPath(r, radius), Qt::IntersectClip);
            if (state.pending)
                checker(p, QRectF(r.left(), r.top(), r.width() / 2, r.height()), roles.said, 2 * scale);
            else
                p.fillRect(QRectF(r.left(), r.top(), r.width() / 2, r.height()), roles.said);
            p.restore();
            break;
        case LampState::Wrong:
            outline(p, r, radius, width, roles.ink, roles.ground);
            cross(p, r.center(), r.height() * 0.32, roles.ink, width);
            break;
        case LampState::Omitted:
            outline(p, r, radius, width, roles.muted, roles.ground);
            beads();
            bar(p, r, roles, scale);
            break;
        case LampState::NotObserved:
            p.save();
            p.setClipPath(roundPath(r, radius), Qt::IntersectClip);
            p.fillRect(r, roles.ground);
            paintHatch(p, r, roles, scale);
            p.restore();
            outline(p, r, radius, width, roles.ink, Qt::transparent);
            break;
        case LampState::NotReached:
            outline(p, r, radius, width, roles.muted, roles.ground, {2 * scale, 4 * scale});
            break;
    }
    p.restore();
}

void paintBead(QPainter& p, const QRectF& r, BeadState state, const QString& digit, const Roles& roles,
               double scale, bool pending) {
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    const double width = stroke(2, roles, scale);
    const bool lit = state == BeadState::Lit && !pending;
    p.setPen(lit ? QPen(Qt::NoPen) : QPen(state == BeadState::Wrong ? roles.ink : roles.muted, width));
    p.setBrush(lit ? roles.said : roles.ground);
    const double inset = lit ? 0 : width / 2;
    p.drawEllipse(r.adjusted(inset, inset, -inset, -inset));
    if (state == BeadState::Lit && pending) {
        QPainterPath ring;
        ring.addEllipse(r.adjusted(width, width, -width, -width));
        QPainterPath disc;
        disc.addEllipse(r.center(), r.width() * 0.3, r.width() * 0.3);
        p.save();
        p.setClipPath(ring.subtracted(disc), Qt::IntersectClip);
        checker(p, r, roles.said, 2 * scale);
        p.restore();
    }
    if (state == BeadState::Wrong) {
        // Four short spokes keep the digit readable.
        p.setPen(QPen(roles.ink, 2 * width, Qt::SolidLine, Qt::FlatCap));
        const double outer = r.width() * 0.5 * 0.70710678;
        const double inner = r.width() * 0.3 * 0.70710678;
        for (const double sx : {-1.0, 1.0})
            for (const double sy : {-1.0, 1.0})
                p.drawLine(r.center() + QPointF(sx * inner, sy * inner),
                           r.center() + QPointF(sx * outer, sy * outer));
    }
    const QFont font = p.font();
    p.setPen(lit ? roles.on : roles.ink);
    const QFontMetricsF metrics(font);
    p.drawText(QPointF(r.center().x() - metrics.horizontalAdvance(digit) / 2,
                       r.center().y() + metrics.capHeight() / 2),
               digit);
    p.restore();
}

void paintGate(QPainter& p, const QRectF& r, LampState state, const Roles& roles, double scale) {
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    const double width = stroke(2, roles, scale);
    if (state == LampState::Lit) {
        fillRound(p, r, 2 * scale, roles.ink);
    } else {
        outline(p, r, 2 * scale, width, roles.ink, roles.ground,
                state == LampState::NotReached ? QVector<double>{2 * scale, 3 * scale} : QVector<double>{});
        if (state == LampState::Half)
            p.fillRect(QRectF(r.left(), r.top(), r.width() / 2, r.height()), roles.ink);
    }
    p.restore();
}

void drawTextMiddle(QPainter& p, double x, double yc, const QString& text, const QFont& font,
                    const QColor& color, double maxWidth) {
    const QFontMetricsF metrics(font);
    p.setFont(font);
    p.setPen(color);
    p.drawText(QPointF(x, yc + metrics.capHeight() / 2),
               maxWidth > 0 ? metrics.elidedText(text, Qt::ElideRight, maxWidth) : text);
}

void drawTextMiddleRight(QPainter& p, double xRight, double yc, const QString& text, const QFont& font,
                         const QColor& color) {
    drawTextMiddle(p, xRight - QFontMetricsF(font).horizontalAdvance(text), yc, text, font, color);
}

}  // namespace markerlamp::forms
