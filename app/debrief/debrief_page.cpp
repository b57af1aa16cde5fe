// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/debrief/debrief_page.h"
#include "app/support/small_screens.h"

#include "app/debrief/amend_dialog.h"
#include "app/debrief/debrief_tables.h"
#include "app/debrief/debrief_views.h"
#include "app/readiness/readiness_blocks.h"
#include "app/shell/session.h"
#include "app/support/blind.h"
#include "app/support/clipboard.h"
#include "app/support/display.h"
#include "app/support/rows_model.h"
#include "app/support/sign_widgets.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QMessageBox>
#include <QScrollArea>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <utility>

namespace markerlamp::app {

DebriefPage::DebriefPage(const Theme& theme, Settings& settings, Session& session, ReadinessDesk& desk,
                         QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_session(session),
      m_blocks(new ReadinessBlocks(theme, settings, desk, ReadinessCard::Width::Narrow, this)),
      m_stack(new QStackedWidget),
      m_empty(new EmptyState(theme, tr("No attempt yet"),
                             tr("The debrief opens by itself when an attempt is finished."))),
      m_hidden(
          new EmptyState(theme, tr("Hidden for now"),
                         tr("Two instructors score this performance. Neither sees the other's marks before "
                            "both have finished."))) {
    setAccessibleName(tr("Debrief"));
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_stack);
    auto* start = m_empty->setButton(tr("Start an attempt"), tr("Ctrl+N"));
    connect(start, &QPushButton::clicked, this, &DebriefPage::startRequested);
    m_stack->addWidget(m_empty);
    m_stack->addWidget(makePage());
    m_stack->addWidget(m_hidden);
    connectBlocks();
    connect(&session, &Session::attemptChanged, this, [this](const QString& id) {
        if (id == m_debrief.attempt || m_debrief.attempt.isEmpty() || m_stack->currentWidget() == m_hidden)
            m_stale = true;
        if (isVisible()) aboutToShow();
    });
    connect(&session, &Session::sheetChanged, this, [this](const QString& id) {
        if (!id.isEmpty() && id != m_debrief.attempt) return;
        m_stale = true;
        if (isVisible()) aboutToShow();
    });
    connect(&session, &Session::peopleChanged, this, [this] { m_stale = true; });
    connect(&theme, &Theme::changed, this, [this] {
        if (m_stack->currentIndex() == 1) fill();
    });
}

QWidget* DebriefPage::makePage() {
    auto* content = new QWidget;
    auto* column = new QVBoxLayout(content);
    const int side = qRound(m_theme.s(16));
    column->setContentsMargins(side, qRound(m_theme.s(10)), side, qRound(m_theme.s(4)));
    column->setSpacing(qRound(m_theme.s(10)));

    auto* head = new QHBoxLayout;
    head->setSpacing(qRound(m_theme.s(8)));
    m_name = new Text(m_theme, 25, true);
    m_facts = new Text(m_theme, 13, false, Ink::Muted);
    m_facts->setWordWrap(true);
    head->addWidget(m_name, 0, Qt::AlignBottom);
    head->addSpacing(qRound(m_theme.s(6)));
    head->addWidget(m_facts, 1, Qt::AlignBottom);
    m_viewButton = new KeyButton(m_theme, tr("Trainee view"), tr("F7"));
    m_amendButton = new KeyButton(m_theme, tr("Amend"), tr("Ctrl+E"));
    m_printButton = new KeyButton(m_theme, tr("Print"), tr("Ctrl+P"), true);
    connect(m_viewButton, &QPushButton::clicked, this, [this] { setTraineeView(!traineeView()); });
    connect(m_amendButton, &QPushButton::clicked, this, &DebriefPage::amend);
    connect(m_printButton, &QPushButton::clicked, this,
            [this] { emit printRequested(m_debrief.attempt, false); });
    for (KeyButton* button : {m_viewButton, m_amendButton, m_printButton}) head->addWidget(button);
    column->addLayout(head);
    m_amended = new Text(m_theme, 13);
    m_amended->setWordWrap(true);
    column->addWidget(m_amended);
    m_strip = new ResultStrip(m_theme);
    column->addWidget(m_strip);

    m_body = new QStackedWidget;
    auto* both = new QWidget;
    auto* columns = new QHBoxLayout(both);
    columns->setContentsMargins(0, 0, 0, 0);
    columns->setSpacing(qRound(m_theme.s(24)));
    columns->addWidget(makeLeft(), 588);
    columns->addWidget(makeRight(), 722);
    m_body->addWidget(both);
    m_traineeView = new TraineeView(m_theme);
    auto* large = new QScrollArea;
    large->setWidgetResizable(true);
    large->setFrameShape(QFrame::NoFrame);
    large->setProperty("flat", true);
    large->setAccessibleName(tr("Trainee view"));
    large->setWidget(m_traineeView);
    m_body->addWidget(large);
    column->addWidget(m_body, 1);

    m_scroll = scrollingPage(content);
    return m_scroll;
}

QWidget* DebriefPage::makeLeft() {
    auto* left = new QWidget;
    auto* column = new QVBoxLayout(left);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    m_sayHead = new BlockHead(m_theme, tr("Say next time"));
    m_sayHead->setRight(tr("last 4, newest right"));
    m_say = new SayNextList(m_theme);
    m_notes = new RowsModel({{tr("what")}, {tr("step")}, {tr("words or figure")}}, this);
    m_notesTable = new TableView(m_theme, tr("Notes and readings"));
    m_notesTable->setModel(m_notes);
    m_notesTable->setWidths({120, 190, 0});
    m_notesTable->horizontalHeader()->hide();
    m_notesTable->setMinimumHeight(qRound(m_theme.s(52)));
    column->addWidget(m_sayHead);
    column->addWidget(m_say);
    column->addSpacing(qRound(m_theme.s(6)));
    auto* notes = new QWidget;
    auto* notesColumn = new QVBoxLayout(notes);
    notesColumn->setContentsMargins(0, 0, 0, 0);
    notesColumn->addWidget(m_notesTable, 1);
    notesColumn->addStretch(0);
    m_lower = new BlockTabs(m_theme);
    m_blocks->addDrill(*m_lower);
    m_notesBlock = m_lower->add(tr("Notes"), notes);
    m_lower->tab(m_notesBlock)->setAccessibleName(tr("Notes and readings"));
    column->addWidget(m_lower, 1);
    return left;
}

void DebriefPage::connectBlocks() {
    connect(m_blocks, &ReadinessBlocks::marksRequested, this, &DebriefPage::showMarks);
    connect(m_blocks, &ReadinessBlocks::startRequested, this, &DebriefPage::drillRequested);
    connect(m_blocks, &ReadinessBlocks::said, this, &Page::said);
    connect(m_blocks, &ReadinessBlocks::printRequested, this,
            [this] { emit drillPrintRequested(m_debrief.attempt); });
}

QWidget* DebriefPage::makeRight() {
    auto* right = new QWidget;
    auto* column = new QVBoxLayout(right);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    auto* upper = new QHBoxLayout;
    upper->setSpacing(qRound(m_theme.s(24)));
    auto* planColumn = new QVBoxLayout;
    planColumn->setSpacing(qRound(m_theme.s(4)));
    m_planHead = new BlockHead(m_theme, tr("Plan"));
    m_plan = new PlanView(m_theme);
    planColumn->addWidget(m_planHead);
    planColumn->addWidget(m_plan);
    planColumn->addStretch(1);
    auto* orderColumn = new QVBoxLayout;
    orderColumn->setSpacing(qRound(m_theme.s(4)));
    m_orderHead = new BlockHead(m_theme, tr("Order"));
    m_order = new OrderView(m_theme);
    orderColumn->addWidget(m_orderHead);
    orderColumn->addWidget(m_order);
    orderColumn->addStretch(1);
    upper->addLayout(planColumn, 402);
    upper->addLayout(orderColumn, 296);
    column->addLayout(upper);
    m_orderWords = new Text(m_theme, 13);
    m_orderWords->setWordWrap(true);
    column->addSpacing(qRound(m_theme.s(6)));
    column->addWidget(m_orderWords);
    column->addSpacing(qRound(m_theme.s(8)));
    m_missed = new RowsModel({{QString(), true},
                              {tr("step")},
                              {tr("zone")},
                              {tr("shown, said")},
                              {tr("missing")},
                              {tr("last 4"), true}},
                             this);
    m_missedTable = new TableView(m_theme, tr("Also missed"));
    m_missedTable->setModel(m_missed);
    m_missedTable->setItemDelegateForColumn(3, new SignDelegate(m_theme, m_missedTable));
    m_missedTable->setWidths({40, 176, 112, 118, 0, 64});
    m_missedTable->setMinimumHeight(qRound(m_theme.s(76)));
    connect(m_missedTable, &TableView::opened, this, &DebriefPage::amend);
    auto* missed = new QWidget;
    auto* missedColumn = new QVBoxLayout(missed);
    missedColumn->setContentsMargins(0, 0, 0, 0);
    missedColumn->addWidget(m_missedTable, 1);
    missedColumn->addStretch(0);
    m_lowerRight = new BlockTabs(m_theme);
    m_missedBlock = m_lowerRight->add(tr("Also missed"), missed);
    m_blocks->addReadiness(*m_lowerRight);
    column->addWidget(m_lowerRight, 1);
    return right;
}

void DebriefPage::showAttempt(const QString& id) {
    m_stale = true;
    m_debrief.attempt = id;
    setTraineeView(false);
    if (isVisible()) aboutToShow();
}

void DebriefPage::showMarks(const QString& id, const QString& step) {
    m_step = step;
    if (id != m_debrief.attempt) m_stale = true;
    m_debrief.attempt = id;
    setTraineeView(false);
    if (!isVisible()) return;
    if (m_stale)
        aboutToShow();
    else
        showStep();
}

void DebriefPage::showStep() {
    const QString step = std::exchange(m_step, {});
    m_say->mark(step);
    if (step.isEmpty()) return;
    for (const MissedLine& line : m_debrief.missed) {
        if (qs(line.say.step) != step) continue;
        if (const int row = m_missed->rowOf(step); row >= 0) {
            m_lowerRight->show(m_missedBlock);
            m_missedTable->selectRowAt(row);
            m_missedTable->setFocus();
        }
        emit said(tr("%1: %2", "step, marks").arg(qs(line.say.title), line.lampWords));
        return;
    }
    if (const core::Step* known = m_debrief.scored.rubric ? m_debrief.scored.rubric->step(ss(step)) : nullptr)
        emit said(tr("%1: nothing missed in this attempt").arg(qs(known->title)));
}

void DebriefPage::aboutToShow() {
    if (!m_stale) {
        if (!m_step.isEmpty()) showStep();
        if (m_missedTable->isVisible()) m_missedTable->setFocus();
        return;
    }
    m_stale = false;
    QString id = m_debrief.attempt;
    if (id.isEmpty()) {
        if (const auto infos = m_session.file().attempts()) {
            const auto hidden = hiddenFrom(*infos);
            for (const db::AttemptInfo& info : *infos)
                if (info.state == db::AttemptState::Ended && !hidden.contains(info.id)) {
                    id = qs(info.id);
                    break;
                }
        }
    }
    if (id.isEmpty()) {
        m_stack->setCurrentIndex(0);
        emit commandsChanged();
        return;
    }
    load(id);
}

void DebriefPage::load(const QString& id) {
    auto debrief = loadDebrief(m_session, id);
    if (!debrief) {
        m_debrief = {};
        const bool hidden = debrief.error().kind == core::ErrorKind::Busy;
        if (hidden)
            m_debrief.attempt = id;  // it is tried again when an attempt changes
        else
            m_empty->setSentence(errorText(debrief.error()));
        m_stack->setCurrentWidget(hidden ? m_hidden : m_empty);
        emit said(errorText(debrief.error(), 1));
    } else {
        m_debrief = std::move(*debrief);
        fill();
        m_stack->setCurrentIndex(1);
        m_missedTable->setFocus();
        sayWhose();
        emit traineeShown(m_debrief.traineeKey);
        m_blocks->showTrainee(m_debrief.traineeKey);
        showStep();
    }
    emit commandsChanged();
}

void DebriefPage::sayWhose() {
    emit said(tr("Debrief of %1: %2").arg(m_debrief.traineeName, m_debrief.resultLine));
}

void DebriefPage::fill() {
    m_name->setText(m_debrief.traineeName);
    QStringList amended;
    for (const Amendment& amendment : m_debrief.amendments) {
        const QDateTime at = QDateTime::fromString(amendment.at, Qt::ISODate);
        QString line = tr("Amended %1 by %2").arg(longDate(at.date()), amendment.by);
        if (!amendment.reason.isEmpty())
            line = tr("%1: %2", "amended when, by whom: why").arg(line, amendment.reason);
        amended << line;
    }
    m_amended->setText(amended.join(QStringLiteral(".  ")));
    showHead();
    m_strip->setDebrief(m_debrief);
    m_say->setDebrief(m_debrief);
    m_plan->setDebrief(m_debrief);
    m_order->setDebrief(m_debrief);
    m_traineeView->setDebrief(m_debrief);

    const int missed = static_cast<int>(m_debrief.missed.size());
    m_sayHead->setRemark(missed > kSayNextLines ? tr("1 to %1 of %2").arg(kSayNextLines).arg(missed)
                                                : QString());
    m_planHead->setRemark(
        tr("satisfied of observed; bold: under %1").arg(percentText(m_debrief.passPercent)));
    m_orderHead->setRemark(m_debrief.order.displaced == 0
                               ? tr("all in place")
                               : tr("%n step(s) out of place", nullptr, m_debrief.order.displaced));
    QStringList sentences;
    for (const OrderGroup& group : m_debrief.order.groups)
        if (!group.sentence.isEmpty() && sentences.size() < 2) sentences << group.sentence + QLatin1Char('.');
    m_orderWords->setText(sentences.join(QLatin1Char(' ')));
    m_orderWords->setVisible(!sentences.isEmpty());
    m_amendButton->setEnabled(m_debrief.ended);
    m_printButton->setEnabled(m_debrief.ended);
    fillTables();
}

void DebriefPage::fillTables() {
    std::vector<Row> notes;
    for (const NoteLine& note : m_debrief.notes)
        notes.push_back({{}, {mutedCell(note.kind), longCell(note.step), longCell(note.text)}});
    const int noteCount = static_cast<int>(notes.size());
    m_notes->setRows(std::move(notes));
    m_lower->tab(m_notesBlock)->setText(noteCount == 0 ? tr("Notes") : tr("Notes %1").arg(noteCount));
    m_lower->setRemark(m_notesBlock, noteCount == 0 ? tr("none in this attempt") : tr("and readings"));
    m_notesTable->setVisible(noteCount > 0);
    m_notesTable->selectRowAt(0);

    std::vector<Row> rows;
    std::map<core::StepOutcome, int> outcomes;
    for (const MissedLine& line : m_debrief.missed) {
        ++outcomes[line.say.outcome];
        if (line.rank <= kSayNextLines) continue;
        rows.push_back({qs(line.say.step),
                        {sortedCell(QString::number(line.rank), line.rank), longCell(qs(line.say.title)),
                         mutedCell(qs(line.say.zoneTitle)),
                         paintedCell(QVariant::fromValue(line.sign), line.lampWords), longCell(line.missing),
                         Cell{QStringLiteral("%1/%2").arg(line.say.missedRecent).arg(line.say.seenRecent)}}});
    }
    const int count = static_cast<int>(rows.size());
    m_missed->setRows(std::move(rows));
    m_missedTable->selectRowAt(0);
    m_missedTable->setVisible(count > 0);
    m_lowerRight->tab(m_missedBlock)
        ->setText(
            count == 0
                ? tr("Also missed")
                : tr("Also missed %1 to %2", "ranks").arg(kSayNextLines + 1).arg(kSayNextLines + count));
    const QString all = tr("%1 omitted, %2 partial, %3 wrong, %4 with help in all")
                            .arg(outcomes[core::StepOutcome::Omitted])
                            .arg(outcomes[core::StepOutcome::Partial])
                            .arg(outcomes[core::StepOutcome::Wrong])
                            .arg(outcomes[core::StepOutcome::Prompted]);
    m_lowerRight->setRemark(m_missedBlock, count == 0 ? tr("nothing else; %1").arg(all) : all);
}

bool DebriefPage::traineeView() const {
    return m_body->currentIndex() == 1;
}

void DebriefPage::setTraineeView(bool on) {
    const bool before = traineeView();
    m_body->setCurrentIndex(on ? 1 : 0);
    // The view that is away does not make the page wider than the window.
    for (int i = 0; i < m_body->count(); ++i) {
        const auto policy = i == m_body->currentIndex() ? QSizePolicy::Preferred : QSizePolicy::Ignored;
        m_body->widget(i)->setSizePolicy(policy, policy);
    }
    showHead();
    m_viewButton->setText(on ? tr("Back to the debrief") : tr("Trainee view"));
    m_viewButton->updateGeometry();
    m_amendButton->setVisible(!on);
    emit commandsChanged();
    if (on)
        emit said(tr("Trainee view: no other names, no private notes"));
    else if (before)
        sayWhose();
}

void DebriefPage::showHead() {
    // For the trainee's eyes only the own name, the number and the date stay: no instructor, no must-pass
    // tallies, no result.
    const bool trainee = traineeView();
    m_facts->setText(factLine(trainee ? m_debrief.facts.mid(0, 1) : m_debrief.facts));
    m_strip->setVisible(!trainee);
    m_amended->setVisible(!trainee && !m_amended->text().isEmpty());
}

void DebriefPage::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Escape && traineeView()) {
        setTraineeView(false);
        event->accept();
        return;
    }
    Page::keyPressEvent(event);
}

