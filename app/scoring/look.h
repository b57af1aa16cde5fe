#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Type, strokes and places of the scoring page's painted parts: the design's pixels times one factor. Parts
// think from left to right; for right-to-left languages every stroke and text is mirrored here, at the last
// moment, and touches are mirrored back.

#include "app/support/theme.h"
#include "forms/signs/signs.h"
#include "forms/style/fonts.h"

#include <QPainter>
#include <QRectF>
#include <QStringList>

namespace markerlamp::app {

class Look {
public:
    Look(const Theme& theme, double factor) : m_theme(&theme), m_factor(factor) {}

    [[nodiscard]] double factor() const { return m_factor; }
    /// Width of the part in logical pixels when it is to be mirrored; 0: left to right.
    void setMirror(double width) { m_mirror = width; }
    [[nodiscard]] bool mirrored() const { return m_mirror > 0; }
    /// Where a place of a part is on the screen, and back.
    [[nodiscard]] QRectF seen(const QRectF& r) const;
    [[nodiscard]] QPointF seen(const QPointF& p) const;
    [[nodiscard]] double s(double design) const { return design * m_factor; }
    /// On whole pixels, so that straight edges stay sharp.
    [[nodiscard]] QRectF rect(double x, double y, double w, double h) const;
    [[nodiscard]] QRectF rect(const QRectF& r) const { return rect(r.x(), r.y(), r.width(), r.height()); }
    [[nodiscard]] QFont font(double px, bool bold = false) const { return forms::type(s(px), bold); }
    [[nodiscard]] QFont mono(double px, bool bold = false) const { return forms::typeMono(s(px), bold); }
    [[nodiscard]] const forms::Roles& roles() const { return m_theme->roles(); }
    [[nodiscard]] double stroke(double design) const;
    [[nodiscard]] bool filledPrimary() const { return roles().filledPrimary; }

    // Boxes. Strokes lie inside the rectangle; nothing shifts when a state changes.
    void box(QPainter& p, const QRectF& r, const QColor& fill, const QColor& line, double width,
             double radius = 4) const;
    void dashedBox(QPainter& p, const QRectF& r, const QColor& fill, const QColor& line, double width) const;
    /// Outline that stands `gap` outside the rectangle.
    void outlineOutside(QPainter& p, const QRectF& r, double gap, double width) const;
    /// "Here": ink block with ground text in its middle.
    void inverse(QPainter& p, const QRectF& r, const QString& text, const QFont& font,
                 double radius = 4) const;
    void focusRing(QPainter& p, const QRectF& r) const;
    void fill(QPainter& p, const QRectF& r, const QColor& color) const;
    void line(QPainter& p, const QPointF& from, const QPointF& to, const QColor& color, double width) const;

    // The signs, at a place of the part; lengths in design pixels.
    void lamp(QPainter& p, double x, double yc, double side, forms::LampState state,
              bool pending = false) const;
    /// Right edge of the capsule at xRight; its left edge comes back.
    double capsule(QPainter& p, double xRight, double yc, double height28,
                   const forms::SignState& sign) const;
    void bead(QPainter& p, const QRectF& square, forms::BeadState state, const QString& digit,
              const QFont& font, bool pending = false) const;
    /// Hollow square and number: dark steps left behind. Right edge at xRight; its left edge comes back.
    double darkCount(QPainter& p, double xRight, double yc, const QString& words, const QFont& font) const;

    // Text on the optical middle (see forms::drawTextMiddle); left aligned, centred, right aligned.
    void text(QPainter& p, double x, double yc, const QString& text, const QFont& font, const QColor& color,
              double maxWidth = 0) const;
    void centred(QPainter& p, double xc, double yc, const QString& text, const QFont& font,
                 const QColor& color) const;
    void right(QPainter& p, double xRight, double yc, const QString& text, const QFont& font,
               const QColor& color) const;
    [[nodiscard]] static double width(const QString& text, const QFont& font);

private:
    const Theme* m_theme;
    double m_factor;
    double m_mirror = 0;
};

/// A text broken into lines that fit.
struct Fitted {
    QStringList lines;
    QFont font;
    double px = 0;        ///< design size that was chosen
    bool elided = false;  ///< even the smallest size was too large
};

/// Sizes are tried in turn; each with one line, then up to `maxLines`. At the last size the end is elided.
[[nodiscard]] Fitted fitText(const Look& look, const QString& text, double width, int maxLines,
                             const QList<double>& sizes, bool bold = false);

/// Lines around the middle yc, `pitch` apart, left aligned at x (centred on x when `centre`).
void drawFitted(QPainter& p, const Look& look, const Fitted& fitted, double x, double yc, double pitch,
                const QColor& color, bool centre = false);

}  // namespace markerlamp::app
