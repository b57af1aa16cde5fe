// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The blank score sheet: what an instructor fills in by hand on a day without power. For each step a box for
// the order, a square for shown, a circle for each point said, a box for a letter.

#include "forms/sheets/frame.h"
#include "forms/sheets/sheets.h"
#include "forms/sheets/wording.h"

#include <QCoreApplication>

#include <algorithm>
#include <array>

namespace markerlamp::forms {

namespace {

struct BlankText {
    Q_DECLARE_TR_FUNCTIONS(markerlamp::forms::BlankText)
};

constexpr TextStyle kStepType{9.5};
constexpr TextStyle kMustPassType{9.5, true};
constexpr double kColumnGap = 5.4;
constexpr double kRow = 6.1;
constexpr double kZoneBar = 5.1;
constexpr double kOrderBox = 6.4;
constexpr double kLetterBox = 7.8;
constexpr double kBox = 4.7;
constexpr double kSquare = 3.7;
constexpr double kCircle = 3;  // diameter
constexpr double kPitch = 4.2;
constexpr int kCirclesInRow = 4;
constexpr double kNotes = 26;  ///< least height of the notes

QString utf8(const std::string& text) {
    return QString::fromStdString(text);
}

/// Places inside a column of this width.
struct Places {
    double width;
    double number = kOrderBox + 8;  ///< right edge
    double title = number + 1.4;
    double letter = width - kLetterBox;
    double circles = letter - 2.2 - kCirclesInRow * kPitch;
    double square = circles - 1 - kSquare;
};

struct Row {
    PageDrawing drawing;
    double height = 0;
};

Row stepRow(const core::Rubric& rubric, const core::Step& step, int number, bool conditional, double width) {
    const Places places{width};
    Row row;
    PageDrawing& page = row.drawing;
    const TextStyle& style = step.mustPass ? kMustPassType : kStepType;
    const double room = places.square - 1.2 - places.title;
    const QStringList title = wrapped(utf8(step.title), room, style);
    QStringList remarks;
    if (conditional) remarks = wrapped(conditionText(rubric, step), room, kRemarkType);

    const int points = static_cast<int>(step.say.size());
    const int circleRows = (points + kCirclesInRow - 1) / kCirclesInRow;
    const double titleLine = lineHeight(kStepType) * 0.96;
    const double remarkLine = lineHeight(kRemarkType) * 0.96;
    const double readingLine = 5.4;
    double textHeight =
        titleLine * static_cast<double>(title.size()) + remarkLine * static_cast<double>(remarks.size());
    if (step.reading) textHeight += readingLine;
    row.height = std::max({kRow, textHeight + 1.4, circleRows * kPitch + 1.6});

    // One line of type stands level with the boxes; more of them begin there.
    const double first = kRow / 2;
    page.box(QRectF(0, first - kBox / 2, kOrderBox, kBox), kHeadLine);
    page.textMiddleRight(places.number, first, QString::number(number), kRemarkType);
    double y = first;
    for (const QString& line : title) {
        page.textMiddle(places.title, y, line, style);
        y += titleLine;
    }
    for (const QString& line : remarks) {
        page.textMiddle(places.title, y, line, kRemarkType);
        y += remarkLine;
    }
    if (step.reading) {
        const core::Limit* named = rubric.limit(step.reading->limit);
        const std::string unit = named ? named->unit : step.reading->unit;
        const double line = 12;
        y += 0.6;
        page.line(places.title, y + 1.4, places.title + line, y + 1.4, kHeadLine);
        page.textMiddle(places.title + line + 1, y, unit == "degF" ? QStringLiteral("\u00b0F") : utf8(unit),
                        kRemarkType);
    }
    if (!step.show.empty()) page.box(QRectF(places.square, first - kSquare / 2, kSquare, kSquare), kHeadLine);
    for (int i = 0; i < points; ++i) {
        const int line = i / kCirclesInRow, column = i % kCirclesInRow;
        const double x = places.circles + column * kPitch + kCircle / 2 + 0.6;
        page.circle({x, first + line * kPitch}, kCircle / 2, kHeadLine);
    }
    page.box(QRectF(places.letter, first - kBox / 2, kLetterBox, kBox), kHeadLine);
    page.line(places.number - 5, row.height, places.letter - 1.6, row.height, kThinLine);
    return row;
}

class BlankSheet {
public:
    BlankSheet(const core::Rubric& rubric, const std::vector<std::string>& equipment, Paper paper,
               const QString& version, const QDateTime& printed)
        : m_rubric(rubric), m_equipment(equipment), m_paper(paper), m_frame(frameOf(paper)) {
        m_foot.version = version;
        m_foot.printed = printed;
        m_foot.lines << disclaimerText();
        m_columnWidth = (m_frame.width() - kColumnGap) / 2;
        PageDrawing scratch;
        m_cautionHeight = scratch.paragraph(0, 0, m_frame.width(), cautionText(), kRemarkType) + 1.6;
        m_bottom = m_frame.bottom - footHeight(m_frame, m_foot) - m_cautionHeight;
    }

