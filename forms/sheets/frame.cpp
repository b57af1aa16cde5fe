// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/frame.h"

#include <QCoreApplication>
#include <QLocale>

#include <algorithm>

namespace markerlamp::forms {

namespace {

struct FrameText {
    Q_DECLARE_TR_FUNCTIONS(markerlamp::forms::FrameText)
};

QString printedText(const Foot& foot) {
    return FrameText::tr("printed %1, Markerlamp %2")
        .arg(QLocale().toString(foot.printed, QStringLiteral("d MMM yyyy HH:mm")), foot.version);
}

/// Foot of one page at `top`; returns the y below.
double drawFoot(PageDrawing& page, const Frame& frame, const Foot& foot, int number, int of, double top) {
    page.line(frame.left, top, frame.right, top, kHeadLine);
    top += 0.6;
    QString left = FrameText::tr("page %1 of %2").arg(number).arg(of);
    const QString remark = foot.remarks.value(number - 1);
    if (!remark.isEmpty()) left += QStringLiteral(". ") + remark;
    const QString right = printedText(foot);
    const double yc = top + lineHeight(kRemarkType) / 2;
    page.textMiddleRight(frame.right, yc, right, kRemarkType);
    top =
        page.paragraph(frame.left, top, frame.width() - textWidth(right, kRemarkType) - 4, left, kRemarkType);
    for (const QString& line : foot.lines)
        top = page.paragraph(frame.left, top, frame.width(), line, kRemarkType);
    return top;
}

}  // namespace

Frame frameOf(Paper paper) {
    Frame frame;
    frame.right = paperSizeMm(paper).width() - 15.24;
    frame.bottom = paperSizeMm(paper).height() - 15.24;
    return frame;
}

double drawTitle(PageDrawing& page, const Frame& frame, const QString& title, const QString& right,
                 bool rightIsName) {
    const double room = frame.width() - textWidth(title, kTitleType) - 6;
    TextStyle style = rightIsName ? kTitleType : kBodyType;
    while (style.points > 10.5 && textWidth(right, style) > room) style.points -= 0.5;
    const QStringList lines = wrapped(right, room, style);
    const double height = lineHeight(style);
    const double tall = std::max(lineHeight(kTitleType),
                                 height * static_cast<double>(lines.size()) + (lines.size() > 1 ? 1.2 : 0));
    page.text(frame.left, frame.top + tall - 1.6, title, kTitleType);
    double baseline =
        frame.top + tall - 1.6 - height * static_cast<double>(std::max<qsizetype>(0, lines.size() - 1));
    for (const QString& line : lines) {
        page.textRight(frame.right, baseline, line, style);
        baseline += height;
    }
    const double y = frame.top + tall + kTitleLine / 2;
    page.line(frame.left, y, frame.right, y, kTitleLine);
    return y + 1.2;
}

double drawFacts(PageDrawing& page, double x, double top, double width, const QStringList& facts) {
    constexpr double gap = 7;
    double at = 0;
    double bottom = top;
    for (const QString& fact : facts) {
        if (fact.isEmpty()) continue;
        const double wide = textWidth(fact, kRemarkType);
        if (at > 0 && at + wide > width) {
            top = bottom;
            at = 0;
        }
        bottom = std::max(bottom, page.paragraph(x + at, top, width - at, fact, kRemarkType));
        at += wide + gap;
    }
    return bottom;
}

double drawHead(PageDrawing& page, double x, double top, double width, const QString& title,
                const QString& remark) {
    const double remarkWidth = textWidth(remark, kRemarkType);
    const bool below = !remark.isEmpty() && textWidth(title, kBoldType) + 4 + remarkWidth > width;
    const double begin = top;
    top = page.paragraph(x, top, width, title, kBoldType);
    if (below)
        top = page.paragraph(x, top, width, remark, kRemarkType);
    else if (!remark.isEmpty())
        page.text(x + width - remarkWidth, begin + (lineHeight(kBoldType) + capHeight(kBoldType)) / 2, remark,
                  kRemarkType);
    page.line(x, top + 0.4, x + width, top + 0.4, kHeadLine);
    return top + 1.2;
}

double footHeight(const Frame& frame, const Foot& foot) {
    // Remarks that wrap make the foot taller on every page alike.
    double height = 0;
    for (qsizetype i = 0; i < std::max<qsizetype>(1, foot.remarks.size()); ++i) {
        PageDrawing scratch;
        height = std::max(height, drawFoot(scratch, frame, foot, static_cast<int>(i) + 1, 99, 0));
    }
    return height;
}

void drawFoots(std::vector<PageDrawing>& pages, const Frame& frame, const Foot& foot) {
    const double top = frame.bottom - footHeight(frame, foot);
    for (std::size_t i = 0; i < pages.size(); ++i)
        drawFoot(pages[i], frame, foot, static_cast<int>(i) + 1, static_cast<int>(pages.size()), top);
}

}  // namespace markerlamp::forms
