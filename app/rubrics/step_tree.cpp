// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/step_tree.h"

#include "app/support/display.h"
#include "core/rubric/rubric.h"
#include "forms/signs/signs.h"

#include <QLocale>
#include <QPainter>
#include <QScrollBar>
#include <QStyledItemDelegate>

#include <algorithm>
#include <set>

namespace markerlamp::app {

namespace {

/// Gives the row its height and paints nothing: drawRow() paints whole rows.
class RowHeight final : public QStyledItemDelegate {
public:
    RowHeight(const Theme& theme, QObject* parent) : QStyledItemDelegate(parent), m_theme(theme) {}
    void paint(QPainter*, const QStyleOptionViewItem&, const QModelIndex&) const override {}
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const override {
        return {qRound(m_theme.s(200)), qRound(m_theme.s(24))};
    }

private:
    const Theme& m_theme;
};

}  // namespace

StepTree::StepTree(const Theme& theme, QWidget* parent)
    : QTreeView(parent), m_theme(theme), m_model(new QStandardItemModel(this)) {
    setAccessibleName(tr("Zones and steps"));
    setProperty("flat", true);
    setHeaderHidden(true);
    setFrameShape(QFrame::NoFrame);
    setUniformRowHeights(true);
    setEditTriggers(NoEditTriggers);
    setIndentation(qRound(theme.s(18)));
    setItemDelegate(new RowHeight(theme, this));
    setModel(m_model);
    connect(&theme, &Theme::changed, viewport(), qOverload<>(&QWidget::update));
}

void StepTree::setRubric(const core::Rubric& rubric, const std::map<QString, QString>& remarks) {
    const QString zoneBefore = currentZone(), stepBefore = currentStep();
    const bool filled = m_model->rowCount() > 0;
    const bool aboutBefore = filled && zoneBefore.isEmpty();
    const int scrolled = verticalScrollBar()->value();
    std::set<QString> open;
    for (int row = 0; row < m_model->rowCount(); ++row)
        if (const QModelIndex index = m_model->index(row, 0); isExpanded(index))
            open.insert(index.data(ZoneRole).toString());
    m_model->clear();
    m_model->appendRow(new QStandardItem(tr("About this rubric")));
    int number = 0;
    for (const core::Zone& zone : rubric.zones) {
        double minutes = 0;
        for (const core::Step& step : zone.steps) minutes += step.minutes;
        auto* item = new QStandardItem(qs(zone.title));
        const QString remark =
            tr("%1   %2", "steps, minutes").arg(zone.steps.size()).arg(QLocale().toString(minutes, 'f', 1));
        item->setData(qs(zone.id), ZoneRole);
        item->setData(remark, RemarkRole);
        item->setData(tr("%1, %2 steps").arg(qs(zone.title)).arg(zone.steps.size()), Qt::AccessibleTextRole);
        m_model->appendRow(item);
        for (const core::Step& step : zone.steps) {
            auto* child = new QStandardItem(
                tr("%1  %2", "number and title of a step").arg(++number).arg(qs(step.title)));
            child->setData(qs(zone.id), ZoneRole);
            child->setData(qs(step.id), StepRole);
            child->setToolTip(qs(step.title));
            const auto own = remarks.find(qs(step.id));
            if (own != remarks.end())
                child->setData(own->second, RemarkRole);
            else if (step.mustPass)
                child->setData(tr("must pass"), RemarkRole);
            item->appendRow(child);
        }
        if (open.count(qs(zone.id)) > 0) expand(item->index());
    }
    // A step that went to another zone is still the one at hand.
    const core::Zone* now =
        stepBefore.isEmpty() ? rubric.zone(ss(zoneBefore)) : rubric.zoneOfStep(ss(stepBefore));
    const bool there = now != nullptr && select(qs(now->id), stepBefore);
    if (!there && !aboutBefore && m_model->rowCount() > 1) {
        const QModelIndex first = m_model->index(0, 0, m_model->index(1, 0));
        setCurrentIndex(first.isValid() ? first : m_model->index(1, 0));
    } else if (!there) {
        setCurrentIndex(m_model->index(0, 0));
    }
    if (filled) verticalScrollBar()->setValue(scrolled);
    scrollTo(currentIndex());
}

QModelIndex StepTree::indexOf(const QString& zone, const QString& step) const {
    if (zone.isEmpty()) return m_model->index(0, 0);
    for (int row = 1; row < m_model->rowCount(); ++row) {
        const QModelIndex here = m_model->index(row, 0);
        if (here.data(ZoneRole).toString() != zone) continue;
        if (step.isEmpty()) return here;
        for (int child = 0; child < m_model->rowCount(here); ++child)
            if (m_model->index(child, 0, here).data(StepRole).toString() == step)
                return m_model->index(child, 0, here);
    }
    return {};
}

bool StepTree::select(const QString& zone, const QString& step) {
    const QModelIndex index = indexOf(zone, step);
    if (!index.isValid()) return false;
    if (index.parent().isValid()) expand(index.parent());
    setCurrentIndex(index);
    return true;
}

QString StepTree::currentZone() const {
    return currentIndex().data(ZoneRole).toString();
}
QString StepTree::currentStep() const {
    return currentIndex().data(StepRole).toString();
}

QString StepTree::find(const QString& words) {
    std::vector<QModelIndex> all;
    for (int zone = 0; zone < m_model->rowCount(); ++zone)
        for (int step = 0; step < m_model->rowCount(m_model->index(zone, 0)); ++step)
            all.push_back(m_model->index(step, 0, m_model->index(zone, 0)));
    const auto current = std::find(all.begin(), all.end(), currentIndex());
    if (current != all.end()) std::rotate(all.begin(), current + 1, all.end());
    for (const QModelIndex& index : all) {
        if (!index.data().toString().contains(words, Qt::CaseInsensitive)) continue;
        setCurrentIndex(index);
        scrollTo(index);
        return index.data().toString();
    }
    return {};
}

void StepTree::drawRow(QPainter* painter, const QStyleOptionViewItem& option,
                       const QModelIndex& index) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF row(0, option.rect.top(), viewport()->width(), option.rect.height());
    const bool here = index == currentIndex();
    const bool zone = !index.parent().isValid();
    const bool inZone = zone && index == currentIndex().parent();
    painter->save();
    painter->fillRect(row, here ? roles.panel : roles.ground);
    painter->fillRect(QRectF(row.left(), row.bottom() - 1, row.width(), 1), roles.hair);
    if (here) painter->fillRect(QRectF(row.left(), row.top(), m_theme.s(6), row.height()), roles.ink);
    double x = m_theme.s(zone ? 12 : 36);
    const QFont font = m_theme.font(13, here || inZone);
    if (zone && model()->hasChildren(index))
        forms::drawTextMiddle(*painter, x, row.center().y(),
                              isExpanded(index) ? QStringLiteral("\u2212") : QStringLiteral("+"),
                              m_theme.font(13), roles.ink);
    if (zone) x += m_theme.s(20);
    const QString remark = index.data(RemarkRole).toString();
    const QFont small = m_theme.font(13);
    const double remarkWidth = QFontMetricsF(small).horizontalAdvance(remark);
    forms::drawTextMiddleRight(*painter, row.right() - m_theme.s(8), row.center().y(), remark, small,
                               roles.muted);
    forms::drawTextMiddle(*painter, x, row.center().y(), index.data().toString(), font, roles.ink,
                          row.right() - m_theme.s(20) - remarkWidth - x);
    if (here && hasFocus()) {
        painter->setPen(QPen(roles.ink, 3, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
        painter->drawRect(row.adjusted(1.5, 1.5, -1.5, -1.5));
    }
    painter->restore();
}

}  // namespace markerlamp::app
