// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/trail_sheet.h"

#include "forms/sheets/frame.h"

#include <QCoreApplication>

#include <algorithm>

namespace markerlamp::forms {

namespace {

struct TrailSheetText {
    Q_DECLARE_TR_FUNCTIONS(TrailSheetText)
};

constexpr double kNumber = 12, kWhen = 33, kWho = 32, kBetween = 2;
constexpr double kUnder = 1.1;  ///< below each entry
constexpr int kLongest = 1500;  ///< characters of one entry; more is on the screen

class TrailSheet {
public:
    explicit TrailSheet(const TrailSheetInput& input) : m_input(input), m_frame(frameOf(input.paper)) {
        m_foot.version = input.version;
        m_foot.printed = input.printed;
        m_foot.lines << TrailSheetText::tr(
            "Each entry is sealed together with the one before. Keep a signed print: its last seal shows "
            "later "
            "whether anything before it was changed.");
        m_bottom = m_frame.bottom - footHeight(m_frame, m_foot) - 2;
    }

    Sheet lay() {
        newPage();
        for (const TrailRow& row : m_input.rows) layRow(row);
        laySigning();
        drawFoots(m_pages, m_frame, m_foot);
        return {m_input.paper, TrailSheetText::tr("Trail of changes"), std::move(m_pages)};
    }

private:
    void newPage() {
        m_pages.emplace_back();
        PageDrawing& page = m_pages.back();
        const bool first = m_pages.size() == 1;
        m_y =
            drawTitle(page, m_frame,
                      first ? TrailSheetText::tr("Trail of changes") : TrailSheetText::tr("Trail, continued"),
                      m_input.programTitle, true);
        m_y = drawFacts(page, m_frame.left, m_y, m_frame.width(), {m_input.filter});
        if (first)
            m_y = page.paragraph(m_frame.left, m_y + 0.8, m_frame.width(), m_input.standing, kBoldType);
        m_y += 1.5;
        const double y = m_y;
        const auto head = [&](double x, double width, const QString& text) {
            m_y = std::max(m_y, page.paragraph(x, y, width, text, kRemarkBold));
        };
        head(m_frame.left, kNumber, TrailSheetText::tr("No."));
        head(when(), kWhen, TrailSheetText::tr("When"));
        head(who(), kWho, TrailSheetText::tr("Who"));
        head(words(), wordsWidth(), TrailSheetText::tr("Change"));
        m_y += 0.4;
        page.line(m_frame.left, m_y, m_frame.right, m_y, kHeadLine);
        m_y += 1;
    }

    [[nodiscard]] double when() const { return m_frame.left + kNumber; }
    [[nodiscard]] double who() const { return when() + kWhen; }
    [[nodiscard]] double words() const { return who() + kWho; }
    [[nodiscard]] double wordsWidth() const { return m_frame.right - words(); }

    void layRow(const TrailRow& row) {
        PageDrawing drawing;
        double height = drawing.paragraph(m_frame.left, 0, kNumber - kBetween, row.number, kRemarkType);
        height = std::max(height, drawing.paragraph(when(), 0, kWhen - kBetween, row.when, kRemarkType));
        height = std::max(height, drawing.paragraph(who(), 0, kWho - kBetween, row.who, kRemarkType));
        const QString title =
            row.about.isEmpty() ? row.change : TrailSheetText::tr("%1: %2").arg(row.change, row.about);
        double y = drawing.paragraph(words(), 0, wordsWidth(), title, kRemarkBold);
        QString text = row.words.left(kLongest);
        if (text.size() < row.words.size()) text += QChar(0x2026);
        y = drawing.paragraph(words(), y, wordsWidth(), text, kRemarkType);
        height = std::max(height, y);
        if (m_y + height > m_bottom) newPage();
        m_pages.back().append(drawing, 0, m_y);
        m_y += height + kUnder / 2;
        m_pages.back().line(m_frame.left, m_y, m_frame.right, m_y);
        m_y += kUnder / 2;
    }

    void laySigning() {
        constexpr double kRoom = 16, kLength = 70;
        if (m_y + kRoom > m_bottom) newPage();
        PageDrawing& page = m_pages.back();
        m_y += kRoom - 5;
        page.line(m_frame.left, m_y, m_frame.left + kLength, m_y, kThinLine);
        page.line(m_frame.right - kLength, m_y, m_frame.right, m_y, kThinLine);
        m_y += 0.8;
        page.paragraph(m_frame.left, m_y, kLength, TrailSheetText::tr("Looked through by"), kRemarkType);
        page.paragraph(m_frame.right - kLength, m_y, kLength, TrailSheetText::tr("Date"), kRemarkType);
    }

    const TrailSheetInput& m_input;
    Frame m_frame;
    Foot m_foot;
    double m_bottom = 0;
    double m_y = 0;
    std::vector<PageDrawing> m_pages;
};

}  // namespace

Sheet trailSheet(const TrailSheetInput& input) {
    return TrailSheet(input).lay();
}

}  // namespace markerlamp::forms
