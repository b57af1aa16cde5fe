// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/track/track_tables.h"

#include "app/support/display.h"
#include "app/support/sign_widgets.h"

#include <QCoreApplication>
#include <QPainter>

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

namespace {

struct TrackText {
    Q_DECLARE_TR_FUNCTIONS(TrackText)
};

constexpr TrackSource kSources[] = {TrackSource::OfficialTests, TrackSource::FullAttempts,
                                    TrackSource::Replayed};

QString inHundred(double chance) {
    return QString::number(std::lround(100 * chance));
}

QString resultOf(bool passed) {
    return passed ? TrackText::tr("passed") : TrackText::tr("not passed");
}

QDate dayOfResult(const core::TrackRow& row) {
    return isoDate(row.resultAt.substr(0, 10));
}

/// The year only where it is not that of the newest result.
Cell dayCell(const QDate& day, int newestYear) {
    Cell cell = sortedCell(day.year() == newestYear ? shortDate(day) : longDate(day), day);
    cell.tip = longDate(day);
    return cell;
}

QString rangeText(double from, double to) {
    return TrackText::tr("%1 to %2").arg(inHundred(from), inHundred(to));
}

Row sourceRow(const QString& id, const QString& title, const core::TrackRecord& record) {
    const core::ForecastQuality& quality = record.quality;
    Row row{
        id,
        {longCell(title), Cell{QString::number(quality.results)}, Cell{QString::number(quality.happened)}}};
    if (record.tooFew() || !quality.brier || !quality.baseBrier) {
        row.cells.push_back(mutedCell(TrackText::tr("too few")));
        row.cells.push_back({});
        return row;
    }
    row.cells.push_back(boldCell(missText(*quality.brier)));
    row.cells.push_back({missText(*quality.baseBrier)});
    return row;
}

}  // namespace

const core::TrackRecord& TrackSources::record(TrackSource source) const {
    static const core::TrackRecord none;
    switch (source) {
        case TrackSource::OfficialTests:
            return tests;
        case TrackSource::FullAttempts:
            return attempts;
        case TrackSource::Replayed:
            break;
    }
    return replayed ? *replayed : none;
}

bool TrackSources::empty() const {
    return std::ranges::all_of(kSources, [this](TrackSource source) { return record(source).rows.empty(); });
}

TrackSources sourcesOf(const core::TrackRecord& frozen, const std::optional<core::TrackRecord>& replayed) {
    std::vector<core::TrackRow> tests, attempts;
    for (const core::TrackRow& row : frozen.rows)
        (row.about == core::FrozenForecast::About::OfficialTest ? tests : attempts).push_back(row);
    return {core::trackRecordOf(std::move(tests)), core::trackRecordOf(std::move(attempts)), replayed};
}

QString titleOf(TrackSource source) {
    switch (source) {
        case TrackSource::OfficialTests:
            return TrackText::tr("frozen, official tests");
        case TrackSource::FullAttempts:
            return TrackText::tr("frozen, attempts over all zones");
        case TrackSource::Replayed:
            break;
    }
    return TrackText::tr("replayed, attempts over all zones");
}

QString missText(double miss) {
    return QString::number(miss, 'f', 3);
}

std::vector<Column> sourceColumns() {
    return {{TrackText::tr("forecast")},
            {TrackText::tr("results"), true},
            {TrackText::tr("passed"), true},
            {TrackText::tr("squared miss"), true},
            {TrackText::tr("same for all"), true}};
}

std::vector<Row> sourceRows(const TrackSources& sources) {
    std::vector<Row> rows;
    for (const TrackSource source : kSources) {
        const QString id = QString::number(static_cast<int>(source));
        if (source == TrackSource::Replayed && !sources.replayed)
            rows.push_back(
                {id, {longCell(titleOf(source)), {}, {}, mutedCell(TrackText::tr("not yet")), {}}});
        else
            rows.push_back(sourceRow(id, titleOf(source), sources.record(source)));
    }
    return rows;
}

std::vector<Column> resultColumns() {
    return {{TrackText::tr("date")},           {TrackText::tr("trainee")},
            {TrackText::tr("forecast"), true}, {TrackText::tr("0 to 100; line: miss")},
            {TrackText::tr("result")},         {TrackText::tr("frozen")}};
}

std::vector<Row> resultRows(const core::TrackRecord& record, const NameOf& nameOf) {
    std::vector<Row> rows;
    const int year = record.rows.empty() ? 0 : dayOfResult(record.rows.back()).year();
    for (auto row = record.rows.rbegin(); row != record.rows.rend(); ++row) {
        const QDate day = dayOfResult(*row);
        const QDate made = startedAt(row->at).date();
        const QString words =
            TrackText::tr("forecast %1 in 100, %2").arg(inHundred(row->chance), resultOf(row->passed));
        Cell forecast = sortedCell(inHundred(row->chance), row->chance);
        forecast.muted = row->tooLittle;
        if (row->tooLittle) forecast.tip = TrackText::tr("%1, from too little data").arg(forecast.text);
        rows.push_back(
            {qs(row->of),
             {dayCell(day, year), longCell(nameOf(row->trainee)), forecast,
              paintedCell(QVariant::fromValue(MissDot{row->chance, row->passed}), words),
              boldCell(resultOf(row->passed), !row->passed),
              row->source == core::TrackRow::Source::Frozen ? dayCell(made, year)
                                                            : mutedCell(TrackText::tr("replayed"))}});
    }
    return rows;
}

