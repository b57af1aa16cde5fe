// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/program/program_page.h"

#include "app/program/attempts_dialog.h"
#include "app/program/count_delegate.h"
#include "app/program/runway.h"
#include "app/readiness/readiness_desk.h"
#include "app/shell/session.h"
#include "app/support/block_tabs.h"
#include "app/support/clipboard.h"
#include "app/support/data_table_dialog.h"
#include "app/support/display.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"
#include "app/support/text_widgets.h"

#include <QComboBox>
#include <QElapsedTimer>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QStackedWidget>
#include <QTimer>
#include <QVBoxLayout>

#include <array>

namespace markerlamp::app {

namespace {

using core::ReadinessWord;

constexpr std::array kWords{ReadinessWord::Ready, ReadinessWord::Close, ReadinessWord::NotYet,
                            ReadinessWord::TooLittle};
constexpr int kGatherMs = 700;     ///< answers that come in meanwhile are shown together, at least
constexpr int kRestShare = 20;     ///< a long list is filled again after so many times what filling takes
constexpr double kClassDays = 60;  ///< what counts as lately

QVBoxLayout* plainColumn(QWidget* widget) {
    auto* column = new QVBoxLayout(widget);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    return column;
}

/// How the roster can be sorted, with the direction that is looked for first.
struct SortedBy {
    int column;
    bool descending;
    QString words;
};
const std::vector<SortedBy>& sortedBy() {
    static const std::vector<SortedBy> all{{7, false, ProgramPage::tr("least time to spare first")},
                                           {0, false, ProgramPage::tr("by name")},
                                           {1, false, ProgramPage::tr("by instructor's name")},
                                           {2, false, ProgramPage::tr("fewest attempts first")},
                                           {3, false, ProgramPage::tr("longest without an attempt")},
                                           {4, false, ProgramPage::tr("by readiness")},
                                           {5, true, ProgramPage::tr("most likely to pass first")},
                                           {6, true, ProgramPage::tr("most gates shut first")}};
    return all;
}

}  // namespace

ProgramPage::ProgramPage(const Theme& theme, Session& session, ReadinessDesk& desk, QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_session(session),
      m_desk(desk),
      m_again(new QTimer(this)),
      m_gatherMs(kGatherMs),
      m_classReader([this](const auto& reading) { showClass(reading); }),
      m_pairReader([this](const auto& reading) {
          if (!reading) {
              emit said(errorText(reading.error(), 1));
              return;
          }
          m_openPairs = *reading;
          rebuild();
      }),
      m_stack(new QStackedWidget) {
    setAccessibleName(tr("Program"));
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_stack);
    auto* empty = new EmptyState(theme, tr("No trainees yet"),
                                 tr("Who needs action, whose permit ends first and who is ready stands here "
                                    "when there are trainees."));
    connect(empty->setButton(tr("Import a list"), tr("Ctrl+I")), &QPushButton::clicked, this,
            &ProgramPage::importRequested);
    m_stack->addWidget(empty);
    m_stack->addWidget(scrollingPage(makePage()));
    m_again->setSingleShot(true);
    connect(m_again, &QTimer::timeout, this, [this] {
        if (isVisible()) rebuild();
    });
    connect(&desk, &ReadinessDesk::changed, this, [this] {
        if (!m_again->isActive()) m_again->start(m_gatherMs);
    });
    const auto stale = [this] {
        m_stale = m_classStale = m_pairsStale = true;
        if (isVisible()) aboutToShow();
    };
    connect(&session, &Session::peopleChanged, this, stale);
    connect(&session, &Session::attemptChanged, this, stale);
    connect(&session, &Session::sheetChanged, this, [this] {
        m_stale = true;
        if (isVisible()) aboutToShow();
    });
    connectTables();
}

ProgramPage::~ProgramPage() = default;

QWidget* ProgramPage::makePage() {
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    const int side = qRound(m_theme.s(16));
    column->setContentsMargins(side, qRound(m_theme.s(8)), side, qRound(m_theme.s(4)));
    column->setSpacing(qRound(m_theme.s(10)));
    auto* upper = new QHBoxLayout;
    upper->setSpacing(qRound(m_theme.s(24)));
    upper->addWidget(makeWeek(), 838);
    upper->addWidget(makeCounts(), 472);
    column->addLayout(upper);
    m_tabs = new BlockTabs(m_theme);
    m_find = new QLineEdit;
    m_find->setProperty("small", true);
    m_find->setPlaceholderText(tr("Find (Ctrl+F)"));
    m_find->setAccessibleName(tr("Find by name, key, class or instructor"));
    m_find->setToolTip(m_find->accessibleName());
    m_find->setMaximumWidth(qRound(m_theme.s(170)));
    m_grouping = new QComboBox;
    m_grouping->setProperty("small", true);
    m_grouping->setAccessibleName(tr("Group the roster"));
    m_grouping->addItems({tr("not grouped"), tr("by instructor"), tr("by class")});
    m_sorting = new QComboBox;
    m_sorting->setProperty("small", true);
    m_sorting->setAccessibleName(tr("Sort the roster"));
    for (const SortedBy& one : sortedBy()) m_sorting->addItem(one.words, one.column);
    m_find->setFont(m_theme.font(13));
    m_grouping->setFont(m_theme.font(13));
    m_sorting->setFont(m_theme.font(13));
    m_rosterBlock = m_tabs->add(tr("Roster and runway"), makeRoster(), {m_find, m_sorting, m_grouping});
    m_classBlock = m_tabs->add(tr("Teach the group"), makeClass());
    m_loadBlock = m_tabs->add(tr("Attempts a week"), makeLoad());
    column->addWidget(m_tabs, 1);
    return page;
}

QWidget* ProgramPage::makeWeek() {
    auto* week = new QWidget;
    auto* column = plainColumn(week);
    m_weekHead = new BlockHead(m_theme, tr("This week"));
    QPushButton* limits = makeSmallLink(m_theme, tr("limits"), tr("Limits of who needs action"));
    connect(limits, &QPushButton::clicked, this, &ProgramPage::settingsRequested);
    m_weekHead->addRight(limits);
    m_weekRows = new RowsModel(ProgramView::attentionColumns(), this);
    m_weekTable = new TableView(m_theme, tr("Who needs action this week"));
    m_weekTable->setModel(m_weekRows);
    m_weekTable->setItemDelegateForColumn(2, new ActionDelegate(m_theme, m_weekTable));
    m_weekTable->setWidths({170, 0, 168});
    m_weekTable->setRowHeight(32);
    m_weekTable->horizontalHeader()->hide();
    m_weekTable->setMinimumHeight(qRound(m_theme.s(160)));
    m_weekNothing = new Text(m_theme, 15, false, Ink::Muted);
    m_weekNothing->setWordWrap(true);
    column->addWidget(m_weekHead);
    column->addWidget(m_weekNothing);
    column->addWidget(m_weekTable, 1);
    column->addStretch(0);
    return week;
}

QWidget* ProgramPage::makeCounts() {
    auto* counts = new QWidget;
    auto* column = plainColumn(counts);
    m_countsHead = new BlockHead(m_theme, tr("Readiness"));
    QPushButton* track = makeSmallLink(m_theme, tr("forecast against results"));
    connect(track, &QPushButton::clicked, this, &ProgramPage::trackRequested);
    m_countsHead->addRight(track);
    m_countRows = new RowsModel({{tr("word")}, {tr("one mark, one trainee")}, {tr("trainees"), true}}, this);
    m_countTable = new TableView(m_theme, tr("Readiness of all in training"));
    m_countTable->setModel(m_countRows);
    m_countTable->setItemDelegateForColumn(0, new ReadinessDelegate(m_theme, m_countTable));
    m_countTable->setItemDelegateForColumn(1, new CountDelegate(m_theme, m_countTable));
    m_countTable->setWidths({150, 0, 56});
    m_countTable->horizontalHeader()->hide();
    m_countTable->setFixedHeight(qRound(m_theme.s(4 * 26)));
    m_countTable->setToolTip(tr("Enter shows these in the roster"));
    m_testsHead = new BlockHead(m_theme, tr("Tests ahead"));
    m_testRows = new RowsModel({{tr("date")}, {tr("trainee")}, {tr("readiness")}}, this);
    m_testTable = new TableView(m_theme, tr("Booked tests"));
    m_testTable->setModel(m_testRows);
    m_testTable->setItemDelegateForColumn(2, new ReadinessDelegate(m_theme, m_testTable));
    m_testTable->setWidths({72, 0, 150});
    m_testTable->horizontalHeader()->hide();
    m_testTable->setMinimumHeight(qRound(m_theme.s(27)));
    column->addWidget(m_countsHead);
    column->addWidget(m_countTable);
    column->addSpacing(qRound(m_theme.s(4)));
    column->addWidget(m_testsHead);
    column->addWidget(m_testTable, 1);
    column->addStretch(0);
    return counts;
}

QWidget* ProgramPage::makeRoster() {
    auto* roster = new QWidget;
    auto* column = plainColumn(roster);
    m_rosterRows = new RowsModel(ProgramView::rosterColumns(), this);
    m_rosterTable = new TableView(m_theme, tr("Roster and runway"));
    m_header = new RosterHeader(m_theme);
    m_rosterTable->setHorizontalHeader(m_header);
    m_rosterTable->setModel(m_rosterRows);
    m_rosterTable->setItemDelegateForColumn(4, new ReadinessDelegate(m_theme, m_rosterTable));
    m_rosterTable->setItemDelegateForColumn(5, new OfTenDelegate(m_theme, m_rosterTable));
    m_runway = new RunwayDelegate(m_theme, m_rosterTable);
    m_rosterTable->setItemDelegateForColumn(7, m_runway);
    m_rosterTable->setRowHeight(28);
    m_rosterTable->setWidths({156, 132, 44, 64, 132, 124, 168, 0});
    m_rosterTable->setMinimumHeight(qRound(m_theme.s(120)));
    m_rosterNote =
        new Text(m_theme, 13, false, Ink::Muted,
                 tr("line: permit; bar: expected ready if practice goes on as lately (80 % interval; "
                    "solid: may end after the permit); dot: ready now; diamond: booked test. Enter opens "
                    "the trainee."));
    m_rosterNote->setElided();
    column->addWidget(m_rosterTable, 1);
    column->addWidget(m_rosterNote);
    return roster;
}

QWidget* ProgramPage::makeClass() {
    auto* steps = new QWidget;
    auto* column = plainColumn(steps);
    m_classRows = new RowsModel(classColumns(), this);
    m_classTable = new TableView(m_theme, tr("Steps that the group misses"));
    m_classTable->setModel(m_classRows);
    m_classTable->setWidths({0, 320, 150, 190});
    m_classNote = new Text(m_theme, 13, false, Ink::Muted);
    m_classNote->setWordWrap(true);
    column->addWidget(m_classTable, 1);
    column->addWidget(m_classNote);
    return steps;
}

QWidget* ProgramPage::makeLoad() {
    auto* load = new QWidget;
    auto* column = plainColumn(load);
    m_loadRows = new RowsModel({}, this);
    m_loadTable = new TableView(m_theme, tr("Attempts a week by instructor"));
    m_loadTable->setModel(m_loadRows);
    m_loadTable->setSelectionBehavior(QAbstractItemView::SelectItems);
    column->addWidget(m_loadTable, 1);
    column->addWidget(new Text(m_theme, 13, false, Ink::Muted,
                               tr("Finished attempts, second scorings among them; weeks begin on Monday. "
                                  "Enter on a number shows the attempts.")));
    return load;
}

void ProgramPage::connectTables() {
    connect(m_weekTable, &TableView::opened, this,
            [this](const QModelIndex& index) { act(index.data(RowsModel::IdRole).toString()); });
    connect(m_weekTable, &QAbstractItemView::clicked, this, [this](const QModelIndex& index) {
        if (index.column() == 2) act(index.data(RowsModel::IdRole).toString());
    });
    connect(m_countTable, &TableView::opened, this,
            [this](const QModelIndex& index) { filterByWord(index.row()); });
    connect(m_testTable, &TableView::opened, this,
            [this](const QModelIndex& index) { openRoster(index.data(RowsModel::IdRole).toString()); });
    connect(m_rosterTable, &TableView::opened, this,
            [this](const QModelIndex& index) { openRoster(index.data(RowsModel::IdRole).toString()); });
    connect(m_classTable, &TableView::opened, this, [this](const QModelIndex& index) {
        const auto row = static_cast<std::size_t>(index.row());
        if (row < m_class.size())
            openAttempts(
                tr("Attempts in which it was missed: %1").arg(index.siblingAtColumn(0).data().toString()),
                m_class[row].attempts);
    });
    connect(m_loadTable, &TableView::opened, this, &ProgramPage::openLoad);
    connect(m_find, &QLineEdit::textChanged, this, [this] { fillRoster(); });
    connect(m_grouping, &QComboBox::currentIndexChanged, this, [this] { fillRoster(); });
    connect(m_sorting, &QComboBox::currentIndexChanged, this, [this](int row) {
        const SortedBy& one = sortedBy().at(static_cast<std::size_t>(row));
        sortBy(one.column, one.descending);
    });
    connect(m_header, &QHeaderView::sectionClicked, this, [this](int column) {
        const auto& all = sortedBy();
        const auto usual = std::ranges::find(all, column, &SortedBy::column);
        sortBy(column, m_order.column == column ? !m_order.descending : usual->descending);
    });
    connect(m_tabs, &BlockTabs::shown, this, [this](int block) {
        if (block == m_classBlock) readClassSteps();
        emit commandsChanged();
    });
}

void ProgramPage::aboutToShow() {
    if (m_stale)
        load();
    else
        rebuild();
    readOpenPairs();
    if (m_view) m_desk.askAll(m_view->keysInTraining());
    if (m_tabs->current() == m_classBlock) readClassSteps();
    if (m_stack->currentIndex() == 1) {
        if (m_weekRows->rowCount() > 0)
            m_weekTable->setFocus();
        else
            m_rosterTable->setFocus();
    }
}

void ProgramPage::load() {
    auto fresh = readProgram(m_session.file());
    if (!fresh) {
        emit said(errorText(fresh.error(), 1));
        return;
    }
    m_stale = false;
    m_view.reset();  // it looks into the data
    m_data = std::move(*fresh);
    rebuild();
}

void ProgramPage::rebuild() {
    if (m_stale) return;
    QElapsedTimer timer;
    timer.start();
    m_view = std::make_unique<ProgramView>(
        m_data, [this](const QString& key) -> const ReadinessStanding& { return m_desk.of(key); },
        m_desk.now().date(), m_openPairs);
    m_stack->setCurrentIndex(m_view->roster().empty() ? 0 : 1);
    fillAttention();
    fillCounts();
    fillRoster();
    fillLoad();
    updateProgress();
    emit commandsChanged();
    m_gatherMs = qMax(kGatherMs, kRestShare * static_cast<int>(timer.elapsed()));
}

void ProgramPage::fillAttention() {
    const QString current = m_weekTable->currentId();
    m_weekRows->setRows(m_view->attentionRows());
    const int count = m_weekRows->rowCount();
    const bool all = m_view->known() == m_view->inTraining();
    m_weekHead->setRemark(tr("%1 of %n in training need action", nullptr, m_view->inTraining()).arg(count));
    m_weekTable->setVisible(count > 0);
    m_weekNothing->setVisible(count == 0);
    m_weekNothing->setText(all ? tr("Nobody needs action.")
                               : tr("Nobody needs action as far as readiness is known yet."));
    m_weekTable->selectRowAt(qMax(0, m_weekRows->rowOf(current)));
}

void ProgramPage::fillCounts() {
    std::vector<Row> rows;
    for (const ReadinessWord word : kWords) {
        const QString title = qs(core::shownWord(word, m_data.readiness));
        const int count = m_view->count(word);
        const QVariant sign(static_cast<int>(word));
        rows.push_back({QString::number(static_cast<int>(word)),
                        {Cell{.text = title, .payload = sign, .tip = title},
                         Cell{.payload = QVariant::fromValue(CountMarks{word, count}),
                              .tip = tr("%1: %n trainee(s)", nullptr, count).arg(title)},
                         boldCell(QString::number(count))}});
    }
    const int before = qMax(0, m_countTable->currentIndex().row());
    m_countRows->setRows(std::move(rows));
    m_countTable->selectRowAt(before);
    std::vector<Row> tests;
    for (const ProgramView::TestAhead& one : m_view->testsAhead()) {
        const QString word =
            one.word ? qs(core::shownWord(*one.word, m_data.readiness)) : tr("not yet known");
        Cell readiness = mutedCell(word);
        if (one.word) readiness.payload = static_cast<int>(*one.word);
        tests.push_back({one.trainee, {Cell{shortDate(one.date)}, longCell(one.name), readiness}});
    }
    const int count = static_cast<int>(tests.size());
    m_testsHead->setRemark(
        tr("%1 booked in the next %n day(s)", nullptr, m_data.attention.testWithinDays).arg(count));
    m_testTable->setVisible(count > 0);
    m_testRows->setRows(std::move(tests));
    m_testTable->selectRowAt(0);
}

RosterFilter ProgramPage::filter() const {
    return {m_find->text().trimmed(), m_word, static_cast<Grouping>(m_grouping->currentIndex()), m_order};
}

void ProgramPage::fillRoster() {
    if (!m_view) return;
    const QString current = m_rosterTable->currentId();
    const DayScale scale{m_desk.now().date(), m_view->lastDay()};
    m_runway->setScale(scale);
    m_header->setScale(scale);
    m_header->setSortIndicator(m_order.column, m_order.descending ? Qt::DescendingOrder : Qt::AscendingOrder);
    auto rows = m_view->rosterRows(filter());
    const auto shown = std::ranges::count_if(rows, [](const Row& row) { return !row.id.isEmpty(); });
    m_rosterRows->setRows(std::move(rows));
    m_rosterTable->selectRowAt(qMax(0, m_rosterRows->rowOf(current)));
    QString remark = tr("%1 of %2").arg(shown).arg(m_view->roster().size());
    if (m_word) remark = tr("%1; only: %2").arg(remark, qs(core::shownWord(*m_word, m_data.readiness)));
    m_tabs->setRemark(m_rosterBlock, remark);
}

void ProgramPage::fillLoad() {
    const QModelIndex before = m_loadTable->currentIndex();
    m_loadRows->setColumns(m_view->weekColumns());
    m_loadRows->setRows(m_view->weekRows());
    std::vector<int> widths{0};
    for (int week = 0; week < ProgramView::kWeeks; ++week) widths.push_back(92);
    widths.push_back(100);
    m_loadTable->setWidths(widths);
    if (m_loadRows->rowCount() > 0)
        m_loadTable->setCurrentIndex(m_loadRows->index(qBound(0, before.row(), m_loadRows->rowCount() - 1),
                                                       qMax(ProgramView::kWeeks, before.column())));
    m_tabs->setRemark(m_loadBlock, tr("the last %n week(s)", nullptr, ProgramView::kWeeks));
}

void ProgramPage::updateProgress() {
    const int all = m_view->inTraining(), known = m_view->known();
    QString remark = tr("%n in training", nullptr, all);
    if (known < all) remark = tr("%1 of %2 worked out").arg(known).arg(all);
    m_countsHead->setRemark(remark);
}

void ProgramPage::readClassSteps() {
    if (!m_classStale || m_classReader.isRunning()) return;
    m_classStale = false;
    m_classNote->setText(tr("Reading all attempts..."));
    const double since = core::dayOf(isoMoment(m_desk.now())).value_or(0) - kClassDays;
    m_classReader.start(m_session.path(), [since](auto& promise, db::ProgramFile& file) {
        const auto record = file.practiceRecord([&promise](double) { return !promise.isCanceled(); });
        if (promise.isCanceled()) return;
        if (!record)
            promise.addResult(core::fail(record.error()));
        else if (*record)
            promise.addResult(core::classSteps(**record, since));
    });
}

void ProgramPage::readOpenPairs() {
    if (!m_pairsStale) return;
    m_pairsStale = false;
    m_pairReader.start(m_session.path(), [](auto& promise, db::ProgramFile& file) {
        auto open = openPairs(file, [&promise] { return !promise.isCanceled(); });
        if (!promise.isCanceled()) promise.addResult(std::move(open));
    });
}

void ProgramPage::sortBy(int column, bool descending) {
    m_order = {column, descending};
    const QSignalBlocker quiet(m_sorting);
    m_sorting->setCurrentIndex(qMax(0, m_sorting->findData(column)));
    fillRoster();
}

void ProgramPage::showClass(const core::Result<std::vector<core::ClassStep>>& reading) {
    if (!reading) {
        m_classNote->setText(errorText(reading.error(), 1));
        return;
    }
    m_class = *reading;
    m_classRows->setRows(classRows(m_class, m_session.file()));
    m_classTable->selectRowAt(0);
    m_classNote->setText(
        m_class.empty()
            ? tr("No step was tried by three trainees or more in the last %1 days.").arg(kClassDays)
            : tr("Last try of each trainee in the last %1 days; a step missed by most is taught to the "
                 "group, or its wording is unclear. Enter shows the attempts.")
                  .arg(kClassDays));
}

void ProgramPage::act(const QString& trainee) {
    using core::AttentionAction;
    const auto& all = m_view->attention();
    const auto found = std::ranges::find(all, ss(trainee), &core::Attention::trainee);
    if (found == all.end()) return;
    // A copy: what follows may rebuild the list.
    const core::Attention one = *found;  // NOLINT(performance-unnecessary-copy-initialization)
    switch (one.action) {
        case AttentionAction::EnterDate:
            if (one.dateKind == core::DateKind::BookedTest)
                emit traineeRequested(trainee);
            else
                emit editRequested(trainee);
            break;
        case AttentionAction::BookSession:
            emit startRequested(trainee);
            break;
        case AttentionAction::BookTest:
            emit bookTestRequested(trainee);
            break;
        case AttentionAction::Drill:
            emit drillRequested(trainee);
            break;
        case AttentionAction::SeeMarks:
        case AttentionAction::NoteSigning:
            emit attemptRequested(one.attempts.empty() ? QString() : qs(one.attempts.front()));
            break;
        case AttentionAction::SeeRecord:
            emit recordRequested(trainee);
            break;
        case AttentionAction::Settle:
            emit settleRequested(qs(one.attempts.front()));
            break;
    }
}

void ProgramPage::openRoster(const QString& trainee) {
    if (!trainee.isEmpty()) emit traineeRequested(trainee);
}

void ProgramPage::openAttempts(const QString& title, const std::vector<std::string>& attempts) {
    if (attempts.empty()) return;
    AttemptsDialog dialog(m_theme, m_session, title, attempts, this);
    if (dialog.exec() == QDialog::Accepted) emit attemptRequested(dialog.chosen());
}

void ProgramPage::openLoad(const QModelIndex& index) {
    if (index.column() == 0) return;
    const QString instructor = index.data(RowsModel::IdRole).toString();
    const int week = index.column() > ProgramView::kWeeks ? -1 : index.column() - 1;
    openAttempts(tr("Attempts: %1, %2", "instructor, week")
                     .arg(index.siblingAtColumn(0).data().toString(),
                          m_loadRows->headerData(index.column(), Qt::Horizontal, Qt::DisplayRole).toString()),
                 m_view->attemptsOf(instructor, week));
}

void ProgramPage::filterByWord(int row) {
    if (row < 0 || row >= static_cast<int>(kWords.size())) return;
    const ReadinessWord word = kWords[static_cast<std::size_t>(row)];
    m_word = m_word == word ? std::nullopt : std::optional(word);
    m_tabs->show(m_rosterBlock);
    fillRoster();
    emit said(
        m_word ? tr("Roster: only %1; Enter again shows all").arg(qs(core::shownWord(word, m_data.readiness)))
               : tr("Roster: all trainees"));
}

TableView* ProgramPage::front() const {
    if (m_weekTable->hasFocus()) return m_weekTable;
    if (m_tabs->current() == m_classBlock) return m_classTable;
    return m_tabs->current() == m_loadBlock ? m_loadTable : m_rosterTable;
}

QString ProgramPage::current() const {
    if (m_stack->currentIndex() != 1) return {};
    for (const TableView* table : {m_weekTable, m_testTable})
        if (table->hasFocus()) return table->currentId();
    return m_tabs->current() == m_rosterBlock ? m_rosterTable->currentId() : QString();
}

bool ProgramPage::canPerform(PageCommand command) const {
    switch (command) {
        case PageCommand::Find:
        case PageCommand::CopyTable:
        case PageCommand::DataTable:
            return m_stack->currentIndex() == 1;
        default:
            return false;
    }
}

void ProgramPage::perform(PageCommand command) {
    if (command == PageCommand::Find) {
        m_tabs->show(m_rosterBlock);
        m_find->setFocus(Qt::ShortcutFocusReason);
    } else if (command == PageCommand::CopyTable) {
        const int rows = copyTable(*front()->model());
        emit said(tr("%n row(s) copied", nullptr, rows));
    } else if (command == PageCommand::DataTable) {
        DataTableDialog dialog(
            m_theme, tr("Program"),
            {{tr("This week"), ProgramView::attentionColumns(), m_view->attentionRows()},
             {tr("Roster and runway"), ProgramView::rosterColumns(), m_view->rosterTexts()},
             {tr("Attempts a week"), m_view->weekColumns(), m_view->weekRows()}},
            this);
        dialog.exec();
    }
}

}  // namespace markerlamp::app
