// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The study sheet: left what to touch, right what to say; folding on the dashed line hides the answers.

#include "forms/sheets/frame.h"
#include "forms/sheets/sheets.h"
#include "forms/sheets/wording.h"

#include <QCoreApplication>

#include <algorithm>
#include <map>

namespace markerlamp::forms {

namespace {

struct StudyText {
    Q_DECLARE_TR_FUNCTIONS(markerlamp::forms::StudyText)
};

constexpr double kFold = 85.3;  ///< from the left page edge
constexpr double kRow = 8;
constexpr double kBar = 6;
constexpr double kTickGap = 1.1;
constexpr double kTicks = 3 * kTick + 2 * kTickGap;

QString utf8(const std::string& text) {
    return QString::fromStdString(text);
}

/// One row: what stands left and right of the fold, in order, each piece with its style.
struct Side {
    std::vector<std::pair<QString, TextStyle>> pieces;

    void add(const QString& text, const TextStyle& style) {
        if (!text.isEmpty()) pieces.emplace_back(text, style);
    }
    [[nodiscard]] double draw(PageDrawing& page, double x, double top, double width) const {
        for (const auto& [text, style] : pieces) top = page.paragraph(x, top, width, text, style);
        return top;
    }
};

/// A number of the trade as the trainee must know it.
struct Number {
    QStringList steps;
    QString quantity;  ///< what is read; empty for a number that is only said
    QString bounds;
    QString words;  ///< the point that carries the number
    QString source;
    bool missed = false;
};

class StudySheet {
public:
    StudySheet(const core::Rubric& rubric, const std::string& zoneId, const std::vector<std::string>& missed,
               Paper paper, const QString& version, const QDateTime& printed)
        : m_rubric(rubric), m_missed(missed), m_paper(paper), m_frame(frameOf(paper)) {
        for (const core::Zone& zone : rubric.zones)
            if (zoneId.empty() || zone.id == zoneId) m_zones.push_back(&zone);
        m_foot.version = version;
        m_foot.printed = printed;
        m_foot.lines << disclaimerText();
        PageDrawing scratch;
        const double caution = scratch.paragraph(0, 0, m_frame.width(), cautionText(), kRemarkType);
        // Room for the word "fold" and the triangle's meaning, then the caution.
        m_bottom = m_frame.bottom - footHeight(m_frame, m_foot) - caution - lineHeight(kRemarkType) - 2.4;
    }

    Sheet lay() {
        newPage();
        for (const core::Zone* zone : m_zones) layZone(*zone);
        layNumbers();
        endPage();
        drawFoots(m_pages, m_frame, m_foot);
        return {m_paper, StudyText::tr("Study sheet, %1").arg(subject()), std::move(m_pages)};
    }

private:
    [[nodiscard]] QString subject() const {
        return m_zones.size() == 1 ? utf8(m_zones.front()->title) : StudyText::tr("all zones");
    }
    [[nodiscard]] bool isMissed(const std::string& step) const {
        return std::find(m_missed.begin(), m_missed.end(), step) != m_missed.end();
    }
    [[nodiscard]] double answers() const { return kFold + 3.2; }
    [[nodiscard]] double answersWidth() const { return m_frame.right - kTicks - 2.6 - answers(); }

    void newPage() {
        m_pages.emplace_back();
        PageDrawing& page = m_pages.back();
        const bool first = m_pages.size() == 1;
        double top = drawTitle(page, m_frame,
                               first ? StudyText::tr("Study sheet") : StudyText::tr("Study sheet, continued"),
                               subject(), true);
        top = drawFacts(page, m_frame.left, top, m_frame.width(),
                        {StudyText::tr("%1, edition %2").arg(utf8(m_rubric.title)).arg(m_rubric.edition)});
        if (first) {
            top = page.paragraph(
                m_frame.left, top + 1, m_frame.width(),
                StudyText::tr("Fold on the dashed line. Touch or point, say all of it aloud, then look."),
                kBoldType);
            top = page.paragraph(
                m_frame.left, top, m_frame.width(),
                StudyText::tr("Tick a box each time nothing was missed. Aim for three ticks on three days."),
                kBodyType);
        }
        m_foldTop = top + 1;
        const QString ticks = StudyText::tr("without a miss");
        double below = page.paragraph(m_frame.left, top + 1.2, kFold - 2 - m_frame.left,
                                      StudyText::tr("Touch and name"), kBoldType);
        page.paragraph(answers(), top + 1.2, m_frame.right - answers() - textWidth(ticks, kRemarkType) - 2,
                       StudyText::tr("Say"), kBoldType);
        page.textRight(m_frame.right, top + 1.2 + (lineHeight(kBoldType) + capHeight(kBoldType)) / 2, ticks,
                       kRemarkType);
        below += 0.4;
        page.line(m_frame.left, below, m_frame.right, below, kHeadLine);
        m_y = below + 1.2;
        m_empty = true;
    }

