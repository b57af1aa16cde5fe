// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/words_part.h"

#include <QKeyEvent>
#include <QLineEdit>

namespace markerlamp::app {

WordsPart::WordsPart(const PartKit& kit, const QString& name, const QString& fieldName, QWidget* parent)
    : Surface(kit.theme, kit.guard, name, parent), m_field(new QLineEdit(this)) {
    m_field->setAccessibleName(fieldName);
    m_field->setMaxLength(500);
    m_field->installEventFilter(this);
}

void WordsPart::openEmpty(const QString& placeholder) {
    m_field->clear();
    m_field->setPlaceholderText(placeholder);
    placeField();
    show();
    raise();
    m_field->setFocus(Qt::OtherFocusReason);
    contentChanged();
}

void WordsPart::placeField() {
    m_field->setFont(look().font(20));
    m_field->setGeometry(seen(fieldRect()));
}

void WordsPart::resizeEvent(QResizeEvent* event) {
    Surface::resizeEvent(event);
    placeField();
}

bool WordsPart::eventFilter(QObject* object, QEvent* event) {
    if (object != m_field || event->type() != QEvent::KeyPress) return Surface::eventFilter(object, event);
    switch (static_cast<QKeyEvent*>(event)->key()) {
        case Qt::Key_Escape:
            emit left();
            return true;
        case Qt::Key_Return:
        case Qt::Key_Enter:
            entered();
            return true;
        case Qt::Key_Up:
            stepped(-1);
            return true;
        case Qt::Key_Down:
            stepped(1);
            return true;
        default:
            return Surface::eventFilter(object, event);
    }
}

}  // namespace markerlamp::app
