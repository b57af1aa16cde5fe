// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/agreement/agreement_page.h"

#include "app/agreement/agreement_tables.h"
#include "app/agreement/agreement_views.h"
#include "app/agreement/difference_table.h"
#include "app/shell/session.h"
#include "app/start/start_widgets.h"
#include "app/support/block_tabs.h"
#include "app/support/display.h"
#include "app/support/reading_progress.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QScrollArea>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <utility>

namespace markerlamp::app {

namespace {

QString readingWords() {
    return AgreementPage::tr("Pairs of scorings are being looked for. You can go on working meanwhile.");
}

}  // namespace

AgreementPage::AgreementPage(const Theme& theme, Session& session, QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_session(session),
      m_reader(new AgreementReader([this](const AgreementReader::Reading& reading) { take(reading); }, this)),
      m_progress(new ReadingProgress(
          theme, *m_reader,
          {tr("How far the strictness of instructors is worked out"),
           tr("Reading the pairs, and from all first scorings how strictly each one marks"),
           tr("Stopped before the strictness of instructors was worked out.")})),
      m_model(new AgreementModel(this)),
      m_stack(new QStackedWidget) {
    setAccessibleName(tr("Agreement"));
    auto* content = new QWidget;
    auto* column = new QVBoxLayout(content);
    const int side = qRound(theme.s(16));
    column->setContentsMargins(side, qRound(theme.s(10)), side, qRound(theme.s(6)));
    column->setSpacing(qRound(theme.s(10)));
    column->addWidget(makeHead());
    column->addWidget(m_progress);
    m_waiting = new Text(theme, 13, false, Ink::Muted);
    m_waiting->setWordWrap(true);
    column->addWidget(m_waiting);
    m_empty = new EmptyState(
        theme, tr("No attempt has two closed scorings yet"),
        tr("Let another instructor score the same attempt, live on a second workstation or later "
           "from a video. What both marked, where they differ and which steps are read "
           "differently then stands here."));
    connect(m_empty->setButton(tr("Second scoring"), tr("Ctrl+Alt+2")), &QPushButton::clicked, this,
            &AgreementPage::secondScoringRequested);
    m_stack->addWidget(m_empty);
    m_stack->addWidget(makeContent());
    m_reading = new EmptyState(theme, tr("Reading the attempts"), readingWords());
    connect(m_reading->setButton(tr("Second scoring"), tr("Ctrl+Alt+2")), &QPushButton::clicked, this,
            &AgreementPage::secondScoringRequested);
    m_stack->addWidget(m_reading);
    m_stack->setCurrentIndex(2);
    column->addWidget(m_stack, 1);
    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->addWidget(scrollingPage(content));
    const auto stale = [this] {
        m_stale = true;
        if (isVisible()) aboutToShow();
    };
    connect(&session, &Session::attemptChanged, this, stale);
    connect(&session, &Session::peopleChanged, this, stale);
    connect(m_progress, &ReadingProgress::goOnRequested, this, &AgreementPage::startReading);
    connect(m_reader, &FileReading::finished, this, &AgreementPage::readingEnded);
    m_model->setKeeper([this](const auto& first, const auto& second, const core::Choices& choices) {
        return keepChoices(m_session.file(), first, second, choices);
    });
    connect(m_model, &AgreementModel::kept, this, [this](const QString& problem) {
        m_notKept = problem.isEmpty() ? QString() : tr("CHOICES NOT KEPT: %1").arg(problem);
        if (!m_notKept.isEmpty()) emit said(m_notKept);
        fillState();
    });
    connect(m_model, &AgreementModel::reset, this, &AgreementPage::fill);
    connect(m_model, &AgreementModel::namesChanged, this, &AgreementPage::fill);
    connect(m_model, &AgreementModel::funnelChanged, this, &AgreementPage::fillStrictness);
    connect(m_model, &AgreementModel::chosen, this, [this](const QString& step) {
        fillDifferences();
        m_differencesTable->selectRowAt(m_differences->rowOf(step));
    });
    fill();
}

AgreementPage::~AgreementPage() = default;

QWidget* AgreementPage::makeHead() {
    auto* widget = new QWidget;
    auto* head = new QHBoxLayout(widget);
    head->setContentsMargins(0, 0, 0, 0);
    head->setSpacing(qRound(m_theme.s(8)));
    m_title = new Text(m_theme, 25, true, Ink::Full, tr("Agreement"));
    m_facts = new Text(m_theme, 13, false, Ink::Muted);
    m_facts->setWordWrap(true);
    m_pairs = new ChoiceBox(m_theme, tr("Attempt with two scorings"), 15);
    m_pairs->setMinimumWidth(qRound(m_theme.s(230)));
    m_names = new KeyButton(m_theme, tr("Hide names"));
    m_settle = new KeyButton(m_theme, tr("Settle record"), QString(), true);
    head->addWidget(m_title, 0, Qt::AlignBottom);
    head->addSpacing(qRound(m_theme.s(6)));
    head->addWidget(m_facts, 1, Qt::AlignBottom);
    head->addWidget(m_pairs);
    for (KeyButton* button : {m_names, m_settle}) head->addWidget(button);
    connect(m_pairs, &QComboBox::currentIndexChanged, this, [this](int row) {
        if (!m_filling) m_model->setCurrent(row);
    });
    connect(m_names, &QPushButton::clicked, this, [this] {
        m_model->setNamesHidden(!m_model->namesHidden());
        emit said(m_model->namesHidden() ? tr("Names are hidden") : tr("Names are shown"));
    });
    connect(m_settle, &QPushButton::clicked, this, &AgreementPage::settle);
    return widget;
}

QWidget* AgreementPage::makeContent() {
    auto* content = new QWidget;
    auto* columns = new QHBoxLayout(content);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(qRound(m_theme.s(32)));
    columns->addWidget(makeLeft(), 650);
    columns->addWidget(makeRight(), 652);
    return content;
}

QWidget* AgreementPage::makeLeft() {
    auto* left = new QWidget;
    auto* column = new QVBoxLayout(left);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    m_differencesHead = new BlockHead(m_theme, tr("Only the differences"));
    column->addWidget(m_differencesHead);
    m_differences = new RowsModel(settlingColumns(), this);
    m_differencesTable = new TableView(m_theme, tr("Only the differences"));
    m_delegate = new DifferenceDelegate(m_theme, m_differencesTable);
    m_differencesTable->setItemDelegate(m_delegate);
    m_differencesTable->setModel(m_differences);
    m_differencesTable->setRowHeight(60);
    m_differencesTable->setMinimumHeight(qRound(m_theme.s(24 + 3 * 60)));
    m_differencesTable->setMinimumWidth(qRound(m_theme.s(610)));
    m_differencesTable->installEventFilter(this);
    connect(m_delegate, &DifferenceDelegate::chosen, this, [this](const QString& step, int choice) {
        m_differencesTable->selectRowAt(m_differences->rowOf(step));
        choose(static_cast<core::Choice>(choice));
    });
    connect(m_differencesTable->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            [this] { showStep(); });
    connect(m_differencesTable, &TableView::opened, this, [this] { m_reason->setFocus(); });
    column->addWidget(m_differencesTable, 1);
    column->addSpacing(qRound(m_theme.s(8)));
    column->addWidget(makeChoices());
    return left;
}

QWidget* AgreementPage::makeChoices() {
    auto* widget = new QWidget;
    auto* column = new QVBoxLayout(widget);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(4)));
    m_stepWords = new Text(m_theme, 13);
    m_stepWords->setElided();
    column->addWidget(m_stepWords);
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(m_theme.s(4)));
    row->addWidget(new Text(m_theme, 13, false, Ink::Muted, tr("settle as")));
    for (std::size_t i = 0; i < kChoices.size(); ++i) {
        m_choices[i] = new KeyButton(m_theme, QString(), QString::number(i + 1));
        m_choices[i]->setCheckable(true);
        connect(m_choices[i], &QPushButton::clicked, this, [this, i] { choose(kChoices[i]); });
        row->addWidget(m_choices[i]);
    }
    m_reason = new QLineEdit;
    m_reason->setMaxLength(500);
    m_reason->setPlaceholderText(tr("why, if it helps"));
    m_reason->setAccessibleName(tr("Reason for what was settled"));
    connect(m_reason, &QLineEdit::textEdited, this, [this](const QString& words) {
        if (!step().empty()) m_model->setReason(step(), words);
    });
    row->addWidget(m_reason, 1);
    column->addLayout(row);
    return widget;
}

