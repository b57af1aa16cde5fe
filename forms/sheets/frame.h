#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What all sheets share: margins, title, heads of blocks, foot. Lengths in mm.

#include "forms/sheets/sheets.h"
#include "forms/style/page_drawing.h"

#include <QString>
#include <QStringList>

#include <vector>

namespace markerlamp::forms {

inline constexpr TextStyle kTitleType{16, true};
inline constexpr TextStyle kResultType{14, true};
inline constexpr TextStyle kBodyType{10.5};
inline constexpr TextStyle kBoldType{10.5, true};
inline constexpr TextStyle kRemarkType{9};
inline constexpr TextStyle kRemarkBold{9, true};
inline constexpr double kTick = 4.4;  ///< side of a tick box

/// The part of the page that is printed on: 0.75 in left for the binder, 0.6 in elsewhere.
struct Frame {
    double left = 19.05;
    double right = 0;
    double top = 15.24;
    double bottom = 0;

    [[nodiscard]] double width() const { return right - left; }
};
[[nodiscard]] Frame frameOf(Paper paper);

/// Title left, name or remark right, thick line under both; returns the y below. A long name shrinks, then
/// wraps.
double drawTitle(PageDrawing& page, const Frame& frame, const QString& title, const QString& right,
                 bool rightIsName);
/// Items in one row with wide gaps, wrapped between items; returns the y below.
double drawFacts(PageDrawing& page, double x, double top, double width, const QStringList& facts);
/// Head of a block: bold title, small remark at the right (or below, where both do not fit), line under it.
double drawHead(PageDrawing& page, double x, double top, double width, const QString& title,
                const QString& remark = {});

/// Foot with "page x of y", the time of printing and the version, and further lines over the whole width.
struct Foot {
    QDateTime printed;
    QString version;
    QStringList lines;
    QStringList remarks;  ///< after the number of each page; may be shorter than the pages
};
[[nodiscard]] double footHeight(const Frame& frame, const Foot& foot);
void drawFoots(std::vector<PageDrawing>& pages, const Frame& frame, const Foot& foot);

}  // namespace markerlamp::forms
