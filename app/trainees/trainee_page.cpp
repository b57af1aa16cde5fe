// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/trainees/trainee_page.h"
#include "app/support/small_screens.h"

#include "app/people/person_views.h"
#include "app/people/record_source.h"
#include "app/readiness/readiness_blocks.h"
#include "app/shell/session.h"
#include "app/support/blind.h"
#include "app/support/clipboard.h"
#include "app/support/data_table_dialog.h"
#include "app/support/display.h"
#include "app/support/sign_widgets.h"
#include "app/support/table_view.h"
#include "app/trainees/learning_panel.h"
#include "app/trainees/people_dialogs.h"
#include "app/trainees/zones_table.h"
#include "forms/sheets/training_record_sheet.h"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QScrollArea>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <set>

namespace markerlamp::app {

namespace {

constexpr int kAttemptsShown = 6;

QString capitalised(const QString& text) {
    return text.left(1).toUpper() + text.mid(1);
}

QString stateOf(const db::AttemptInfo& info, bool settled, bool hidden) {
    QStringList words;
    if (info.state == db::AttemptState::Open) words << TraineePage::tr("unfinished");
    if (info.state == db::AttemptState::SetAside) words << TraineePage::tr("set aside");
    if (settled) words << TraineePage::tr("settled record");
    if (!info.of.empty() && !settled) words << TraineePage::tr("second scoring");
    if (hidden) words << TraineePage::tr("hidden until both have scored");
    if (info.partial) words << TraineePage::tr("part");
    if (info.amended) words << TraineePage::tr("amended");
    return words.join(TraineePage::tr(", "));
}

}  // namespace

TraineePage::TraineePage(const Theme& theme, Settings& settings, Session& session, ReadinessDesk& desk,
                         QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_session(session),
      m_stack(new QStackedWidget),
      m_none(new EmptyState(theme, tr("No trainee chosen"), tr("Choose one in the list of trainees."))),
      m_empty(new EmptyState(theme, tr("No attempt yet"), QString())),
      m_blocks(new ReadinessBlocks(theme, settings, desk, ReadinessCard::Width::Wide, this)) {
    setAccessibleName(tr("Trainee"));
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_stack);
    connect(m_none->setButton(tr("Open the list"), tr("Ctrl+3")), &QPushButton::clicked, this,
            &TraineePage::listRequested);
    connect(m_empty->setButton(tr("Start an attempt"), tr("Ctrl+N")), &QPushButton::clicked, this,
            [this] { emit startRequested(m_key); });
    m_empty->setFoot(tr("Zones and learning fill in after the first attempt."));
    m_stack->addWidget(m_none);
    m_stack->addWidget(m_empty);
    m_stack->addWidget(makePage());
    const auto stale = [this] {
        m_stale = true;
        if (isVisible()) aboutToShow();
    };
    connect(m_blocks, &ReadinessBlocks::marksRequested, this, &TraineePage::marksRequested);
    connect(m_blocks, &ReadinessBlocks::startRequested, this, &TraineePage::drillRequested);
    connect(m_blocks, &ReadinessBlocks::said, this, &Page::said);
    connect(m_blocks, &ReadinessBlocks::printRequested, this,
            [this] { emit drillPrintRequested(lastAttempt()); });
    connect(&session, &Session::peopleChanged, this, stale);
    connect(&session, &Session::attemptChanged, this, stale);
}

QWidget* TraineePage::makePage() {
    auto* content = new QWidget;
    auto* column = new QVBoxLayout(content);
    const int side = qRound(m_theme.s(16));
    column->setContentsMargins(side, qRound(m_theme.s(8)), side, qRound(m_theme.s(4)));
    column->setSpacing(qRound(m_theme.s(8)));
    column->addWidget(makeHead());
    auto* columns = new QHBoxLayout;
    columns->setSpacing(qRound(m_theme.s(24)));
    columns->addWidget(makeLeft(), 838);
    columns->addWidget(makeRight(), 472);
    column->addLayout(columns, 1);
    return scrollingPage(content);
}

QWidget* TraineePage::makeHead() {
    auto* widget = new QWidget;
    auto* head = new QHBoxLayout(widget);
    head->setContentsMargins(0, 0, 0, 0);
    head->setSpacing(qRound(m_theme.s(8)));
    m_name = new Text(m_theme, 25, true);
    m_facts = new Text(m_theme, 13, false, Ink::Muted);
    m_facts->setWordWrap(true);
    head->addWidget(m_name, 0, Qt::AlignBottom);
    head->addSpacing(qRound(m_theme.s(6)));
    head->addWidget(m_facts, 1, Qt::AlignBottom);
    auto* edit = new KeyButton(m_theme, tr("Edit"), tr("F2"));
    m_dataButton = new KeyButton(m_theme, tr("Data table"), tr("Ctrl+T"));
    m_printButton = new KeyButton(m_theme, tr("Print"), tr("Ctrl+P"));
    auto* start = new KeyButton(m_theme, tr("New attempt"), tr("Ctrl+N"), true);
    connect(edit, &QPushButton::clicked, this, [this] { perform(PageCommand::Edit); });
    connect(m_dataButton, &QPushButton::clicked, this, &TraineePage::showDataTable);
    connect(m_printButton, &QPushButton::clicked, this,
            [this] { emit printRequested(lastAttempt(), false); });
    connect(start, &QPushButton::clicked, this, [this] { emit startRequested(m_key); });
    for (KeyButton* button : {edit, m_dataButton, m_printButton, start}) head->addWidget(button);
    return widget;
}

QWidget* TraineePage::makeLeft() {
    auto* left = new QWidget;
    auto* column = new QVBoxLayout(left);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    m_zonesHead = new BlockHead(m_theme, tr("Zones now"));
    m_sort = makeSmallLink(m_theme, tr("weakest first"));
    m_earlier = makeSmallLink(m_theme, tr("earlier"), tr("Earlier attempts"));
    m_later = makeSmallLink(m_theme, tr("later"), tr("Later attempts"));
    for (QPushButton* link : {m_sort, m_earlier, m_later}) m_zonesHead->addRight(link);
    connect(m_sort, &QPushButton::clicked, this, [this] {
        m_weakestFirst = !m_weakestFirst;
        fillZones();
    });
    connect(m_earlier, &QPushButton::clicked, this, [this] { moveWindow(-kAttemptsShown); });
    connect(m_later, &QPushButton::clicked, this, [this] { moveWindow(kAttemptsShown); });
    column->addWidget(m_zonesHead);
    m_zones = new RowsModel({}, this);
    m_zonesTable = new TableView(m_theme, tr("Zones now and zones by attempts"));
    m_zonesHeader = new ZonesHeader(m_theme, m_zonesTable);
    m_zonesTable->setHorizontalHeader(m_zonesHeader);
    m_zonesTable->setSelectionBehavior(QAbstractItemView::SelectItems);
    auto* cells = new HeatDelegate(m_theme, m_zonesTable);
    auto* intervals = new IntervalDelegate(m_theme, m_zonesTable);
    cells->setHairlines(false);
    intervals->setHairlines(false);
    m_zonesTable->setItemDelegate(cells);
    m_zonesTable->setItemDelegateForColumn(1, intervals);
    m_zonesTable->setModel(m_zones);
    m_zonesTable->setRowHeight(25);
    m_zonesTable->setVerticalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_zonesTable->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    connect(m_zonesTable, &TableView::opened, this, &TraineePage::openCurrentCell);
    column->addWidget(m_zonesTable);
    m_zonesFoot = new Text(m_theme, 13, false, Ink::Muted);
    m_legend = new HeatLegend(m_theme);
    column->addSpacing(qRound(m_theme.s(2)));
    column->addWidget(m_zonesFoot);
    column->addWidget(m_legend);
    column->addSpacing(qRound(m_theme.s(2)));
    m_attempts = new RowsModel({{QString(), true},
                                {tr("date")},
                                {tr("bus")},
                                {tr("instructor")},
                                {tr("edition"), true},
                                {tr("satisfied"), true},
                                {tr("shown"), true},
                                {tr("said"), true},
                                {tr("order"), true},
                                {tr("time"), true},
                                {tr("state")}},
                               this);
    m_attemptsTable = new TableView(m_theme, tr("Attempts"));
    m_attemptsTable->setModel(m_attempts);
    m_attemptsTable->setWidths({40, 106, 52, 134, 62, 76, 62, 56, 60, 64, 0});
    m_attemptsTable->setMinimumHeight(qRound(m_theme.s(80)));
    connect(m_attemptsTable, &TableView::opened, this, [this](const QModelIndex& index) {
        emit attemptRequested(index.data(RowsModel::IdRole).toString());
    });
    m_lower = new BlockTabs(m_theme);
    m_blocks->addReadiness(*m_lower);
    m_attemptsBlock = m_lower->add(tr("Attempts"), m_attemptsTable);
    column->addWidget(m_lower, 1);
    return left;
}

QWidget* TraineePage::makeRight() {
    auto* right = new QWidget;
    auto* column = new QVBoxLayout(right);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(4)));
    auto* head = new BlockHead(m_theme, tr("Learning"));
    head->setRemark(tr("% of steps shown; % of points said"));
    head->setRight(tr("by attempt"));
    column->addWidget(head);
    m_shown = new LearningPanel(m_theme, LearningPanel::What::Shown);
    m_said = new LearningPanel(m_theme, LearningPanel::What::Said);
    column->addWidget(m_shown, 1);
    column->addWidget(m_said, 1);
    m_learningFoot = new Text(m_theme, 13, false, Ink::Muted);
    m_learningFoot->setWordWrap(true);
    column->addWidget(m_learningFoot);
    column->addSpacing(qRound(m_theme.s(6)));
    QPushButton* result = makeSmallLink(m_theme, tr("record a test result"));
    connect(result, &QPushButton::clicked, this, [this] { emit resultRequested(m_key); });
    QPushButton* papers = makeSmallLink(m_theme, tr("papers, hours, tests"));
    connect(papers, &QPushButton::clicked, this, [this] { emit papersRequested(m_key); });
    auto* onFile = new QWidget;
    auto* onFileColumn = new QVBoxLayout(onFile);
    onFileColumn->setContentsMargins(0, qRound(m_theme.s(6)), 0, 0);
    m_onFile = new QGridLayout;
    onFileColumn->addLayout(m_onFile);
    onFileColumn->addStretch(1);
    m_lowerRight = new BlockTabs(m_theme);
    m_blocks->addDrill(*m_lowerRight);
    m_lowerRight->add(tr("On file"), onFile, {papers, result});
    m_onFile->setVerticalSpacing(qRound(m_theme.s(4)));
    m_onFile->setHorizontalSpacing(qRound(m_theme.s(16)));
    m_onFile->setColumnStretch(1, 1);
    column->addWidget(m_lowerRight, 3);
    return right;
}