    void endPage() {
        PageDrawing& page = m_pages.back();
        page.dashedLine(kFold, m_foldTop, kFold, m_y, 2, 1.4, kHeadLine);
        const QString fold = StudyText::tr("fold");
        const double yc = m_y + 0.8 + lineHeight(kRemarkType) / 2;
        page.textMiddle(kFold - textWidth(fold, kRemarkType) / 2, yc, fold, kRemarkType);
        if (!m_missed.empty()) {
            drawTriangle(page, m_frame.left, yc);
            page.textMiddle(m_frame.left + 4, yc, StudyText::tr("missed last time"), kRemarkType);
        }
        page.paragraph(m_frame.left, m_bottom + lineHeight(kRemarkType) + 1.2, m_frame.width(), cautionText(),
                       kRemarkType);
    }

    static void drawTriangle(PageDrawing& page, double x, double yc) {
        QPainterPath triangle;
        triangle.moveTo(x, yc - 1.4);
        triangle.lineTo(x + 2, yc);
        triangle.lineTo(x, yc + 1.4);
        triangle.closeSubpath();
        page.fill(triangle);
    }

    void drawBar(const QString& title, const QString& remark) {
        constexpr TextStyle white{10.5, true, true};
        constexpr TextStyle small{9, false, true};
        PageDrawing& page = m_pages.back();
        const double remarkWidth = textWidth(remark, small);
        const QStringList lines = wrapped(title, m_frame.width() - remarkWidth - 8, white);
        const double height =
            std::max<double>(kBar, lineHeight(white) * static_cast<double>(lines.size()) + 1);
        page.fill(QRectF(m_frame.left, m_y, m_frame.width(), height));
        double y = m_y + kBar / 2;
        for (const QString& line : lines) {
            page.textMiddle(m_frame.left + 1.6, y, line, white);
            y += lineHeight(white);
        }
        page.textMiddleRight(m_frame.right - 1.6, m_y + kBar / 2, remark, small);
        m_y += height;
        m_empty = false;
    }

    struct Drawn {
        PageDrawing drawing;
        double height = 0;
    };

    /// x of the drawing is that of the page, y begins at 0.
    [[nodiscard]] Drawn row(const Side& left, const Side& right, bool missed) const {
        constexpr double indent = 4;
        constexpr double pad = 1.3;
        Drawn row;
        const double leftEnd =
            left.draw(row.drawing, m_frame.left + indent, pad, kFold - 2.4 - m_frame.left - indent);
        const double rightEnd = right.draw(row.drawing, answers(), pad, answersWidth());
        row.height = std::max({kRow, leftEnd + pad, rightEnd + pad});
        const double yc = pad + lineHeight(kBodyType) / 2;
        if (missed) drawTriangle(row.drawing, m_frame.left, yc);
        for (int i = 0; i < 3; ++i)
            row.drawing.box(
                QRectF(m_frame.right - kTicks + i * (kTick + kTickGap), yc - kTick / 2, kTick, kTick),
                kHeadLine);
        row.drawing.line(m_frame.left, row.height, m_frame.right, row.height, kThinLine);
        return row;
    }

    [[nodiscard]] Drawn stepRow(const core::Step& step) const {
        Side left;
        Side right;
        const bool missed = isMissed(step.id);
        left.add(utf8(step.title), missed ? kBoldType : kBodyType);
        left.add(utf8(step.show), kRemarkType);
        QStringList remarks;
        if (step.mustPass) remarks << StudyText::tr("must-pass");
        const QString condition = conditionText(m_rubric, step);
        if (!condition.isEmpty()) remarks << condition;
        left.add(remarks.join(QStringLiteral("; ")), kRemarkBold);
        QStringList points;
        for (const core::Point& point : step.say) points << utf8(point.text);
        right.add(
            points.isEmpty() ? StudyText::tr("nothing to say: show it") : points.join(QStringLiteral("; ")),
            kBodyType);
        if (step.sayNeeded < static_cast<int>(step.say.size()))
            right.add(StudyText::tr("%1 of these %2 are enough").arg(step.sayNeeded).arg(step.say.size()),
                      kRemarkType);
        if (!step.caution.empty())
            right.add(StudyText::tr("Caution: %1").arg(utf8(step.caution)), kRemarkBold);
        return row(left, right, missed);
    }

