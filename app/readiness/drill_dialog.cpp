// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/drill_dialog.h"

#include "app/readiness/readiness_words.h"
#include "app/support/display.h"
#include "app/support/small_screens.h"

#include <QDialogButtonBox>
#include <QHeaderView>
#include <QTreeWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>
#include <map>

namespace markerlamp::app {

namespace {

constexpr int kBlockRole = Qt::UserRole;

QString minutesOf(double minutes) {
    return DrillDialog::tr("%1 min").arg(numberText(std::round(minutes * 10) / 10));
}

}  // namespace

DrillDialog::DrillDialog(const Theme& theme, std::shared_ptr<const DrillView> view, int minutesLeft,
                         QWidget* parent)
    : QDialog(parent),
      m_theme(theme),
      m_view(std::move(view)),
      m_minutesLeft(minutesLeft),
      m_work(new DrillWork(this)),
      m_tree(new QTreeWidget),
      m_time(new Text(theme, 15, true)),
      m_worth(new Text(theme, 15)),
      m_cautions(new Text(theme, 13)) {
    setWindowTitle(tr("Edit the drill"));
    resizeToScreen(*this, {qRound(theme.s(760)), qRound(theme.s(600))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(8)));
    auto* intro = new Text(theme, 15, false, Ink::Full,
                           tr("Check what is drilled. Steps that must follow one another stay together."));
    intro->setWordWrap(true);
    column->addWidget(intro);
    makeTree();
    column->addWidget(m_tree, 1);
    for (Text* text : {m_time, m_worth, m_cautions}) {
        text->setWordWrap(true);
        column->addWidget(text);
    }
    auto* buttons = new QDialogButtonBox;
    m_take = buttons->addButton(tr("&Take this drill"), QDialogButtonBox::AcceptRole);
    m_take->setProperty("primary", true);
    m_take->setDefault(true);
    buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &QDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(m_tree, &QTreeWidget::itemChanged, this, &DrillDialog::ask);
    connect(m_work, &DrillWork::done, this, &DrillDialog::take);
    fill();
    m_tree->setFocus();
}

void DrillDialog::makeTree() {
    m_tree->setAccessibleName(tr("Blocks of the drill"));
    m_tree->setColumnCount(3);
    m_tree->setHeaderLabels({tr("Zone, block"), tr("Time"), tr("Today")});
    m_tree->header()->setSectionResizeMode(0, QHeaderView::Stretch);
    m_tree->header()->setSectionResizeMode(1, QHeaderView::ResizeToContents);
    m_tree->header()->setSectionResizeMode(2, QHeaderView::ResizeToContents);
    m_tree->header()->setStretchLastSection(false);
    m_tree->setUniformRowHeights(true);
    m_tree->setProperty("lined", true);
    m_tree->setFont(m_theme.font(13));
    const core::DrillPlanner& planner = *m_view->planner;
    const auto& rubric = planner.draws().scope.rubric;
    std::vector<bool> in(planner.blocks().size());
    for (const core::DrillPart& part : m_view->plan.parts) in[static_cast<std::size_t>(part.block)] = true;
    std::map<std::string, QTreeWidgetItem*> zones;
    for (std::size_t i = 0; i < planner.blocks().size(); ++i) {
        const core::DrillBlock& block = planner.blocks()[i];
        QTreeWidgetItem*& zone = zones[block.zone];
        if (zone == nullptr) {
            const core::Zone* known = rubric ? rubric->zone(block.zone) : nullptr;
            zone = new QTreeWidgetItem(
                m_tree, {qs(known != nullptr ? known->title : block.zone),
                         block.setUpMinutes > 0 ? tr("+ %1 to get there").arg(minutesOf(block.setUpMinutes))
                                                : QString()});
            zone->setFlags(zone->flags() | Qt::ItemIsUserCheckable | Qt::ItemIsAutoTristate);
            zone->setData(0, kBlockRole, -1);
        }
        auto* item = new QTreeWidgetItem(zone, {qs(block.title), minutesOf(block.minutes),
                                                block.doneToday ? tr("done today") : QString()});
        item->setFlags((item->flags() | Qt::ItemIsUserCheckable) & ~Qt::ItemIsAutoTristate);
        item->setCheckState(0, in[i] ? Qt::Checked : Qt::Unchecked);
        item->setData(0, kBlockRole, static_cast<int>(i));
        item->setToolTip(0, qs(block.caution));
    }
    for (int i = 0; i < m_tree->topLevelItemCount(); ++i) {
        QTreeWidgetItem* top = m_tree->topLevelItem(i);
        top->setExpanded(top->checkState(0) != Qt::Unchecked);
    }
    if (m_tree->topLevelItemCount() > 0) m_tree->setCurrentItem(m_tree->topLevelItem(0));
}

std::vector<int> DrillDialog::chosen() const {
    std::vector<int> blocks;
    for (int i = 0; i < m_tree->topLevelItemCount(); ++i)
        for (int j = 0; j < m_tree->topLevelItem(i)->childCount(); ++j) {
            const QTreeWidgetItem* item = m_tree->topLevelItem(i)->child(j);
            if (item->checkState(0) == Qt::Checked) blocks.push_back(item->data(0, kBlockRole).toInt());
        }
    std::sort(blocks.begin(), blocks.end());
    return blocks;
}

void DrillDialog::ask() {
    m_take->setEnabled(false);  // until what it comes to is known
    m_work->worth(m_view->planner, chosen());
    m_worth->setText(tr("Working out what it brings..."));
}

void DrillDialog::take(std::shared_ptr<const DrillView> view) {
    m_view = std::move(view);
    m_take->setEnabled(true);
    fill();
}

void DrillDialog::fill() {
    const core::DrillPlan& plan = m_view->plan;
    const double over = plan.minutes - m_minutesLeft;
    QString time = tr("%1 of %2").arg(minutesOf(plan.minutes), minutesOf(m_minutesLeft));
    if (over > 0.05) time += tr(": %1 too long").arg(minutesOf(over));
    m_time->setText(time);
    m_worth->setText(plan.parts.empty() ? tr("Nothing is chosen.") : planWords(plan));
    QStringList cautions;
    for (const core::DrillLine& line : m_view->lines)
        if (!line.caution.empty())
            cautions << tr("%1: %2", "zone, caution").arg(qs(line.title), qs(line.caution));
    m_cautions->setText(cautions.join(QLatin1Char('\n')));
    m_cautions->setVisible(!cautions.isEmpty());
}

}  // namespace markerlamp::app
