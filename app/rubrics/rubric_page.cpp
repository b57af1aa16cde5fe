// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/rubric_page.h"
#include "app/support/small_screens.h"

#include "app/rubrics/draft_keeping.h"
#include "app/rubrics/edition_dialog.h"
#include "app/rubrics/edition_words.h"
#include "app/rubrics/step_tree.h"
#include "app/shell/session.h"
#include "app/support/clipboard.h"
#include "app/support/display.h"
#include "app/support/table_view.h"

#include <QComboBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLineEdit>
#include <QMessageBox>
#include <QStackedWidget>
#include <QTextBrowser>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

namespace {

constexpr std::size_t kMostCompared = 5;

QTextBrowser* makeText(const Theme& theme, const QString& name) {
    auto* text = new QTextBrowser;
    text->setAccessibleName(name);
    text->setFrameShape(QFrame::NoFrame);
    text->setProperty("flat", true);
    text->setOpenLinks(false);
    text->setTabChangesFocus(true);
    text->setFont(theme.font(15));
    text->document()->setDocumentMargin(0);
    return text;
}

}  // namespace

RubricPage::RubricPage(const Theme& theme, Session& session, QWidget* parent)
    : Page(parent), m_theme(theme), m_session(session), m_stack(new QStackedWidget) {
    setAccessibleName(tr("Rubric"));
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_stack);
    auto* empty = new EmptyState(theme, tr("No rubric yet"),
                                 tr("A rubric lists what a trainee must show and say. A new program file "
                                    "brings built-in examples; this one has none."));
    connect(empty->setButton(tr("Import a rubric"), tr("Ctrl+I")), &QPushButton::clicked, this,
            &RubricPage::importRequested);
    m_stack->addWidget(empty);
    m_stack->addWidget(scrollingPage(makePage()));
    connect(&session, &Session::rubricsChanged, this, [this] {
        m_stale = true;
        if (isVisible()) aboutToShow();
    });
    connect(&theme, &Theme::changed, this, [this] {
        if (m_rubric) load();
    });
}