    /// Room for `height`, on a new page where there is none; true when a page was begun.
    bool makeRoom(double height) {
        if (m_y + height <= m_bottom || m_empty) return false;
        endPage();
        newPage();
        return true;
    }

    void layZone(const core::Zone& zone) {
        for (std::size_t i = 0; i < zone.steps.size(); ++i) {
            const Drawn drawn = stepRow(zone.steps[i]);
            const bool begun = makeRoom(drawn.height + (i == 0 ? kBar : 0));
            if (i == 0)
                drawBar(utf8(zone.title), StudyText::tr("steps: %1").arg(zone.steps.size()));
            else if (begun)
                drawBar(StudyText::tr("%1, continued").arg(utf8(zone.title)), {});
            put(drawn);
        }
        m_y += 2;
    }

    void put(const Drawn& drawn) {
        m_pages.back().append(drawn.drawing, 0, m_y);
        m_y += drawn.height;
    }

    [[nodiscard]] std::vector<Number> numbers() const {
        std::vector<Number> all;
        std::map<std::string, std::size_t> known;  // by limit
        const auto take = [&](const core::Step& step, const core::Limit& limit, const QString& quantity,
                              const QString& words) {
            const QString title = utf8(step.title);
            const auto found = limit.id.empty() ? known.end() : known.find(limit.id);
            if (found != known.end()) {
                Number& number = all[found->second];
                if (!number.steps.contains(title)) number.steps << title;
                if (number.words.isEmpty()) number.words = words;
                number.missed = number.missed || isMissed(step.id);
                return;
            }
            if (!limit.id.empty()) known[limit.id] = all.size();
            all.push_back(
                {{title}, quantity, limitText(limit), words, utf8(limit.source), isMissed(step.id)});
        };
        for (const core::Zone* zone : m_zones)
            for (const core::Step& step : zone->steps) {
                if (step.reading) {
                    const core::ReadingRule& rule = *step.reading;
                    const QString quantity = StudyText::tr("reading: %1").arg(utf8(rule.quantity));
                    if (const core::Limit* limit = m_rubric.limit(rule.limit))
                        take(step, *limit, quantity, {});
                    else if (rule.low || rule.high)
                        take(step, {{}, rule.low, rule.high, rule.unit, rule.exclusive, rule.source},
                             quantity, {});
                }
                for (const core::Point& point : step.say) {
                    if (!point.number) continue;
                    const core::PointNumber& number = *point.number;
                    const QString words = QStringLiteral("\u201c%1\u201d").arg(utf8(point.text));
                    if (const core::Limit* limit = m_rubric.limit(number.limit))
                        take(step, *limit, {}, words);
                    else if (number.low || number.high)
                        take(step, {{}, number.low, number.high, number.unit, false, step.source}, {}, words);
                }
            }
        return all;
    }

    void layNumbers() {
        const std::vector<Number> all = numbers();
        const QString remark =
            StudyText::tr("limits of edition %1; your bus may differ").arg(m_rubric.edition);
        for (std::size_t i = 0; i < all.size(); ++i) {
            Side left;
            Side right;
            left.add(all[i].steps.join(QStringLiteral("; ")), all[i].missed ? kBoldType : kBodyType);
            left.add(all[i].quantity, kRemarkType);
            right.add(all[i].bounds, kBodyType);
            right.add(all[i].words, kRemarkType);
            right.add(StudyText::tr("Source: %1").arg(all[i].source), kRemarkType);
            const Drawn drawn = row(left, right, all[i].missed);
            const bool begun = makeRoom(drawn.height + (i == 0 ? kBar : 0));
            if (i == 0)
                drawBar(StudyText::tr("Numbers to know"), remark);
            else if (begun)
                drawBar(StudyText::tr("Numbers to know, continued"), {});
            put(drawn);
        }
    }

    const core::Rubric& m_rubric;
    const std::vector<std::string>& m_missed;
    Paper m_paper;
    Frame m_frame;
    Foot m_foot;
    std::vector<const core::Zone*> m_zones;
    std::vector<PageDrawing> m_pages;
    double m_bottom = 0;
    double m_foldTop = 0;
    double m_y = 0;
    bool m_empty = true;
};

}  // namespace

Sheet studySheet(const core::Rubric& rubric, const std::string& zoneId,
                 const std::vector<std::string>& missed, Paper paper, const QString& version,
                 const QDateTime& printed) {
    return StudySheet(rubric, zoneId, missed, paper, version, printed).lay();
}

}  // namespace markerlamp::forms