QWidget* AgreementPage::makeRight() {
    auto* right = new QWidget;
    auto* column = new QVBoxLayout(right);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(6)));
    m_upper = new BlockTabs(m_theme);
    const auto block = [this](CoefficientView*& view, Text*& foot, const QString& name) {
        auto* part = new QWidget;
        auto* rows = new QVBoxLayout(part);
        rows->setContentsMargins(0, 0, 0, 0);
        rows->setSpacing(qRound(m_theme.s(2)));
        view = new CoefficientView(m_theme, name);
        foot = new Text(m_theme, 13, false, Ink::Muted);
        foot->setWordWrap(true);
        rows->addWidget(view);
        rows->addWidget(foot);
        rows->addStretch(1);
        return part;
    };
    m_pairBlock = m_upper->add(tr("This attempt"),
                               block(m_ofPair, m_pairFoot, tr("How far the two agree in this attempt")));
    m_allBlock =
        m_upper->add(tr("All shared attempts"),
                     block(m_ofAll, m_allFoot, tr("How far instructors agree in all shared attempts")));
    column->addWidget(m_upper);
    m_lower = new BlockTabs(m_theme);
    m_strictnessBlock = m_lower->add(tr("Strictness"), makeStrictness());
    m_disputed = new RowsModel(disputedColumns(), this);
    m_disputedTable = new TableView(m_theme, tr("Steps that are read differently"));
    m_disputedTable->setModel(m_disputed);
    m_disputedTable->setWidths({0, 170, 80, 96});
    m_disputedTable->setMinimumHeight(qRound(m_theme.s(24 + 4 * 26)));
    m_disputedBlock = m_lower->add(tr("Read differently"), m_disputedTable);
    column->addWidget(m_lower, 1);
    return right;
}

