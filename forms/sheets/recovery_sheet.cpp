// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/recovery_sheet.h"

#include "forms/sheets/frame.h"

#include <QCoreApplication>

namespace markerlamp::forms {

namespace {

struct RecoveryText {
    Q_DECLARE_TR_FUNCTIONS(RecoveryText)
};

constexpr TextStyle kCodeType{24, true};
constexpr double kGap = 5;
constexpr double kBetween = 2;  ///< paragraphs
constexpr double kCodeBox = 26;
constexpr double kLine = 12;  ///< room to write a line by hand
constexpr double kLabel = 40;

}  // namespace

Sheet recoverySheet(const RecoverySheetInput& input) {
    const Frame frame = frameOf(input.paper);
    std::vector<PageDrawing> pages(1);
    PageDrawing& page = pages.front();
    double y = drawTitle(page, frame, RecoveryText::tr("Recovery code"), input.programTitle, false);
    y = drawFacts(page, frame.left, y, frame.width(),
                  {RecoveryText::tr("program file %1").arg(input.fileName)}) +
        kGap;

    const QRectF box(frame.left, y, frame.width(), kCodeBox);
    page.box(box, kTitleLine);
    page.textMiddle(box.center().x() - textWidth(input.code, kCodeType) / 2, box.center().y(), input.code,
                    kCodeType);
    y = page.paragraph(
            frame.left, box.bottom() + kBetween, frame.width(),
            RecoveryText::tr("The digits 0 and 1 and the letters I, L and O are not used. Capitals, "
                             "spaces and dashes make no difference."),
            kRemarkType) +
        kGap;

    const auto block = [&](const QString& title, const QStringList& paragraphs) {
        y = drawHead(page, frame.left, y, frame.width(), title) + kBetween;
        for (const QString& text : paragraphs)
            y = page.paragraph(frame.left, y, frame.width(), text, kBodyType) + kBetween;
        y += kGap - kBetween;
    };
    block(RecoveryText::tr("What it is for"),
          {RecoveryText::tr(
               "When no coordinator knows a passphrase any more, whoever has this code makes a new "
               "one: open the program file, choose \"use the recovery code\", type the code, the "
               "name of a coordinator, and a new passphrase twice."),
           RecoveryText::tr("It works once. The program then shows the next code; print that one and destroy "
                            "this page.")});
    block(RecoveryText::tr("Where to keep it"),
          {RecoveryText::tr(
               "Lock it away, in a safe or with the personnel files. Never keep it with the laptop, "
               "photograph it, or send it: whoever holds it can do everything that a coordinator "
               "can."),
           RecoveryText::tr("Without this page and without a coordinator's passphrase nobody can sign in any "
                            "more, the makers of the program included.")});
    y = drawHead(page, frame.left, y, frame.width(), RecoveryText::tr("To fill in by hand")) + kLine;
    const QStringList labels{RecoveryText::tr("Kept at"), RecoveryText::tr("Put there on, by")};
    for (const QString& label : labels) {
        page.text(frame.left, y, label, kBodyType);
        page.line(frame.left + kLabel, y, frame.right, y);
        y += kLine;
    }
    Foot foot;
    foot.version = input.version;
    foot.printed = input.printed;
    drawFoots(pages, frame, foot);
    return {input.paper, RecoveryText::tr("Recovery code"), std::move(pages)};
}

}  // namespace markerlamp::forms
