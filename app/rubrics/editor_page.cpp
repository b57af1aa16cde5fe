// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/editor_page.h"

#include "app/rubrics/editing_links.h"
#include "app/rubrics/effect_block.h"
#include "app/rubrics/rule_drawing.h"
#include "app/rubrics/step_form.h"
#include "app/rubrics/step_tree.h"
#include "app/rubrics/whole_form.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"
#include "core/rubric/rubric_reader.h"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QItemSelectionModel>
#include <QLineEdit>
#include <QScopedValueRollback>
#include <QTimer>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

namespace {

constexpr int kKeepMilliseconds = 400;
constexpr int kCheckMilliseconds = 150;

}  // namespace

EditorPage::EditorPage(Theme& theme, Settings& settings, Session& session, QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_settings(settings),
      m_session(session),
      m_keepTimer(new QTimer(this)),
      m_checkTimer(new QTimer(this)) {
    setAccessibleName(tr("Rubric editor"));
    auto* content = new QWidget;
    content->setMinimumSize(qRound(theme.s(1080)), qRound(theme.s(600)));
    auto* column = new QVBoxLayout(content);
    const int side = qRound(theme.s(16));
    column->setContentsMargins(side, qRound(theme.s(10)), side, qRound(theme.s(6)));
    column->setSpacing(qRound(theme.s(8)));
    column->addWidget(makeHead());
    m_wrong = new Text(theme, 13, true);
    m_wrong->setElided();
    column->addWidget(m_wrong);
    auto* grid = new QGridLayout;
    grid->setHorizontalSpacing(qRound(theme.s(24)));
    grid->setVerticalSpacing(qRound(theme.s(8)));
    grid->addWidget(makeLeft(), 0, 0, 2, 1);
    m_forms = new QStackedWidget;
    m_whole = new WholeForm(theme);
    m_zone = new ZoneForm(theme);
    m_step = new StepForm(theme);
    for (QWidget* form : std::vector<QWidget*>{m_whole, m_zone, m_step}) m_forms->addWidget(form);
    grid->addWidget(m_forms, 0, 1);
    grid->addWidget(makeRight(), 0, 2);
    m_effect = new EffectBlock(theme);
    grid->addWidget(m_effect, 1, 1, 1, 2);
    grid->setColumnStretch(0, 318);
    grid->setColumnStretch(1, 520);
    grid->setColumnStretch(2, 448);
    grid->setRowStretch(0, 1);
    column->addLayout(grid, 1);
    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->addWidget(scrollingPage(content));

    m_keepTimer->setSingleShot(true);
    m_keepTimer->setInterval(kKeepMilliseconds);
    m_checkTimer->setSingleShot(true);
    m_checkTimer->setInterval(kCheckMilliseconds);
    connect(m_keepTimer, &QTimer::timeout, this, &EditorPage::keep);
    connect(m_checkTimer, &QTimer::timeout, this, &EditorPage::showCheck);
    connect(m_tree->selectionModel(), &QItemSelectionModel::currentChanged, this, &EditorPage::showHere);
    connect(m_find, &QLineEdit::returnPressed, this, &EditorPage::find);
    connect(m_limitsTable, &TableView::opened, this, [this] { editLimit(m_limitsTable->currentId()); });
    connect(m_order, &RuleDrawing::opened, this, [this] { editRule(m_order->currentRule()); });
    connect(m_step, &StepForm::said, this, &Page::said);
    connect(m_whole, &WholeForm::said, this, &Page::said);
    connect(m_effect, &EffectBlock::listRequested, this, &EditorPage::showTables);
    connect(m_effect, &EffectBlock::effectKnown, this, [this] { emit said(m_effect->effectWords()); });
    connect(&session, &Session::attemptChanged, m_effect, &EffectBlock::refresh);
    connect(&session, &Session::rubricsChanged, this, &EditorPage::renumber);
}

EditorPage::~EditorPage() {
    keep();
}

QWidget* EditorPage::makeHead() {
    auto* widget = new QWidget;
    auto* head = new QHBoxLayout(widget);
    head->setContentsMargins(0, 0, 0, 0);
    head->setSpacing(qRound(m_theme.s(8)));
    m_title = new Text(m_theme, 25, true);
    m_title->setElided();
    m_facts = new Text(m_theme, 13, false, Ink::Muted);
    m_facts->setElided();
    head->addWidget(m_title, 5, Qt::AlignBottom);
    head->addWidget(m_facts, 2, Qt::AlignBottom);
    const auto button = [&](const QString& verb, const QString& tip, PageCommand command,
                            bool primary = false) {
        auto* made = new KeyButton(m_theme, verb, {}, primary);
        made->setToolTip(tip);
        connect(made, &QPushButton::clicked, this, [this, command] { perform(command); });
        head->addWidget(made);
        return made;
    };
    button(tr("Editions"), tr("Keeps the draft and shows the editions that are in use"),
           PageCommand::LeaveDraft);
    m_scoring = button(tr("Scoring page"), tr("Preview of the scoring page; nothing is kept"),
                       PageCommand::PreviewScoring);
    m_study = button(tr("Study sheet"), tr("Preview of the study sheet"), PageCommand::PrintStudySheet);
    m_check = button(tr("Check"), tr("Goes to the next thing that is wrong"), PageCommand::NextProblem);
    m_publish = button(tr("Put in use"), tr("Shows what is different, then puts the edition in the file"),
                       PageCommand::Publish, true);
    return widget;
}

QWidget* EditorPage::makeLeft() {
    auto* left = new QWidget;
    auto* column = new QVBoxLayout(left);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(4)));
    m_treeHead = new BlockHead(m_theme, tr("Zones and steps"));
    m_treeHead->setRight(tr("steps   min"));
    m_find = new QLineEdit;
    m_find->setProperty("small", true);
    m_find->setAccessibleName(tr("Find a step"));
    m_find->setPlaceholderText(tr("Find a step (Ctrl+F)"));
    m_tree = new StepTree(m_theme);
    auto* keys = new EditingLinks(m_theme, m_tree,
                                  {PageCommand::Add, PageCommand::Edit, PageCommand::MoveUp,
                                   PageCommand::MoveDown, PageCommand::Retire});
    column->addWidget(m_treeHead);
    column->addWidget(m_find);
    column->addWidget(m_tree, 1);
    column->addWidget(keys, 0, Qt::AlignLeft);
    return left;
}

