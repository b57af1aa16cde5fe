// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/start/scope_column.h"

#include "app/settings/settings.h"
#include "app/start/start_widgets.h"
#include "app/support/display.h"
#include "app/support/text_widgets.h"
#include "forms/sheets/plan_layout.h"

#include <QButtonGroup>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QRadioButton>
#include <QSignalBlocker>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

/// So many sections have a row each; more are in a box.
constexpr std::size_t kSectionRows = 2;

}  // namespace

ScopeColumn::ScopeColumn(const Theme& theme, Settings& settings, StartForm& form, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_settings(settings),
      m_form(form),
      m_group(new QButtonGroup(this)),
      m_choiceGrid(new QGridLayout),
      m_plan(new QWidget),
      m_zoneGrid(new QGridLayout(m_plan)) {
    const auto px = [&theme](double v) { return qRound(theme.s(v)); };
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(px(8));
    layout->addWidget(new NumberedHead(theme, 3, tr("What to score")));
    m_choiceGrid->setHorizontalSpacing(px(8));
    m_choiceGrid->setVerticalSpacing(0);
    m_choiceGrid->setColumnStretch(1, 1);
    layout->addLayout(m_choiceGrid);
    m_zoneGrid->setHorizontalSpacing(px(6));
    m_zoneGrid->setVerticalSpacing(px(8));
    m_zoneGrid->setContentsMargins(0, 0, 0, 0);
    m_plan->setLayoutDirection(Qt::LeftToRight);  // the bus keeps its nose left however one reads
    layout->addWidget(m_plan);
    auto* foot =
        new Text(theme, 15, false, Ink::Muted, tr("Front of the bus at the left, its right side on top"));
    foot->setElided();
    layout->addWidget(foot);
    layout->addStretch(1);
    connect(&theme, &Theme::changed, this, [this] {
        m_built.reset();
        refresh();
    });
    reloadKeys();
}

void ScopeColumn::reloadKeys() {
    m_keys.load(m_settings.store());
    m_built.reset();
}

QString ScopeColumn::steps(const std::vector<std::string>& zones) const {
    return tr("%n step(s)", nullptr, m_form.stepsIn(zones));
}

void ScopeColumn::addChoice(const QString& words, StartForm::Scope scope, const std::string& section,
                            QWidget* right) {
    Choice choice;
    choice.button = new QRadioButton(words);
    choice.scope = scope;
    choice.section = section;
    const int row = static_cast<int>(m_choices.size());
    const bool boxed = right != nullptr && right == m_sections;
    m_choiceGrid->setRowMinimumHeight(row, qRound(m_theme.s(boxed ? 44 : 36)));
    if (boxed) {
        // The box takes what the words leave, whatever the other rows need.
        auto* line = new QHBoxLayout;
        line->addWidget(choice.button);
        line->addWidget(right, 1);
        m_choiceGrid->addLayout(line, row, 0, 1, 2);
    } else {
        if (right == nullptr) right = choice.right = new Text(m_theme, 15, false, Ink::Muted);
        m_choiceGrid->addWidget(choice.button, row, 0);
        m_choiceGrid->addWidget(right, row, 1, Qt::AlignRight | Qt::AlignVCenter);
    }
    m_group->addButton(choice.button);
    connect(choice.button, &QRadioButton::clicked, this, [this, scope, section] {
        if (scope == StartForm::Scope::Whole)
            m_form.setWhole();
        else if (scope == StartForm::Scope::Zones)
            m_form.setPicked();
        else
            m_form.setSection(section.empty() ? ss(m_sections->currentData().toString()) : section);
        emit changed();
    });
    m_choices.push_back(choice);
}

void ScopeColumn::rebuild() {
    for (const Choice& choice : m_choices) m_group->removeButton(choice.button);
    clearLayout(m_choiceGrid);
    clearLayout(m_zoneGrid);
    m_choices.clear();
    m_boxes.clear();
    m_zoneKeys.clear();
    m_sections = nullptr;
    m_all = m_none = nullptr;
    m_built = m_form.rubric();
    if (!m_built) return;

    addChoice(tr("Whole inspection"), StartForm::Scope::Whole, {}, nullptr);
    const std::vector<const core::Section*> sections = m_form.sections();
    if (sections.size() <= kSectionRows) {
        for (const core::Section* section : sections)
            addChoice(qs(section->title), StartForm::Scope::Section, section->id, nullptr);
    } else {
        m_sections = new ChoiceBox(m_theme, tr("Section"), 15);
        for (const core::Section* section : sections)
            m_sections->addItem(qs(section->title), qs(section->id));
        connect(m_sections, &QComboBox::activated, this, [this] {
            m_form.setSection(ss(m_sections->currentData().toString()));
            emit changed();
        });
        addChoice(tr("Section"), StartForm::Scope::Section, {}, m_sections);
    }
    auto* both = new QWidget;
    auto* row = new QHBoxLayout(both);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(qRound(m_theme.s(8)));
    m_all = new KeyButton(m_theme, tr("All", "zones"));
    m_none = new KeyButton(m_theme, tr("None", "zones"));
    for (KeyButton* button : {m_all, m_none}) {
        button->setAccessibleName(button == m_all ? tr("Pick all zones") : tr("Pick no zone"));
        connect(button, &QPushButton::clicked, this, [this, on = button == m_all] {
            m_form.setAllZones(on);
            emit changed();
        });
        row->addWidget(button);
    }
    addChoice(tr("Zones I pick"), StartForm::Scope::Zones, {}, both);
    addZones();
}

void ScopeColumn::addZones() {
    const std::vector<forms::PlanCell> cells = forms::planCells(*m_built);
    for (std::size_t i = 0; i < m_built->zones.size(); ++i) {
        const std::string id = m_built->zones[i].id;
        const int key = cells[i].row * forms::kPlanColumns + cells[i].column;
        auto* box = new ZoneBox(m_theme, key < KeyMap::kZoneKeys ? m_keys.zoneCaption(key) : QString(),
                                qs(m_built->zones[i].title));
        connect(box, &ZoneBox::clicked, this, [this, id](bool on) {
            m_form.setZone(id, on);
            emit changed();
        });
        m_zoneGrid->addWidget(box, cells[i].row, cells[i].column);
        m_boxes.push_back(box);
        m_zoneKeys.push_back(key);
    }
    // Reading order of the plan, not of the rubric.
    for (int key = 0, last = -1; key < forms::kPlanColumns * forms::planRowCount(cells); ++key)
        for (std::size_t i = 0; i < m_boxes.size(); ++i) {
            if (m_zoneKeys[i] != key) continue;
            if (last >= 0) setTabOrder(m_boxes[static_cast<std::size_t>(last)], m_boxes[i]);
            last = static_cast<int>(i);
        }
}

void ScopeColumn::refresh() {
    if (m_built != m_form.rubric()) rebuild();
    if (!m_built) return;
    std::vector<std::string> all;
    for (const core::Zone& zone : m_built->zones) all.push_back(zone.id);
    for (const Choice& choice : m_choices) {
        const bool on =
            choice.scope == m_form.scope() && (choice.section.empty() || choice.section == m_form.section());
        if (on) choice.button->setChecked(true);
        choice.button->setFont(m_theme.font(18, on));
        QString right;
        if (choice.scope == StartForm::Scope::Whole) right = steps(all);
        if (!choice.section.empty())
            right = tr("section, %1").arg(steps(m_built->section(choice.section)->zones));
        if (choice.right != nullptr) choice.right->setText(right);
        choice.button->setAccessibleName(
            right.isEmpty() ? choice.button->text() : choice.button->text() + QStringLiteral(", ") + right);
    }
    if (m_sections != nullptr) {
        const std::vector<const core::Section*> sections = m_form.sections();
        for (int i = 0; i < m_sections->count(); ++i)
            m_sections->setItemText(i, tr("%1, %2", "a section and its steps")
                                           .arg(qs(sections[static_cast<std::size_t>(i)]->title),
                                                steps(sections[static_cast<std::size_t>(i)]->zones)));
        if (m_form.scope() == StartForm::Scope::Section)
            m_sections->setCurrentIndex(m_sections->findData(qs(m_form.section())));
    }
    for (std::size_t i = 0; i < m_boxes.size(); ++i) {
        const core::Zone& zone = m_built->zones[i];
        const int count = m_form.stepsIn({zone.id});
        m_boxes[i]->setChecked(m_form.hasZone(zone.id));
        m_boxes[i]->setEnabled(count > 0);
        const QString words =
            count > 0 ? tr("%n step(s)", nullptr, count) : tr("no step of it is on this bus");
        m_boxes[i]->setToolTip(tr("%1: %2", "a zone and its steps").arg(qs(zone.title), words));
        m_boxes[i]->setAccessibleDescription(words);
    }
}

void ScopeColumn::keyPressEvent(QKeyEvent* event) {
    // The keys of the plan work here as they do while scoring.
    const auto meaning = m_keys.meaning(*event);
    if (!meaning || meaning->first != KeyAction::Zone || event->isAutoRepeat()) {
        QWidget::keyPressEvent(event);
        return;
    }
    for (std::size_t i = 0; i < m_boxes.size(); ++i)
        if (m_zoneKeys[i] == meaning->second && m_boxes[i]->isEnabled()) m_boxes[i]->click();
}

}  // namespace markerlamp::app
