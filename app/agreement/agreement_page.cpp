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
#include "core/agreement/attempt_code.h"

#include <QAbstractItemView>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QStackedWidget>
#include <QVBoxLayout>

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

void AgreementPage::fill() {
    const ProgramAgreement* agreement = m_model->agreement();
    const bool hadFocus = m_stack->currentIndex() == 2 && isVisible();
    m_stack->setCurrentIndex(agreement == nullptr ? 2 : m_model->pair() == nullptr ? 0 : 1);
    fillHead();
    fillDifferences();
    m_differencesTable->selectRowAt(0);
    fillAgreement();
    fillStrictness();
    if (hadFocus && m_stack->currentIndex() == 1) m_differencesTable->setFocus();
    emit commandsChanged();
}

void AgreementPage::fillHead() {
    const PairOnFile* pair = m_model->pair();
    m_filling = true;
    m_pairs->clear();
    for (int i = 0; i < m_model->pairs(); ++i) m_pairs->addItem(m_model->pairTitle(i));
    m_pairs->setCurrentIndex(m_model->current());
    // The list shows whole what the closed box cuts off.
    m_pairs->view()->setMinimumWidth(m_pairs->view()->sizeHintForColumn(0) + qRound(m_theme.s(40)));
    m_filling = false;
    for (QWidget* part :
         {static_cast<QWidget*>(m_pairs), static_cast<QWidget*>(m_names), static_cast<QWidget*>(m_settle)})
        part->setVisible(pair != nullptr);
    m_title->setText(pair == nullptr
                         ? tr("Agreement")
                         : tr("Attempt %1").arg(qs(core::attemptCode(pair->first.attempt.header.id))));
    m_facts->setText(factLine(pairFacts(*m_model)));
    m_names->setText(m_model->namesHidden() ? tr("Show names") : tr("Hide names"));
    m_waiting->setText(m_model->agreement() == nullptr ? QString()
                                                       : waitingWords(m_model->agreement()->waiting));
    m_waiting->setVisible(!m_waiting->text().isEmpty());
}

void AgreementPage::fillDifferences() {
    const QString row = m_differencesTable->currentId();
    m_differences->setRows(differenceRows(*m_model));
    m_differencesTable->setWidths(
        {0, 62, 118, 60,
         qRound(m_delegate->settledWidth(m_model->firstMark(), m_model->secondMark()) / m_theme.scale())});
    m_differencesHead->setRemark(differenceRemark(m_model->compared()));
    fillState();
    if (const int kept = m_differences->rowOf(row); kept >= 0) m_differencesTable->selectRowAt(kept);
    showStep();
}

/// How far the settling is; choices are none of the record before it is settled.
void AgreementPage::fillState() {
    const int open = m_model->open();
    const PairOnFile* pair = m_model->pair();
    const bool changed = m_model->changed();
    m_settle->setEnabled(changed);
    m_differencesHead->setRight(!m_notKept.isEmpty()                      ? m_notKept
                                : m_model->compared().differences.empty() ? QString()
                                : changed && open > 0 ? tr("%n still open, not settled", nullptr, open)
                                : changed             ? tr("all chosen, not settled")
                                : pair != nullptr && pair->settled && open == 0
                                    ? tr("all settled")
                                    : tr("%n still open", nullptr, open));
}

std::string AgreementPage::step() const {
    return ss(m_differencesTable->currentId());
}

void AgreementPage::showStep() {
    const core::StepDifference* now = nullptr;
    for (const core::StepDifference& one : m_model->compared().differences)
        if (one.step == step()) now = &one;
    m_reason->setEnabled(now != nullptr);
    const core::Settling settling = m_model->settling(step());
    for (std::size_t i = 0; i < kChoices.size(); ++i) {
        const QString word = choiceWord(*m_model, kChoices[i]);
        m_choices[i]->setText(kChoices[i] == core::Choice::Other ? word + QStringLiteral("...") : word);
        m_choices[i]->setAccessibleName(
            now == nullptr ? word : tr("%1: %2", "step: choice").arg(qs(now->title), word));
        m_choices[i]->setEnabled(now != nullptr);
        const bool on = now != nullptr && settling.choice == kChoices[i];
        m_choices[i]->setChecked(on);
        m_choices[i]->setProperty("primary", on);  // filled, as the choice in the row
        m_choices[i]->update();
    }
    if (m_reason->text().trimmed() != qs(settling.reason)) m_reason->setText(qs(settling.reason));
    m_stepWords->setText(
        now == nullptr ? tr("The two do not differ.")
                       : tr("%1. %2", "step, marks").arg(qs(now->title), differenceWords(*m_model, *now)));
}

void AgreementPage::fillAgreement() {
    m_ofPair->setAgreement(m_model->shown(), m_model->said(), m_model->firstMark(), m_model->secondMark());
    m_pairFoot->setText(resampledWords(m_model->shown()));
    m_upper->setRemark(m_pairBlock,
                       tr("%n step(s) that both observed", nullptr, m_model->compared().observedByBoth));
    const ProgramAgreement* agreement = m_model->agreement();
    if (agreement == nullptr) return;
    m_ofAll->setAgreement(agreement->shown, agreement->said, tr("first"), tr("second"));
    m_allFoot->setText(resampledWords(agreement->shown));
    m_upper->setRemark(m_allBlock, tr("%n pair(s) of scorings", nullptr, m_model->pairs()));
    m_disputed->setRows(disputedRows(agreement->disputed));
    m_disputedTable->selectRowAt(0);
    m_lower->setRemark(m_disputedBlock, agreement->disputed.empty() ? tr("none") : tr("wording to mend"));
}

void AgreementPage::fillStrictness() {
    const ProgramAgreement* agreement = m_model->agreement();
    const bool alone = agreement != nullptr && agreement->instructors < 2;
    const auto& funnel = m_model->funnel();
    const bool known = funnel && !funnel->instructors.empty() && !alone;
    m_strictness->setVisible(known);
    m_luck->setVisible(known);
    m_one->setVisible(!known);
    m_lower->setRemark(
        m_strictnessBlock,
        known ? tr("credited above or below the average, steps in 100; no ranking") : QString());
    m_one->setText(alone         ? tr("Only one instructor has scored here: there is nobody to compare with.")
                   : isReading() ? tr("Being worked out from all first scorings.")
                   : m_stopped   ? tr("Stopped before it was worked out.")
                   : !known      ? tr("The attempts on file do not tell instructors apart yet.")
                                 : QString());
    if (!known) return;
    m_luck->setText(luckWords(*funnel));
    m_strictness->setFunnel(
        *funnel, [this](const std::string& key) { return m_model->letters(key); }, m_luck->text());
    m_strictness->update();
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
