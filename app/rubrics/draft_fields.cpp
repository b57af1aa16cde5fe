// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/draft_fields.h"

#include "app/support/display.h"

#include <QCheckBox>
#include <QDoubleSpinBox>
#include <QKeyEvent>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QScopedValueRollback>
#include <QSpinBox>

namespace markerlamp::app {

DraftFields::DraftFields(QObject* parent) : QObject(parent) {}

template <class T>
void DraftFields::write(const Access<T>& access, const T& value) {
    if (m_draft == nullptr || m_loading || !access.read(m_draft->rubric())) return;
    m_draft->change(
        tr("%1 of %2", "field, step or zone").arg(access.name, m_title), m_spot,
        [&](core::Rubric& rubric) { access.write(rubric, value); },
        access.name + QLatin1Char('/') + m_spot.zone + QLatin1Char('/') + m_spot.step + QLatin1Char('/'));
}

void DraftFields::watch(QWidget* field) {
    field->installEventFilter(this);
    // The field inside a spin box is the one that takes Ctrl+Z.
    for (auto* inner : field->findChildren<QLineEdit*>()) inner->installEventFilter(this);
}

void DraftFields::tie(QLineEdit* field, Access<std::string> access) {
    watch(field);
    connect(field, &QLineEdit::textEdited, this,
            [this, access](const QString& text) { write(access, ss(text.trimmed())); });
    connect(field, &QLineEdit::editingFinished, this, [this] {
        if (m_draft != nullptr) m_draft->seal();
    });
    m_loads.push_back([this, field, access] {
        const QString text = qs(access.read(m_draft->rubric()).value_or(std::string()));
        // A blank behind the last word is still being typed.
        if (field->text().trimmed() != text) field->setText(text);
        if (!field->hasFocus()) field->setCursorPosition(0);
        field->setToolTip(text);
    });
}

void DraftFields::tie(QPlainTextEdit* field, Access<std::string> access) {
    watch(field);
    connect(field, &QPlainTextEdit::textChanged, this,
            [this, field, access] { write(access, ss(field->toPlainText().trimmed())); });
    m_loads.push_back([this, field, access] {
        const QString text = qs(access.read(m_draft->rubric()).value_or(std::string()));
        if (field->toPlainText().trimmed() != text) field->setPlainText(text);
    });
}

void DraftFields::tie(QSpinBox* field, Access<int> access) {
    watch(field);
    connect(field, &QSpinBox::valueChanged, this, [this, access](int value) { write(access, value); });
    connect(field, &QSpinBox::editingFinished, this, [this] {
        if (m_draft != nullptr) m_draft->seal();
    });
    m_loads.push_back([this, field, access] {
        if (const auto value = access.read(m_draft->rubric()); value && field->value() != *value)
            field->setValue(*value);
    });
}

void DraftFields::tie(QDoubleSpinBox* field, Access<double> access) {
    watch(field);
    connect(field, &QDoubleSpinBox::valueChanged, this,
            [this, access](double value) { write(access, value); });
    connect(field, &QDoubleSpinBox::editingFinished, this, [this] {
        if (m_draft != nullptr) m_draft->seal();
    });
    m_loads.push_back([this, field, access] {
        if (const auto value = access.read(m_draft->rubric()); value && field->value() != *value)
            field->setValue(*value);
    });
}

void DraftFields::tie(QCheckBox* field, Access<bool> access) {
    watch(field);
    connect(field, &QCheckBox::toggled, this, [this, access](bool on) {
        write(access, on);
        if (m_draft != nullptr) m_draft->seal();
    });
    m_loads.push_back([this, field, access] {
        if (const auto value = access.read(m_draft->rubric())) field->setChecked(*value);
    });
}

void DraftFields::setDraft(Draft* draft, const DraftSpot& spot, const QString& title) {
    if (m_draft != nullptr && spot != m_spot) m_draft->seal();
    m_draft = draft;
    m_spot = spot;
    m_title = title;
    load();
}

void DraftFields::load() {
    if (m_draft == nullptr) return;
    const QScopedValueRollback<bool> loading(m_loading, true);
    for (const auto& one : m_loads) one();
}

bool DraftFields::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::ShortcutOverride) {
        const auto* key = static_cast<QKeyEvent*>(event);
        if (key->matches(QKeySequence::Undo) || key->matches(QKeySequence::Redo)) {
            event->ignore();
            return true;
        }
    }
    if (event->type() == QEvent::FocusOut && m_draft != nullptr) m_draft->seal();
    return QObject::eventFilter(watched, event);
}

}  // namespace markerlamp::app
