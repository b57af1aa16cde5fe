// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The progress sheet: the page a trainee takes home. The first page is set as roomily as twelve misses allow;
// what does not fit goes on further pages, never out.

#include "core/agreement/attempt_code.h"
#include "forms/sheets/frame.h"
#include "forms/sheets/progress_blocks.h"
#include "forms/sheets/readiness_blocks.h"
#include "forms/sheets/sheets.h"
#include "forms/sheets/wording.h"

#include <QCoreApplication>
#include <QLocale>

#include <algorithm>
#include <tuple>
#include <utility>
#include <vector>

namespace markerlamp::forms {

namespace {

struct ProgressText {
    Q_DECLARE_TR_FUNCTIONS(markerlamp::forms::ProgressText)
};

constexpr std::size_t kFirstPage = 12;  ///< misses on page 1
constexpr double kGap = 3;              ///< between blocks
constexpr double kColumnGap = 5.4;
constexpr double kLeftColumn = 80;
constexpr double kNotesPitch = 7.6;

QString utf8(const std::string& text) {
    return QString::fromStdString(text);
}

struct Area {
    double x = 0, top = 0, width = 0, bottom = 0;

    [[nodiscard]] double room() const { return bottom - top; }
};

/// Puts the block at the top of the area and takes its height away.
void put(PageDrawing& page, Area& area, const Block& block, double gap) {
    page.append(block.drawing, area.x, area.top);
    area.top += block.height + gap;
}

class ProgressSheet {
public:
    explicit ProgressSheet(const ProgressSheetInput& input)
        : m_input(input),
          m_scored(input.history.back()),
          m_frame(frameOf(input.paper)),
          m_misses(core::sayNextTime(input.history)),
          m_order(orderRemarks(m_scored)) {
        m_foot.printed = input.printed;
        m_foot.version = input.version;
        m_foot.lines << disclaimerText();
        if (!input.amendedBy.isEmpty() || !input.amendedAt.isEmpty())
            m_foot.lines << ProgressText::tr("Amended by %1, %2.")
                                .arg(input.amendedBy, dateTimeText(input.amendedAt.toStdString()));
    }

    Sheet lay() {
        firstPage();
        while (m_nextMiss < m_misses.size() || m_nextRemark < m_order.size() || m_zonesLeft || m_drillLeft)
            furtherPage();
        drawFoots(m_pages, m_frame, m_foot);
        return {m_input.paper,
                ProgressText::tr("Progress sheet, %1, %2")
                    .arg(name(), dateTimeText(m_scored.attempt.header.started)),
                std::move(m_pages)};
    }

private:
    [[nodiscard]] QString name() const {
        return utf8(m_input.trainee.name.empty() ? m_input.trainee.key : m_input.trainee.name);
    }

    [[nodiscard]] double bottom() const { return m_frame.bottom - footHeight(m_frame, m_foot); }

    double drawHeader(PageDrawing& page) const {
        const core::AttemptHeader& header = m_scored.attempt.header;
        double top = drawTitle(page, m_frame, ProgressText::tr("Progress sheet"), name(), true);
        QStringList facts;
        facts << ProgressText::tr("%1, %2 min")
                     .arg(dateTimeText(header.started),
                          QString::number(qRound64(m_scored.card.seconds / 60)));
        const QString unit = utf8(header.bus);
        facts << (m_input.busTitle.isEmpty() ? ProgressText::tr("Bus %1").arg(unit)
                  : !m_input.busTitle.contains(unit)
                      ? ProgressText::tr("Bus %1, %2").arg(unit, m_input.busTitle)
                      : m_input.busTitle);
        facts << ProgressText::tr("Instructor %1")
                     .arg(m_input.instructorName.isEmpty() ? utf8(header.instructor)
                                                           : m_input.instructorName);
        facts << ProgressText::tr("%1, edition %2")
                     .arg(utf8(m_scored.rubric->title))
                     .arg(m_scored.rubric->edition);
        if (header.zones.size() < m_scored.rubric->zones.size())
            facts << ProgressText::tr("%1 of %2 zones")
                         .arg(header.zones.size())
                         .arg(m_scored.rubric->zones.size());
        facts << ProgressText::tr("attempt %1, %2")
                     .arg(m_input.history.size())
                     .arg(utf8(core::attemptCode(header.id)));
        if (!m_input.programTitle.isEmpty()) facts << m_input.programTitle;
        return drawFacts(page, m_frame.left, top, m_frame.width(), facts) + 0.6;
    }

