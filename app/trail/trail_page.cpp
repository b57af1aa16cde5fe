// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/trail/trail_page.h"

#include "app/printing/print_jobs.h"
#include "app/shell/session.h"
#include "app/support/clipboard.h"
#include "app/support/display.h"
#include "app/support/reading_progress.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"
#include "forms/sheets/trail_sheet.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QItemSelectionModel>
#include <QLineEdit>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <utility>

namespace markerlamp::app {

namespace {

constexpr TrailTopic kTopics[] = {TrailTopic::All,     TrailTopic::Attempts, TrailTopic::People,
                                  TrailTopic::Records, TrailTopic::Rubrics,  TrailTopic::Settings,
                                  TrailTopic::SignIn,  TrailTopic::File};
constexpr int kSealPiece = 8;

/// In pieces, so that two people can compare it by reading aloud.
QString inPieces(const std::string& seal) {
    QStringList pieces;
    const QString text = qs(seal);
    for (qsizetype at = 0; at < text.size(); at += kSealPiece) pieces << text.mid(at, kSealPiece);
    return pieces.join(QLatin1Char(' '));
}

}  // namespace

TrailPage::TrailPage(const Theme& theme, const Settings& settings, Session& session, QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_settings(settings),
      m_session(session),
      m_reader(new TrailReader([this](const TrailReader::Reading& reading) { take(reading); }, this)),
      m_progress(new ReadingProgress(
          theme, *m_reader,
          {tr("How far the seals are looked through"), tr("Comparing every seal with what it was put on"),
           tr("Stopped before all seals were looked through.")})) {
    setAccessibleName(tr("Trail"));
    auto* content = new QWidget;
    auto* column = new QVBoxLayout(content);
    const int side = qRound(theme.s(16));
    column->setContentsMargins(side, qRound(theme.s(10)), side, qRound(theme.s(8)));
    column->setSpacing(qRound(theme.s(10)));
    column->addWidget(makeHead());
    column->addWidget(m_progress);
    m_flaws = new Text(theme, 15, true);
    m_flaws->setWordWrap(true);
    m_flaws->setVisible(false);
    column->addWidget(m_flaws);
    column->addWidget(makeFilter());
    m_stack = new QStackedWidget;
    auto* empty = new EmptyState(theme, tr("Nothing was changed yet"),
                                 tr("Every change to people, results, rubrics and settings, and to an "
                                    "attempt after its end, will stand "
                                    "here with who, when and what."));
    m_stack->addWidget(makeLists());
    m_stack->addWidget(empty);
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
    connect(&session, &Session::sheetChanged, this, stale);
    connect(m_progress, &ReadingProgress::goOnRequested, this, &TrailPage::startReading);
    connect(m_reader, &FileReading::finished, this, [this] { fill(); });
    filter();
}

TrailPage::~TrailPage() = default;

QWidget* TrailPage::makeHead() {
    auto* widget = new QWidget;
    auto* head = new QHBoxLayout(widget);
    head->setContentsMargins(0, 0, 0, 0);
    head->setSpacing(qRound(m_theme.s(8)));
    auto* title = new Text(m_theme, 25, true, Ink::Full, tr("Trail of changes"));
    m_standing = new Text(m_theme, 13, false, Ink::Muted, tr("being read"));
    m_standing->setWordWrap(true);
    head->addWidget(title, 0, Qt::AlignBottom);
    head->addSpacing(qRound(m_theme.s(6)));
    head->addWidget(m_standing, 1, Qt::AlignBottom);
    m_check = new KeyButton(m_theme, tr("Check the seals"));
    m_check->setToolTip(
        tr("Compares every seal with what it was put on, the ended attempts and the newest copies"));
    m_print = new KeyButton(m_theme, tr("Print"), tr("Ctrl+P"), true);
    connect(m_check, &QPushButton::clicked, this, &TrailPage::startReading);
    connect(m_print, &QPushButton::clicked, this, [this] { print(false); });
    head->addWidget(m_check);
    head->addWidget(m_print);
    return widget;
}

QWidget* TrailPage::makeFilter() {
    auto* widget = new QWidget;
    auto* row = new QHBoxLayout(widget);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(qRound(m_theme.s(8)));
    m_find = new QLineEdit;
    m_find->setPlaceholderText(tr("Find a name, a field, a value (Ctrl+F)"));
    m_find->setAccessibleName(tr("Find in the trail"));
    m_find->setMinimumWidth(qRound(m_theme.s(160)));
    m_topic = new QComboBox;
    m_topic->setAccessibleName(tr("Which changes"));
    for (const TrailTopic topic : kTopics) m_topic->addItem(topicText(topic));
    m_by = new QComboBox;
    m_by->setAccessibleName(tr("By whom"));
    m_days = new QComboBox;
    m_days->setAccessibleName(tr("How old"));
    m_days->addItem(tr("at any time"), 0);
    for (const int days : {7, 30, 365}) m_days->addItem(tr("of the last %1 days").arg(days), days);
    row->addWidget(m_find, 1);
    for (QComboBox* box : {m_topic, m_by, m_days}) {
        box->setSizeAdjustPolicy(QComboBox::AdjustToContents);
        row->addWidget(box);
        connect(box, &QComboBox::currentIndexChanged, this, &TrailPage::filter);
    }
    connect(m_find, &QLineEdit::textChanged, this, &TrailPage::filter);
    return widget;
}

QWidget* TrailPage::makeLists() {
    auto* widget = new QWidget;
    auto* columns = new QHBoxLayout(widget);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(qRound(m_theme.s(24)));
    auto* left = new QVBoxLayout;
    left->setSpacing(0);
    m_tableHead = new BlockHead(m_theme, tr("Changes"));
    m_rows = new RowsModel(TrailView::columns(), this);
    m_table = new TableView(m_theme, tr("Changes, newest first"));
    m_table->setModel(m_rows);
    m_table->setWidths({52, 168, 130, 190, 150, 0});
    m_table->setMinimumHeight(qRound(m_theme.s(24 + 5 * 26)));
    connect(m_table->selectionModel(), &QItemSelectionModel::currentRowChanged, this, &TrailPage::showEntry);
    left->addWidget(m_tableHead);
    left->addWidget(m_table, 1);
    auto* right = new QVBoxLayout;
    right->setSpacing(qRound(m_theme.s(6)));
    auto* head = new BlockHead(m_theme, tr("One entry"));
    m_entryHead = new Text(m_theme, 15);
    m_entryHead->setWordWrap(true);
    m_fields = new RowsModel(TrailView::fieldColumns(), this);
    m_fieldTable = new TableView(m_theme, tr("What the entry says"));
    m_fieldTable->setModel(m_fields);
    m_fieldTable->setWidths({120, 120, 0});
    m_fieldTable->setMinimumHeight(qRound(m_theme.s(24 + 3 * 26)));
    m_seal = new Text(m_theme, 13, false, Ink::Muted);
    m_seal->setWordWrap(true);
    m_seal->setTextInteractionFlags(Qt::TextSelectableByMouse);
    right->addWidget(head);
    right->addWidget(m_entryHead);
    right->addWidget(m_fieldTable, 1);
    right->addWidget(m_seal);
    columns->addLayout(left, 940);
    columns->addLayout(right, 380);
    return widget;
}

bool TrailPage::isReading() const {
    return m_reader->isRunning();
}

void TrailPage::aboutToShow() {
    if (m_stale) startReading();
}

void TrailPage::startReading() {
    m_stale = m_failed = false;
    m_progress->begin();
    m_reader->start(m_session.path(), readTrail);
}

void TrailPage::take(const TrailReader::Reading& reading) {
    if (!reading) {
        m_failed = true;
        m_standing->setText(errorText(reading.error(), 3));
        emit said(errorText(reading.error(), 1));
        return;
    }
    m_view = TrailView(*reading, QDate::currentDate());
    fill();
    emit said(reading->seals.empty() ? tr("Seals looked through: every one fits")
                                     : tr("Something was changed behind the program's back"));
}

void TrailPage::fill() {
    if (!m_failed && (!m_view.reading().entries.empty() || !m_reader->isRunning()))
        m_standing->setText(m_view.standing());
    const auto& seals = m_view.reading().seals;
    QStringList flaws;
    for (const core::Problem& problem : seals)
        flaws << (problem.path == "attempt" ? tr("Attempt %1: %2").arg(qs(problem.id), qs(problem.message))
                                            : qs(problem.message));
    constexpr int kMostLines = 3;
    m_flaws->setText(seals.empty()
                         ? QString()
                         : firstLines(flaws, kMostLines) + QLatin1Char('\n') + qs(seals.front().remedy));
    m_flaws->setVisible(!seals.empty());
    {
        const QSignalBlocker quiet(m_by);
        const QString chosen = m_by->currentIndex() > 0 ? m_by->currentText() : QString();
        m_by->clear();
        m_by->addItem(tr("by everybody"));
        m_by->addItems(m_view.people());
        m_by->setCurrentIndex(chosen.isEmpty() ? 0 : std::max(0, m_by->findText(chosen)));
    }
    const bool unknown = m_view.reading().entries.empty() && m_reader->isRunning();
    m_stack->setCurrentIndex(m_view.reading().entries.empty() && !unknown ? 1 : 0);
    filter();
}

void TrailPage::filter() {
    TrailFilter wanted;
    wanted.topic = kTopics[std::max(0, m_topic->currentIndex())];
    if (m_by->currentIndex() > 0) wanted.by = m_by->currentText();
    wanted.days = m_days->currentData().toInt();
    wanted.words = m_find->text().trimmed();
    m_view.setFilter(wanted);
    const QString before = m_table->currentId();
    m_rows->setRows(m_view.rows());
    m_table->selectRowAt(std::max(0, m_rows->rowOf(before)));
    m_tableHead->setRemark(tr("newest first"));
    m_tableHead->setRight(tr("%1 of %2").arg(m_view.shown().size()).arg(m_view.reading().entries.size()));
    m_print->setEnabled(!m_view.shown().empty());
    m_table->setEnabled(!m_view.shown().empty());
    showEntry();
    emit commandsChanged();
}

void TrailPage::showEntry() {
    fillEntry();
    // An empty table has nowhere to show that it has the focus, and an empty text no name.
    m_fieldTable->setEnabled(m_fields->rowCount() > 0);
    for (Text* text : {m_entryHead, m_seal}) text->setVisible(!text->text().isEmpty());
}

void TrailPage::fillEntry() {
    const core::TrailEntry* entry = m_view.entry(m_table->currentId().toLongLong());
    if (entry == nullptr) {
        m_entryHead->setText(m_view.reading().entries.empty() ? QString()
                                                              : tr("No change fits what is looked for."));
        m_fields->setRows({});
        m_seal->clear();
        return;
    }
    const bool known = entry->by != core::kNobodySignedIn;
    m_entryHead->setText((known ? tr("Entry %1: %2 by %3") : tr("Entry %1: %2, %3"))
                             .arg(entry->number)
                             .arg(changeText(entry->what), m_view.byText(*entry)));
    m_fields->setRows(TrailView::fieldRows(*entry));
    m_fieldTable->selectRowAt(0);
    m_seal->setText(
        entry->erased()
            ? tr("What it said was taken out when the person was erased. Seal %1").arg(inPieces(entry->seal))
            : tr("Seal %1").arg(inPieces(entry->seal)));
}

forms::Sheet TrailPage::sheet() const {
    forms::TrailSheetInput input;
    input.programTitle = m_session.title();
    input.filter = m_view.filterText();
    input.standing = m_view.reading().seals.empty()
                         ? m_view.standing()
                         : tr("%1. Something was changed behind the program's back: %2")
                               .arg(m_view.standing(), qs(m_view.reading().seals.front().message));
    // Whole, as nobody can come to all of it by trying.
    if (!m_view.reading().entries.empty())
        input.standing += tr("\nLast seal %1").arg(inPieces(m_view.reading().entries.back().seal));
    for (const Row& row : m_view.rows())
        input.rows.push_back({row.cells[0].text, row.cells[1].text, row.cells[2].text, row.cells[3].text,
                              row.cells[4].text, row.cells[5].text});
    input.version = QStringLiteral(MARKERLAMP_VERSION);
    input.printed = QDateTime::currentDateTime();
    input.paper = m_settings.paper();
    return forms::trailSheet(input);
}

void TrailPage::print(bool look) {
    const QString name = pdfName(QStringLiteral("trail"), {QDate::currentDate().toString(Qt::ISODate)});
    if (look) {
        SheetPreview preview(m_theme, sheet(), name, this);
        preview.exec();
        if (!preview.outcome().isEmpty()) emit said(preview.outcome());
        return;
    }
    const QString done = printSheet(sheet(), name, this);
    if (!done.isEmpty()) emit said(done);
}

bool TrailPage::canPerform(PageCommand command) const {
    switch (command) {
        case PageCommand::Find:
            return true;
        case PageCommand::CopyTable:
        case PageCommand::PrintSheet:
        case PageCommand::PreviewSheet:
            return !m_view.shown().empty();
        default:
            return false;
    }
}

void TrailPage::perform(PageCommand command) {
    switch (command) {
        case PageCommand::Find:
            m_find->setFocus();
            m_find->selectAll();
            break;
        case PageCommand::CopyTable:
            emit said(tr("%n row(s) copied", nullptr, copyTable(*m_rows)));
            break;
        case PageCommand::PrintSheet:
        case PageCommand::PreviewSheet:
            print(command == PageCommand::PreviewSheet);
            break;
        default:
            break;
    }
}

}  // namespace markerlamp::app
