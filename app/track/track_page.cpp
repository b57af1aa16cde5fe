// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/track/track_page.h"

#include "app/shell/session.h"
#include "app/support/clipboard.h"
#include "app/support/data_table_dialog.h"
#include "app/support/display.h"
#include "app/support/reading_progress.h"
#include "app/support/sign_widgets.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"
#include "app/track/track_chart.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QItemSelectionModel>
#include <QScrollArea>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace markerlamp::app {

TrackPage::TrackPage(const Theme& theme, Session& session, QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_session(session),
      m_reader(new TrackReader([this](const TrackReader::Reading& reading) { take(reading); }, this)),
      m_progress(new ReadingProgress(theme, *m_reader,
                                     {tr("How far the track record is worked out"),
                                      tr("Forecasting the past again from what was known then"),
                                      tr("Stopped before all of the past was forecast again.")})) {
    setAccessibleName(tr("Track record"));
    auto* content = new QWidget;
    auto* column = new QVBoxLayout(content);
    const int side = qRound(theme.s(16));
    column->setContentsMargins(side, qRound(theme.s(10)), side, qRound(theme.s(8)));
    column->setSpacing(qRound(theme.s(10)));
    column->addWidget(makeHead());
    column->addWidget(m_progress);
    m_stack = new QStackedWidget;
    m_empty = new EmptyState(
        theme, tr("No forecast has met its result yet"),
        tr("A forecast is frozen when an attempt over all zones starts. It is held against that attempt, and "
           "against the next official test once you record what the test said."));
    m_emptyButton = m_empty->setButton(tr("Record a result"), tr("Ctrl+Alt+R"));
    connect(m_emptyButton, &QPushButton::clicked, this, [this] { emit resultRequested({}); });
    m_empty->setFoot(
        tr("Attempts over all zones that are on file already are forecast again, each from what was known "
           "before it, and stand here too."));
    m_stack->addWidget(m_empty);
    m_stack->addWidget(makeContent());
    m_stack->addWidget(new QWidget);  // while nothing is known yet
    m_stack->setCurrentIndex(2);
    column->addWidget(m_stack, 1);
    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->addWidget(scrollingPage(content));
    const auto stale = [this] {
        m_stale = true;
        if (isVisible()) aboutToShow();
    };
    connect(&session, &Session::peopleChanged, this, stale);
    connect(&session, &Session::attemptChanged, this, stale);
    connect(&session, &Session::rubricsChanged, this, stale);
    connect(m_progress, &ReadingProgress::goOnRequested, this, &TrackPage::startReading);
    connect(m_reader, &FileReading::finished, this, &TrackPage::readingEnded);
    fill();
}

TrackPage::~TrackPage() = default;

QWidget* TrackPage::makeHead() {
    auto* widget = new QWidget;
    auto* head = new QHBoxLayout(widget);
    head->setContentsMargins(0, 0, 0, 0);
    head->setSpacing(qRound(m_theme.s(8)));
    auto* title = new Text(m_theme, 25, true, Ink::Full, tr("Forecast against result"));
    m_facts = new Text(m_theme, 13, false, Ink::Muted);
    m_facts->setWordWrap(true);
    head->addWidget(title, 0, Qt::AlignBottom);
    head->addSpacing(qRound(m_theme.s(6)));
    head->addWidget(m_facts, 1, Qt::AlignBottom);
    m_dataButton = new KeyButton(m_theme, tr("Data table"), tr("Ctrl+T"));
    m_recordButton = new KeyButton(m_theme, tr("Record a result"), tr("Ctrl+Alt+R"), true);
    connect(m_dataButton, &QPushButton::clicked, this, &TrackPage::showDataTable);
    connect(m_recordButton, &QPushButton::clicked, this, [this] { emit resultRequested({}); });
    head->addWidget(m_dataButton);
    head->addWidget(m_recordButton);
    return widget;
}

QWidget* TrackPage::makeContent() {
    auto* content = new QWidget;
    auto* column = new QVBoxLayout(content);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(12)));
    auto* columns = new QHBoxLayout;
    columns->setSpacing(qRound(m_theme.s(40)));
    columns->addWidget(makeLeft(), 640);
    columns->addWidget(makeRight(), 654);
    column->addLayout(columns, 1);
    column->addWidget(makeNotice());
    return content;
}

