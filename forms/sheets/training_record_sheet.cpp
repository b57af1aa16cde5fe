// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The training record on paper: facts in two columns, the log of hours, what is missing, a signature.

#include "forms/sheets/training_record_sheet.h"

#include "forms/sheets/frame.h"
#include "forms/sheets/wording.h"

#include <QCoreApplication>
#include <QLocale>

#include <algorithm>
#include <array>

namespace markerlamp::forms {

namespace {

struct RecordText {
    Q_DECLARE_TR_FUNCTIONS(RecordText)
};

using Pairs = std::vector<std::pair<QString, QString>>;

constexpr double kGap = 3.2;        ///< between blocks
constexpr double kLabel = 74;       ///< width of what a fact is
constexpr double kPad = 0.7;        ///< above and below a row of the log
constexpr double kClear = 10.3;     ///< above a signature, 0.4 in
constexpr double kSignature = 105;  ///< length of its line

QString utf8(const std::string& text) {
    return QString::fromStdString(text);
}

QString dateText(const std::string& iso) {
    const QDate date = QDate::fromString(utf8(iso), Qt::ISODate);
    return date.isValid() ? QLocale().toString(date, QStringLiteral("d MMM yyyy")) : QString();
}

class RecordSheet {
public:
    explicit RecordSheet(const TrainingRecordInput& input)
        : m_input(input), m_record(input.record), m_frame(frameOf(input.paper)) {
        m_foot.version = input.version;
        m_foot.printed = input.printed;
        m_foot.lines << reportElsewhereText() << disclaimerText();
        m_bottom = m_frame.bottom - footHeight(m_frame, m_foot) - 2;
    }

    Sheet lay() {
        newPage();
        layFacts(RecordText::tr("Trainee and provider"), traineeFacts());
        layFacts(RecordText::tr("Completed"), completedFacts());
        layFacts(RecordText::tr("Report to the registry"), reportFacts());
        layMissing();
        layResults();
        laySignature();
        layHours();
        drawFoots(m_pages, m_frame, m_foot);
        return {m_input.paper, RecordText::tr("Training record, %1").arg(name()), std::move(m_pages)};
    }

private:
    [[nodiscard]] QString name() const {
        const core::Trainee& trainee = m_record.person.trainee;
        return utf8(trainee.name.empty() ? trainee.key : trainee.name);
    }
    [[nodiscard]] QString orMissing(const QString& text) const {
        return text.isEmpty() ? RecordText::tr("not on file") : text;
    }
    [[nodiscard]] QString instructor(const std::string& key) const {
        const auto found = m_input.instructors.find(key);
        return found == m_input.instructors.end() || found->second.isEmpty() ? utf8(key) : found->second;
    }

    void newPage() {
        m_pages.emplace_back();
        const bool first = m_pages.size() == 1;
        PageDrawing& page = m_pages.back();
        m_y = drawTitle(
            page, m_frame,
            first ? RecordText::tr("Training record") : RecordText::tr("Training record, continued"), name(),
            true);
        m_y = drawFacts(
                  page, m_frame.left, m_y, m_frame.width(),
                  {m_input.programTitle, RecordText::tr("key %1").arg(utf8(m_record.person.trainee.key))}) +
              kGap;
    }

    /// Room for so much, on a new page where there is none; true when one was begun.
    bool makeRoom(double height) {
        if (m_y + height <= m_bottom) return false;
        newPage();
        return true;
    }

    void put(const PageDrawing& drawing, double height) {
        m_pages.back().append(drawing, m_frame.left, m_y);
        m_y += height;
    }

    [[nodiscard]] static std::pair<PageDrawing, double> drawHeadOf(double width, const QString& title,
                                                                   const QString& remark = {}) {
        std::pair<PageDrawing, double> head;
        head.second = drawHead(head.first, 0, 0, width, title, remark) + 0.4;
        return head;
    }

    /// One fact: what it is, and its value, which may wrap.
    [[nodiscard]] std::pair<PageDrawing, double> factRow(const QString& label, const QString& value) const {
        std::pair<PageDrawing, double> row;
        const double a = row.first.paragraph(0, 0, kLabel - 4, label, kBodyType);
        const double b = row.first.paragraph(kLabel, 0, m_frame.width() - kLabel, value, kBoldType);
        row.second = std::max(a, b) + 0.5;
        return row;
    }

    void layFacts(const QString& title, const Pairs& facts) {
        if (facts.empty()) return;
        const auto [head, headHeight] = drawHeadOf(m_frame.width(), title);
        for (std::size_t i = 0; i < facts.size(); ++i) {
            const auto [row, height] = factRow(facts[i].first, facts[i].second);
            makeRoom(height + (i == 0 ? headHeight : 0));
            if (i == 0) put(head, headHeight);
            put(row, height);
        }
        m_y += kGap;
    }