QWidget* RubricPage::makePage() {
    auto* page = new QWidget;
    // Three columns side by side need this much; what is less scrolls.
    page->setMinimumSize(qRound(m_theme.s(1080)), qRound(m_theme.s(480)));
    auto* column = new QVBoxLayout(page);
    const int side = qRound(m_theme.s(16));
    column->setContentsMargins(side, qRound(m_theme.s(10)), side, qRound(m_theme.s(8)));
    column->setSpacing(qRound(m_theme.s(10)));
    auto* head = new QHBoxLayout;
    head->setSpacing(qRound(m_theme.s(8)));
    m_title = new Text(m_theme, 25, true);
    m_title->setElided();
    head->addWidget(m_title, 1);
    m_editions = new QComboBox;
    m_editions->setAccessibleName(tr("Rubric and edition"));
    // Room for the title; the list itself is as wide as its entries.
    m_editions->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    m_editions->setFixedWidth(qRound(m_theme.s(322)));
    head->addWidget(m_editions);
    auto* blank = new KeyButton(m_theme, tr("Blank sheet"));
    auto* study = new KeyButton(m_theme, tr("Study sheet"));
    auto* import = new KeyButton(m_theme, tr("Import"));
    connect(blank, &QPushButton::clicked, this, [this] {
        if (m_rubric) emit blankSheetRequested(qs(m_rubric->id), m_rubric->edition);
    });
    connect(study, &QPushButton::clicked, this, [this] { perform(PageCommand::PrintStudySheet); });
    connect(import, &QPushButton::clicked, this, &RubricPage::importRequested);
    m_edit = new KeyButton(m_theme, tr("Write the next edition"), {}, true);
    connect(m_edit, &QPushButton::clicked, this, [this] { perform(PageCommand::EditEdition); });
    for (KeyButton* button : {blank, study, import, m_edit}) head->addWidget(button);
    column->addLayout(head);

    auto* columns = new QHBoxLayout;
    columns->setSpacing(qRound(m_theme.s(24)));
    auto* left = new QVBoxLayout;
    left->setSpacing(qRound(m_theme.s(4)));
    m_treeHead = new BlockHead(m_theme, tr("Zones and steps"));
    m_treeHead->setRight(tr("steps   min"));
    left->addWidget(m_treeHead);
    m_find = new QLineEdit;
    m_find->setAccessibleName(tr("Find a step"));
    m_find->setPlaceholderText(tr("Find a step (Ctrl+F)"));
    left->addWidget(m_find);
    m_tree = new StepTree(m_theme);
    left->addWidget(m_tree, 1);
    columns->addLayout(left, 364);

    auto* middle = new QVBoxLayout;
    middle->setSpacing(qRound(m_theme.s(4)));
    m_stepHead = new BlockHead(m_theme, tr("Step"));
    m_step = makeText(m_theme, tr("Step in full"));
    middle->addWidget(m_stepHead);
    middle->addWidget(m_step, 1);
    columns->addLayout(middle, 470);

    auto* right = new QVBoxLayout;
    right->setSpacing(qRound(m_theme.s(4)));
    m_limitsHead = new BlockHead(m_theme, tr("Limits"));
    auto* edition = makeLink(m_theme, tr("new edition..."));
    edition->setAccessibleName(tr("New edition with the limits of a limit set"));
    edition->setToolTip(edition->accessibleName());
    QFont small = m_theme.font(13);
    small.setUnderline(true);
    edition->setFont(small);
    m_limitsHead->addRight(edition);
    connect(edition, &QPushButton::clicked, this, &RubricPage::makeEdition);
    m_limits = new RowsModel({{tr("limit")}, {tr("bounds")}, {tr("source")}}, this);
    m_limitsTable = new TableView(m_theme, tr("Limits with their sources"));
    m_limitsTable->setModel(m_limits);
    m_limitsTable->setWidths({128, 130, 0});
    m_rules = makeText(m_theme, tr("Order rules, sections, limit sets and remarks"));
    right->addWidget(m_limitsHead);
    right->addWidget(m_limitsTable, 2);
    right->addWidget(m_rules, 3);
    columns->addLayout(right, 448);
    column->addLayout(columns, 1);

    connect(m_editions, &QComboBox::activated, this, [this] { load(); });
    connect(m_tree->selectionModel(), &QItemSelectionModel::currentChanged, this, &RubricPage::showCurrent);
    connect(m_find, &QLineEdit::returnPressed, this, &RubricPage::find);
    return page;
}

RubricTextStyle RubricPage::textStyle() const {
    return {qRound(m_theme.s(15)), qRound(m_theme.s(13)), m_theme.roles().ink.name(),
            m_theme.roles().muted.name(), m_theme.roles().hair.name()};
}

void RubricPage::aboutToShow() {
    if (m_stale) {
        m_stale = false;
        fillEditions();
        load();
    }
    showDraft();
    if (m_stack->currentIndex() == 1) m_tree->setFocus();
}

void RubricPage::fillEditions() {
    const QString before = m_editions->currentText();
    m_editions->clear();
    const auto infos = m_session.file().rubrics();
    if (!infos) {
        emit said(errorText(infos.error(), 1));
        return;
    }
    for (const db::RubricInfo& info : *infos)
        m_editions->addItem(info.used ? tr("%1, edition %2, in use").arg(qs(info.id)).arg(info.edition)
                                      : tr("%1, edition %2").arg(qs(info.id)).arg(info.edition),
                            QStringList{qs(info.id), QString::number(info.edition)});
    const int wanted = m_wanted.isEmpty() ? -1 : m_editions->findData(m_wanted);
    m_wanted.clear();
    m_editions->setCurrentIndex(wanted >= 0 ? wanted : qMax(0, m_editions->findText(before)));
}