QWidget* EditorPage::makeRight() {
    auto* right = new QWidget;
    auto* column = new QVBoxLayout(right);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    m_limitsHead = new BlockHead(m_theme, tr("Limits"));
    m_limits = new RowsModel({{tr("id")}, {tr("bounds")}, {tr("source")}, {tr("change")}}, this);
    m_limitsTable = new TableView(m_theme, tr("Limits with their sources"));
    m_limitsTable->setModel(m_limits);
    m_limitsHead->addRight(new EditingLinks(m_theme, m_limitsTable, {PageCommand::Add, PageCommand::Edit}));
    m_limitsTable->setWidths({116, 116, 0, 124});
    m_limitsTable->setMinimumHeight(qRound(m_theme.s(24 + 3 * 26)));
    m_orderHead = new BlockHead(m_theme, tr("Order rules"));
    m_order = new RuleDrawing(m_theme);
    m_orderHead->addRight(new EditingLinks(m_theme, m_order, {PageCommand::Add, PageCommand::Edit}));
    m_order->setMinimumHeight(qRound(m_theme.s(80)));
    column->addWidget(m_limitsHead);
    column->addWidget(m_limitsTable, 5);
    column->addSpacing(qRound(m_theme.s(8)));
    column->addWidget(m_orderHead);
    column->addWidget(m_order, 6);
    return right;
}

core::Result<void> EditorPage::open(const QString& rubric, int edition) {
    if (m_draft != nullptr && qs(m_draft->rubric().id) == rubric) return {};
    auto kept = keptDraft(m_session.file(), ss(rubric));
    if (!kept) return core::fail(kept.error());
    if (*kept) return begin(std::move((*kept)->rubric), (*kept)->base);
    const auto base = m_session.file().rubric(ss(rubric), edition);
    if (!base) return core::fail(base.error());
    return begin(**base, edition);
}

core::Result<void> EditorPage::openWith(core::Rubric rubric, int base) {
    if (auto done = begin(std::move(rubric), base); !done) return done;
    m_unkept = true;
    keep();
    return {};
}

