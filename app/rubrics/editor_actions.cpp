// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the commands of the rubric editor do. Add, edit, move and retire mean the block that has the keys.

#include "app/printing/print_jobs.h"
#include "app/rubrics/edition_forms.h"
#include "app/rubrics/edition_preview.h"
#include "app/rubrics/editor_page.h"
#include "app/rubrics/effect_block.h"
#include "app/rubrics/order_dialog.h"
#include "app/rubrics/rule_drawing.h"
#include "app/rubrics/step_form.h"
#include "app/rubrics/step_tree.h"
#include "app/rubrics/whole_form.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/table_view.h"

#include <QApplication>
#include <QInputDialog>
#include <QLineEdit>
#include <QMessageBox>
#include <QPushButton>

#include <algorithm>

namespace markerlamp::app {

EditorPage::Block EditorPage::block() const {
    if (m_step->pointsTable()->hasFocus() && m_forms->currentWidget() == m_step) return Block::Points;
    if (m_limitsTable->hasFocus()) return Block::Limits;
    if (m_order->hasFocus()) return Block::Order;
    if (m_forms->currentWidget() == m_whole && m_whole->tableWithKeys() != nullptr) return Block::Whole;
    return Block::Tree;
}

void EditorPage::add() {
    switch (block()) {
        case Block::Points:
            m_step->addPoint();
            break;
        case Block::Limits:
            editLimit({});
            break;
        case Block::Order:
            editRule({});
            break;
        case Block::Whole:
            m_whole->add();
            break;
        case Block::Tree:
            addStep();
            break;
    }
}

void EditorPage::addStep() {
    const DraftSpot spot = here();
    if (spot.zone.isEmpty()) {
        addZone();
        return;
    }
    bool kept = false;
    const QString title =
        QInputDialog::getText(this, tr("Add a step"),
                              tr("Title of the step in %1 (its id is made from it and stays):")
                                  .arg(m_draft->titleOfZone(spot.zone)),
                              QLineEdit::Normal, {}, &kept)
            .trimmed();
    if (!kept || title.isEmpty()) return;
    const QString id = m_draft->addStep(spot.zone, title, spot.step);
    m_tree->select(spot.zone, id);
    emit said(tr("Step %1 added; say what is to be shown or said").arg(title));
}

void EditorPage::addZone() {
    bool kept = false;
    const QString title = QInputDialog::getText(this, tr("Add a zone"),
                                                tr("Title of the zone (its id is made from it and stays):"),
                                                QLineEdit::Normal, {}, &kept)
                              .trimmed();
    if (!kept || title.isEmpty()) return;
    const QString id = m_draft->addZone(title, here().zone);
    m_tree->select(id, {});
    emit said(tr("Zone %1 added; Ins adds its first step").arg(title));
}

void EditorPage::edit() {
    switch (block()) {
        case Block::Points:
            m_step->editPoint();
            return;
        case Block::Limits:
            editLimit(m_limitsTable->currentId());
            return;
        case Block::Order:
            if (!m_order->currentRule().isEmpty()) editRule(m_order->currentRule());
            return;
        case Block::Whole:
            m_whole->edit();
            return;
        case Block::Tree:
            break;
    }
    if (m_forms->currentWidget() == m_step)
        m_step->editTitle();
    else if (m_forms->currentWidget() == m_zone)
        m_zone->editTitle();
    else
        m_whole->editTitle();
}

void EditorPage::editLimit(const QString& id) {
    const core::Limit* limit = m_draft->rubric().limit(ss(id));
    LimitDialog dialog(m_theme, limit, m_draft->used().limits, this);
    if (dialog.exec() != QDialog::Accepted) return;
    if (id.isEmpty())
        m_draft->addLimit(dialog.limit());
    else
        m_draft->changeLimit(dialog.limit());
    m_limitsTable->selectRowAt(m_limits->rowOf(qs(dialog.limit().id)));
}

void EditorPage::editRule(const QString& id) {
    const core::OrderRule* found = nullptr;
    for (const core::OrderRule& rule : m_draft->rubric().order)
        if (qs(rule.id) == id) found = &rule;
    OrderDialog dialog(m_theme, *m_draft, found, here().step, this);
    if (dialog.exec() != QDialog::Accepted) return;
    QString rule = id;
    if (id.isEmpty())
        rule = m_draft->addRule(dialog.rule());
    else
        m_draft->changeRule(dialog.rule());
    showCheck();
    m_order->selectRule(rule);
    const QString circle = m_draft->circleInWords();
    emit said(circle.isEmpty() ? tr("Order rule kept; no circle")
                               : tr("The rules go in a circle: %1").arg(circle));
}

void EditorPage::retire() {
    DraftSpot spot = here();
    switch (block()) {
        case Block::Limits: {
            const QString id = m_limitsTable->currentId();
            if (id.isEmpty()) return;
            const auto done = m_draft->retireLimit(id);
            emit said(done ? tr("Limit %1 retired").arg(id) : errorText(done.error(), 1));
            return;
        }
        case Block::Order:
            if (const QString rule = m_order->currentRule(); !rule.isEmpty()) {
                m_draft->retireRule(rule);
                showCheck();
                emit said(tr("Order rule %1 retired").arg(rule));
            }
            return;
        case Block::Whole:
            m_whole->retire();
            return;
        case Block::Points:
            spot.point = m_step->currentPoint();
            if (spot.point.isEmpty()) return;
            break;
        case Block::Tree:
            break;
    }
    const QString words = m_draft->retire(spot);
    if (!words.isEmpty()) emit said(tr("%1. Undo brings it back").arg(words));
}

void EditorPage::move(int by) {
    DraftSpot spot = here();
    if (block() == Block::Points) spot.point = m_step->currentPoint();
    if (spot.zone.isEmpty()) return;
    if (m_draft->move(spot, by))
        emit said(by < 0 ? tr("Moved up") : tr("Moved down"));
    else
        emit said(tr("There is no place to move to"));
}

void EditorPage::find() {
    const QString wanted = m_find->text().trimmed();
    if (wanted.isEmpty()) return;
    const QString found = m_tree->find(wanted);
    emit said(found.isEmpty() ? tr("No step with \"%1\" in its title").arg(wanted) : found);
}

void EditorPage::nextProblem() {
    const core::DraftCheck& check = m_draft->check();
    if (check.problems.empty()) {
        QString words = tr("Edition %1: nothing is wrong").arg(m_draft->rubric().edition);
        if (!check.remarks.empty())
            words = tr("%1; but %2", "all is well; but a remark")
                        .arg(words, problemInWords(check.remarks.front(), *m_draft));
        emit said(words);
        if (!check.remarks.empty()) goTo(core::placeOfProblem(m_draft->rubric(), check.remarks.front()));
        return;
    }
    m_problem = std::min(m_problem, check.problems.size() - 1);
    const core::Problem& problem = check.problems[m_problem];
    emit said(problemInWords(problem, *m_draft));
    goTo(core::placeOfProblem(m_draft->rubric(), problem));
    m_problem = (m_problem + 1) % check.problems.size();
}

void EditorPage::goTo(const core::DraftPlace& place) {
    if (!place.limit.empty()) {
        m_limitsTable->selectRowAt(m_limits->rowOf(qs(place.limit)));
        m_limitsTable->setFocus(Qt::ShortcutFocusReason);
    } else if (!place.rule.empty()) {
        m_order->selectRule(qs(place.rule));
        m_order->setFocus(Qt::ShortcutFocusReason);
    } else if (!place.zone.empty()) {
        m_tree->select(qs(place.zone), qs(place.step));
        if (!place.point.empty()) {
            m_step->selectPoint(qs(place.point));
            m_step->pointsTable()->setFocus(Qt::ShortcutFocusReason);
        } else if (place.step.empty()) {
            m_zone->editTitle();
        } else {
            m_step->editTitle();
        }
    } else if (!m_draft->check().circle.steps.empty()) {
        m_order->setFocus(Qt::ShortcutFocusReason);
        m_order->setCurrentIndex(m_order->model()->index(0, 0));
    } else {
        m_tree->select({}, {});
        m_whole->editTitle();
    }
}

bool EditorPage::soundOrSaid() {
    if (m_draft->isSound()) return true;
    nextProblem();
    return false;
}

void EditorPage::previewScoring() {
    if (!soundOrSaid()) return;
    ScoringPreview preview(m_theme, m_settings, m_draft->rubricPtr(), this);
    preview.exec();
    emit said(tr("Preview closed; nothing of it was kept"));
}

void EditorPage::previewStudySheet() {
    if (!soundOrSaid()) return;
    const core::Rubric& rubric = m_draft->rubric();
    SheetPreview preview(m_theme, draftStudySheet(rubric, here().zone, m_settings.paper()),
                         pdfName(QStringLiteral("study-sheet"),
                                 {qs(rubric.id), QString::number(rubric.edition), QStringLiteral("draft")}),
                         this);
    preview.exec();
    emit said(preview.outcome());
}

void EditorPage::askToPublish() {
    if (!soundOrSaid()) return;
    if (m_draft->base() && m_draft->difference().empty()) {
        emit said(tr("Nothing is different from edition %1 yet").arg(m_draft->base()->edition));
        return;
    }
    PublishDialog dialog(m_theme, *m_draft, m_effect->effectInFull(), this);
    connect(m_effect, &EffectBlock::effectKnown, &dialog,
            [&] { dialog.setEffect(m_effect->effectInFull()); });
    if (dialog.exec() != QDialog::Accepted) return;
    if (auto done = publish(); !done)
        QMessageBox::warning(this, tr("Not put in use"), errorText(done.error()));
}

void EditorPage::askToDrop() {
    const core::Rubric& rubric = m_draft->rubric();
    QMessageBox box(QMessageBox::Question, tr("Throw the draft away"),
                    tr("Throw away the draft of edition %1 of %2? The editions that are in use stay.")
                        .arg(rubric.edition)
                        .arg(qs(rubric.id)),
                    QMessageBox::NoButton, this);
    auto* drop = box.addButton(tr("&Throw it away"), QMessageBox::DestructiveRole);
    auto* stay = box.addButton(tr("&Keep it"), QMessageBox::RejectRole);
    box.setDefaultButton(stay);
    box.setEscapeButton(stay);
    box.exec();
    if (box.clickedButton() != drop) return;
    if (auto done = forgetDraft(m_session.file(), rubric.id); !done) {
        QMessageBox::warning(this, tr("Not thrown away"), errorText(done.error()));
        return;
    }
    close(0);
    emit said(tr("Draft thrown away"));
}

void EditorPage::showTables() {
    std::map<std::string, QString> names;
    if (const auto trainees = m_session.file().trainees())
        for (const core::Trainee& one : *trainees) names[one.key] = qs(one.name.empty() ? one.key : one.name);
    const NameOf nameOf = [&names](const std::string& key) {
        const auto found = names.find(key);
        return found == names.end() ? qs(key) : found->second;
    };
    std::vector<DataTable> tables;
    if (const core::EditionEffect* effect = m_effect->effect()) {
        tables.push_back(
            {tr("Results that would change"), effectColumns(), effectRows(*effect, true, nameOf)});
        tables.push_back({tr("All attempts"), effectColumns(), effectRows(*effect, false, nameOf)});
    }
    tables.push_back({tr("What is different"), differenceColumns(),
                      differenceRows(m_draft->difference(), m_draft->rubric())});
    std::vector<Row> order;
    for (const OrderRow& row : orderRows(*m_draft))
        order.push_back({row.rule, {longCell(row.title), {row.kind}, longCell(row.words)}});
    tables.push_back({tr("Order rules"), {{tr("rule")}, {tr("kind")}, {tr("order")}}, std::move(order)});
    DataTableDialog dialog(m_theme, tr("Figures of the draft"), std::move(tables), this);
    dialog.exec();
}

}  // namespace markerlamp::app