    Sheet lay() {
        newPage();
        for (const core::Zone& zone : m_rubric.zones) layZone(zone);
        layCautions();
        layNotes();
        endPage();
        m_foot.remarks.clear();
        for (const auto& [first, last] : m_ranges)
            m_foot.remarks << (last >= first && last > 0
                                   ? BlankText::tr("Steps %1 to %2 of %3").arg(first).arg(last).arg(m_number)
                                   : QString());
        drawFoots(m_pages, m_frame, m_foot);
        return {m_paper, BlankText::tr("Blank score sheet, %1").arg(utf8(m_rubric.title)),
                std::move(m_pages)};
    }

private:
    void newPage() {
        m_pages.emplace_back();
        PageDrawing& page = m_pages.back();
        const bool first = m_pages.size() == 1;
        double top = drawTitle(
            page, m_frame,
            first ? BlankText::tr("Blank score sheet") : BlankText::tr("Blank score sheet, continued"),
            BlankText::tr("for a day without power"), false);
        top = drawFacts(page, m_frame.left, top, m_frame.width(),
                        {BlankText::tr("%1, edition %2").arg(utf8(m_rubric.title)).arg(m_rubric.edition),
                         equipmentText()});
        top = first ? drawFields(page, top) : drawShortFields(page, top);
        m_top = drawLegend(page, top) + 1.2;
        m_firstOnPage = m_number + 1;
        m_column = 0;
        beginColumn();
    }

    [[nodiscard]] QString equipmentText() const {
        if (m_equipment.empty())
            return BlankText::tr("every step; \"only with\" and \"not with\" name what the bus needs");
        QStringList titles;
        for (const auto& [tag, title] : m_rubric.equipment)
            if (std::find(m_equipment.begin(), m_equipment.end(), tag) != m_equipment.end())
                titles << utf8(title);
        return BlankText::tr("for a bus with: %1").arg(titles.join(QStringLiteral(", ")));
    }

    void endPage() {
        PageDrawing& page = m_pages.back();
        page.paragraph(m_frame.left, m_bottom + 0.8, m_frame.width(), cautionText(), kRemarkType);
        m_ranges.emplace_back(m_firstOnPage, m_number);
    }

    /// Lines to write on, each with its name under it; `shares` of the width.
    double drawLines(PageDrawing& page, double top,
                     const std::vector<std::pair<QString, double>>& fields) const {
        constexpr double gap = 3.4;
        const double room = m_frame.width() - gap * static_cast<double>(fields.size() - 1);
        double all = 0;
        for (const auto& [name, share] : fields) all += share;
        const double y = top + 8.6;
        double x = m_frame.left;
        double bottom = y;
        for (const auto& [name, share] : fields) {
            const double width = room * share / all;
            page.line(x, y, x + width, y, kHeadLine);
            bottom = std::max(bottom, page.paragraph(x, y + 0.3, width, name, kRemarkType));
            x += width + gap;
        }
        return bottom;
    }

