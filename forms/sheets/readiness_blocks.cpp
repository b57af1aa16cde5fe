// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/readiness_blocks.h"

#include "forms/sheets/frame.h"
#include "forms/sheets/wording.h"
#include "forms/signs/readiness_sign.h"

#include <QCoreApplication>
#include <QLocale>

#include <algorithm>
#include <cmath>

namespace markerlamp::forms {

namespace {

struct DrillText {
    Q_DECLARE_TR_FUNCTIONS(markerlamp::forms::DrillText)
};

constexpr double kShape = 4.2;                               ///< of readiness
constexpr double kIndent = 5;                                ///< number of a row
constexpr double kMinutes = 17;                              ///< column of the minutes
constexpr double kDoneLine = 24;                             ///< where the day is written
constexpr double kColumnMinutes = 14, kColumnDoneLine = 12;  ///< the room goes to the words there
constexpr double kRowGap = 1.1;
constexpr double kSmallGap = 0.6;
constexpr std::size_t kWeakest = 3;

QString utf8(const std::string& text) {
    return QString::fromStdString(text);
}

QString minutesText(double minutes) {
    const double tenths = std::round(minutes * 10) / 10;
    return DrillText::tr("%1 min").arg(QLocale().toString(tenths, 'f', tenths == std::round(tenths) ? 0 : 1));
}

/// One zone; returns the y below.
double drillRow(PageDrawing& page, double x, double top, double width, int number,
                const core::DrillLine& line, DrillDetail detail) {
    const TextStyle body = detail == DrillDetail::Full ? kBodyType : kRemarkType;
    const TextStyle bold{body.points, true};
    const bool column = detail == DrillDetail::Column;
    const double done = column ? kColumnDoneLine : kDoneLine;
    const double textWidthLeft = width - kIndent - (column ? kColumnMinutes : kMinutes) - done - 2;
    const double first = top + lineHeight(body);
    page.paragraph(x, top, kIndent, QString::number(number), bold);
    double below = top;
    const QString title = utf8(line.title);
    const QString text = utf8(line.text);
    const double titleWidth = textWidth(title, bold) + 1.6;
    if (text.isEmpty() || titleWidth > textWidthLeft * 0.6) {
        below = page.paragraph(x + kIndent, top, textWidthLeft, title, bold);
        below = page.paragraph(x + kIndent, below, textWidthLeft, text, body);
    } else {
        page.paragraph(x + kIndent, top, titleWidth, title, bold);
        below = page.paragraph(x + kIndent, top, textWidthLeft, text, body, titleWidth);
    }
    page.textRight(x + width - done - 2, first - lineHeight(body) * 0.25, minutesText(line.minutes), body);
    page.line(x + width - done, first, x + width, first, kThinLine);
    return std::max(below, first);
}

}  // namespace

QString drillCautions(const SheetDrill& drill) {
    QStringList cautions;
    for (const core::DrillLine& line : drill.lines) {
        const QString caution = utf8(line.caution);
        if (!caution.isEmpty() && !cautions.contains(caution)) cautions << caution;
    }
    return cautions.isEmpty() ? QString() : DrillText::tr("Caution: %1").arg(cautions.join(QLatin1Char(' ')));
}

Block drillBlock(const SheetDrill& drill, double width, DrillDetail detail) {
    Block block;
    PageDrawing& page = block.drawing;
    double top = drawHead(page, 0, 0, width, DrillText::tr("Next drill, %1").arg(minutesText(drill.minutes)),
                          drill.lines.empty() ? QString() : DrillText::tr("done on"));
    if (drill.lines.empty()) {
        block.height =
            page.paragraph(0, top + kSmallGap, width,
                           DrillText::tr("Nothing that raises the chance fits into this time."), kBodyType);
        return block;
    }
    top += kSmallGap;
    int number = 0;
    if (detail == DrillDetail::Short) {
        // What to do there stands among what to say next time.
        QStringList zones;
        for (const core::DrillLine& line : drill.lines)
            zones << DrillText::tr("%1 %2 (%3)", "number, zone, minutes")
                         .arg(++number)
                         .arg(utf8(line.title), minutesText(line.minutes));
        top = page.paragraph(0, top, width - kDoneLine, zones.join(QStringLiteral(";  ")), kRemarkType);
    } else {
        for (const core::DrillLine& line : drill.lines)
            top = drillRow(page, 0, top, width, ++number, line, detail) +
                  (detail == DrillDetail::Full ? kRowGap : kSmallGap);
    }
    block.height = detail == DrillDetail::Column
                       ? top
                       : page.paragraph(0, top, width, drillCautions(drill), kRemarkType);
    return block;
}

Block readinessBlock(const SheetReadiness& sheet, double width) {
    Block block;
    PageDrawing& page = block.drawing;
    const core::Readiness& readiness = sheet.readiness;
    const double x = kShape + 1.8, room = width - x;
    const double middle = lineHeight(kBoldType) / 2 + 0.3;
    page.custom(
        [square = QRectF(0, middle - kShape / 2, kShape, kShape), word = readiness.word](QPainter& painter) {
            paintReadiness(painter, square, word, Roles::paper(), kShape / 24);
        });
    double top = page.paragraph(x, 0, room,
                                DrillText::tr("%1. %2", "word, sentence")
                                    .arg(utf8(core::shownWord(readiness.word, sheet.settings)),
                                         utf8(core::chanceInWords(readiness.forecast))),
                                kBoldType);
    QStringList reasons;
    if (readiness.override_)
        reasons << DrillText::tr("Set by %1, %2: %3. The figures say %4.")
                       .arg(sheet.overrideBy.isEmpty() ? utf8(readiness.override_->by) : sheet.overrideBy,
                            dateTimeText(readiness.override_->at), utf8(readiness.override_->reason),
                            utf8(core::shownWord(readiness.computed, sheet.settings)));
    if (!readiness.change.empty()) reasons << utf8(readiness.change);
    QStringList weakest;
    for (const core::Holding& one : readiness.forecast.holding)
        if (weakest.size() < static_cast<int>(kWeakest)) weakest << utf8(one.title);
    if (!weakest.isEmpty() && !readiness.forecast.tooLittle)
        reasons << DrillText::tr("Holding back most: %1.")
                       .arg(weakest.join(DrillText::tr(", ", "between zones")));
    top = page.paragraph(x, top, room, reasons.join(QLatin1Char(' ')), kRemarkType);
    block.height = top;
    return block;
}

}  // namespace markerlamp::forms