void TraineePage::showTrainee(const QString& key) {
    if (key != m_key) m_firstShown = -1;
    m_key = key;
    m_stale = true;
    if (isVisible()) aboutToShow();
}

void TraineePage::aboutToShow() {
    if (m_stale) {
        m_stale = false;
        load();
    }
    if (m_stack->currentIndex() == 2) m_zonesTable->setFocus();
}

void TraineePage::load() {
    const QDate today = QDate::currentDate();
    m_history.clear();
    const auto trainee = m_session.file().trainee(ss(m_key));
    if (m_key.isEmpty() || !trainee || !*trainee) {
        m_stack->setCurrentWidget(m_none);
        emit commandsChanged();
        return;
    }
    m_trainee = **trainee;
    const QString name = qs(m_trainee.name.empty() ? m_trainee.key : m_trainee.name);
    auto history = m_session.history(m_key);
    const auto infos = m_session.file().attempts(ss(m_key));
    if (!history || !infos) {
        emit said(errorText(history ? infos.error() : history.error(), 1));
        m_stack->setCurrentWidget(m_none);
        return;
    }
    m_history = std::move(*history);
    const QDate permit = isoDate(m_trainee.permitExpires);
    if (infos->empty()) {
        m_empty->setSentence(permit.isValid()
                                 ? tr("%1 has a permit that %2, and no practice inspection on file.")
                                       .arg(name, endsText(permit, today))
                                 : tr("%1 has no permit date and no practice inspection on file.").arg(name));
        m_stack->setCurrentWidget(m_empty);
        emit commandsChanged();
        return;
    }
    m_name->setText(name);
    QStringList facts;
    const int count = static_cast<int>(m_history.size());
    facts << tr("%n attempt(s)", nullptr, count);
    if (count > 0) {
        const QDate first = startedAt(m_history.front().attempt.header.started).date();
        const QDate last = startedAt(m_history.back().attempt.header.started).date();
        facts.back() += first == last ? tr(", %1", "on a date").arg(longDate(last))
                                      : tr(", %1 to %2", "dates").arg(shortDate(first), longDate(last));
    }
    if (!m_trainee.group.empty()) facts << tr("group %1").arg(qs(m_trainee.group));
    if (permit.isValid()) facts << tr("permit %1").arg(endsText(permit, today));
    m_facts->setText(factLine(facts));
    m_stack->setCurrentIndex(2);
    fillZones();
    fillAttempts(*infos);
    fillOnFile();
    fillLearning();
    m_blocks->showTrainee(m_key);
    m_dataButton->setEnabled(count > 0);
    m_printButton->setEnabled(count > 0);
    emit said(count > 0 ? learningSummary(core::learningPoints(m_history), LearningPanel::What::Said)
                        : tr("No finished attempt yet"));
    emit commandsChanged();
}