    double drawFields(PageDrawing& page, double top) const {
        top = drawLines(page, top,
                        {{BlankText::tr("trainee"), 3.2},
                         {BlankText::tr("date"), 1.7},
                         {BlankText::tr("start"), 1.2},
                         {BlankText::tr("end"), 1.2},
                         {BlankText::tr("bus"), 1.5}});
        return drawLines(page, top - 1.4,
                         {{BlankText::tr("instructor"), 3.2}, {BlankText::tr("zones of this attempt"), 5.6}});
    }

    double drawShortFields(PageDrawing& page, double top) const {
        return drawLines(
            page, top - 2,
            {{BlankText::tr("trainee"), 3.2}, {BlankText::tr("date"), 1.7}, {BlankText::tr("bus"), 1.5}});
    }

    double drawLegend(PageDrawing& page, double top) const {
        return drawFacts(
            page, m_frame.left, top + 0.6, m_frame.width(),
            {BlankText::tr("nr: order done"), BlankText::tr("square: shown"),
             BlankText::tr("circles: points said"), BlankText::tr("bold: must-pass"),
             BlankText::tr("O left out"), BlankText::tr("U not observed"), BlankText::tr("R not reached"),
             BlankText::tr("P helped"), BlankText::tr("X wrong"), BlankText::tr("F real defect called out")});
    }

    [[nodiscard]] double columnX() const { return m_frame.left + m_column * (m_columnWidth + kColumnGap); }

    void beginColumn() {
        m_y = m_top;
        m_columnHeadDue = true;
    }

    /// Names of the places, over the current column, where steps stand in it.
    void drawColumnHead() {
        if (!m_columnHeadDue) return;
        m_columnHeadDue = false;
        const Places places{m_columnWidth};
        const double x = columnX();
        const double yc = m_y + lineHeight(kRemarkType) / 2;
        PageDrawing& page = m_pages.back();
        page.textMiddle(x, yc, BlankText::tr("nr"), kRemarkType);
        page.textMiddle(x + places.title, yc, BlankText::tr("step"), kRemarkType);
        page.textMiddleRight(x + places.square + kSquare + 0.4, yc, BlankText::tr("sh."), kRemarkType);
        page.textMiddle(x + places.circles + 0.6, yc, BlankText::tr("said"), kRemarkType);
        page.textMiddleRight(x + m_columnWidth, yc, BlankText::tr("letter"), kRemarkType);
        m_y += lineHeight(kRemarkType) + 0.4;
    }

    /// The next column, on the next page where there is none.
    void advance() {
        if (m_column == 0) {
            m_column = 1;
            beginColumn();
            return;
        }
        endPage();
        newPage();
    }

    void drawBar(const QString& title, const QString& remark) {
        drawColumnHead();
        PageDrawing& page = m_pages.back();
        const double x = columnX();
        constexpr TextStyle white{10.5, true, true};
        constexpr TextStyle small{9, false, true};
        const double remarkWidth = textWidth(remark, small);
        const QStringList lines = wrapped(title, m_columnWidth - remarkWidth - 5, white);
        const double height =
            std::max<double>(kZoneBar, lineHeight(white) * static_cast<double>(lines.size()) + 0.6);
        page.fill(QRectF(x, m_y, m_columnWidth, height));
        double y = m_y + kZoneBar / 2;
        for (const QString& line : lines) {
            page.textMiddle(x + 1.2, y, line, white);
            y += lineHeight(white);
        }
        page.textMiddleRight(x + m_columnWidth - 1.2, m_y + kZoneBar / 2, remark, small);
        m_y += height;
    }