    double drawResult(PageDrawing& page, double top) const {
        const ResultWords words = resultWords(m_scored);
        const double x = m_frame.left;
        const double width = m_frame.width();
        top = page.paragraph(x, top, width, words.headline, kResultType);
        top = page.paragraph(x, top, width, words.why, kBodyType);
        top = page.paragraph(x, top, width, words.counts, kBodyType);
        const Block facts = mustPassBlock(m_scored, core::cleanMustPassInARow(m_input.history), width);
        if (facts.height > 0) {
            page.append(facts.drawing, x, top + 0.4);
            top += facts.height + 0.4;
        }
        return top + 1.6;
    }

    /// Signatures, readiness, cautions and the drill, from the foot upwards; returns their top.
    double drawBottom(PageDrawing& page, DrillDetail detail) const {
        const Block signatures = signatureBlock(m_frame.width());
        double y = bottom() - signatures.height - 1.2;
        page.append(signatures.drawing, m_frame.left, y);
        if (m_input.readiness) {
            const Block readiness = readinessBlock(*m_input.readiness, m_frame.width());
            y -= readiness.height + 1.4;
            page.append(readiness.drawing, m_frame.left, y);
        }
        PageDrawing caution;
        double height = caution.paragraph(0, 0, m_frame.width(), cautionText(), kRemarkType);
        if (m_input.drill && detail == DrillDetail::Column)
            height =
                caution.paragraph(0, height, m_frame.width(), drillCautions(*m_input.drill), kRemarkType);
        y -= height + 1;
        page.append(caution, m_frame.left, y);
        page.line(m_frame.left, y - 0.6, m_frame.right, y - 0.6, kHeadLine);
        y -= 1.4;
        if (m_input.drill && detail != DrillDetail::Elsewhere && detail != DrillDetail::Column) {
            const Block drill = drillBlock(*m_input.drill, m_frame.width(), detail);
            y -= drill.height + 0.6;
            page.append(drill.drawing, m_frame.left, y);
            y -= 1.6;
        }
        return y;
    }

    /// The key of the signs, and how many misses stand on further pages.
    [[nodiscard]] QString legend(std::size_t more) const {
        const QString key = signsKey(m_misses);
        return more > 0 ? key + QLatin1Char(' ') + ProgressText::tr("%1 more overleaf.").arg(more) : key;
    }

    /// How the first page's misses are set.
    struct Setting {
        Comfort comfort;
        bool flow = false;  ///< rows go on below the zones
        std::vector<Block> right, left;
        [[nodiscard]] std::size_t rows() const { return right.size() + left.size(); }
    };

    /// Where room is short, rows that go on in the other column do without a head; their numbers tell.
    static bool headed(const Comfort& comfort) { return comfort.title >= 10.5; }

    /// As many rows as fit with this comfort.
    Setting tryRows(const Comfort& comfort, bool flow, const Area& right, const Area& left, double headHeight,
                    std::size_t wanted) const {
        Setting setting{comfort, flow, {}, {}};
        double room = right.room() - headHeight;
        // The key of the signs stands under the last row.
        PageDrawing scratch;
        const double key = scratch.paragraph(0, 0, right.width, legend(99), kRemarkType) + 0.6;
        room -= key;
        double leftRoom = left.room() - (headed(comfort) ? headHeight : 0);
        for (std::size_t i = 0; i < wanted; ++i) {
            const int number = static_cast<int>(i) + 1;
            if (setting.left.empty()) {
                Block row = sayNextRow(m_scored, m_misses[i], number, right.width, comfort);
                if (row.height <= room) {
                    room -= row.height;
                    setting.right.push_back(std::move(row));
                    continue;
                }
            }
            if (!flow) break;
            Block row = sayNextRow(m_scored, m_misses[i], number, left.width, comfort);
            if (row.height > leftRoom) break;
            leftRoom -= row.height;
            setting.left.push_back(std::move(row));
        }
        return setting;
    }