void TraineePage::fillLearning() {
    const auto points = core::learningPoints(m_history);
    std::vector<QDate> dates;
    for (const core::ScoredAttempt& attempt : m_history)
        dates.push_back(startedAt(attempt.attempt.header.started).date());
    m_shown->setPoints(points, dates);
    m_said->setPoints(points, dates);
    const bool otherEdition =
        std::any_of(points.begin(), points.end(), [](const auto& point) { return point.otherEdition; });
    QStringList foot{tr("Line on a dot: 80 % interval with day effect.")};
    if (otherEdition) foot << tr("Hollow: another edition.");
    for (std::size_t i = 1; i < points.size(); ++i)
        if (isLongGap(points[i - 1], points[i])) {
            foot << tr("Dotted: over %n day(s) between.", nullptr, qRound(kLongGapDays));
            break;
        }
    const QString trend = trendWords(core::percentTrend(m_history));
    m_learningFoot->setText(trend + QLatin1Char(' ') + foot.join(QLatin1Char(' ')));
}

void TraineePage::fillZones() {
    const int count = static_cast<int>(m_history.size());
    const int latest = qMax(0, count - kAttemptsShown);
    if (m_firstShown < 0 || m_firstShown > latest) m_firstShown = latest;
    ZonesContent content = zonesContent(m_history, m_firstShown, kAttemptsShown, m_weakestFirst);
    const int attempts = static_cast<int>(content.columns.size()) - 3;
    const int rows = static_cast<int>(content.rows.size());
    m_zones->setColumns(std::move(content.columns));
    m_zones->setRows(std::move(content.rows));
    std::vector<int> widths{118, 264, 64};
    for (int i = 0; i < attempts; ++i) widths.push_back(64);
    m_zonesTable->setWidths(widths);
    if (!m_history.empty()) m_zonesHeader->setPassMark(m_history.back().rubric->pass.percent / 100.0);
    m_zonesTable->setFixedHeight(m_zonesHeader->height() + rows * qRound(m_theme.s(25)) + 2);
    m_zonesTable->setAccessibleDescription(content.summary);
    if (rows > 0 && attempts > 0) m_zonesTable->setCurrentIndex(m_zones->index(0, 2 + attempts));
    m_zonesHead->setRemark(
        tr("% satisfied, last 3 attempts, %1").arg(m_weakestFirst ? tr("weakest first") : tr("walk order")));
    m_sort->setText(m_weakestFirst ? tr("walk order") : tr("weakest first"));
    m_earlier->setVisible(count > kAttemptsShown);
    m_later->setVisible(count > kAttemptsShown);
    m_earlier->setEnabled(m_firstShown > 0);
    m_later->setEnabled(m_firstShown < latest);
    m_zonesFoot->setText(
        tr("line: 80 % interval; filled dot: likely under the pass mark; * scored with another "
           "edition"));
}

