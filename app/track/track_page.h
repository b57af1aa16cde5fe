#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Whether forecasts came true: those frozen before official tests and full attempts, and the past replayed.

#include "app/shell/page.h"
#include "app/support/rows_model.h"
#include "app/support/text_widgets.h"
#include "app/track/track_reader.h"
#include "app/track/track_tables.h"

#include <map>
#include <string>

class QStackedWidget;

namespace markerlamp::app {

class Panel;
class ReadingProgress;
class Session;
class TableView;
class TrackChart;

class TrackPage final : public Page {
    Q_OBJECT

public:
    TrackPage(const Theme& theme, Session& session, QWidget* parent = nullptr);
    ~TrackPage() override;

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;
    /// Whether the record is still being worked out.
    [[nodiscard]] bool isReading() const;

signals:
    void resultRequested(QString trainee);

private:
    QWidget* makeHead();
    QWidget* makeContent();
    QWidget* makeLeft();
    QWidget* makeRight();
    QWidget* makeNotice();
    void startReading();
    void take(const TrackReader::Reading& reading);
    void readingEnded(bool complete);
    void fill();
    void fillSource();
    void showDataTable();
    [[nodiscard]] QString nameOf(const std::string& trainee) const;
    [[nodiscard]] const core::TrackRecord& record() const { return m_sources.record(m_source); }

    const Theme& m_theme;
    Session& m_session;
    TrackReader* m_reader;
    TrackSources m_sources;
    TrackSource m_source = TrackSource::OfficialTests;
    std::map<std::string, QString> m_names;
    bool m_stale = true;
    bool m_failed = false;
    bool m_chosen = false;  ///< a person chose the source in front
    bool m_filling = false;
    Text* m_facts = nullptr;
    KeyButton *m_dataButton = nullptr, *m_recordButton = nullptr, *m_emptyButton = nullptr;
    ReadingProgress* m_progress;
    QStackedWidget* m_stack = nullptr;
    EmptyState* m_empty = nullptr;
    BlockHead* m_chartHead = nullptr;
    TrackChart* m_chart = nullptr;
    RowsModel* m_sourceRows = nullptr;
    TableView* m_sourceTable = nullptr;
    Text* m_miss = nullptr;
    BlockHead* m_resultsHead = nullptr;
    RowsModel* m_results = nullptr;
    TableView* m_resultsTable = nullptr;
    Panel* m_notice = nullptr;
    Text *m_noticeTitle = nullptr, *m_noticeWords = nullptr;
};

}  // namespace markerlamp::app