    [[nodiscard]] Pairs traineeFacts() const {
        const core::Licence& licence = m_record.person.licence;
        return {
            {RecordText::tr("Trainee"), name()},
            {recordItemText(core::RecordItem::LicenceNumber), orMissing(utf8(licence.number))},
            {recordItemText(core::RecordItem::LicenceState), orMissing(utf8(licence.state))},
            {RecordText::tr("Class and endorsements"),
             orMissing(
                 (utf8(m_record.licenceClass) + QLatin1Char(' ') + utf8(m_record.endorsements)).trimmed())},
            {RecordText::tr("Kind of training"), coversText(m_record.person.course.covers)},
            {RecordText::tr("Training provider"), orMissing(providerText())},
            {recordItemText(core::RecordItem::ProviderNumber), orMissing(utf8(m_record.providerNumber))}};
    }

    [[nodiscard]] QString providerText() const {
        QStringList parts{utf8(m_record.providerName), utf8(m_record.providerPlace)};
        parts.removeAll(QString());
        return parts.join(RecordText::tr(", "));
    }

    [[nodiscard]] Pairs completedFacts() const {
        const core::Course& course = m_record.person.course;
        const core::Trainee& trainee = m_record.person.trainee;
        Pairs facts;
        QString theory = dateText(trainee.theoryDate);
        if (trainee.theoryPercent && !theory.isEmpty())
            theory =
                RecordText::tr("%1, result %2 %").arg(theory, QLocale().toString(*trainee.theoryPercent));
        if (course.covers == core::Covers::Wheel)
            theory = (utf8(course.theoryProvider) + QLatin1Char(' ') + utf8(course.theoryProviderNumber))
                         .trimmed();
        facts.emplace_back(course.covers == core::Covers::Wheel ? RecordText::tr("Theory, from the provider")
                                                                : RecordText::tr("Theory"),
                           orMissing(theory));
        if (course.covers == core::Covers::Theory) return facts;
        facts.emplace_back(RecordText::tr("Range"), orMissing(dateText(course.rangeDone)));
        facts.emplace_back(RecordText::tr("Public road"), orMissing(dateText(course.roadDone)));
        facts.emplace_back(RecordText::tr("Clock hours behind the wheel"), hoursFact());
        QString proficient = dateText(course.proficientOn);
        if (!proficient.isEmpty() && !course.proficientBy.empty())
            proficient = RecordText::tr("%1, by %2").arg(proficient, instructor(course.proficientBy));
        facts.emplace_back(RecordText::tr("Proficient in every element"), orMissing(proficient));
        return facts;
    }

    [[nodiscard]] QString hoursFact() const {
        const core::HoursSum& sum = m_record.hours;
        return RecordText::tr("%1 hours (range %2, public road %3)")
            .arg(utf8(core::hoursText(sum.behindTheWheel())), utf8(core::hoursText(sum.range)),
                 utf8(core::hoursText(sum.road)));
    }

    [[nodiscard]] Pairs reportFacts() const {
        Pairs facts;
        for (const core::ReportDue& report : m_record.reports) {
            const QString what = report.part == core::ReportDue::Part::Theory
                                     ? coversText(core::Covers::Theory)
                                     : coversText(core::Covers::Wheel);
            QString when = RecordText::tr("due once completed");
            if (!report.sent.empty())
                when = RecordText::tr("sent %1").arg(dateText(report.sent));
            else if (!report.due.empty())
                when = RecordText::tr("due by the end of %1").arg(dateText(report.due));
            facts.emplace_back(what.left(1).toUpper() + what.mid(1), when);
        }
        return facts;
    }

    void layMissing() {
        const std::vector<core::RecordItem> missing = m_record.missing();
        const auto [head, headHeight] =
            drawHeadOf(m_frame.width(), RecordText::tr("Still missing"),
                       missing.empty() ? QString() : RecordText::tr("tick when it is on file"));
        makeRoom(headHeight + 2 * kTick);
        put(head, headHeight);
        if (missing.empty()) {
            m_y = m_pages.back().paragraph(m_frame.left, m_y, m_frame.width(),
                                           RecordText::tr("Nothing of what this record asks about."),
                                           kBodyType);
        }
        for (const core::RecordItem item : missing) {
            PageDrawing row;
            row.box(QRectF(0, 0.3, kTick, kTick), kHeadLine);
            const double height =
                std::max(kTick + 0.9, row.paragraph(kTick + 2.4, 0, m_frame.width() - kTick - 2.4,
                                                    recordItemText(item), kBodyType) +
                                          0.3);
            makeRoom(height);
            put(row, height);
        }
        m_y += kGap;
    }