void TraineePage::moveWindow(int by) {
    const int latest = qMax(0, static_cast<int>(m_history.size()) - kAttemptsShown);
    m_firstShown = qBound(0, m_firstShown + by, latest);
    fillZones();
}

void TraineePage::fillAttempts(const std::vector<db::AttemptInfo>& infos) {
    std::map<std::string, int> numbers;
    for (std::size_t i = 0; i < m_history.size(); ++i)
        numbers[m_history[i].attempt.header.id] = static_cast<int>(i) + 1;
    std::map<std::string, QString> instructors;
    if (const auto all = m_session.file().instructors())
        for (const core::Instructor& one : *all)
            instructors[one.key] = qs(one.name.empty() ? one.key : one.name);
    std::set<std::string> settled;
    if (const auto records = m_session.file().settlements()) settled = core::settledAttempts(*records);
    const std::set<std::string> hidden = hiddenFrom(infos);
    std::vector<Row> rows;
    for (const db::AttemptInfo& info : infos) {
        const bool blind = hidden.contains(info.id);
        const auto number = numbers.find(info.id);
        const auto who = instructors.find(info.instructor);
        const bool ended = info.state == db::AttemptState::Ended;
        const auto figure = [&](double value) {
            return Cell{ended && !blind ? percentText(value) : QString()};
        };
        rows.push_back(
            {qs(info.id),
             {Cell{number == numbers.end() ? QString() : QString::number(number->second)},
              Cell{longDate(startedAt(info.started).date())}, longCell(qs(info.bus)),
              mutedCell(who == instructors.end() ? qs(info.instructor) : who->second),
              Cell{QString::number(info.edition)},
              boldCell(blind   ? QString()
                       : ended ? percentText(info.percent)
                               : tr("%1/%2").arg(info.stepsScored).arg(info.stepsInScope),
                       info.result == core::AttemptResult::Pass),
              figure(info.shownPercent), figure(info.saidPercent), figure(info.orderPercent),
              Cell{clockText(info.seconds)}, longCell(stateOf(info, settled.contains(info.id), blind))}});
    }
    m_lower->tab(m_attemptsBlock)->setText(tr("Attempts %1").arg(rows.size()));
    m_lower->setRemark(m_attemptsBlock,
                       tr("newest first; bold meets the pass rule; Enter opens the debrief"));
    m_attempts->setRows(std::move(rows));
    m_attemptsTable->selectRowAt(0);
}

