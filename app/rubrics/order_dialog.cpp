// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/order_dialog.h"

#include "app/support/display.h"

#include <QCheckBox>
#include <QComboBox>
#include <QEvent>
#include <QFormLayout>
#include <QGridLayout>
#include <QLineEdit>
#include <QListWidget>
#include <QRadioButton>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

namespace {

std::vector<std::string> entriesOf(const QListWidget& list) {
    std::vector<std::string> entries;
    for (int i = 0; i < list.count(); ++i) entries.push_back(ss(list.item(i)->data(Qt::UserRole).toString()));
    return entries;
}

QListWidget* makeList(const Theme& theme, const QString& name) {
    auto* list = new QListWidget;
    list->setAccessibleName(name);
    list->setMinimumSize(qRound(theme.s(240)), qRound(theme.s(130)));
    return list;
}

}  // namespace

OrderDialog::OrderDialog(const Theme& theme, const Draft& draft, const core::OrderRule* rule,
                         const QString& entry, QWidget* parent)
    : FormDialog(theme, rule == nullptr ? tr("Add an order rule") : tr("Edit the order rule"),
                 rule == nullptr ? tr("Add the r&ule") : tr("&Keep the changes"), parent),
      m_draft(draft),
      m_isNew(rule == nullptr),
      m_chain(new QRadioButton(tr("&One after the other"))),
      m_sides(new QRadioButton(tr("&All of these before all of those"))),
      m_choice(new QComboBox),
      m_firstLabel(new QLabel(tr("&In this order"))),
      m_secondLabel(new QLabel(tr("&Then"))),
      m_first(makeList(theme, tr("First"))),
      m_second(makeList(theme, tr("Then"))),
      m_last(m_first),
      m_addFirst(new QPushButton(tr("Add to &First"))),
      m_addSecond(new QPushButton(tr("Add to T&hen"))),
      m_strict(new QCheckBox(tr("&Strict: more than advice"))),
      m_mustPass(new QCheckBox(tr("&Must pass: a strict rule that is broken fails the attempt"))),
      m_circle(new Text(theme, 13)) {
    if (rule != nullptr) m_rule = *rule;
    form()->addRow(tr("Kind"), m_chain);
    form()->addRow(QString(), m_sides);
    fillChoice(entry);
    form()->addRow(tr("Step or &zone"), m_choice);
    form()->addRow(makeLists());
    form()->addRow(QString(), m_strict);
    form()->addRow(QString(), m_mustPass);
    m_why = addField(tr("&Why"), qs(m_rule.why), tr("what goes wrong otherwise"));
    m_why->setCursorPosition(0);  // its beginning is what is read
    m_circle->setWordWrap(true);
    m_circle->setMinimumHeight(qRound(theme.s(36)));
    form()->addRow(m_circle);
    for (const std::string& one : m_rule.chain.empty() ? m_rule.first : m_rule.chain) add(*m_first, one);
    for (const std::string& one : m_rule.then) add(*m_second, one);
    if (m_isNew && !entry.isEmpty()) add(*m_first, ss(entry));
    (m_rule.first.empty() && m_rule.then.empty() ? m_chain : m_sides)->setChecked(true);
    m_strict->setChecked(m_rule.strict);
    m_mustPass->setChecked(m_rule.mustPass);
    connect(m_chain, &QRadioButton::toggled, this, &OrderDialog::showKind);
    // Filters, not a connection: children that go away with the dialog still tell who has the focus, when it
    // is no OrderDialog any more.
    for (QListWidget* list : {m_first, m_second}) list->installEventFilter(this);
    showKind();
    m_choice->setFocus();
}

void OrderDialog::fillChoice(const QString& entry) {
    for (const core::Zone& zone : m_draft.rubric().zones) {
        m_choice->addItem(tr("all of %1").arg(qs(zone.title)), qs("zone:" + zone.id));
        for (const core::Step& step : zone.steps)
            m_choice->addItem(tr("%1 (%2)", "step, its zone").arg(qs(step.title), qs(zone.title)),
                              qs(step.id));
    }
    if (const int at = m_choice->findData(entry); at >= 0) m_choice->setCurrentIndex(at);
    m_choice->setMinimumWidth(qRound(theme().s(360)));
}

