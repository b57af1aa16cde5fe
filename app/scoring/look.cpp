// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/look.h"

#include <QFontMetricsF>

#include <algorithm>

namespace markerlamp::app {

QRectF Look::rect(double x, double y, double w, double h) const {
    const double left = qRound(s(x));
    const double top = qRound(s(y));
    return QRectF(left, top, qRound(s(x + w)) - left, qRound(s(y + h)) - top);
}

QRectF Look::seen(const QRectF& r) const {
    return m_mirror > 0 ? QRectF(m_mirror - r.right(), r.top(), r.width(), r.height()) : r;
}

QPointF Look::seen(const QPointF& p) const {
    return m_mirror > 0 ? QPointF(m_mirror - p.x(), p.y()) : p;
}

double Look::stroke(double design) const {
    return std::max(1.0, static_cast<double>(qRound(s(std::max(design, roles().minStroke)))));
}

void Look::box(QPainter& p, const QRectF& r, const QColor& fill, const QColor& line, double width,
               double radius) const {
    const double w = stroke(width);
    const double rad = std::max(0.0, s(radius) - w / 2);
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    p.setPen(QPen(line, w));
    p.setBrush(fill);
    p.drawRoundedRect(seen(r).adjusted(w / 2, w / 2, -w / 2, -w / 2), rad, rad);
    p.restore();
}

void Look::dashedBox(QPainter& p, const QRectF& r, const QColor& fill, const QColor& line,
                     double width) const {
    const double w = stroke(width);
    p.save();
    QPen pen(line, w);
    pen.setCapStyle(Qt::FlatCap);
    pen.setDashPattern({s(4) / w, s(4) / w});
    p.setRenderHint(QPainter::Antialiasing);
    p.setPen(pen);
    p.setBrush(fill);
    p.drawRoundedRect(seen(r).adjusted(w / 2, w / 2, -w / 2, -w / 2), s(4), s(4));
    p.restore();
}

void Look::outlineOutside(QPainter& p, const QRectF& r, double gap, double width) const {
    const double w = stroke(width);
    const double out = s(gap) - w / 2;
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    p.setPen(QPen(roles().ink, w));
    p.setBrush(Qt::NoBrush);
    p.drawRoundedRect(seen(r).adjusted(-out, -out, out, out), s(6), s(6));
    p.restore();
}

void Look::inverse(QPainter& p, const QRectF& r, const QString& text, const QFont& font,
                   double radius) const {
    p.save();
    p.setRenderHint(QPainter::Antialiasing);
    p.setPen(Qt::NoPen);
    p.setBrush(roles().ink);
    p.drawRoundedRect(seen(r), s(radius), s(radius));
    p.restore();
    centred(p, r.center().x(), r.center().y(), text, font, roles().ground);
}

void Look::focusRing(QPainter& p, const QRectF& r) const {
    box(p, r, Qt::transparent, roles().ink, 3);
}

void Look::fill(QPainter& p, const QRectF& r, const QColor& color) const {
    p.fillRect(seen(r), color);
}

void Look::line(QPainter& p, const QPointF& from, const QPointF& to, const QColor& color,
                double width) const {
    p.setPen(QPen(color, stroke(width), Qt::SolidLine, Qt::FlatCap));
    p.drawLine(seen(from), seen(to));
}

void Look::lamp(QPainter& p, double x, double yc, double side, forms::LampState state, bool pending) const {
    const double px = qRound(s(side));
    forms::paintLamp(p, seen(QRectF(qRound(x), qRound(yc - px / 2), px, px)), state, roles(), m_factor,
                     pending);
}

double Look::capsule(QPainter& p, double xRight, double yc, double height28,
                     const forms::SignState& sign) const {
    const QSizeF size = forms::capsuleSize(static_cast<int>(sign.beads.size()), height28, m_factor);
    if (size.isEmpty()) return xRight;
    const QRectF rect(xRight - size.width(), yc - size.height() / 2, size.width(), size.height());
    forms::paintCapsule(p, seen(rect), sign, roles(), m_factor);
    return rect.left();
}

void Look::bead(QPainter& p, const QRectF& square, forms::BeadState state, const QString& digit,
                const QFont& font, bool pending) const {
    p.setFont(font);
    forms::paintBead(p, seen(square), state, digit, roles(), m_factor, pending);
}

double Look::darkCount(QPainter& p, double xRight, double yc, const QString& words, const QFont& font) const {
    right(p, xRight, yc, words, font, roles().ink);
    const double side = qRound(s(12));
    const double x = xRight - width(words, font) - s(6) - side;
    box(p, QRectF(qRound(x), qRound(yc - side / 2), side, side), Qt::transparent, roles().ink, 2, 0);
    return x;
}

void Look::text(QPainter& p, double x, double yc, const QString& text, const QFont& font, const QColor& color,
                double maxWidth) const {
    const QString shown =
        maxWidth > 0 ? QFontMetricsF(font).elidedText(text, Qt::ElideRight, maxWidth) : text;
    forms::drawTextMiddle(p, m_mirror > 0 ? m_mirror - x - width(shown, font) : x, yc, shown, font, color);
}

void Look::centred(QPainter& p, double xc, double yc, const QString& text, const QFont& font,
                   const QColor& color) const {
    this->text(p, xc - width(text, font) / 2, yc, text, font, color);
}

void Look::right(QPainter& p, double xRight, double yc, const QString& text, const QFont& font,
                 const QColor& color) const {
    this->text(p, xRight - width(text, font), yc, text, font, color);
}

double Look::width(const QString& text, const QFont& font) {
    return QFontMetricsF(font).horizontalAdvance(text);
}

namespace {

/// Greedy lines; empty when a word alone is too wide or too many lines are needed.
QStringList breakLines(const QString& text, const QFontMetricsF& metrics, double width, int maxLines) {
    QStringList lines;
    QString line;
    for (const QString& word : text.split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
        const QString longer = line.isEmpty() ? word : line + QLatin1Char(' ') + word;
        if (metrics.horizontalAdvance(longer) <= width) {
            line = longer;
            continue;
        }
        if (line.isEmpty() || metrics.horizontalAdvance(word) > width) return {};
        lines << line;
        line = word;
        if (lines.size() >= maxLines) return {};
    }
    lines << line;
    return lines.size() <= maxLines ? lines : QStringList();
}

/// The same number of lines, as even as they get: "Key on, parking / brake off", not one word left over.
QStringList evenLines(const QString& text, const QFontMetricsF& metrics, double width, int maxLines) {
    QStringList best = breakLines(text, metrics, width, maxLines);
    if (best.size() < 2) return best;
    double low = width / static_cast<double>(best.size()) / 2;
    double high = width;
    while (high - low > 1) {
        const double middle = (low + high) / 2;
        const QStringList lines = breakLines(text, metrics, middle, static_cast<int>(best.size()));
        if (lines.isEmpty()) {
            low = middle;
        } else {
            high = middle;
            best = lines;
        }
    }
    return best;
}

}  // namespace

Fitted fitText(const Look& look, const QString& text, double width, int maxLines, const QList<double>& sizes,
               bool bold) {
    Fitted fitted;
    for (const double px : sizes) {
        fitted.px = px;
        fitted.font = look.font(px, bold);
        const QFontMetricsF metrics(fitted.font);
        fitted.lines = breakLines(text, metrics, width, 1);
        if (fitted.lines.isEmpty() && maxLines > 1) fitted.lines = evenLines(text, metrics, width, maxLines);
        if (!fitted.lines.isEmpty()) return fitted;
    }
    // Fill the lines by characters where words are too wide, and elide what is left over.
    fitted.elided = true;
    const QFontMetricsF metrics(fitted.font);
    QString rest = text;
    for (int i = 0; i < maxLines && !rest.isEmpty(); ++i) {
        if (i + 1 == maxLines) {
            fitted.lines << metrics.elidedText(rest, Qt::ElideRight, width);
            break;
        }
        QString line;
        for (const QString& word : rest.split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
            const QString longer = line.isEmpty() ? word : line + QLatin1Char(' ') + word;
            if (metrics.horizontalAdvance(longer) > width) break;
            line = longer;
        }
        if (line.isEmpty()) {
            fitted.lines << metrics.elidedText(rest, Qt::ElideRight, width);
            break;
        }
        fitted.lines << line;
        rest = rest.mid(line.size()).trimmed();
    }
    return fitted;
}

void drawFitted(QPainter& p, const Look& look, const Fitted& fitted, double x, double yc, double pitch,
                const QColor& color, bool centre) {
    const double first = yc - (static_cast<double>(fitted.lines.size()) - 1) * pitch / 2;
    for (int i = 0; i < fitted.lines.size(); ++i) {
        if (centre)
            look.centred(p, x, first + i * pitch, fitted.lines[i], fitted.font, color);
        else
            look.text(p, x, first + i * pitch, fitted.lines[i], fitted.font, color);
    }
}

}  // namespace markerlamp::app
