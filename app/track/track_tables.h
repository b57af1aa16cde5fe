#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Forecasts against results in tables and words: what the track-record page shows, without a window.

#include "app/support/rows_model.h"
#include "app/support/table_view.h"
#include "core/readiness/track_record.h"

#include <QMetaType>

#include <functional>
#include <optional>
#include <vector>

namespace markerlamp::app {

/// What a forecast was held against, each judged on its own.
enum class TrackSource { OfficialTests, FullAttempts, Replayed };

struct TrackSources {
    core::TrackRecord tests;                    ///< frozen before an official test
    core::TrackRecord attempts;                 ///< frozen before an attempt over all zones
    std::optional<core::TrackRecord> replayed;  ///< absent until the past has been played again

    [[nodiscard]] const core::TrackRecord& record(TrackSource source) const;
    [[nodiscard]] bool empty() const;
};
[[nodiscard]] TrackSources sourcesOf(const core::TrackRecord& frozen,
                                     const std::optional<core::TrackRecord>& replayed);

/// Track of one result: a dot at the forecast, a square at what came, the miss as a line between.
struct MissDot {
    double forecast = 0;
    bool passed = false;
};

class MissDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;

protected:
    void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const override;
};

using NameOf = std::function<QString(const std::string& trainee)>;

[[nodiscard]] QString titleOf(TrackSource source);
/// Frozen against replayed, one row a source; the row's id is the source's number.
[[nodiscard]] std::vector<Column> sourceColumns();
[[nodiscard]] std::vector<Row> sourceRows(const TrackSources& sources);
/// Newest first.
[[nodiscard]] std::vector<Column> resultColumns();
[[nodiscard]] std::vector<Row> resultRows(const core::TrackRecord& record, const NameOf& nameOf);
[[nodiscard]] std::vector<Column> groupColumns();
[[nodiscard]] std::vector<Row> groupRows(const core::ForecastQuality& quality);

/// "0.150: ...; one chance for all would miss by 0.197. ..." Empty with too few results.
[[nodiscard]] QString missInWords(const core::TrackRecord& record);
/// "7 results, too few for groups." and how many more it takes; empty with enough.
[[nodiscard]] QString tooFewTitle(const core::TrackRecord& record);
[[nodiscard]] QString tooFewWords(const core::TrackRecord& record);
/// Description of the chart for who does not see it.
[[nodiscard]] QString chartInWords(const core::TrackRecord& record);
/// A mean squared miss with three decimals.
[[nodiscard]] QString missText(double miss);

}  // namespace markerlamp::app

Q_DECLARE_METATYPE(markerlamp::app::MissDot)