bool DebriefPage::canPerform(PageCommand command) const {
    const bool there = m_stack->currentIndex() == 1;
    switch (command) {
        case PageCommand::TraineeView:
        case PageCommand::CopyTable:
        case PageCommand::CopyImage:
        case PageCommand::DataTable:
            return there;
        case PageCommand::Amend:
            return there && m_debrief.ended && !traineeView();
        case PageCommand::PrintSheet:
        case PageCommand::PreviewSheet:
        case PageCommand::NoteSigning:
            return there && m_debrief.ended;
        default:
            return false;
    }
}

void DebriefPage::perform(PageCommand command) {
    switch (command) {
        case PageCommand::TraineeView:
            setTraineeView(!traineeView());
            break;
        case PageCommand::CopyTable: {
            // The table on the page goes on where "say next time" ends; a copy holds all of it.
            DataTable all = missedTable(m_debrief);
            RowsModel missed(std::move(all.columns));
            missed.setRows(std::move(all.rows));
            const int rows = copyTable(m_notesTable->hasFocus() ? *m_notes : missed);
            emit said(tr("%n row(s) copied", nullptr, rows));
            break;
        }
        case PageCommand::CopyImage:
            copyImage(*m_plan);
            emit said(tr("Plan copied as an image"));
            break;
        case PageCommand::DataTable: {
            DataTableDialog dialog(m_theme, tr("Figures of the attempt"),
                                   {missedTable(m_debrief), planTable(m_debrief), orderTable(m_debrief)},
                                   this);
            dialog.exec();
            break;
        }
        case PageCommand::Amend:
            amend();
            break;
        case PageCommand::PrintSheet:
        case PageCommand::PreviewSheet:
            emit printRequested(m_debrief.attempt, command == PageCommand::PreviewSheet);
            break;
        case PageCommand::NoteSigning:
            emit signingRequested(m_debrief.attempt);
            break;
        default:
            break;
    }
}

