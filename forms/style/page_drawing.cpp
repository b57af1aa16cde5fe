// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/style/page_drawing.h"

#include "forms/style/fonts.h"

#include <QFontMetricsF>
#include <QPainter>
#include <QPen>
#include <QTextBoundaryFinder>

#include <algorithm>
#include <cmath>

namespace markerlamp::forms {

namespace {

// Fonts of a pixel or two, as a painter in mm would ask for, lose their metrics. So type is measured and
// drawn at ten pixels a point and scaled down.
constexpr double kPixelsPerPoint = 10;
constexpr double kMmPerPixel = kMmPerPoint / kPixelsPerPoint;

QFont fontOf(const TextStyle& style) {
    return type(style.points * kPixelsPerPoint, style.bold);
}

QPen inkPen(double width, Qt::PenCapStyle cap = Qt::FlatCap) {
    QPen pen(Qt::black, width);
    pen.setCapStyle(cap);
    pen.setJoinStyle(Qt::MiterJoin);
    return pen;
}

/// Cuts a word that is wider than a line between letters as people see them.
QStringList cutWord(const QString& word, double width, const QFontMetricsF& metrics) {
    QStringList parts;
    QTextBoundaryFinder letters(QTextBoundaryFinder::Grapheme, word);
    qsizetype begin = 0;
    qsizetype last = 0;
    for (qsizetype at = letters.toNextBoundary(); at >= 0; at = letters.toNextBoundary()) {
        if (last > begin && metrics.horizontalAdvance(word.mid(begin, at - begin)) > width) {
            parts << word.mid(begin, last - begin);
            begin = last;
        }
        last = at;
    }
    parts << word.mid(begin);
    return parts;
}

}  // namespace

double textWidth(const QString& text, const TextStyle& style) {
    return QFontMetricsF(fontOf(style)).horizontalAdvance(text) * kMmPerPixel;
}

double lineHeight(const TextStyle& style) {
    return style.points * kMmPerPoint * 1.22;
}

double capHeight(const TextStyle& style) {
    return QFontMetricsF(fontOf(style)).capHeight() * kMmPerPixel;
}

QStringList wrapped(const QString& text, double width, const TextStyle& style, double firstIndent) {
    const QFontMetricsF metrics(fontOf(style));
    const auto trimmedEnd = [](QString line) {
        while (line.endsWith(QLatin1Char(' '))) line.chop(1);
        return line;
    };
    QStringList lines;
    const auto room = [&] { return (width - (lines.isEmpty() ? firstIndent : 0)) / kMmPerPixel; };
    for (const QString& block : text.split(QLatin1Char('\n'))) {
        const QString simple = block.simplified();
        if (simple.isEmpty()) continue;
        QString line;
        QTextBoundaryFinder breaks(QTextBoundaryFinder::Line, simple);
        qsizetype begin = 0;
        for (qsizetype at = breaks.toNextBoundary(); at >= 0; at = breaks.toNextBoundary()) {
            const QString piece = simple.mid(begin, at - begin);
            begin = at;
            if (metrics.horizontalAdvance(trimmedEnd(line + piece)) <= room()) {
                line += piece;
                continue;
            }
            if (!trimmedEnd(line).isEmpty()) lines << trimmedEnd(line);
            QStringList parts = cutWord(piece, room(), metrics);
            line = parts.takeLast();
            lines << parts;
        }
        if (!trimmedEnd(line).isEmpty()) lines << trimmedEnd(line);
    }
    return lines;
}

void PageDrawing::text(double x, double baseline, const QString& text, const TextStyle& style) {
    if (text.isEmpty()) return;
    const QFont font = fontOf(style);
    const QFontMetricsF metrics(font);
    const QRectF ink = metrics.tightBoundingRect(text);
    m_texts.push_back({QRectF(x + ink.x() * kMmPerPixel, baseline + ink.y() * kMmPerPixel,
                              ink.width() * kMmPerPixel, ink.height() * kMmPerPixel),
                       text, style.points});
    m_items.emplace_back([=](QPainter& painter) {
        painter.save();
        painter.translate(x, baseline);
        painter.scale(kMmPerPixel, kMmPerPixel);
        painter.setFont(font);
        painter.setPen(style.white ? Qt::white : Qt::black);
        painter.drawText(QPointF(0, 0), text);
        painter.restore();
    });
}

void PageDrawing::textRight(double xRight, double baseline, const QString& text, const TextStyle& style) {
    this->text(xRight - textWidth(text, style), baseline, text, style);
}

double PageDrawing::paragraph(double x, double top, double width, const QString& text, const TextStyle& style,
                              double firstIndent) {
    const double height = lineHeight(style);
    // The capitals stand in the middle of their line.
    const double rise = (height + capHeight(style)) / 2;
    double indent = firstIndent;
    for (const QString& line : wrapped(text, width, style, firstIndent)) {
        this->text(x + indent, top + rise, line, style);
        top += height;
        indent = 0;
    }
    return top;
}

void PageDrawing::textMiddle(double x, double yc, const QString& text, const TextStyle& style) {
    this->text(x, yc + capHeight(style) / 2, text, style);
}

void PageDrawing::textMiddleRight(double xRight, double yc, const QString& text, const TextStyle& style) {
    textRight(xRight, yc + capHeight(style) / 2, text, style);
}

void PageDrawing::line(double x1, double y1, double x2, double y2, double width) {
    m_lines.push_back({QLineF(x1, y1, x2, y2), width});
    m_items.emplace_back([=](QPainter& painter) {
        painter.setPen(inkPen(width));
        painter.drawLine(QLineF(x1, y1, x2, y2));
    });
}

void PageDrawing::dashedLine(double x1, double y1, double x2, double y2, double dash, double gap,
                             double width) {
    m_items.emplace_back([=](QPainter& painter) {
        QPen pen = inkPen(width);
        pen.setDashPattern({dash / width, gap / width});
        painter.setPen(pen);
        painter.drawLine(QLineF(x1, y1, x2, y2));
    });
}

void PageDrawing::box(const QRectF& rect, double width) {
    const QRectF inner = rect.adjusted(width / 2, width / 2, -width / 2, -width / 2);
    m_items.emplace_back([=](QPainter& painter) {
        painter.setPen(inkPen(width));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(inner);
    });
}

void PageDrawing::circle(const QPointF& centre, double radius, double width, bool filled) {
    m_items.emplace_back([=](QPainter& painter) {
        painter.setPen(inkPen(width));
        painter.setBrush(filled ? Qt::black : Qt::white);
        painter.drawEllipse(centre, radius - width / 2, radius - width / 2);
    });
}

void PageDrawing::fill(const QRectF& rect) {
    m_items.emplace_back([=](QPainter& painter) { painter.fillRect(rect, Qt::black); });
}

void PageDrawing::fill(const QPainterPath& path) {
    m_items.emplace_back([=](QPainter& painter) { painter.fillPath(path, Qt::black); });
}

void PageDrawing::pattern(const QRectF& rect, Pattern pattern) {
    if (pattern == Pattern::None) return;
    if (pattern == Pattern::Solid) return fill(rect);
    // Paths instead of Qt's pattern brushes: those count device pixels and vanish at 600 dpi.
    QPainterPath path;
    if (pattern == Pattern::Dots) {
        constexpr double dot = 0.4;
        constexpr double pitch = 0.95;
        for (int row = 0;; ++row) {
            const double y = rect.top() + dot / 2 + row * pitch / 2;
            if (y + dot > rect.bottom()) break;
            const double first = rect.left() + dot / 2 + (row % 2 ? pitch / 2 : 0);
            const int dots = static_cast<int>(std::floor((rect.right() - dot - first) / pitch)) + 1;
            for (int i = 0; i < dots; ++i) path.addRect(QRectF(first + i * pitch, y, dot, dot));
        }
    } else {
        constexpr double thick = 0.4;
        constexpr double pitch = 1.5;
        const double across = thick * std::sqrt(2.0);
        QPainterPath stripes;
        const int count = static_cast<int>(std::ceil((rect.width() + rect.height()) / pitch));
        for (int i = 0; i < count; ++i) {
            const double x = rect.left() - rect.height() + i * pitch;
            stripes.moveTo(x, rect.bottom());
            stripes.lineTo(x + rect.height(), rect.top());
            stripes.lineTo(x + rect.height() + across, rect.top());
            stripes.lineTo(x + across, rect.bottom());
            stripes.closeSubpath();
        }
        QPainterPath clip;
        clip.addRect(rect);
        path = stripes.intersected(clip);
    }
    fill(path);
}

void PageDrawing::custom(std::function<void(QPainter&)> paint) {
    m_items.emplace_back([paint = std::move(paint)](QPainter& painter) {
        painter.save();
        paint(painter);
        painter.restore();
    });
}

void PageDrawing::append(const PageDrawing& other, double dx, double dy) {
    m_items.emplace_back([items = other.m_items, dx, dy](QPainter& painter) {
        painter.save();
        painter.translate(dx, dy);
        for (const auto& item : items) item(painter);
        painter.restore();
    });
    for (PlacedText placed : other.m_texts) {
        placed.box.translate(dx, dy);
        m_texts.push_back(std::move(placed));
    }
    for (PlacedLine placed : other.m_lines) {
        placed.line.translate(dx, dy);
        m_lines.push_back(placed);
    }
}

void PageDrawing::paint(QPainter& painter) const {
    painter.save();
    for (const auto& item : m_items) item(painter);
    painter.restore();
}

}  // namespace markerlamp::forms