    void layZone(const core::Zone& zone) {
        std::vector<const core::Step*> steps;
        for (const core::Step& step : zone.steps)
            if (m_equipment.empty() || core::appliesTo(step, m_equipment)) steps.push_back(&step);
        if (steps.empty()) return;
        std::vector<Row> rows;
        for (const core::Step* step : steps)
            rows.push_back(stepRow(m_rubric, *step, m_number + static_cast<int>(rows.size()) + 1,
                                   m_equipment.empty(), m_columnWidth));
        // A head does not stand alone at the foot of a column.
        const double least = (m_columnHeadDue ? lineHeight(kRemarkType) : 0) + kZoneBar + rows[0].height +
                             (rows.size() > 1 ? rows[1].height : 0);
        if (m_y + least > m_bottom) advance();
        drawBar(utf8(zone.title), BlankText::tr("steps: %1").arg(steps.size()));
        for (std::size_t i = 0; i < rows.size(); ++i) {
            if (m_y + rows[i].height > m_bottom) {
                advance();
                drawBar(BlankText::tr("%1, continued").arg(utf8(zone.title)), {});
            }
            m_pages.back().append(rows[i].drawing, columnX(), m_y);
            m_y += rows[i].height;
            ++m_number;
            noteCaution(steps[i]->caution);
        }
        m_y += 0.8;
    }

    /// The same words for several steps stand once.
    void noteCaution(const std::string& caution) {
        if (caution.empty()) return;
        const QString words = utf8(caution);
        const QString number = QString::number(m_number);
        const auto known = std::find_if(m_cautions.begin(), m_cautions.end(),
                                        [&](const auto& entry) { return entry.second == words; });
        if (known == m_cautions.end())
            m_cautions.emplace_back(number, words);
        else
            known->first += QStringLiteral(", ") + number;
    }

    void layCautions() {
        if (m_cautions.empty()) return;
        bool headed = false;
        for (const auto& [number, words] : m_cautions) {
            const QString line = BlankText::tr("Step %1: %2").arg(number, words);
            PageDrawing scratch;
            const double height = scratch.paragraph(0, 0, m_columnWidth, line, kRemarkType) + 0.4;
            const double head = headed ? 0 : 8;
            if (m_y + height + head > m_bottom) {
                advance();
                headed = false;
            }
            if (!headed)
                m_y =
                    drawHead(m_pages.back(), columnX(), m_y + 1.6, m_columnWidth, BlankText::tr("Cautions"));
            headed = true;
            m_y = m_pages.back().paragraph(columnX(), m_y, m_columnWidth, line, kRemarkType) + 0.4;
        }
    }

    void layNotes() {
        if (m_y + 2 + kNotes > m_bottom) advance();
        const QRectF box(columnX(), m_y + 2, m_columnWidth, m_bottom - m_y - 2.4);
        m_pages.back().box(box, kHeadLine);
        m_pages.back().paragraph(box.left() + 1.4, box.top() + 0.8, box.width() - 2.8,
                                 BlankText::tr("Notes: step number first"), kRemarkType);
    }

    const core::Rubric& m_rubric;
    const std::vector<std::string>& m_equipment;
    Paper m_paper;
    Frame m_frame;
    Foot m_foot;
    std::vector<PageDrawing> m_pages;
    std::vector<std::pair<int, int>> m_ranges;            ///< first and last step of each page
    std::vector<std::pair<QString, QString>> m_cautions;  ///< step numbers, words
    double m_columnWidth = 0;
    double m_cautionHeight = 0;
    double m_bottom = 0;
    double m_top = 0;
    double m_y = 0;
    int m_column = 0;
    bool m_columnHeadDue = true;
    int m_number = 0;
    int m_firstOnPage = 1;
};

}  // namespace

Sheet blankSheet(const core::Rubric& rubric, const std::vector<std::string>& equipment, Paper paper,
                 const QString& version, const QDateTime& printed) {
    return BlankSheet(rubric, equipment, paper, version, printed).lay();
}

}  // namespace markerlamp::forms