    /// One way to lay the first page, and what it holds.
    struct FirstPage {
        ZoneLabels labels = ZoneLabels::Names;
        bool zones = false;
        std::size_t remarks = 0;
        std::size_t misses = 0;
        DrillDetail detail = DrillDetail::Full;
        bool drill = true;  ///< where it was to stand, it had room
        PageDrawing page;
    };

    /// The drill says less before anything of the attempt goes overleaf.
    [[nodiscard]] std::vector<DrillDetail> details() const {
        if (!m_input.drill) return {DrillDetail::Full};
        return {DrillDetail::Full, DrillDetail::Column, DrillDetail::Short, DrillDetail::Elsewhere};
    }

    /// The first page is tried with names on the plan and the order remarks with their reasons, then with
    /// less; the first way that holds everything stays, else the one that holds most.
    void firstPage() {
        const std::size_t wanted = std::min(kFirstPage, m_misses.size());
        const auto worth = [&](const FirstPage& one) {
            return std::tuple(one.drill, one.zones, one.remarks == m_order.size(), one.misses, one.remarks,
                              -static_cast<int>(one.detail));
        };
        FirstPage best;
        bool any = false;
        const ZoneLabels named = zoneLabels(*m_scored.rubric, kLeftColumn);
        for (const DrillDetail detail : details())
            for (const ZoneLabels labels : {named, ZoneLabels::Numbers})
                for (const bool reasons : {true, false}) {
                    if (!reasons && m_order.empty()) continue;
                    if (any && best.drill && best.zones && best.remarks == m_order.size() &&
                        best.misses == wanted)
                        continue;
                    FirstPage one = layFirst(labels, reasons, detail);
                    if (!any || worth(one) > worth(best)) best = std::move(one);
                    any = true;
                }
        m_drillLeft = m_input.drill && best.detail == DrillDetail::Elsewhere;
        m_labels = best.labels;
        m_zonesLeft = !best.zones;
        m_nextMiss = best.misses;
        m_nextRemark = best.remarks;
        m_pages.push_back(std::move(best.page));
    }

    FirstPage layFirst(ZoneLabels labels, bool reasons, DrillDetail detail) const {
        FirstPage first;
        first.labels = labels;
        first.detail = detail;
        PageDrawing& page = first.page;
        double top = drawHeader(page);
        top = drawResult(page, top);
        const double end = drawBottom(page, detail);
        const double rightX = m_frame.left + kLeftColumn + kColumnGap;
        Area left{m_frame.left, top, kLeftColumn, end};
        Area right{rightX, top, m_frame.right - rightX, end};

        put(page, left, planBlock(m_scored, left.width, labels), kGap);
        const Block zones = zonesBlock(m_input.history, left.width, labels);
        first.zones = zones.height <= left.room();
        if (first.zones) put(page, left, zones, kGap);
        first.remarks = drawOrder(page, left, reasons);
        first.misses = drawMisses(page, right, left);
        Area& free = left.room() > right.room() ? left : right;
        if (detail == DrillDetail::Column) first.drill = drawDrill(page, free);
        drawNotes(page, free);
        return first;
    }

    /// In the room that the notes would have; false where it does not fit.
    bool drawDrill(PageDrawing& page, Area& area) const {
        const Block drill = drillBlock(*m_input.drill, area.width, DrillDetail::Column);
        if (drill.height > area.room()) return false;
        put(page, area, drill, kGap);
        return true;
    }

    static QString withReason(const OrderRemark& remark) {
        return remark.why.isEmpty() ? ProgressText::tr("%1.").arg(remark.what)
                                    : ProgressText::tr("%1 (%2).").arg(remark.what, remark.why);
    }

