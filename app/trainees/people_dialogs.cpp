// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/trainees/people_dialogs.h"
#include "app/support/small_screens.h"

#include "app/support/display.h"
#include "app/support/table_view.h"

#include <QCheckBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QGridLayout>
#include <QHeaderView>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QScrollArea>
#include <QScrollBar>
#include <QTableWidget>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

FormDialog::FormDialog(const Theme& theme, const QString& title, const QString& verb, QWidget* parent)
    : QDialog(parent), m_theme(theme), m_form(new QFormLayout), m_problem(new Text(theme, 13, true)) {
    setWindowTitle(title);
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(12)));
    m_form->setHorizontalSpacing(qRound(theme.s(12)));
    m_form->setVerticalSpacing(qRound(theme.s(6)));
    auto* fields = new QWidget;
    fields->setLayout(m_form);
    m_form->setContentsMargins(0, 0, 0, 0);
    m_scroll = scrollingPage(fields);
    column->addWidget(m_scroll, 1);
    m_problem->setWordWrap(true);
    m_problem->hide();
    column->addWidget(m_problem);
    auto* buttons = new QDialogButtonBox;
    m_good = buttons->addButton(verb, QDialogButtonBox::AcceptRole);
    m_good->setProperty("primary", true);
    m_good->setDefault(true);
    m_cancel = buttons->addButton(tr("&Cancel"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &FormDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
}

QPushButton* FormDialog::makeDangerous() {
    m_good->setProperty("primary", false);
    m_good->setAutoDefault(false);
    m_cancel->setDefault(true);
    return m_good;
}

void FormDialog::accept() {
    if (auto good = check(); !good) {
        m_problem->setText(errorText(good.error()));
        m_problem->show();
        fit();
        return;
    }
    QDialog::accept();
}

void FormDialog::showEvent(QShowEvent* event) {
    fit();
    QDialog::showEvent(event);
}

void FormDialog::fit() {
    layout()->activate();
    const QSize fields = m_scroll->widget()->sizeHint();
    const QSize hint = m_scroll->sizeHint();
    QSize whole = (sizeHint() - hint + fields).expandedTo(size());
    resizeToScreen(*this, whole);
    if (height() >= whole.height()) return;
    // The bar at the side takes its room from beside the fields, not from them.
    whole.rwidth() += m_scroll->verticalScrollBar()->sizeHint().width();
    resizeToScreen(*this, whole);
}

QLineEdit* FormDialog::addField(const QString& label, const QString& text, const QString& placeholder) {
    auto* field = new QLineEdit(text);
    field->setPlaceholderText(placeholder);
    field->setMaxLength(500);
    field->setMinimumWidth(qRound(m_theme.s(300)));
    m_form->addRow(label, field);
    return field;
}

TraineeDialog::TraineeDialog(const Theme& theme, const core::Trainee& trainee, const QStringList& otherKeys,
                             QWidget* parent)
    : FormDialog(theme, trainee.key.empty() ? tr("Add a trainee") : tr("Edit the trainee"),
                 trainee.key.empty() ? tr("&Add the trainee") : tr("&Keep the changes"), parent),
      m_trainee(trainee),
      m_taken(otherKeys) {
    const TraineeFields f = fieldsOf(trainee);
    const QString day = tr("YYYY-MM-DD");
    m_name = addField(tr("&Name"), f.name, tr("as lists and sheets show it"));
    m_key = addField(tr("Ke&y"), f.key.isEmpty() ? freeKey(QStringLiteral("t"), otherKeys) : f.key);
    m_key->setReadOnly(!trainee.key.empty());
    if (m_key->isReadOnly()) m_key->setToolTip(tr("Attempts name the trainee by this key: it stays."));
    m_group = addField(tr("&Group"), f.group, tr("class, yard or season"));
    m_started = addField(tr("Training &started"), f.started, day);
    m_issued = addField(tr("Permit &issued"), f.permitIssued, day);
    m_expires = addField(tr("Permit &ends"), f.permitExpires, day);
    m_medical = addField(tr("&Medical card ends"), f.medicalExpires, day);
    m_percent = addField(tr("Theory &result"), f.theoryPercent, tr("percent"));
    m_theory = addField(tr("Theory test &on"), f.theoryDate, day);
    m_note = new QPlainTextEdit(f.note);
    m_note->setTabChangesFocus(true);
    m_note->setMaximumHeight(qRound(theme.s(70)));
    form()->addRow(tr("No&te (private)"), m_note);
    m_name->setFocus();
}

core::Result<void> TraineeDialog::check() {
    auto trainee = traineeFrom(
        {m_key->text(), m_name->text(), m_started->text(), m_issued->text(), m_expires->text(),
         m_medical->text(), m_percent->text(), m_theory->text(), m_group->text(), m_note->toPlainText()},
        m_taken);
    if (!trainee) return core::fail(trainee.error());
    m_trainee = *trainee;
    return {};
}

InstructorDialog::InstructorDialog(const Theme& theme, const core::Instructor& instructor,
                                   const QStringList& otherKeys, QWidget* parent)
    : FormDialog(theme, instructor.key.empty() ? tr("Add an instructor") : tr("Edit the instructor"),
                 instructor.key.empty() ? tr("&Add the instructor") : tr("&Keep the changes"), parent),
      m_instructor(instructor),
      m_taken(otherKeys) {
    m_name = addField(tr("&Name"), qs(instructor.name));
    m_key = addField(tr("Ke&y"),
                     instructor.key.empty() ? freeKey(QStringLiteral("i"), otherKeys) : qs(instructor.key));
    m_key->setReadOnly(!instructor.key.empty());
    m_name->setFocus();
}

core::Result<void> InstructorDialog::check() {
    auto instructor = instructorFrom(m_key->text(), m_name->text(), m_taken);
    if (!instructor) return core::fail(instructor.error());
    m_instructor = *instructor;
    return {};
}

BusDialog::BusDialog(const Theme& theme, const core::Bus& bus, const QStringList& otherKeys,
                     const std::vector<std::pair<std::string, std::string>>& tags,
                     const std::vector<core::Limit>& limits, QWidget* parent)
    : FormDialog(theme, bus.key.empty() ? tr("Add a bus") : tr("Edit the bus"),
                 bus.key.empty() ? tr("&Add the bus") : tr("&Keep the changes"), parent),
      m_bus(bus),
      m_taken(otherKeys) {
    m_key = addField(tr("&Unit"), qs(bus.key), tr("number painted on the bus"));
    m_key->setReadOnly(!bus.key.empty());
    m_title = addField(tr("&Name"), qs(bus.title), tr("for example: Bus 14"));
    m_note = addField(tr("No&te"), qs(bus.note));
    auto* grid = new QWidget;
    auto* places = new QGridLayout(grid);
    places->setContentsMargins(0, 0, 0, 0);
    int at = 0;
    for (const auto& [tag, title] : tags) {
        auto* box = new QCheckBox(qs(title));
        box->setChecked(std::find(bus.equipment.begin(), bus.equipment.end(), tag) != bus.equipment.end());
        places->addWidget(box, at / 3, at % 3);
        m_tags.emplace_back(tag, box);
        ++at;
    }
    form()->addRow(tr("Equipment"), grid);
    m_limits = new QTableWidget(static_cast<int>(limits.size()), 4);
    m_limits->setAccessibleName(tr("Limits of this bus"));
    m_limits->setHorizontalHeaderLabels({tr("limit"), tr("rubric says"), tr("low"), tr("high")});
    m_limits->verticalHeader()->hide();
    m_limits->setTabKeyNavigation(false);
    m_limits->setMinimumSize(qRound(theme.s(560)), qRound(theme.s(190)));
    m_limits->horizontalHeader()->setSectionResizeMode(0, QHeaderView::Stretch);
    m_limits->horizontalHeader()->setSectionResizeMode(1, QHeaderView::ResizeToContents);
    for (int row = 0; row < static_cast<int>(limits.size()); ++row) {
        const core::Limit& limit = limits[static_cast<std::size_t>(row)];
        const auto own = bus.limits.find(limit.id);
        const auto text = [&own, &bus](const std::optional<double> core::LimitBounds::*bound) {
            if (own == bus.limits.end() || !(own->second.*bound)) return QString();
            return numberText(*(own->second.*bound));
        };
        auto* id = new QTableWidgetItem(qs(limit.id));
        auto* rubricSays =
            new QTableWidgetItem(boundsText(limit.low, limit.high, qs(limit.unit), limit.exclusive));
        for (auto* item : {id, rubricSays}) item->setFlags(Qt::ItemIsEnabled | Qt::ItemIsSelectable);
        m_limits->setItem(row, 0, id);
        m_limits->setItem(row, 1, rubricSays);
        m_limits->setItem(row, 2, new QTableWidgetItem(text(&core::LimitBounds::low)));
        m_limits->setItem(row, 3, new QTableWidgetItem(text(&core::LimitBounds::high)));
    }
    if (!limits.empty()) m_limits->setCurrentCell(0, 2);
    auto* hint = new Text(theme, 13, false, Ink::Muted,
                          tr("The maker's figures of this bus take the place of both bounds of a limit. "
                             "Leave low and high empty where the rubric's limit holds."));
    hint->setWordWrap(true);
    form()->addRow(tr("&Limits"), m_limits);
    form()->addRow(QString(), hint);
    m_key->setFocus();
}

core::Result<void> BusDialog::check() {
    std::vector<std::string> equipment;
    for (const auto& [tag, box] : m_tags)
        if (box->isChecked()) equipment.push_back(tag);
    for (const std::string& tag : m_bus.equipment)  // a tag that no rubric of this file knows is kept
        if (std::none_of(m_tags.begin(), m_tags.end(), [&](const auto& known) { return known.first == tag; }))
            equipment.push_back(tag);
    std::vector<LimitField> limits;
    for (int row = 0; row < m_limits->rowCount(); ++row)
        limits.push_back(
            {m_limits->item(row, 0)->text(), m_limits->item(row, 2)->text(), m_limits->item(row, 3)->text()});
    auto bus = busFrom(m_key->text(), m_title->text(), m_note->text(), equipment, limits, m_taken);
    if (!bus) return core::fail(bus.error());
    m_bus = *bus;
    return {};
}

ListDialog::ListDialog(const Theme& theme, const QString& title, const QString& remark,
                       std::vector<Column> columns, const std::vector<int>& widths, Rows rows, Edit edit,
                       QWidget* parent)
    : QDialog(parent),
      m_rows(std::move(rows)),
      m_edit(std::move(edit)),
      m_model(new RowsModel(std::move(columns), this)),
      m_table(new TableView(theme, title)) {
    setWindowTitle(title);
    resizeToScreen(*this, {qRound(theme.s(860)), qRound(theme.s(420))});
    auto* column = new QVBoxLayout(this);
    auto* words = new Text(theme, 15, false, Ink::Full, remark);
    words->setWordWrap(true);
    column->addWidget(words);
    m_table->setModel(m_model);
    m_table->setWidths(widths);
    column->addWidget(m_table, 1);
    auto* buttons = new QDialogButtonBox;
    auto* add = buttons->addButton(tr("&Add..."), QDialogButtonBox::ActionRole);
    auto* change = buttons->addButton(tr("&Edit..."), QDialogButtonBox::ActionRole);
    buttons->addButton(tr("&Close"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(add, &QPushButton::clicked, this, [this] {
        if (const QString id = m_edit(QString(), this); !id.isEmpty()) fill(id);
    });
    const auto editCurrent = [this] {
        const QString current = m_table->currentId();
        if (current.isEmpty()) return;
        if (const QString id = m_edit(current, this); !id.isEmpty()) fill(id);
    };
    connect(change, &QPushButton::clicked, this, editCurrent);
    connect(m_table, &TableView::opened, this, editCurrent);
    fill({});
    m_table->setFocus();
}

void ListDialog::fill(const QString& select) {
    m_model->setRows(m_rows());
    m_table->selectRowAt(qMax(0, m_model->rowOf(select)));
}

}  // namespace markerlamp::app