void TraineePage::addOnFile(int& row, const QString& what, const QString& value, bool known, bool bold) {
    m_onFile->addWidget(new GateWidget(m_theme, known ? forms::LampState::Lit : forms::LampState::Open), row,
                        0);
    m_onFile->addWidget(new Text(m_theme, 13, bold, Ink::Full, what), row, 1);
    m_onFile->addWidget(new Text(m_theme, 13, bold, bold ? Ink::Full : Ink::Muted, value), row++, 2,
                        Qt::AlignRight);
}

void TraineePage::fillOnFile() {
    clearLayout(m_onFile);
    const QDate today = QDate::currentDate();
    int row = 0;
    const auto settings = peopleSettingsOf(m_session.file());
    const auto person = personOf(m_session.file(), ss(m_key));
    const auto ends = [&](const QString& what, const std::string& iso, int aheadDays) {
        const QDate date = isoDate(iso);
        const bool valid = date.isValid() && date >= today;
        addOnFile(row, what, date.isValid() ? endsText(date, today) : tr("not on file"), valid,
                  date.isValid() && today.daysTo(date) <= aheadDays);
    };
    const core::PeopleSettings used = settings ? *settings : core::PeopleSettings{};
    const QDate issued = isoDate(m_trainee.permitIssued);
    addOnFile(
        row, tr("Permit held"),
        issued.isValid()
            ? tr("%n day(s), since %1", nullptr, static_cast<int>(issued.daysTo(today))).arg(longDate(issued))
            : tr("not on file"),
        issued.isValid());
    ends(tr("Permit"), m_trainee.permitExpires, used.permitAheadDays);
    ends(tr("Medical card"), m_trainee.medicalExpires, used.medicalAheadDays);
    const QDate theory = isoDate(m_trainee.theoryDate);
    QString result = m_trainee.theoryPercent ? percentText(*m_trainee.theoryPercent) : tr("not on file");
    if (m_trainee.theoryPercent && theory.isValid()) result = tr("%1 on %2").arg(result, longDate(theory));
    addOnFile(row, tr("Theory result"), result, m_trainee.theoryPercent.has_value());
    if (person) fillPapers(*person, used, row);
    if (!m_trainee.note.empty()) {
        auto* note = new Text(m_theme, 13, false, Ink::Muted, tr("Note: %1").arg(qs(m_trainee.note)));
        note->setWordWrap(true);
        m_onFile->addWidget(note, row++, 0, 1, 3);
    }
}

