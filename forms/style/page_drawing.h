#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One printed page as a list of strokes, fills and lines of type, in mm, black on white. The same list is
// painted on screen, PDF and printer; the type that it holds can be looked at without painting (tests,
// screen readers). Nothing here is grey: patterns are paths of their own.

#include <QLineF>
#include <QPainterPath>
#include <QPointF>
#include <QRectF>
#include <QString>
#include <QStringList>

#include <functional>
#include <vector>

class QPainter;

namespace markerlamp::forms {

inline constexpr double kMmPerPoint = 25.4 / 72;

/// Type on paper. Sizes in points; nothing on our sheets is under 9.
struct TextStyle {
    double points = 10.5;
    bool bold = false;
    bool white = false;  ///< for text on black
};

/// Width of one line of text, in mm.
[[nodiscard]] double textWidth(const QString& text, const TextStyle& style);
/// From baseline to baseline, in mm.
[[nodiscard]] double lineHeight(const TextStyle& style);
/// Height of capitals, in mm.
[[nodiscard]] double capHeight(const TextStyle& style);
/// Lines no wider than `width` mm. Breaks between words, inside a word only where it is wider than a line;
/// nothing is left out. An empty text has no lines. The first line is `firstIndent` mm shorter.
[[nodiscard]] QStringList wrapped(const QString& text, double width, const TextStyle& style,
                                  double firstIndent = 0);

enum class Pattern { None, Dots, Diagonal, Solid };

/// Line widths, mm. 0.5 pt is the thinnest that a 300 dpi printer draws evenly.
inline constexpr double kThinLine = 0.22;
inline constexpr double kHeadLine = 0.34;
inline constexpr double kTitleLine = 0.7;

class PageDrawing {
public:
    struct PlacedText {
        QRectF box;  ///< mm, around the letters
        QString text;
        double points = 0;
    };
    struct PlacedLine {
        QLineF line;
        double width = 0;  ///< mm
    };

    /// x, baseline in mm.
    void text(double x, double baseline, const QString& text, const TextStyle& style = {});
    void textRight(double xRight, double baseline, const QString& text, const TextStyle& style = {});
    /// Wrapped text from `top` on; returns the y below its last line (top when it is empty).
    double paragraph(double x, double top, double width, const QString& text, const TextStyle& style = {},
                     double firstIndent = 0);
    /// One line whose capitals stand in the middle of `yc`.
    void textMiddle(double x, double yc, const QString& text, const TextStyle& style = {});
    void textMiddleRight(double xRight, double yc, const QString& text, const TextStyle& style = {});

    void line(double x1, double y1, double x2, double y2, double width = kThinLine);
    /// dash and gap in mm.
    void dashedLine(double x1, double y1, double x2, double y2, double dash, double gap,
                    double width = kThinLine);
    /// The outline lies inside the rectangle.
    void box(const QRectF& rect, double width = kHeadLine);
    void circle(const QPointF& centre, double radius, double width = kHeadLine, bool filled = false);
    void fill(const QRectF& rect);
    void fill(const QPainterPath& path);
    void pattern(const QRectF& rect, Pattern pattern);
    /// Anything else (lamps, capsules); `paint` gets a painter in mm.
    void custom(std::function<void(QPainter&)> paint);

    /// The other drawing, moved by (dx, dy) mm.
    void append(const PageDrawing& other, double dx = 0, double dy = 0);
    void paint(QPainter& painter) const;
    [[nodiscard]] const std::vector<PlacedText>& texts() const { return m_texts; }
    /// Straight lines; the sides of boxes are not among them.
    [[nodiscard]] const std::vector<PlacedLine>& lines() const { return m_lines; }

private:
    std::vector<std::function<void(QPainter&)>> m_items;
    std::vector<PlacedText> m_texts;
    std::vector<PlacedLine> m_lines;
};

}  // namespace markerlamp::forms