QWidget* AgreementPage::makeStrictness() {
    auto* part = new QWidget;
    auto* rows = new QVBoxLayout(part);
    rows->setContentsMargins(0, qRound(m_theme.s(2)), 0, 0);
    rows->setSpacing(qRound(m_theme.s(2)));
    m_strictness = new StrictnessView(m_theme);
    m_luck = new Text(m_theme, 13, false, Ink::Muted);
    m_one = new Text(m_theme, 13);
    m_luck->setWordWrap(true);
    m_one->setWordWrap(true);
    rows->addWidget(m_strictness, 1);
    rows->addWidget(m_luck);
    rows->addWidget(m_one);
    rows->addStretch(0);
    return part;
}

bool AgreementPage::isReading() const {
    return m_reader->isRunning();
}

void AgreementPage::aboutToShow() {
    if (m_stale) startReading();
    if (m_stack->currentIndex() == 1) m_differencesTable->setFocus();
}

void AgreementPage::startReading() {
    m_stale = m_stopped = false;
    m_session.flush();
    m_progress->begin();
    m_reading->setSentence(readingWords());
    m_reader->start(m_session.path(), readPairs);
}

void AgreementPage::readingEnded(bool complete) {
    if (m_reader->isRunning()) return;  // begun anew
    m_stopped = !complete;
    if (m_stopped) m_reading->setSentence(tr("Stopped before the pairs were read. Go on reads them."));
    fillStrictness();
}

void AgreementPage::take(const AgreementReader::Reading& reading) {
    if (!reading) {
        emit said(errorText(reading.error(), 1));
        m_facts->setText(errorText(reading.error(), 3));
        return;
    }
    if (reading->funnel) {
        m_model->setFunnel(*reading->funnel);
        return;
    }
    AgreementNames names;
    if (const auto all = m_session.file().instructors())
        for (const core::Instructor& one : *all)
            names.instructors[one.key] = qs(one.name.empty() ? one.key : one.name);
    if (const auto all = m_session.file().trainees())
        for (const core::Trainee& one : *all)
            names.trainees[one.key] = qs(one.name.empty() ? one.key : one.name);
    m_model->setAgreement(reading->agreement, std::move(names));
    if (!m_wanted.isEmpty()) showPair(std::exchange(m_wanted, QString()));
}

void AgreementPage::showPair(const QString& secondScoring) {
    const ProgramAgreement* agreement = m_model->agreement();
    if (agreement == nullptr) {
        m_wanted = secondScoring;
        return;
    }
    const auto found = std::ranges::find(agreement->pairs, ss(secondScoring), [](const PairOnFile& pair) {
        return pair.second.attempt.header.id;
    });
    if (found != agreement->pairs.end())
        m_model->setCurrent(static_cast<int>(found - agreement->pairs.begin()));
}

bool AgreementPage::eventFilter(QObject* watched, QEvent* event) {
    if (watched == m_differencesTable && event->type() == QEvent::KeyPress) {
        const auto* key = static_cast<QKeyEvent*>(event);
        const int number = key->key() - Qt::Key_1;
        if ((key->modifiers() & ~Qt::KeypadModifier) == Qt::NoModifier && number >= 0 &&
            number < static_cast<int>(kChoices.size())) {
            choose(kChoices[static_cast<std::size_t>(number)]);
            return true;
        }
    }
    return Page::eventFilter(watched, event);
}

}  // namespace markerlamp::app