    /// Remarks as far as they fit, each with its reason on a line of its own, or all in one small sentence;
    /// returns how many stand.
    std::size_t drawOrder(PageDrawing& page, Area& area, bool reasons) const {
        if (m_order.empty()) return 0;
        std::size_t count = 0;
        Block best;
        for (std::size_t tried = 1; tried <= m_order.size(); ++tried) {
            Block block;
            const std::size_t more = m_order.size() - tried;
            const QString overleaf = ProgressText::tr("%1 more overleaf.").arg(more);
            if (reasons) {
                block.height =
                    drawHead(block.drawing, 0, 0, area.width, ProgressText::tr("Order, next time"));
                for (std::size_t i = 0; i < tried; ++i)
                    block.height = block.drawing.paragraph(0, block.height, area.width,
                                                           withReason(m_order[i]), kBodyType) +
                                   0.6;
                if (more > 0)
                    block.height =
                        block.drawing.paragraph(0, block.height, area.width, overleaf, kRemarkType);
            } else {
                QStringList whats;
                for (std::size_t i = 0; i < tried; ++i) whats << m_order[i].what;
                QString words = ProgressText::tr("Order: %1.").arg(whats.join(QStringLiteral("; ")));
                if (more > 0) words += QLatin1Char(' ') + overleaf;
                block.height = block.drawing.paragraph(0, 0, area.width, words, kRemarkType);
            }
            if (block.height > area.room()) break;
            best = std::move(block);
            count = tried;
        }
        if (count > 0) put(page, area, best, kGap);
        return count;
    }

    /// Returns how many misses stand on the page.
    std::size_t drawMisses(PageDrawing& page, Area& right, Area& left) const {
        PageDrawing head;
        const double headHeight =
            drawHead(head, 0, 0, right.width, ProgressText::tr("Say next time"),
                     m_misses.empty() ? QString() : ProgressText::tr("tick when you can"));
        page.append(head, right.x, right.top);
        if (m_misses.empty()) {
            const QString words =
                m_scored.card.possible == 0
                    ? ProgressText::tr("Nothing was observed in this attempt.")
                    : ProgressText::tr("Nothing was missed. Keep the same words and the same order.");
            right.top =
                page.paragraph(right.x, right.top + headHeight + 0.7, right.width, words, kBodyType) + kGap;
            return 0;
        }
        const std::size_t wanted = std::min(kFirstPage, m_misses.size());
        // Roomiest first; "flow" lets rows go on below the zones.
        const std::vector<std::pair<Comfort, bool>> ladder{
            {{10.5, 10.5, true}, false}, {{10.5, 10.5, false}, false}, {{10.5, 9.5, false}, false},
            {{10.5, 10.5, false}, true}, {{10.5, 9.5, false}, true},   {{9.5, 9, false}, false},
            {{9.5, 9, false}, true},     {{9, 9, false}, true}};
        Setting best;
        for (const auto& [comfort, flow] : ladder) {
            Setting setting = tryRows(comfort, flow, right, left, headHeight, wanted);
            if (setting.rows() > best.rows()) best = std::move(setting);
            if (best.rows() == wanted) break;
        }
        right.top += headHeight;
        for (const Block& row : best.right) put(page, right, row, 0);
        right.top = page.paragraph(right.x, right.top + 0.6, right.width,
                                   legend(m_misses.size() - best.rows()), kRemarkType) +
                    kGap;
        if (best.left.empty()) return best.rows();
        if (headed(best.comfort))
            left.top =
                drawHead(page, left.x, left.top, left.width, ProgressText::tr("Say next time, continued"));
        else
            page.line(left.x, left.top, left.x + left.width, left.top, kHeadLine);
        for (const Block& row : best.left) put(page, left, row, 0);
        left.top += kGap;
        return best.rows();
    }

    void drawNotes(PageDrawing& page, Area area) const {
        PageDrawing head;
        const double headHeight = drawHead(head, 0, 0, area.width, ProgressText::tr("Notes"));
        const int lines = static_cast<int>((area.room() - headHeight - 2) / kNotesPitch);
        if (lines < 2) return;
        page.append(head, area.x, area.top);
        for (int i = 1; i <= lines; ++i) {
            const double y = area.top + headHeight + i * kNotesPitch;
            page.line(area.x, y, area.x + area.width, y, kThinLine);
        }
    }