QWidget* TrackPage::makeLeft() {
    auto* left = new QWidget;
    auto* column = new QVBoxLayout(left);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(4)));
    m_chartHead = new BlockHead(m_theme, tr("Share passed by forecast"));
    m_chart = new TrackChart(m_theme);
    column->addWidget(m_chartHead);
    column->addWidget(m_chart, 1);
    return left;
}

QWidget* TrackPage::makeRight() {
    auto* right = new QWidget;
    auto* column = new QVBoxLayout(right);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    auto* head = new BlockHead(m_theme, tr("How well the forecasts held"));
    head->setRight(tr("squared miss (Brier score): 0 is perfect"));
    column->addWidget(head);
    m_sourceRows = new RowsModel(sourceColumns(), this);
    m_sourceTable = new TableView(m_theme, tr("How well the forecasts held"));
    m_sourceTable->setModel(m_sourceRows);
    m_sourceTable->setWidths({0, 66, 66, 104, 98});
    connect(m_sourceTable->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            [this](const QModelIndex& now) {
                if (!now.isValid() || m_filling) return;
                m_source = static_cast<TrackSource>(now.row());
                m_chosen = true;
                fillSource();
            });
    m_sourceTable->setMinimumWidth(qRound(m_theme.s(570)));
    m_sourceTable->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_sourceTable->setFixedHeight(qRound(m_theme.s(24 + 3 * 26 + 2)));
    connect(&m_theme, &Theme::changed, m_sourceTable,
            [this] { m_sourceTable->setFixedHeight(qRound(m_theme.s(24 + 3 * 26 + 2))); });
    column->addWidget(m_sourceTable);
    m_miss = new Text(m_theme, 13);
    m_miss->setWordWrap(true);
    column->addSpacing(qRound(m_theme.s(6)));
    column->addWidget(m_miss);
    column->addSpacing(qRound(m_theme.s(12)));
    m_resultsHead = new BlockHead(m_theme, tr("Results"));
    column->addWidget(m_resultsHead);
    m_results = new RowsModel(resultColumns(), this);
    m_resultsTable = new TableView(m_theme, tr("Results, newest first"));
    m_resultsTable->setItemDelegateForColumn(3, new MissDelegate(m_theme, m_resultsTable));
    m_resultsTable->setModel(m_results);
    m_resultsTable->setWidths({88, 0, 76, 168, 96, 84});
    m_resultsTable->setMinimumHeight(qRound(m_theme.s(24 + 4 * 26)));
    column->addWidget(m_resultsTable, 1);
    return right;
}

QWidget* TrackPage::makeNotice() {
    m_notice = new Panel(m_theme);
    auto* column = new QVBoxLayout(m_notice);
    const int side = qRound(m_theme.s(16));
    column->setContentsMargins(side, qRound(m_theme.s(10)), side, qRound(m_theme.s(10)));
    column->setSpacing(qRound(m_theme.s(4)));
    m_noticeTitle = new Text(m_theme, 18, true);
    m_noticeWords = new Text(m_theme, 15);
    m_noticeTitle->setWordWrap(true);
    m_noticeWords->setWordWrap(true);
    auto* caution =
        new Text(m_theme, 13, false, Ink::Muted,
                 tr("Who is sent to the test is likely to pass: weak forecasts are rarely tested."));
    caution->setWordWrap(true);
    for (Text* text : {m_noticeTitle, m_noticeWords, caution}) column->addWidget(text);
    return m_notice;
}

bool TrackPage::isReading() const {
    return m_reader->isRunning();
}

void TrackPage::aboutToShow() {
    if (m_stale) startReading();
}

void TrackPage::startReading() {
    m_stale = m_failed = false;
    m_names.clear();
    if (const auto trainees = m_session.file().trainees())
        for (const core::Trainee& one : *trainees)
            m_names[one.key] = qs(one.name.empty() ? one.key : one.name);
    m_progress->begin();
    m_reader->start(m_session.path(), readTrack);
    fill();
}

void TrackPage::take(const TrackReader::Reading& reading) {
    if (!reading) {
        m_failed = true;
        emit said(errorText(reading.error(), 1));
        m_facts->setText(errorText(reading.error(), 3));
        return;
    }
    m_sources = sourcesOf(reading->frozen, reading->replayed ? reading->replayed : m_sources.replayed);
    fill();
}

void TrackPage::readingEnded(bool complete) {
    if (m_reader->isRunning()) return;  // begun anew
    if (m_failed) return;               // which the head says
    fill();
    if (complete) emit said(tr("Track record worked out"));
}

