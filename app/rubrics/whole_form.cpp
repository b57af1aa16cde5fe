// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/whole_form.h"

#include "app/rubrics/editing_links.h"
#include "app/rubrics/edition_forms.h"
#include "app/rubrics/step_form.h"
#include "app/support/display.h"
#include "app/support/table_view.h"

#include <QCheckBox>
#include <QDoubleSpinBox>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

WholeForm::WholeForm(const Theme& theme, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_fields(new DraftFields(this)),
      m_title(new QLineEdit),
      m_about(new QPlainTextEdit),
      m_percent(new QDoubleSpinBox),
      m_minutes(new QDoubleSpinBox),
      m_minutesFail(new QCheckBox(tr("Taking longer fails"))),
      m_equipment(new RowsModel({{tr("tag")}, {tr("equipment of a bus")}}, this)),
      m_sections(new RowsModel({{tr("section")}, {tr("zones")}, {tr("share"), true}}, this)),
      m_equipmentTable(new TableView(theme, tr("Equipment"))),
      m_sectionsTable(new TableView(theme, tr("Sections"))) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(theme.s(4)));
    column->addWidget(new BlockHead(theme, tr("About this rubric")));
    m_title->setProperty("small", true);
    column->addWidget(labelled(theme, tr("Title"), m_title));
    m_about->setTabChangesFocus(true);
    m_about->setFont(theme.font(13));
    m_about->setMinimumHeight(qRound(theme.s(52)));
    column->addWidget(
        labelled(theme, tr("About: who uses it, which manual it follows, the cautions"), m_about), 2);
    auto* pass = new QHBoxLayout;
    pass->setSpacing(qRound(theme.s(12)));
    m_percent->setRange(0, 100);
    m_percent->setDecimals(1);
    m_minutes->setRange(0, 1e6);
    m_minutes->setDecimals(1);
    m_minutes->setSpecialValueText(tr("none"));
    for (QDoubleSpinBox* box : {m_percent, m_minutes}) {
        box->setProperty("small", true);
        box->setButtonSymbols(QAbstractSpinBox::NoButtons);
        box->setFixedWidth(qRound(theme.s(90)));
    }
    pass->addWidget(labelled(theme, tr("Pass mark, %"), m_percent));
    pass->addWidget(labelled(theme, tr("Minutes allowed"), m_minutes));
    pass->addWidget(m_minutesFail, 0, Qt::AlignBottom);
    pass->addStretch(1);
    column->addLayout(pass);
    const auto addTable = [&](const QString& title, TableView* table, RowsModel* model,
                              std::vector<int> widths) {
        auto* head = new BlockHead(theme, title);
        head->addRight(
            new EditingLinks(theme, table, {PageCommand::Add, PageCommand::Edit, PageCommand::Retire}));
        table->setModel(model);
        table->setWidths(widths);
        table->setMinimumHeight(qRound(theme.s(24 + 26)));
        column->addWidget(head);
        column->addWidget(table, 3);
        connect(table, &TableView::opened, this, &WholeForm::edit);
    };
    addTable(tr("Equipment"), m_equipmentTable, m_equipment, {150, 0});
    addTable(tr("Sections"), m_sectionsTable, m_sections, {170, 0, 60});
    tieFields();
}

void WholeForm::tieFields() {
    using Rubric = core::Rubric;
    m_fields->tie(m_title, {tr("title"), [](const Rubric& r) { return std::optional(r.title); },
                            [](Rubric& r, const std::string& value) { r.title = value; }});
    m_fields->tie(m_about, {tr("about"), [](const Rubric& r) { return std::optional(r.about); },
                            [](Rubric& r, const std::string& value) { r.about = value; }});
    m_fields->tie(m_percent, {tr("pass mark"), [](const Rubric& r) { return std::optional(r.pass.percent); },
                              [](Rubric& r, const double& value) { r.pass.percent = value; }});
    m_fields->tie(m_minutes, {tr("minutes allowed"),
                              [](const Rubric& r) { return std::optional(r.pass.minutes.value_or(0)); },
                              [](Rubric& r, const double& value) {
                                  r.pass.minutes = value > 0 ? std::optional(value) : std::nullopt;
                              }});
    m_fields->tie(m_minutesFail,
                  {tr("longer fails"), [](const Rubric& r) { return std::optional(r.pass.minutesFail); },
                   [](Rubric& r, const bool& value) { r.pass.minutesFail = value; }});
}

void WholeForm::setDraft(Draft* draft) {
    m_draft = draft;
    m_fields->setDraft(draft, {}, draft == nullptr ? QString() : tr("the rubric"));
    if (draft != nullptr) fill();
}

void WholeForm::fill() {
    const QString tag = m_equipmentTable->currentId(), section = m_sectionsTable->currentId();
    std::vector<Row> rows;
    for (const auto& [id, title] : m_draft->rubric().equipment)
        rows.push_back({qs(id), {mutedCell(qs(id)), longCell(qs(title))}});
    m_equipment->setRows(std::move(rows));
    m_equipmentTable->selectRowAt(std::max(0, m_equipment->rowOf(tag)));
    rows.clear();
    for (const core::Section& one : m_draft->rubric().sections) {
        QStringList zones;
        for (const std::string& zone : one.zones) zones << m_draft->titleOfZone(qs(zone));
        rows.push_back(
            {qs(one.id), {longCell(qs(one.title)), longCell(zones.join(tr(", "))), {numberText(one.share)}}});
    }
    m_sections->setRows(std::move(rows));
    m_sectionsTable->selectRowAt(std::max(0, m_sections->rowOf(section)));
}

