// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Rows of "say next time", must-pass facts and the signatures.

#include "forms/sheets/frame.h"
#include "forms/sheets/progress_blocks.h"
#include "forms/sheets/wording.h"
#include "forms/signs/signs.h"

#include <QCoreApplication>
#include <QPainter>

#include <algorithm>

namespace markerlamp::forms {

namespace {

struct RowText {
    Q_DECLARE_TR_FUNCTIONS(markerlamp::forms::RowText)
};

constexpr double kLamp = 3.2;
constexpr double kSignScale = 0.21;  ///< mm of a design pixel for strokes: outlines of 0.3 to 0.4 mm
constexpr double kOverhang = 0.9;    ///< of the bar of a left-out lamp

/// Lamp and capsule of a step, left-aligned at the origin; height 0..kLamp (two rows of beads are taller).
struct Signs {
    SignState state;
    double width = 0;
    double height = 0;
    double lampX = 0;
    double capsuleX = 0;
    QSizeF capsule;
};

Signs signsOf(const core::ScoredAttempt& scored, const std::string& step) {
    Signs signs;
    const std::vector<core::StepMarks> marks = core::foldMarks(*scored.rubric, scored.attempt);
    const auto mine = std::find_if(marks.begin(), marks.end(),
                                   [&](const core::StepMarks& one) { return one.step == step; });
    if (mine == marks.end()) return signs;
    signs.state = signState(*mine, false);
    double x = kOverhang;
    if (signs.state.shown != LampState::None) {
        signs.lampX = x;
        x += kLamp + 2.2;
    }
    if (!signs.state.beads.empty()) {
        signs.capsule = capsuleSize(static_cast<int>(signs.state.beads.size()), 28, kLamp / 28);
        signs.capsuleX = x;
        x += signs.capsule.width() + kOverhang;
    } else if (signs.state.shown != LampState::None) {
        x += kOverhang - 2.2;
    }
    signs.width = x;
    signs.height = std::max(kLamp, signs.capsule.height());
    return signs;
}

void drawSigns(PageDrawing& page, double x, double yc, const Signs& signs) {
    page.custom([=](QPainter& painter) {
        const Roles roles = Roles::paper();
        if (signs.state.shown != LampState::None) {
            const QRectF lamp(x + signs.lampX, yc - kLamp / 2, kLamp, kLamp);
            paintLamp(painter, lamp, signs.state.shown, roles, kSignScale);
            if (signs.state.prompts > 0) {
                // Helped: the corner is cut off.
                QPainterPath corner;
                corner.moveTo(lamp.right() + 0.3, lamp.top() - 0.3);
                corner.lineTo(lamp.right() - 1.5, lamp.top() - 0.3);
                corner.lineTo(lamp.right() + 0.3, lamp.top() + 1.5);
                corner.closeSubpath();
                painter.fillPath(corner, Qt::white);
                painter.setPen(QPen(Qt::black, 0.3));
                painter.drawLine(QLineF(lamp.right() - 1.3, lamp.top(), lamp.right(), lamp.top() + 1.3));
            }
        }
        if (!signs.state.beads.empty()) {
            const QRectF capsule(QPointF(x + signs.capsuleX, yc - signs.capsule.height() / 2), signs.capsule);
            paintCapsule(painter, capsule, signs.state, roles, kSignScale);
        }
    });
}

}  // namespace

namespace {

struct RowParts {
    QString number, title, advice;
    Signs signs;
};

/// beside: the lamps stand right of the title, else at the head of the advice.
Block layRow(const RowParts& parts, double width, const Comfort& comfort, bool beside) {
    const double pad = comfort.title < 10.5 ? 0.45 : 0.6;
    Block block;
    PageDrawing& page = block.drawing;
    const TextStyle bold{comfort.title, true};
    const TextStyle plain{comfort.advice, false};
    const double tick = std::min(kTick, lineHeight(bold));
    const double indent = std::max(textWidth(QStringLiteral("00"), bold), textWidth(parts.number, bold)) + 2;
    const double titleRight = width - tick - 2;
    const Signs& signs = parts.signs;

    double top = pad;
    page.textRight(indent - 2, top + (lineHeight(bold) + capHeight(bold)) / 2, parts.number, bold);
    if (beside) {
        const double signsX = titleRight - std::max(signs.width, 17.0);
        // A capsule of two rows is taller than the title.
        const double signsMiddle = top + std::max(lineHeight(bold), signs.height + 0.4) / 2;
        drawSigns(page, signsX, signsMiddle, signs);
        const double below = page.paragraph(indent, top, signsX - 1 - indent, parts.title, bold);
        top = std::max(below, signsMiddle + signs.height / 2 + 0.2);
        top = page.paragraph(indent, std::max(top, pad + tick + 0.2), width - indent, parts.advice, plain);
    } else {
        top = page.paragraph(indent, top, titleRight - indent, parts.title, bold);
        top = std::max(top, pad + tick + 0.2);
        const double taller = std::max(0.0, signs.height + 0.4 - lineHeight(plain));
        drawSigns(page, indent - kOverhang, top + (lineHeight(plain) + taller) / 2, signs);
        const double first = signs.width > 0 ? signs.width - kOverhang + 1.6 : 0;
        const double begin = top;
        top = page.paragraph(indent, top + taller / 2, width - indent, parts.advice, plain, first);
        top = std::max(top, begin + lineHeight(plain) + taller);
    }
    page.box(QRectF(width - tick, pad, tick, tick), kHeadLine);
    block.height = top + pad;
    page.line(indent, block.height, width, block.height, kThinLine);
    return block;
}

}  // namespace

Block sayNextRow(const core::ScoredAttempt& scored, const core::SayNext& next, int number, double width,
                 const Comfort& comfort) {
    const QString title = QString::fromStdString(next.title);
    const RowParts parts{QString::number(number),
                         next.mustPass ? RowText::tr("%1 (must-pass)").arg(title) : title,
                         nextTimeText(scored, next, comfort.full), signsOf(scored, next.step)};
    Block beside = layRow(parts, width, comfort, true);
    Block below = layRow(parts, width, comfort, false);
    return below.height < beside.height - 0.1 ? below : beside;
}

QString signsKey(const std::vector<core::SayNext>& rows) {
    bool omitted = false, wrong = false, helped = false;
    for (const core::SayNext& row : rows) {
        omitted = omitted || row.outcome == core::StepOutcome::Omitted;
        wrong = wrong || row.outcome == core::StepOutcome::Wrong;
        helped = helped || row.outcome == core::StepOutcome::Prompted;
    }
    QStringList parts{RowText::tr("square shown"), RowText::tr("beads said")};
    if (omitted) parts << RowText::tr("bar left out");
    if (wrong) parts << RowText::tr("cross wrong");
    if (helped) parts << RowText::tr("cut corner helped");
    return parts.join(QStringLiteral(", ")) + QLatin1Char('.');
}

Block mustPassBlock(const core::ScoredAttempt& scored, int cleanInARow, double width) {
    constexpr double kSquare = 3.4;
    constexpr std::size_t kMost = 6;
    Block block;
    std::vector<MustPassFact> facts = mustPassFacts(scored);
    if (facts.empty()) return block;
    if (facts.size() > kMost) {
        // The open ones stand first; the clean ones can be summed up.
        const auto open = std::find_if(facts.begin(), facts.end(), [](const MustPassFact& fact) {
            return fact.state == MustPassFact::State::Clean;
        });
        const auto clean = facts.end() - open;
        if (clean > 1) {
            facts.erase(open, facts.end());
            facts.push_back(
                {MustPassFact::State::Clean, RowText::tr("must-pass clean elsewhere: %1").arg(clean)});
        }
    }
    if (cleanInARow > 0)
        facts.push_back({MustPassFact::State::Clean,
                         RowText::tr("must-pass clean, attempts in a row: %1").arg(cleanInARow)});
    const double column = facts.size() == 1 ? width : width / 2;
    const double indent = kSquare + 2.2;
    double top = 0;
    for (std::size_t i = 0; i < facts.size(); i += 2) {
        double bottom = top;
        for (std::size_t j = i; j < std::min(i + 2, facts.size()); ++j) {
            const double x = j == i ? 0 : column + 0.7;
            const MustPassFact& fact = facts[j];
            const LampState state = fact.state == MustPassFact::State::Clean     ? LampState::Lit
                                    : fact.state == MustPassFact::State::NotSeen ? LampState::Half
                                                                                 : LampState::Open;
            const QRectF square(x, top + (lineHeight(kBodyType) - kSquare) / 2, kSquare, kSquare);
            block.drawing.custom(
                [=](QPainter& painter) { paintGate(painter, square, state, Roles::paper(), kSignScale); });
            bottom = std::max(
                bottom, block.drawing.paragraph(x + indent, top, column - indent - 2, fact.text, kBodyType));
        }
        top = bottom;
    }
    block.height = top;
    return block;
}

Block signatureBlock(double width) {
    constexpr double kClear = 10.3;  // 0.4 in
    constexpr double kName = 105;
    Block block;
    PageDrawing& page = block.drawing;
    double top = page.paragraph(0, 0, width,
                                RowText::tr("We talked this through. Signing does not mean agreement with "
                                            "every mark."),
                                kBodyType);
    const double dateX = kName + 10.5;
    for (const QString& who : {RowText::tr("Trainee"), RowText::tr("Instructor")}) {
        top += kClear;
        page.line(0, top, kName, top, kHeadLine);
        page.line(dateX, top, width, top, kHeadLine);
        top += 0.4;
        page.paragraph(dateX, top, width - dateX, RowText::tr("date"), kRemarkType);
        top = page.paragraph(0, top, kName, who, kRemarkType);
    }
    block.height = top;
    return block;
}

}  // namespace markerlamp::forms