void TrackPage::fill() {
    const bool empty = m_sources.empty();
    const bool unknown = m_stack->currentIndex() == 2 && (m_stale || m_reader->isRunning());
    const bool hadFocus = m_recordButton->hasFocus();
    m_stack->setCurrentIndex(!empty ? 1 : unknown ? 2 : 0);
    m_dataButton->setEnabled(!empty);
    if (hadFocus && m_stack->currentWidget() == m_empty) m_emptyButton->setFocus();
    m_recordButton->setVisible(m_stack->currentWidget() != m_empty);  // which has a button of its own
    // Until somebody chooses, the first source that has anything stands in front.
    if (!m_chosen)
        for (const TrackSource source :
             {TrackSource::Replayed, TrackSource::FullAttempts, TrackSource::OfficialTests})
            if (!m_sources.record(source).rows.empty()) m_source = source;
    m_filling = true;
    m_sourceRows->setRows(sourceRows(m_sources));
    m_sourceTable->selectRowAt(static_cast<int>(m_source));
    m_filling = false;
    fillSource();
    emit commandsChanged();
}

void TrackPage::fillSource() {
    const core::TrackRecord& shown = record();
    const core::ForecastQuality& quality = shown.quality;
    m_chart->setRecord(shown);
    m_chartHead->setRemark(shown.tooFew() ? titleOf(m_source)
                                          : tr("%1; 95 % interval").arg(titleOf(m_source)));
    m_miss->setText(missInWords(shown));
    m_miss->setVisible(!m_miss->text().isEmpty());
    m_results->setRows(resultRows(shown, [this](const std::string& key) { return nameOf(key); }));
    m_resultsTable->setColumnHidden(5, m_source == TrackSource::Replayed);
    m_resultsTable->selectRowAt(0);
    m_resultsHead->setRemark(tr("newest first"));
    m_resultsHead->setRight(
        quality.results == 0
            ? QString()
            : tr("%1 passed, %2 did not").arg(quality.happened).arg(quality.results - quality.happened));
    m_notice->setVisible(shown.tooFew());
    m_noticeTitle->setText(tooFewTitle(shown));
    m_noticeWords->setText(tooFewWords(shown));
    QStringList facts;
    if (!shown.rows.empty()) {
        facts << tr("%n result(s)", nullptr, quality.results);
        facts.back() += tr(" since %1").arg(longDate(isoDate(shown.rows.front().resultAt.substr(0, 10))));
        facts << titleOf(m_source);
    }
    m_facts->setText(factLine(facts));
}

QString TrackPage::nameOf(const std::string& trainee) const {
    const auto found = m_names.find(trainee);
    return found == m_names.end() ? qs(trainee) : found->second;
}

void TrackPage::showDataTable() {
    std::vector<Row> results = resultRows(record(), [this](const std::string& key) { return nameOf(key); });
    for (Row& row : results)
        for (Cell& cell : row.cells) {
            if (cell.text.isEmpty()) cell.text = cell.tip;
            cell.payload = {};
        }
    std::vector<DataTable> tables{{tr("How well the forecasts held"), sourceColumns(), sourceRows(m_sources)},
                                  {tr("Groups"), groupColumns(), groupRows(record().quality)},
                                  {tr("Results"), resultColumns(), std::move(results)}};
    DataTableDialog dialog(m_theme, tr("Figures of the track record"), std::move(tables), this);
    dialog.exec();
}

bool TrackPage::canPerform(PageCommand command) const {
    switch (command) {
        case PageCommand::DataTable:
        case PageCommand::CopyTable:
        case PageCommand::CopyImage:
            return !m_sources.empty();
        default:
            return false;
    }
}

void TrackPage::perform(PageCommand command) {
    switch (command) {
        case PageCommand::DataTable:
            showDataTable();
            break;
        case PageCommand::CopyTable: {
            RowsModel groups(groupColumns());
            groups.setRows(groupRows(record().quality));
            const bool ofChart = m_chart->hasFocus() && !record().tooFew();
            emit said(tr("%n row(s) copied", nullptr,
                         copyTable(ofChart                     ? groups
                                   : m_sourceTable->hasFocus() ? *m_sourceRows
                                                               : *m_results)));
            break;
        }
        case PageCommand::CopyImage:
            copyImage(*m_chart);
            emit said(tr("Chart copied as an image"));
            break;
        default:
            break;
    }
}

}  // namespace markerlamp::app