QWidget* OrderDialog::makeLists() {
    auto* whole = new QWidget;
    auto* grid = new QGridLayout(whole);
    grid->setContentsMargins(0, 0, 0, 0);
    m_firstLabel->setBuddy(m_first);
    m_secondLabel->setBuddy(m_second);
    auto* remove = new QPushButton(tr("&Remove"));
    auto* up = new QPushButton(tr("U&p"));
    auto* down = new QPushButton(tr("&Down"));
    auto* buttons = new QVBoxLayout;
    for (QPushButton* button : {m_addFirst, m_addSecond, remove, up, down}) {
        button->setAutoDefault(false);
        buttons->addWidget(button);
    }
    buttons->addStretch(1);
    grid->addWidget(m_firstLabel, 0, 0);
    grid->addWidget(m_secondLabel, 0, 2);
    grid->addWidget(m_first, 1, 0);
    grid->addLayout(buttons, 1, 1);
    grid->addWidget(m_second, 1, 2);
    connect(m_addFirst, &QPushButton::clicked, this, [this] { addChosen(*m_first); });
    connect(m_addSecond, &QPushButton::clicked, this, [this] { addChosen(*m_second); });
    connect(remove, &QPushButton::clicked, this, &OrderDialog::removeCurrent);
    connect(up, &QPushButton::clicked, this, [this] { moveCurrent(-1); });
    connect(down, &QPushButton::clicked, this, [this] { moveCurrent(1); });
    return whole;
}

void OrderDialog::add(QListWidget& list, const std::string& entry) {
    auto* item = new QListWidgetItem(m_draft.titleOfEntry(entry));
    item->setData(Qt::UserRole, qs(entry));
    list.addItem(item);
    list.setCurrentItem(item);
    m_last = &list;
}

void OrderDialog::addChosen(QListWidget& list) {
    const std::string entry = ss(m_choice->currentData().toString());
    const std::vector<std::string> there = entriesOf(list);
    if (entry.empty() || std::ranges::find(there, entry) != there.end()) return;
    add(list, entry);
    showCircle();
}

bool OrderDialog::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::FocusIn)
        for (QListWidget* list : {m_first, m_second})
            if (watched == list) m_last = list;
    return FormDialog::eventFilter(watched, event);
}

QListWidget& OrderDialog::list() const {
    return *(m_last == m_second && m_sides->isChecked() ? m_second : m_first);
}

void OrderDialog::removeCurrent() {
    delete list().takeItem(list().currentRow());
    showCircle();
}

void OrderDialog::moveCurrent(int by) {
    QListWidget& here = list();
    const int from = here.currentRow(), to = from + by;
    if (from < 0 || to < 0 || to >= here.count()) return;
    here.insertItem(to, here.takeItem(from));
    here.setCurrentRow(to);
    showCircle();
}

void OrderDialog::showKind() {
    const bool sides = m_sides->isChecked();
    m_firstLabel->setText(sides ? tr("F&irst") : tr("&In this order"));
    for (QWidget* widget : std::vector<QWidget*>{m_second, m_secondLabel, m_addSecond})
        widget->setVisible(sides);
    m_addFirst->setText(sides ? tr("Add to &First") : tr("Add to the &list"));
    showCircle();
}

core::OrderRule OrderDialog::entered() const {
    core::OrderRule rule = m_rule;
    rule.chain.clear();
    rule.first.clear();
    rule.then.clear();
    if (m_sides->isChecked()) {
        rule.first = entriesOf(*m_first);
        rule.then = entriesOf(*m_second);
    } else {
        rule.chain = entriesOf(*m_first);
    }
    rule.strict = m_strict->isChecked();
    rule.mustPass = m_mustPass->isChecked();
    rule.why = ss(m_why->text().trimmed());
    return rule;
}

void OrderDialog::showCircle() {
    core::Rubric rubric = m_draft.rubric();
    core::OrderRule rule = entered();
    if (m_isNew) {
        rule.id = ss(tr("this rule"));
        rubric.order.push_back(rule);
    } else {
        for (core::OrderRule& one : rubric.order)
            if (one.id == rule.id) one = rule;
    }
    const core::OrderCircle circle = core::orderCircle(rubric);
    if (circle.steps.empty()) {
        m_circle->setInk(Ink::Muted);
        m_circle->setText(tr("No circle: the rules can all be kept."));
        return;
    }
    QString words = m_draft.titleOfEntry(circle.steps.front());
    for (std::size_t i = 0; i < circle.rules.size(); ++i)
        words = tr("%1 before %2 (%3)", "step, next step, rule")
                    .arg(words, m_draft.titleOfEntry(circle.steps[i + 1]), qs(circle.rules[i]));
    m_circle->setInk(Ink::Full);
    m_circle->setText(tr("A circle: %1").arg(words));
}

core::Result<void> OrderDialog::check() {
    core::OrderRule rule = entered();
    const bool sides = m_sides->isChecked();
    const bool enough = sides ? !rule.first.empty() && !rule.then.empty() : rule.chain.size() >= 2;
    if (!enough)
        return core::fail(core::ErrorKind::Refused,
                          ss(sides ? tr("Name at least one step or zone on either side.")
                                   : tr("Name at least two steps or zones.")));
    m_rule = std::move(rule);
    return {};
}

}  // namespace markerlamp::app