void TraineePage::fillPapers(const core::PersonFile& person, const core::PeopleSettings& settings, int& row) {
    const QDate today = QDate::currentDate();
    const std::string day = ss(today.toString(Qt::ISODate));
    const core::HoursSum sum = core::sumOf(person.hours);
    addOnFile(row, tr("Clock hours"),
              sum.behindTheWheel() > 0
                  ? tr("%1 behind the wheel").arg(qs(core::hoursText(sum.behindTheWheel())))
                  : tr("not on file"),
              sum.behindTheWheel() > 0);
    for (const core::SegmentState& state : core::segmentStates(person.results))
        if (state.tries > 0)
            addOnFile(row, capitalised(forms::segmentText(state.segment)),
                      tr("%1 on %2, try %3")
                          .arg(state.passed ? tr("passed") : tr("not passed"), longDate(isoDate(state.last)))
                          .arg(state.tries),
                      state.passed);
    if (core::isAway(person.absences, day)) addOnFile(row, tr("Away"), tr("left the program"), false, true);
    for (const core::DateAhead& ahead : core::datesAhead(person, day, settings)) {
        // The two have lines of their own above.
        if (ahead.kind == core::DateKind::Medical || (ahead.kind == core::DateKind::Permit && !ahead.assumed))
            continue;
        auto* words = new Text(m_theme, 13, true, Ink::Full, capitalised(aheadText(ahead, person, today)));
        words->setElided();
        m_onFile->addWidget(words, row++, 1, 1, 2);
    }
}

QString TraineePage::lastAttempt() const {
    return m_history.empty() ? QString() : qs(m_history.back().attempt.header.id);
}

void TraineePage::openCurrentCell() {
    const int column = m_zonesTable->currentIndex().column() - 3;
    const int index = column < 0 ? static_cast<int>(m_history.size()) - 1 : m_firstShown + column;
    if (index >= 0 && index < static_cast<int>(m_history.size()))
        emit attemptRequested(qs(m_history[static_cast<std::size_t>(index)].attempt.header.id));
}

void TraineePage::showDataTable() {
    if (m_history.empty()) return;
    ZonesContent zones = zonesContent(m_history, 0, static_cast<int>(m_history.size()), m_weakestFirst);
    for (Row& row : zones.rows)
        for (Cell& cell : row.cells) {
            if (cell.text.isEmpty()) cell.text = cell.tip;
            cell.payload = {};
        }
    std::vector<DataTable> tables{{tr("Zones"), std::move(zones.columns), std::move(zones.rows)},
                                  {tr("Learning"), learningColumns(), learningRows(m_history)}};
    DataTableDialog dialog(m_theme, tr("Figures of the trainee"), std::move(tables), this);
    dialog.exec();
}

bool TraineePage::canPerform(PageCommand command) const {
    const bool page = m_stack->currentIndex() == 2;
    switch (command) {
        case PageCommand::Edit:
            return m_stack->currentIndex() > 0;
        case PageCommand::CopyTable:
        case PageCommand::CopyImage:
            return page;
        case PageCommand::DataTable:
        case PageCommand::PrintSheet:
        case PageCommand::PreviewSheet:
        case PageCommand::NoteSigning:
            return page && !m_history.empty();
        default:
            return false;
    }
}

void TraineePage::perform(PageCommand command) {
    switch (command) {
        case PageCommand::Edit:
            if (!editTrainee(m_theme, m_session, m_key, this).isEmpty()) emit said(tr("Trainee changed"));
            break;
        case PageCommand::CopyTable: {
            int rows = 0;
            if (m_shown->hasFocus() || m_said->hasFocus()) {
                RowsModel learning(learningColumns());
                learning.setRows(learningRows(m_history));
                rows = copyTable(learning);
            } else {
                rows = copyTable(m_attemptsTable->hasFocus() ? *m_attempts : *m_zones);
            }
            emit said(tr("%n row(s) copied", nullptr, rows));
            break;
        }
        case PageCommand::CopyImage:
            copyImage(m_shown->hasFocus()  ? static_cast<QWidget&>(*m_shown)
                      : m_said->hasFocus() ? static_cast<QWidget&>(*m_said)
                                           : static_cast<QWidget&>(*m_zonesTable));
            emit said(tr("Chart copied as an image"));
            break;
        case PageCommand::DataTable:
            showDataTable();
            break;
        case PageCommand::PrintSheet:
        case PageCommand::PreviewSheet:
            emit printRequested(lastAttempt(), command == PageCommand::PreviewSheet);
            break;
        case PageCommand::NoteSigning:
            emit signingRequested(m_attemptsTable->hasFocus() ? m_attemptsTable->currentId() : lastAttempt());
            break;
        default:
            break;
    }
}

}  // namespace markerlamp::app
