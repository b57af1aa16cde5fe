// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The plan of the bus and the zones with their intervals.

#include "forms/sheets/frame.h"
#include "forms/sheets/plan_layout.h"
#include "forms/sheets/progress_blocks.h"

#include <QCoreApplication>
#include <QLocale>
#include <QPainter>

#include <algorithm>

namespace markerlamp::forms {

namespace {

struct PlanText {
    Q_DECLARE_TR_FUNCTIONS(markerlamp::forms::PlanText)
};

struct Count {
    int satisfied = 0;
    int observed = 0;
};

Count countOf(const core::Scorecard& card, const std::string& zone) {
    Count count;
    for (const core::StepScore& step : card.steps) {
        if (step.zone != zone || step.outcome == core::StepOutcome::Unseen ||
            step.outcome == core::StepOutcome::Unreached)
            continue;
        ++count.observed;
        if (step.outcome == core::StepOutcome::Satisfied) ++count.satisfied;
    }
    return count;
}

constexpr double kPatternWidth = 2.4;
constexpr double kCellInset = 1.1;

double nameRoom(double planWidth) {
    return planWidth / kPlanColumns - kPatternWidth - 2 * kCellInset;
}

/// Lines that a name may take in a cell.
qsizetype nameLinesAllowed(const core::Rubric& rubric) {
    return rubric.zones.size() > std::size_t{kPlanRows} * std::size_t{kPlanColumns} ? 1 : 2;
}

double drawPatternKey(PageDrawing& page, double top, double width) {
    struct Key {
        Pattern pattern;
        QString words;
    };
    const Key keys[] = {{Pattern::None, PlanText::tr("none")},
                        {Pattern::Dots, PlanText::tr("to 2")},
                        {Pattern::Diagonal, PlanText::tr("to 3")},
                        {Pattern::Solid, PlanText::tr("more")}};
    constexpr double square = 3.2;
    const double row = lineHeight(kRemarkType) + 0.6;
    const QString lead = PlanText::tr("missed in 10:");
    page.textMiddle(0, top + row / 2, lead, kRemarkType);
    double x = textWidth(lead, kRemarkType) + 2.4;
    for (const Key& key : keys) {
        const double wide = square + 1.2 + textWidth(key.words, kRemarkType);
        if (x + wide > width && x > 0) {
            x = 0;
            top += row;
        }
        const QRectF box(x, top + (row - square) / 2, square, square);
        page.pattern(box, key.pattern);
        page.box(box, kThinLine);
        page.textMiddle(x + square + 1.2, top + row / 2, key.words, kRemarkType);
        x += wide + 2.6;
    }
    return top + row;
}

}  // namespace

Pattern missedPattern(int satisfied, int observed) {
    const int missed = observed - satisfied;
    if (missed <= 0) return Pattern::None;
    if (10 * missed <= 2 * observed) return Pattern::Dots;
    if (10 * missed <= 3 * observed) return Pattern::Diagonal;
    return Pattern::Solid;
}

ZoneLabels zoneLabels(const core::Rubric& rubric, double planWidth) {
    const bool cut = std::any_of(rubric.zones.begin(), rubric.zones.end(), [&](const core::Zone& zone) {
        return wrapped(QString::fromStdString(zone.title), nameRoom(planWidth), kRemarkType).size() >
               nameLinesAllowed(rubric);
    });
    return cut ? ZoneLabels::CutNames : ZoneLabels::Names;
}

Block planBlock(const core::ScoredAttempt& scored, double width, ZoneLabels labels) {
    const core::Rubric& rubric = *scored.rubric;
    Block block;
    PageDrawing& page = block.drawing;
    double top = drawHead(page, 0, 0, width, PlanText::tr("Where to work"), PlanText::tr("right / observed"));
    const double label = lineHeight(kRemarkType);
    page.textMiddle(0, top + label / 2, PlanText::tr("nose"), kRemarkType);
    page.textMiddleRight(width, top + label / 2, PlanText::tr("tail"), kRemarkType);
    top += label + 0.3;

    const std::vector<PlanCell> cells = planCells(rubric);
    const int rows = planRowCount(cells);
    const double cellWidth = width / kPlanColumns;
    const double textRoom = nameRoom(width);
    qsizetype nameLines = 0;
    if (labels != ZoneLabels::Numbers)
        for (const core::Zone& zone : rubric.zones)
            nameLines = std::max(nameLines,
                                 wrapped(QString::fromStdString(zone.title), textRoom, kRemarkType).size());
    nameLines = std::min(nameLines, nameLinesAllowed(rubric));
    const double countLine = lineHeight(kBoldType);
    const double nameLine = lineHeight(kRemarkType) * 0.94;
    const double cellHeight = countLine + nameLine * static_cast<double>(nameLines) + 1.6;

    for (std::size_t i = 0; i < cells.size(); ++i) {
        const core::Zone& zone = rubric.zones[i];
        const QRectF cell(cells[i].column * cellWidth, top + cells[i].row * cellHeight, cellWidth,
                          cellHeight);
        const Count count = countOf(scored.card, zone.id);
        const QRectF strip(cell.left(), cell.top(), kPatternWidth, cell.height());
        if (count.observed > 0) page.pattern(strip, missedPattern(count.satisfied, count.observed));
        page.line(strip.right(), cell.top(), strip.right(), cell.bottom(), kThinLine);
        const double x = strip.right() + kCellInset;
        const QString counts = count.observed > 0
                                   ? QStringLiteral("%1/%2").arg(count.satisfied).arg(count.observed)
                                   : QStringLiteral("\u2013");
        page.textMiddle(x, cell.top() + 0.8 + countLine / 2, counts,
                        labels == ZoneLabels::Names ? kBoldType : kRemarkBold);
        if (labels != ZoneLabels::Names)
            page.textMiddleRight(cell.right() - kCellInset, cell.top() + 0.8 + countLine / 2,
                                 QString::number(i + 1), kRemarkType);
        double y = cell.top() + 0.8 + countLine + nameLine / 2;
        const QStringList name = wrapped(QString::fromStdString(zone.title), textRoom, kRemarkType);
        for (const QString& line : name.mid(0, nameLines)) {
            page.textMiddle(x, y, line, kRemarkType);
            y += nameLine;
        }
    }
    const double bottom = top + rows * cellHeight;
    for (int row = 1; row < rows; ++row)
        page.line(0, top + row * cellHeight, width, top + row * cellHeight, kThinLine);
    for (int column = 1; column < kPlanColumns; ++column)
        page.line(column * cellWidth, top, column * cellWidth, bottom, kThinLine);
    page.box(QRectF(0, top, width, rows * cellHeight), kHeadLine);
    block.height = drawPatternKey(page, bottom + 0.8, width);
    return block;
}

Block zonesBlock(const std::vector<core::ScoredAttempt>& history, double width, ZoneLabels labels) {
    constexpr int kLast = 3;
    constexpr double kLevel = 0.8;
    Block block;
    PageDrawing& page = block.drawing;
    if (history.empty()) return block;
    const int used = std::min<int>(kLast, static_cast<int>(history.size()));
    const std::vector<core::ZoneNow> zones = core::zonesNow(history, kLast, kLevel);
    const core::Rubric& rubric = *history.back().rubric;
    double top = drawHead(
        page, 0, 0, width,
        used == 1 ? PlanText::tr("Zones, this attempt") : PlanText::tr("Zones, last %1 attempts").arg(used),
        PlanText::tr("% right, 80 % interval"));

    const bool numbered = labels != ZoneLabels::Names;
    const auto titleOf = [&](std::size_t i) {
        const QString title = QString::fromStdString(zones[i].title);
        return numbered ? QStringLiteral("%1  %2").arg(i + 1).arg(title) : title;
    };
    const auto styleOf = [](const core::ZoneNow& zone) { return zone.weak ? kRemarkBold : kRemarkType; };

    double countWidth = 0;
    double nameWidth = 0;
    for (std::size_t i = 0; i < zones.size(); ++i) {
        countWidth = std::max(
            countWidth, textWidth(QStringLiteral("%1/%2").arg(zones[i].satisfied).arg(zones[i].observed),
                                  styleOf(zones[i])));
        nameWidth = std::max(nameWidth, textWidth(titleOf(i), styleOf(zones[i])));
    }
    nameWidth = std::min(nameWidth, width * 0.5);
    constexpr double kDot = 1.2;  // radius
    const double left = nameWidth + 2.2 + kDot;
    const double right = width - countWidth - 2.2 - kDot;
    const auto at = [&](double share) { return left + (right - left) * share; };
    const double pass = rubric.pass.percent / 100;

    // Axis: 0, 50, 100 and the pass mark; a plain number gives way where it would touch the pass mark's.
    const double axis = lineHeight(kRemarkType);
    const QString passLabel = QLocale().toString(rubric.pass.percent, 'g', 3);
    const double passHalf = textWidth(passLabel, kRemarkBold) / 2;
    for (const int tick : {0, 50, 100}) {
        const QString label = QString::number(tick);
        const double half = textWidth(label, kRemarkType) / 2;
        if (std::abs(at(tick / 100.0) - at(pass)) > half + passHalf + 0.8)
            page.textMiddle(at(tick / 100.0) - half, top + axis / 2, label, kRemarkType);
    }
    page.textMiddle(at(pass) - passHalf, top + axis / 2, passLabel, kRemarkBold);
    top += axis + 0.4;
    const double chartTop = top;

    struct Row {
        double top, height;
    };
    std::vector<Row> rows;
    for (std::size_t i = 0; i < zones.size(); ++i) {
        const qsizetype lines =
            std::max<qsizetype>(1, wrapped(titleOf(i), nameWidth + 0.01, styleOf(zones[i])).size());
        const double height =
            lines == 1 ? 4.2 : lineHeight(kRemarkType) * 0.94 * static_cast<double>(lines) + 0.4;
        rows.push_back({top, height});
        top += height;
    }
    // Words that stand in place of an interval need a clear ground: the upright lines leave it out.
    const auto wordsOf = [](const core::ZoneNow& zone) {
        return zone.observed > 0 ? PlanText::tr("counts only") : PlanText::tr("not observed");
    };
    const auto wordsBox = [&](std::size_t i) {
        const double wide = textWidth(wordsOf(zones[i]), kRemarkType);
        const double x = std::max(left - kDot, std::min(at(0.25) - wide / 2, right - wide));
        return QRectF(x - 0.5, rows[i].top + rows[i].height / 2 - 1.9, wide + 1, 3.8);
    };
    const auto upright = [&](double x, const auto& draw) {
        double from = chartTop;
        for (std::size_t i = 0; i < zones.size(); ++i) {
            if (zones[i].interval) continue;
            const QRectF box = wordsBox(i);
            if (x < box.left() || x > box.right()) continue;
            if (box.top() > from) draw(from, box.top());
            from = box.bottom();
        }
        if (top > from) draw(from, top);
    };
    for (const double share : {0.0, 0.5, 1.0})
        upright(at(share),
                [&](double from, double to) { page.line(at(share), from, at(share), to, kThinLine); });
    upright(at(pass), [&](double from, double to) {
        page.dashedLine(at(pass), from, at(pass), to, 0.9, 0.9, kHeadLine);
    });
    for (std::size_t i = 0; i < zones.size(); ++i) {
        const core::ZoneNow& zone = zones[i];
        const TextStyle style = styleOf(zone);
        const double yc = rows[i].top + rows[i].height / 2;
        const QStringList lines = wrapped(titleOf(i), nameWidth + 0.01, style);
        const double pitch = lineHeight(kRemarkType) * 0.94;
        double y = yc - pitch * static_cast<double>(lines.size() - 1) / 2;
        for (const QString& line : lines) {
            page.textMiddle(0, y, line, style);
            y += pitch;
        }
        page.textMiddleRight(width, yc, QStringLiteral("%1/%2").arg(zone.satisfied).arg(zone.observed),
                             style);
        if (!zone.interval) {
            page.textMiddle(wordsBox(i).left() + 0.5, yc, wordsOf(zone), kRemarkType);
            continue;
        }
        page.line(at(zone.interval->low), yc, at(zone.interval->high), yc, 0.5);
        page.circle({at(static_cast<double>(zone.satisfied) / zone.observed), yc}, kDot, 0.45, zone.weak);
    }
    block.height = top;
    return block;
}

}  // namespace markerlamp::forms