    void furtherPage() {
        PageDrawing page;
        double top = drawTitle(page, m_frame, ProgressText::tr("Progress sheet, continued"), name(), true);
        top = drawFacts(page, m_frame.left, top, m_frame.width(),
                        {dateTimeText(m_scored.attempt.header.started),
                         ProgressText::tr("attempt %1, %2")
                             .arg(m_input.history.size())
                             .arg(utf8(core::attemptCode(m_scored.attempt.header.id)))}) +
              kGap;
        if (m_drillLeft) {
            Block drill;
            for (const DrillDetail detail : {DrillDetail::Full, DrillDetail::Small, DrillDetail::Short}) {
                drill = drillBlock(*m_input.drill, m_frame.width(), detail);
                if (drill.height <= bottom() - top) break;
            }
            page.append(drill.drawing, m_frame.left, top);
            top += drill.height + kGap;
            m_drillLeft = false;
        }
        const double width = (m_frame.width() - kColumnGap) / 2;
        Area columns[] = {{m_frame.left, top, width, bottom() - 2},
                          {m_frame.left + width + kColumnGap, top, width, bottom() - 2}};
        bool anything = false;
        const std::size_t before = m_nextMiss;
        for (Area& column : columns) {
            bool headed = false;
            while (m_nextMiss < m_misses.size()) {
                const Block row = sayNextRow(m_scored, m_misses[m_nextMiss], static_cast<int>(m_nextMiss) + 1,
                                             width, Comfort{});
                PageDrawing head;
                const double headHeight =
                    headed ? 0
                           : drawHead(head, 0, 0, width, ProgressText::tr("Say next time, continued"),
                                      ProgressText::tr("tick when you can"));
                if (row.height + headHeight > column.room() && anything) break;
                page.append(head, column.x, column.top);
                column.top += headHeight;
                headed = true;
                put(page, column, row, 0);
                anything = true;
                ++m_nextMiss;
            }
            if (m_nextMiss < m_misses.size()) continue;
            if (column.top > top) column.top += kGap;
            if (m_zonesLeft) {
                const Block zones = zonesBlock(m_input.history, width, m_labels);
                if (zones.height <= column.room() || !anything) {
                    put(page, column, zones, kGap);
                    m_zonesLeft = false;
                    anything = true;
                }
            }
            anything = drawOrderRest(page, column, anything) || anything;
        }
        if (before < m_nextMiss) {
            Area& last = columns[1].top > top ? columns[1] : columns[0];
            PageDrawing key;
            const double height = key.paragraph(0, 0, width, legend(0), kRemarkType);
            if (height <= last.room()) page.append(key, last.x, last.top);
        }
        m_pages.push_back(std::move(page));
    }

    bool drawOrderRest(PageDrawing& page, Area& column, bool anything) {
        bool drawn = false;
        for (; m_nextRemark < m_order.size(); ++m_nextRemark) {
            PageDrawing one;
            double height =
                drawn ? 0
                      : drawHead(one, 0, 0, column.width, ProgressText::tr("Order, next time, continued"));
            height =
                one.paragraph(0, height, column.width, withReason(m_order[m_nextRemark]), kBodyType) + 0.6;
            if (height > column.room() && (anything || drawn)) break;
            page.append(one, column.x, column.top);
            column.top += height;
            drawn = true;
        }
        return drawn;
    }

    const ProgressSheetInput& m_input;
    const core::ScoredAttempt& m_scored;
    Frame m_frame;
    std::vector<core::SayNext> m_misses;
    std::vector<OrderRemark> m_order;
    Foot m_foot;
    std::vector<PageDrawing> m_pages;
    std::size_t m_nextMiss = 0;
    std::size_t m_nextRemark = 0;
    bool m_zonesLeft = false;
    bool m_drillLeft = false;
    ZoneLabels m_labels = ZoneLabels::Names;
};

}  // namespace

Sheet progressSheet(const ProgressSheetInput& input) {
    if (!input.history.empty()) return ProgressSheet(input).lay();
    // Without an attempt there is nothing to report; callers check before, this page says it all the same.
    std::vector<PageDrawing> pages(1);
    const Frame frame = frameOf(input.paper);
    const double top =
        drawTitle(pages[0], frame, ProgressText::tr("Progress sheet"), utf8(input.trainee.name), true);
    pages[0].paragraph(frame.left, top + 2, frame.width(), ProgressText::tr("No attempt yet."), kBodyType);
    drawFoots(pages, frame, Foot{input.printed, input.version, {disclaimerText()}, {}});
    return {input.paper, ProgressText::tr("Progress sheet"), std::move(pages)};
}

}  // namespace markerlamp::forms