core::Result<void> EditorPage::begin(core::Rubric rubric, int base) {
    keep();
    auto editions = editionsOf(m_session.file(), rubric.id);
    if (!editions) return core::fail(editions.error());
    const auto next = nextEdition(m_session.file(), rubric.id);
    if (!next) return core::fail(next.error());
    rubric.edition = *next;
    m_effect->setDraft(nullptr, {});
    m_draft = std::make_unique<Draft>(std::move(rubric), std::move(*editions), base);
    connect(m_draft.get(), &Draft::changed, this, &EditorPage::noteChanged);
    connect(&m_draft->stack(), &QUndoStack::indexChanged, this, &Page::commandsChanged);
    m_problem = 0;
    m_wrongBefore = 0;
    m_effect->setDraft(m_draft.get(), m_session.path());
    refresh();
    showCheck();
    emit commandsChanged();
    return {};
}

void EditorPage::keep() {
    m_keepTimer->stop();
    if (m_draft == nullptr || !m_unkept) return;
    const int base = m_draft->base() ? m_draft->base()->edition : 0;
    if (auto kept = keepDraft(m_session.file(), m_draft->rubric(), base); !kept) {
        m_facts->setText(tr("DRAFT NOT KEPT: %1").arg(errorText(kept.error(), 1)));
        emit said(m_facts->text());
        m_keepTimer->start();
        return;
    }
    m_unkept = false;
    m_keptAt = QDateTime::currentDateTime();
    showFacts();
}

void EditorPage::leave() {
    keep();
    close(0);
}

void EditorPage::close(int published) {
    if (m_draft == nullptr) return;
    const QString id = qs(m_draft->rubric().id);
    m_keepTimer->stop();
    m_checkTimer->stop();
    m_effect->setDraft(nullptr, {});
    m_step->setStep(nullptr, {});
    m_zone->setZone(nullptr, {});
    m_whole->setDraft(nullptr);
    m_unkept = false;
    m_draft.reset();
    emit left(id, published);
}

core::Result<void> EditorPage::publish() {
    // Another edition may have come in meanwhile.
    renumber();
    const core::Rubric rubric = m_draft->rubric();
    if (auto stored = m_session.file().addRubric(core::writeRubric(rubric)); !stored)
        return core::fail(stored.error());
    if (auto forgotten = forgetDraft(m_session.file(), rubric.id); !forgotten)
        emit said(errorText(forgotten.error(), 1));
    m_unkept = false;
    close(rubric.edition);
    m_session.noteRubricsChanged();
    return {};
}

void EditorPage::renumber() {
    if (m_draft == nullptr) return;
    if (const auto next = nextEdition(m_session.file(), m_draft->rubric().id)) m_draft->setEdition(*next);
}

void EditorPage::aboutToShow() {
    m_effect->hold(false);
    m_tree->setFocus();
}

void EditorPage::hideEvent(QHideEvent* event) {
    keep();
    m_effect->hold(true);
    Page::hideEvent(event);
}

DraftSpot EditorPage::here() const {
    return {m_tree->currentZone(), m_tree->currentStep(), {}};
}

void EditorPage::noteChanged(const DraftSpot& spot) {
    m_unkept = true;
    m_keepTimer->start();
    m_checkTimer->start();
    refresh();
    // Undo and redo lead to what they changed.
    if (!spot.zone.isEmpty() && DraftSpot{spot.zone, spot.step, {}} != here())
        m_tree->select(spot.zone, spot.step);
    if (!spot.point.isEmpty()) m_step->selectPoint(spot.point);
    m_effect->refresh();
}

void EditorPage::refresh() {
    if (m_draft == nullptr) return;
    const core::Rubric& rubric = m_draft->rubric();
    int steps = 0;
    std::map<QString, QString> remarks;
    for (const core::Zone& zone : rubric.zones)
        for (const core::Step& step : zone.steps) {
            ++steps;
            if (m_draft->isNewStep(qs(step.id)))
                remarks[qs(step.id)] = step.mustPass ? tr("new, must pass") : tr("new");
        }
    m_title->setText(rubric.title.empty() ? qs(rubric.id) : qs(rubric.title));
    showFacts();
    m_publish->setText(tr("Put edition %1 in use").arg(rubric.edition));
    m_publish->updateGeometry();
    {
        const QScopedValueRollback<bool> filling(m_filling, true);
        m_treeHead->setRemark(QString::number(steps));
        m_tree->setRubric(rubric, remarks);
        fillLimits();
    }
    showHere();
}

