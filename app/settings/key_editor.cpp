// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/settings/key_editor.h"

#include "app/settings/settings.h"
#include "app/support/rows_model.h"
#include "app/support/table_view.h"
#include "app/support/text_widgets.h"

#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QVBoxLayout>

namespace markerlamp::app {

KeyField::KeyField(QWidget* parent) : QLineEdit(parent) {
    setReadOnly(true);
    setContextMenuPolicy(Qt::NoContextMenu);
}

bool KeyField::event(QEvent* event) {
    if (event->type() != QEvent::KeyPress && event->type() != QEvent::ShortcutOverride)
        return QLineEdit::event(event);
    const auto* key = static_cast<QKeyEvent*>(event);
    switch (key->key()) {
        case Qt::Key_Tab:
        case Qt::Key_Backtab:
        case Qt::Key_Escape:
            return QLineEdit::event(event);
        case Qt::Key_Shift:
        case Qt::Key_Control:
        case Qt::Key_Alt:
        case Qt::Key_AltGr:
        case Qt::Key_Meta:
            event->accept();
            return true;
        default:
            break;
    }
    event->accept();
    if (event->type() == QEvent::KeyPress && !key->isAutoRepeat()) {
        const auto modifiers =
            key->modifiers() & (Qt::ShiftModifier | Qt::ControlModifier | Qt::AltModifier | Qt::MetaModifier);
        emit captured(QKeySequence(QKeyCombination(modifiers, static_cast<Qt::Key>(key->key()))));
    }
    return true;
}

KeyEditor::KeyEditor(const Theme& theme, Settings& settings, QWidget* parent)
    : QWidget(parent),
      m_settings(settings),
      m_rows(new RowsModel({{.title = tr("What it does")}, {.title = tr("Key")}}, this)),
      m_table(new TableView(theme, tr("Keys of the scoring page"))),
      m_field(new KeyField),
      m_words(new Text(theme, 13, false, Ink::Muted)) {
    m_keys.load(settings.store());
    m_table->setModel(m_rows);
    m_table->setWidths({0, 160});
    m_words->setWordWrap(true);
    m_words->setText(
        tr("Choose a row, then press the new key in the field. Zone keys follow their places on the "
           "keyboard, and the digits flip points; these stay."));
    auto* label = new QLabel(tr("Ne&w key"));
    label->setBuddy(m_field);
    m_field->setAccessibleName(tr("New key"));
    m_field->setPlaceholderText(tr("press the key here"));
    auto* reset = new KeyButton(theme, tr("Usual keys"));
    auto* line = new QHBoxLayout;
    line->addWidget(label);
    line->addWidget(m_field, 1);
    line->addWidget(reset);
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_table, 1);
    layout->addLayout(line);
    layout->addWidget(m_words);
    fill();
    m_table->selectRowAt(0);
    connect(m_field, &KeyField::captured, this, &KeyEditor::capture);
    connect(m_table, &TableView::opened, this, [this] { m_field->setFocus(); });
    connect(reset, &QPushButton::clicked, this, [this] {
        m_keys.reset();
        m_changed = true;
        fill();
        m_words->setText(tr("Every key is the usual one again."));
    });
}

void KeyEditor::fill() {
    std::vector<Row> rows;
    for (int i = 0; i < KeyMap::kActions; ++i) {
        const auto action = static_cast<KeyAction>(i);
        rows.push_back(
            {QString::number(i), {longCell(KeyMap::name(action)), boldCell(m_keys.caption(action))}});
    }
    const int row = m_table->currentIndex().row();
    m_rows->setRows(std::move(rows));
    m_table->selectRowAt(std::max(0, row));
}

void KeyEditor::capture(const QKeySequence& key) {
    bool known = false;
    const int action = m_table->currentId().toInt(&known);
    if (!known) return;
    const QString refused = m_keys.setKey(static_cast<KeyAction>(action), key);
    if (!refused.isEmpty()) {
        m_words->setText(refused);
        return;
    }
    m_changed = true;
    m_field->setText(m_keys.caption(static_cast<KeyAction>(action)));
    m_words->setText(tr("%1: %2", "what it does, key")
                         .arg(KeyMap::name(static_cast<KeyAction>(action)),
                              m_keys.caption(static_cast<KeyAction>(action))));
    fill();
}

void KeyEditor::keep() {
    if (!m_changed) return;
    m_keys.save(m_settings.store());
    emit m_settings.changed();
}

}  // namespace markerlamp::app