void DebriefPage::amend() {
    if (!m_debrief.ended) return;
    // The writer stores what it is given: whether it may be is asked before.
    if (auto may = m_session.file().mayAlter(ss(m_debrief.attempt)); !may) {
        emit said(errorText(may.error(), 1));
        return;
    }
    auto instructors = m_session.file().instructors();
    if (!instructors) {
        emit said(errorText(instructors.error(), 1));
        return;
    }
    std::erase_if(*instructors, [this](const core::Instructor& one) {
        return !core::isOwn(m_session.file().acting(), one.key);
    });
    AmendDialog dialog(m_theme, m_debrief.scored, *instructors, m_missedTable->currentId(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    auto events = amendmentEvents(m_debrief.scored, dialog.changes(), dialog.reason(), dialog.by(), nowIso());
    if (!events) {
        QMessageBox::warning(this, tr("Not amended"), errorText(events.error()));
        return;
    }
    const QString id = m_debrief.attempt;
    m_session.append(id, std::move(*events));
    if (!m_session.flush()) {
        emit said(tr("The amendment is kept in memory; the disk does not take it yet"));
        return;
    }
    if (auto done = m_session.file().refreshProjection(ss(id)); !done) emit said(errorText(done.error(), 1));
    m_session.noteAttemptChanged(id);
    emit said(tr("%n step(s) amended; the first record is kept", nullptr,
                 static_cast<int>(dialog.changes().size())));
}

}  // namespace markerlamp::app