void EditorPage::showFacts() {
    QString kept = m_unkept ? tr("being kept") : tr("kept");
    if (!m_unkept && m_keptAt.isValid())
        kept = tr("kept %1").arg(m_keptAt.time().toString(QStringLiteral("HH:mm:ss")));
    m_facts->setText(
        tr("edition %1, draft, %2", "number, when it was kept").arg(m_draft->rubric().edition).arg(kept));
}

void EditorPage::fillLimits() {
    const QString before = m_limitsTable->currentId();
    std::vector<Row> rows;
    bool anyChange = false;
    for (const core::Limit& limit : m_draft->rubric().limits) {
        const core::Limit* was = m_draft->base() ? m_draft->base()->limit(limit.id) : nullptr;
        QString change;
        if (m_draft->base() && was == nullptr)
            change = tr("new");
        else if (was != nullptr && !(*was == limit)) {
            const QString bounds = boundsText(was->low, was->high, qs(was->unit), was->exclusive);
            change = bounds == boundsText(limit.low, limit.high, qs(limit.unit), limit.exclusive)
                         ? tr("other source")
                         : tr("was %1").arg(bounds);
        }
        anyChange = anyChange || !change.isEmpty();
        Cell changed = longCell(change);
        changed.bold = true;
        rows.push_back({qs(limit.id),
                        {longCell(qs(limit.id)),
                         longCell(boundsText(limit.low, limit.high, qs(limit.unit), limit.exclusive)),
                         mutedCell(qs(limit.source)), changed}});
    }
    m_limitsHead->setRemark(tr("%n, each with its source", nullptr, static_cast<int>(rows.size())));
    m_limits->setRows(std::move(rows));
    m_limitsTable->setColumnHidden(3, !anyChange);
    m_limitsTable->selectRowAt(std::max(0, m_limits->rowOf(before)));
}

void EditorPage::showHere() {
    if (m_draft == nullptr || m_filling) return;
    const DraftSpot spot = here();
    if (!spot.step.isEmpty()) {
        m_step->setStep(m_draft.get(), spot.step);
        m_forms->setCurrentWidget(m_step);
        const core::Step* step = m_draft->rubric().step(ss(spot.step));
        if (step != nullptr && step->reading && !step->reading->limit.empty() && !m_limitsTable->hasFocus())
            m_limitsTable->selectRowAt(m_limits->rowOf(qs(step->reading->limit)));
    } else if (!spot.zone.isEmpty()) {
        m_zone->setZone(m_draft.get(), spot.zone);
        m_forms->setCurrentWidget(m_zone);
    } else {
        m_whole->setDraft(m_draft.get());
        m_forms->setCurrentWidget(m_whole);
    }
}

void EditorPage::showCheck() {
    if (m_draft == nullptr) return;
    const core::DraftCheck& check = m_draft->check();
    m_order->setDraft(*m_draft);
    m_orderHead->setRemark(QString::number(m_draft->rubric().order.size()));
    m_orderHead->setRight(check.circle.steps.empty() ? tr("no circle") : tr("A CIRCLE"));
    const int wrong = static_cast<int>(check.problems.size());
    m_wrong->setVisible(wrong > 0);
    if (wrong > 0) {
        m_problem = std::min(m_problem, check.problems.size() - 1);
        m_wrong->setText(tr("%n thing(s) to mend. %1", nullptr, wrong)
                             .arg(problemInWords(check.problems[m_problem], *m_draft)));
        m_wrong->setToolTip(m_wrong->text());
    }
    // Said once it comes and once it goes; not with each letter.
    if (wrong != m_wrongBefore && isVisible())
        emit said(wrong > 0 ? m_wrong->text() : tr("Nothing is wrong with the draft any more"));
    m_wrongBefore = wrong;
    emit commandsChanged();
}

}  // namespace markerlamp::app