void RubricPage::showDraft() {
    if (!m_rubric) return;
    const auto drafts = draftsIn(m_session.file());
    const bool kept = drafts && std::find(drafts->begin(), drafts->end(), m_rubric->id) != drafts->end();
    m_edit->setText(kept ? tr("Go on with the draft") : tr("Write the next edition"));
    m_edit->updateGeometry();
}

void RubricPage::choose(const QString& rubric, int edition) {
    m_wanted = QStringList{rubric, QString::number(edition)};
    m_stale = true;
    if (isVisible()) aboutToShow();
}

void RubricPage::load() {
    const QStringList chosen = m_editions->currentData().toStringList();
    if (chosen.size() != 2) {
        m_rubric.reset();
        m_stack->setCurrentIndex(0);
        emit commandsChanged();
        return;
    }
    const auto rubric = m_session.file().rubric(ss(chosen[0]), chosen[1].toInt());
    if (!rubric) {
        emit said(errorText(rubric.error(), 1));
        return;
    }
    m_rubric = *rubric;
    int steps = 0;
    double minutes = 0;
    for (const core::Zone& zone : m_rubric->zones)
        for (const core::Step& step : zone.steps) {
            ++steps;
            minutes += step.minutes;
        }
    m_title->setText(qs(m_rubric->title));
    showDraft();
    m_treeHead->setRemark(tr("%1 in %2 zones, %3 min", "steps, zones, minutes")
                              .arg(steps)
                              .arg(m_rubric->zones.size())
                              .arg(qRound(minutes)));
    m_tree->setRubric(*m_rubric);
    showCurrent();
    fillLimits();
    std::vector<core::LimitSet> fitting;
    if (const auto sets = m_session.file().limitSets())
        for (const core::LimitSet& set : *sets)
            if (std::all_of(set.limits.begin(), set.limits.end(), [this](const core::Limit& limit) {
                    return m_rubric->limit(limit.id) != nullptr;
                }))
                fitting.push_back(set);
    m_rules->setHtml(rulesHtml(*m_rubric, fitting, textStyle()));
    m_stack->setCurrentIndex(1);
    emit said(tr("%1, edition %2").arg(qs(m_rubric->title)).arg(m_rubric->edition));
    emit commandsChanged();
}

void RubricPage::fillLimits() {
    std::vector<Row> rows;
    for (const core::Limit& limit : m_rubric->limits)
        rows.push_back({qs(limit.id),
                        {longCell(qs(limit.id)),
                         longCell(boundsText(limit.low, limit.high, qs(limit.unit), limit.exclusive)),
                         mutedCell(qs(limit.source))}});
    m_limitsHead->setRemark(tr("%n, each with its source", nullptr, static_cast<int>(rows.size())));
    m_limits->setRows(std::move(rows));
    m_limitsTable->selectRowAt(0);
}

QString RubricPage::currentZone() const {
    return m_tree->currentZone();
}

void RubricPage::showCurrent() {
    if (!m_rubric) return;
    const core::Step* step = m_rubric->step(ss(m_tree->currentStep()));
    const core::Zone* zone = m_rubric->zone(ss(m_tree->currentZone()));
    if (step != nullptr && zone != nullptr) {
        m_stepHead->setRemark(tr("%1, %2", "step, zone").arg(qs(step->title), qs(zone->title)));
        m_stepHead->setRight(qs(step->id));
        m_step->setHtml(stepHtml(*m_rubric, *step, textStyle()));
        if (step->reading && !step->reading->limit.empty())
            m_limitsTable->selectRowAt(m_limits->rowOf(qs(step->reading->limit)));
    } else if (zone != nullptr) {
        m_stepHead->setRemark(qs(zone->title));
        m_stepHead->setRight(qs(zone->id));
        m_step->setHtml(zoneHtml(*m_rubric, *zone, textStyle()));
    } else {
        m_stepHead->setRemark(tr("about this rubric"));
        m_stepHead->setRight(qs(m_rubric->id));
        m_step->setHtml(aboutHtml(*m_rubric, textStyle()));
    }
}

