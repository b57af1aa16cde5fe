#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The signs of screens and paper: one pure function each, taking painter, place, state and colours. Every
// state must be told apart in 1-bit black and white. Lengths scale with the rectangle; strokes with `scale`
// (logical px per 96 dpi px).

#include "core/attempt/marks.h"
#include "forms/signs/roles.h"

#include <QPainter>
#include <QRectF>
#include <QString>

#include <vector>

namespace markerlamp::forms {

enum class LampState { None, Open, Lit, Half, Wrong, Omitted, NotObserved, NotReached };
enum class BeadState { Open, Lit, Wrong };

/// What a tile shows for one step.
struct SignState {
    LampState shown = LampState::Open;  ///< None: the step has nothing to show
    LampState capsule =
        LampState::Open;  ///< Open/Lit: look at the beads; Half = partly; Wrong = the step as a whole
    std::vector<BeadState> beads;  ///< empty: no capsule
    QString letter;                ///< "", "~", "x", "O", "U", "R", "F"
    int prompts = 0;
    bool amended = false;
    bool mustPass = false;
    bool pending = false;  ///< not yet durable: half-tone
};

[[nodiscard]] SignState signState(const core::StepMarks& marks, bool mustPass, bool pending = false);

/// Square lamp. pending paints a lit lamp in half-tone.
void paintLamp(QPainter& painter, const QRectF& square, LampState state, const Roles& roles, double scale = 1,
               bool pending = false);
/// Capsule with its beads in `rect` (see capsuleSize).
void paintCapsule(QPainter& painter, const QRectF& rect, const SignState& state, const Roles& roles,
                  double scale = 1);
/// One row up to four points, two rows from five on. height28: 28 on tiles, smaller on pads and tables.
[[nodiscard]] QSizeF capsuleSize(int points, double height28, double scale = 1);
/// A bead with its digit, for the strip. pending: a lit one in half-tone, its digit on a clear disc.
void paintBead(QPainter& painter, const QRectF& square, BeadState state, const QString& digit,
               const Roles& roles, double scale = 1, bool pending = false);
/// Hatch, dots and checker at the device's ratio.
void paintHatch(QPainter& painter, const QRectF& rect, const Roles& roles, double scale = 1);

/// Ink square: a gate or must-pass fact (solid = met, hollow = shut, half = on the way).
void paintGate(QPainter& painter, const QRectF& square, LampState state, const Roles& roles,
               double scale = 1);

/// Text on the optical middle: baseline = yc + capHeight/2; elides at the end when maxWidth > 0.
void drawTextMiddle(QPainter& painter, double x, double yc, const QString& text, const QFont& font,
                    const QColor& color, double maxWidth = 0);
/// The same, right-aligned at xRight.
void drawTextMiddleRight(QPainter& painter, double xRight, double yc, const QString& text, const QFont& font,
                         const QColor& color);

}  // namespace markerlamp::forms