void WholeForm::editTitle() {
    m_title->setFocus(Qt::ShortcutFocusReason);
    m_title->selectAll();
}

QWidget* WholeForm::tableWithKeys() const {
    return m_equipmentTable->hasFocus()  ? m_equipmentTable
           : m_sectionsTable->hasFocus() ? m_sectionsTable
                                         : nullptr;
}

void WholeForm::add() {
    if (m_equipmentTable->hasFocus())
        editEquipment({});
    else
        editSection({});
}

void WholeForm::edit() {
    const TableView* table = m_equipmentTable->hasFocus() ? m_equipmentTable : m_sectionsTable;
    if (table->currentId().isEmpty()) return;
    if (table == m_equipmentTable)
        editEquipment(table->currentId());
    else
        editSection(table->currentId());
}

void WholeForm::editEquipment(const QString& tag) {
    QString title;
    for (const auto& [id, words] : m_draft->rubric().equipment)
        if (qs(id) == tag) title = qs(words);
    EquipmentDialog dialog(m_theme, tag, title, m_draft->used().tags, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const auto entered = dialog.equipment();
    m_draft->change(
        tag.isEmpty() ? tr("add equipment %1").arg(qs(entered.second)) : tr("change equipment %1").arg(title),
        {}, [&](core::Rubric& rubric) {
            for (auto& one : rubric.equipment)
                if (one.first == entered.first) {
                    one = entered;
                    return;
                }
            rubric.equipment.push_back(entered);
        });
    m_equipmentTable->selectRowAt(m_equipment->rowOf(qs(entered.first)));
}

void WholeForm::editSection(const QString& id) {
    const core::Section* section = m_draft->rubric().section(ss(id));
    SectionDialog dialog(m_theme, m_draft->rubric(), section, m_draft->used().sections, this);
    if (dialog.exec() != QDialog::Accepted) return;
    const core::Section entered = dialog.section();
    m_draft->change(section == nullptr ? tr("add section %1").arg(qs(entered.title))
                                       : tr("change section %1").arg(qs(entered.title)),
                    {}, [&](core::Rubric& rubric) {
                        for (core::Section& one : rubric.sections)
                            if (one.id == entered.id) {
                                one = entered;
                                return;
                            }
                        rubric.sections.push_back(entered);
                    });
    m_sectionsTable->selectRowAt(m_sections->rowOf(qs(entered.id)));
}

void WholeForm::retire() {
    if (m_sectionsTable->hasFocus()) {
        const std::string id = ss(m_sectionsTable->currentId());
        m_draft->change(tr("retire section %1").arg(qs(id)), {}, [&](core::Rubric& rubric) {
            std::erase_if(rubric.sections, [&](const core::Section& one) { return one.id == id; });
        });
        return;
    }
    const std::string tag = ss(m_equipmentTable->currentId());
    const std::vector<std::string> users = core::usersOfTag(m_draft->rubric(), tag);
    if (!users.empty()) {
        QStringList titles;
        for (const std::string& user : users) titles << m_draft->titleOfStep(qs(user));
        emit said(tr("%1 is still used by %2").arg(qs(tag), titles.join(tr("; "))));
        return;
    }
    m_draft->change(tr("retire equipment %1").arg(qs(tag)), {}, [&](core::Rubric& rubric) {
        std::erase_if(rubric.equipment, [&](const auto& one) { return one.first == tag; });
    });
}

ZoneForm::ZoneForm(const Theme& theme, QWidget* parent)
    : QWidget(parent),
      m_fields(new DraftFields(this)),
      m_head(new BlockHead(theme, tr("Zone"))),
      m_title(new QLineEdit),
      m_words(new Text(theme, 13, false, Ink::Muted)) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(theme.s(8)));
    column->addWidget(m_head);
    m_title->setProperty("small", true);
    column->addWidget(labelled(theme, tr("Title"), m_title));
    m_words->setWordWrap(true);
    column->addWidget(m_words);
    column->addStretch(1);
    m_fields->tie(m_title, {tr("title"),
                            [this](const core::Rubric& rubric) -> std::optional<std::string> {
                                const core::Zone* zone = rubric.zone(ss(m_zone));
                                return zone == nullptr ? std::nullopt : std::optional(zone->title);
                            },
                            [this](core::Rubric& rubric, const std::string& value) {
                                for (core::Zone& zone : rubric.zones)
                                    if (zone.id == ss(m_zone)) zone.title = value;
                            }});
}

void ZoneForm::setZone(Draft* draft, const QString& id) {
    m_zone = id;
    const core::Zone* zone = draft == nullptr ? nullptr : draft->rubric().zone(ss(id));
    if (zone == nullptr) {
        m_fields->setDraft(nullptr, {}, {});
        return;
    }
    m_head->setRemark(tr("%n step(s)", nullptr, static_cast<int>(zone->steps.size())));
    m_head->setRight(tr("id %1").arg(id));
    m_words->setText(
        tr("Ins adds a step to this zone, Ctrl+Alt+Z a zone after it. Alt+Up and Alt+Down carry the "
           "zone with its steps. Titles of up to 26 characters and up to 12 steps fit the board."));
    m_fields->setDraft(draft, {id, {}, {}}, draft->titleOfZone(id));
}

void ZoneForm::editTitle() {
    m_title->setFocus(Qt::ShortcutFocusReason);
    m_title->selectAll();
}

}  // namespace markerlamp::app