void RubricPage::find() {
    const QString wanted = m_find->text().trimmed();
    if (wanted.isEmpty()) return;
    const QString found = m_tree->find(wanted);
    emit said(found.isEmpty() ? tr("No step with \"%1\" in its title").arg(wanted) : found);
}

bool RubricPage::canPerform(PageCommand command) const {
    if (command == PageCommand::EditionFromFile) return true;
    if (m_stack->currentIndex() != 1) return false;
    if (command == PageCommand::DataTable) return !earlier().empty();
    return command == PageCommand::EditEdition || command == PageCommand::Find ||
           command == PageCommand::CopyTable || command == PageCommand::PrintStudySheet ||
           command == PageCommand::NewEdition;
}

void RubricPage::perform(PageCommand command) {
    switch (command) {
        case PageCommand::Find:
            m_find->setFocus(Qt::ShortcutFocusReason);
            m_find->selectAll();
            break;
        case PageCommand::CopyTable:
            emit said(tr("%n row(s) copied", nullptr, copyTable(*m_limits)));
            break;
        case PageCommand::PrintStudySheet:
            if (m_rubric) emit studySheetRequested(qs(m_rubric->id), m_rubric->edition, currentZone());
            break;
        case PageCommand::NewEdition:
            makeEdition();
            break;
        case PageCommand::EditEdition:
            if (m_rubric) emit editRequested(qs(m_rubric->id), m_rubric->edition);
            break;
        case PageCommand::DataTable:
            showDifference();
            break;
        case PageCommand::EditionFromFile:
            emit fileRequested();
            break;
        default:
            break;
    }
}

std::vector<std::shared_ptr<const core::Rubric>> RubricPage::earlier() const {
    std::vector<std::shared_ptr<const core::Rubric>> found;
    if (!m_rubric) return found;
    if (auto editions = editionsOf(m_session.file(), m_rubric->id))
        for (const auto& edition : *editions)
            if (edition->edition < m_rubric->edition) found.insert(found.begin(), edition);
    return found;
}

void RubricPage::showDifference() {
    std::vector<DataTable> tables;
    for (const auto& before : earlier()) {
        const auto changes = core::editionDifference(*before, *m_rubric);
        tables.push_back({tr("Against edition %1").arg(before->edition), differenceColumns(),
                          differenceRows(changes, *m_rubric)});
        if (tables.size() == kMostCompared) break;
    }
    if (tables.empty()) return;
    DataTableDialog dialog(m_theme, tr("What is different in edition %1").arg(m_rubric->edition),
                           std::move(tables), this);
    dialog.exec();
}

void RubricPage::makeEdition() {
    if (!m_rubric) return;
    const auto sets = m_session.file().limitSets();
    const auto infos = m_session.file().rubrics();
    if (!sets || !infos) {
        emit said(errorText(sets ? infos.error() : sets.error(), 1));
        return;
    }
    int next = m_rubric->edition + 1;
    for (const db::RubricInfo& info : *infos)
        if (info.id == m_rubric->id) next = std::max(next, info.edition + 1);
    const std::shared_ptr<const core::Rubric> before = m_rubric;
    EditionDialog dialog(m_theme, *before, *sets, next, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const auto made = dialog.newRubric();
    if (made && dialog.writeFirst()) {
        emit draftRequested(*made, before->edition);
        return;
    }
    const auto stored = made ? m_session.file().addRubric(core::writeRubric(*made))
                             : core::Result<db::Added>(core::fail(made.error()));
    if (!stored) {
        QMessageBox::warning(this, tr("No new edition"), errorText(stored.error()));
        return;
    }
    m_session.noteRubricsChanged();
    const int at = m_editions->findData(QStringList{qs(made->id), QString::number(made->edition)});
    if (at >= 0) m_editions->setCurrentIndex(at);
    load();
    emit said(tr("Edition %1 of %2 made; edition %3 stays").arg(next).arg(qs(made->id)).arg(before->edition));
}

}  // namespace markerlamp::app