std::vector<Column> groupColumns() {
    return {{TrackText::tr("forecast, in 100")},   {TrackText::tr("mean forecast"), true},
            {TrackText::tr("results"), true},      {TrackText::tr("passed"), true},
            {TrackText::tr("share passed"), true}, {TrackText::tr("95 % interval")}};
}

std::vector<Row> groupRows(const core::ForecastQuality& quality) {
    std::vector<Row> rows;
    for (const core::ForecastGroup& group : quality.groups) {
        if (group.results == 0) continue;
        rows.push_back({QString::number(rows.size()),
                        {Cell{rangeText(group.from, group.to)}, Cell{inHundred(group.meanForecast)},
                         Cell{QString::number(group.results)}, Cell{QString::number(group.happened)},
                         Cell{inHundred(static_cast<double>(group.happened) / group.results)},
                         Cell{group.share ? rangeText(group.share->low, group.share->high) : QString()}}});
    }
    return rows;
}

QString missInWords(const core::TrackRecord& record) {
    const core::ForecastQuality& quality = record.quality;
    if (record.tooFew() || !quality.brier || !quality.baseBrier) return {};
    const QString base = inHundred(static_cast<double>(quality.happened) / quality.results);
    QString facts =
        TrackText::tr(
            "The forecasts miss by %1 (squared, on average). Saying %2 in 100 for everybody would "
            "miss by %3. 0 is perfect; smaller is better.")
            .arg(missText(*quality.brier), base, missText(*quality.baseBrier));
    if (!quality.skill) return facts;
    const QString verdict =
        *quality.skill > 0
            ? TrackText::tr("Over these %n result(s) they did better than one chance for all.", nullptr,
                            quality.results)
            : TrackText::tr("Over these %n result(s) they did no better than one chance for all.", nullptr,
                            quality.results);
    return facts + QLatin1Char(' ') + verdict;
}

QString tooFewTitle(const core::TrackRecord& record) {
    if (!record.tooFew()) return {};
    if (record.rows.empty()) return TrackText::tr("No result yet");
    return TrackText::tr("%n result(s), too few for groups", nullptr, record.quality.results);
}

QString tooFewWords(const core::TrackRecord& record) {
    if (!record.tooFew()) return {};
    return TrackText::tr(
               "Shares and the squared miss appear from %1 results on (%2 more). Until then every "
               "result is shown as it is.")
        .arg(core::kFewestForCalibration)
        .arg(core::kFewestForCalibration - record.quality.results);
}

QString chartInWords(const core::TrackRecord& record) {
    if (record.rows.empty()) return TrackText::tr("No result yet.");
    if (record.tooFew())
        return TrackText::tr("%1. %2 of %3 passed.")
            .arg(tooFewTitle(record))
            .arg(record.quality.happened)
            .arg(record.quality.results);
    QStringList parts;
    for (const core::ForecastGroup& group : record.quality.groups)
        if (group.results > 0)
            parts << TrackText::tr("forecast %1 in 100: %2 of %3 passed")
                         .arg(rangeText(group.from, group.to))
                         .arg(group.happened)
                         .arg(group.results);
    return parts.join(TrackText::tr("; ")) + QLatin1Char('.');
}

void MissDelegate::paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const {
    const QVariant payload = index.data(RowsModel::PayloadRole);
    if (!payload.canConvert<MissDot>()) return;
    const auto dot = payload.value<MissDot>();
    const forms::Roles& roles = theme().roles();
    const double side = theme().s(10), left = place.left() + side, right = place.right() - side;
    const auto x = [&](double share) { return std::round(left + share * (right - left)); };
    const double y = std::floor(place.center().y());
    painter.fillRect(QRectF(left, y - 1, right - left, 2), roles.hair);
    const double from = x(dot.forecast), to = x(dot.passed ? 1 : 0);
    painter.fillRect(QRectF(std::min(from, to), y - 1, std::abs(to - from), 2), roles.ink);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(Qt::NoPen);
    painter.setBrush(roles.ink);
    painter.drawEllipse(QPointF(from, y), theme().s(4), theme().s(4));
    painter.restore();
    // Over the dot: what came must be told apart even where the forecast hit it.
    const QRectF end(to - side / 2, y - side / 2, side, side);
    painter.fillRect(end, roles.ink);
    if (!dot.passed) painter.fillRect(end.adjusted(2, 2, -2, -2), roles.ground);
}

}  // namespace markerlamp::app