    /// x of the columns of the log, from the left edge.
    [[nodiscard]] std::array<double, 5> columns() const {
        const double width = m_frame.width();
        return {0, 26, 74, 92, width};
    }

    [[nodiscard]] std::pair<PageDrawing, double> logRow(const std::array<QString, 4>& cells,
                                                        const TextStyle& style) const {
        const std::array<double, 5> x = columns();
        std::pair<PageDrawing, double> row;
        double bottom = 0;
        for (std::size_t i = 0; i < cells.size(); ++i) {
            const double width = x[i + 1] - x[i] - 3;
            if (i == 2)  // hours stand right
                row.first.textRight(x[i] + width, kPad + (lineHeight(style) + capHeight(style)) / 2, cells[i],
                                    style);
            else
                bottom = std::max(bottom, row.first.paragraph(x[i], kPad, width, cells[i], style));
        }
        row.second = std::max(bottom, kPad + lineHeight(style)) + kPad;
        row.first.line(0, row.second, m_frame.width(), row.second, kThinLine);
        return row;
    }

    void layHours() {
        const std::vector<core::ClockHours>& log = m_record.person.hours;
        if (log.empty()) return;
        const auto headRow = logRow({RecordText::tr("date"), RecordText::tr("where"), RecordText::tr("hours"),
                                     RecordText::tr("instructor and note")},
                                    kRemarkBold);
        const auto begin = [&](const QString& title) {
            const auto [head, height] =
                drawHeadOf(m_frame.width(), title, RecordText::tr("hours and minutes by the clock"));
            put(head, height);
            put(headRow.first, headRow.second);
        };
        bool first = true;
        for (const core::ClockHours& hours : log) {
            QString who = instructor(hours.instructor);
            if (!hours.note.empty()) who += RecordText::tr(": ") + utf8(hours.note);
            const auto [row, height] = logRow(
                {dateText(hours.date), hoursKindText(hours.kind), utf8(core::hoursText(hours.minutes)), who},
                kRemarkType);
            const double heads = 2 * lineHeight(kBoldType) + headRow.second;
            if (makeRoom(height + (first ? heads : 0)) || first)
                begin(first ? RecordText::tr("Clock hours") : RecordText::tr("Clock hours, continued"));
            first = false;
            put(row, height);
        }
        const auto [row, height] = logRow(sumCells(), kRemarkBold);
        if (makeRoom(height)) begin(RecordText::tr("Clock hours, continued"));
        put(row, height);
        m_y += kGap;
    }

    [[nodiscard]] std::array<QString, 4> sumCells() const {
        const core::HoursSum& sum = m_record.hours;
        QString parts = RecordText::tr("range %1, public road %2")
                            .arg(utf8(core::hoursText(sum.range)), utf8(core::hoursText(sum.road)));
        if (sum.other > 0)
            parts += RecordText::tr("; besides that %1 other time with the bus")
                         .arg(utf8(core::hoursText(sum.other)));
        return {RecordText::tr("sum"), RecordText::tr("behind the wheel"),
                utf8(core::hoursText(sum.behindTheWheel())), parts};
    }

    void layResults() {
        Pairs facts;
        for (const core::TestResult& result : m_record.person.results)
            facts.emplace_back(
                RecordText::tr("%1, %2").arg(dateText(result.date), segmentText(result.segment)),
                result.passed ? RecordText::tr("passed") : RecordText::tr("not passed"));
        layFacts(RecordText::tr("Official test"), facts);
    }

    void laySignature() {
        PageDrawing drawing;
        const double dateX = kSignature + 10.5;
        const double top = kClear;
        drawing.line(0, top, kSignature, top, kHeadLine);
        drawing.line(dateX, top, m_frame.width(), top, kHeadLine);
        drawing.paragraph(dateX, top + 0.4, m_frame.width() - dateX, RecordText::tr("date"), kRemarkType);
        const double height = drawing.paragraph(0, top + 0.4, kSignature,
                                                RecordText::tr("For the training provider"), kRemarkType);
        makeRoom(height);
        put(drawing, height);
        m_y += kGap;
    }

    const TrainingRecordInput& m_input;
    const core::TrainingRecord& m_record;
    Frame m_frame;
    Foot m_foot;
    std::vector<PageDrawing> m_pages;
    double m_bottom = 0;
    double m_y = 0;
};

}  // namespace

Sheet trainingRecordSheet(const TrainingRecordInput& input) {
    return RecordSheet(input).lay();
}

}  // namespace markerlamp::forms
