// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/number_field.h"

#include "app/support/display.h"
#include "forms/style/fonts.h"

#include <QKeyEvent>
#include <QRegularExpressionValidator>
#include <QTimer>

#include <cmath>

namespace markerlamp::app {

NumberField::NumberField(const Theme& theme, QWidget* parent)
    : QLineEdit(parent), m_theme(theme), m_factor(theme.scale()) {
    static const QRegularExpression number(QStringLiteral("[0-9]{0,6}([.,][0-9]{0,3})?"));
    setValidator(new QRegularExpressionValidator(number, this));
    setAlignment(Qt::AlignRight);
    setContextMenuPolicy(Qt::NoContextMenu);
    setInputMethodHints(Qt::ImhFormattedNumbersOnly);
    connect(&theme, &Theme::changed, this, &NumberField::dress);
    dress();
}

std::optional<double> NumberField::parse(const QString& text) {
    bool good = false;
    const double number = QString(text).replace(QLatin1Char(','), QLatin1Char('.')).toDouble(&good);
    return good && std::isfinite(number) ? std::optional(number) : std::nullopt;
}

void NumberField::setNumber(std::optional<double> number) {
    m_number = number;
    if (!hasFocus() || !isModified()) showNumber();
}

void NumberField::showNumber() {
    const QString shown = m_number ? numberText(*m_number) : QString();
    if (shown == text()) return;
    setText(shown);
    setModified(false);
    if (hasFocus()) selectAll();
}

void NumberField::setDue(bool due) {
    setEnabled(due);
    setFocusPolicy(due ? Qt::StrongFocus : Qt::NoFocus);
    if (due == m_due) return;
    m_due = due;
    dress();
}

void NumberField::setFactor(double factor) {
    if (factor == m_factor) return;
    m_factor = factor;
    dress();
}

void NumberField::dress() {
    const forms::Roles& roles = m_theme.roles();
    setFont(forms::type(25 * m_factor, true));
    setStyleSheet(QStringLiteral("QLineEdit{min-height:0;border:%1px %2 %3;border-radius:4px;padding:0 %4px;"
                                 "background:%5;color:%6;font-size:%8px;font-weight:bold;"
                                 "selection-background-color:%6;selection-color:%5}"
                                 "QLineEdit:focus{border:%7px solid %6}")
                      .arg(m_due ? 2 : 1)
                      .arg(m_due ? QStringLiteral("solid") : QStringLiteral("dashed"),
                           m_due ? roles.muted.name() : roles.line.name())
                      .arg(qRound(6 * m_factor))
                      .arg(roles.ground.name(), roles.ink.name())
                      .arg(std::max(3, qRound(3 * m_factor)))
                      .arg(qRound(25 * m_factor)));
}

void NumberField::type(const QString& digit) {
    if (hasSelectedText()) del();
    insert(digit);
    setModified(true);
}

void NumberField::step(int by) {
    const double now = parse(text()).value_or(m_number.value_or(0));
    setText(numberText(std::max(0.0, now + by)));
    setModified(true);
}

void NumberField::keep() {
    if (text().isEmpty() || !isModified()) {
        showNumber();
        return;
    }
    const auto number = parse(text());
    if (!number) {
        emit refused(tr("\"%1\" is no number; type digits, such as 118 or 115.5").arg(text()));
        setModified(false);
        showNumber();
        return;
    }
    setModified(false);
    if (number != m_number) emit typed(*number);
}

void NumberField::keyPressEvent(QKeyEvent* event) {
    switch (event->key()) {
        case Qt::Key_Return:
        case Qt::Key_Enter:
            if (event->modifiers() & Qt::ControlModifier) break;
            keep();
            emit left();
            event->accept();
            return;
        case Qt::Key_Escape:
            setModified(false);
            showNumber();
            emit left();
            event->accept();
            return;
        default:
            break;
    }
    QLineEdit::keyPressEvent(event);
    // Letters mean nothing here, and must not act on the page behind either.
    if (!event->text().isEmpty() && event->text().at(0).isPrint() &&
        !(event->modifiers() & (Qt::ControlModifier | Qt::AltModifier)))
        event->accept();
}

void NumberField::focusInEvent(QFocusEvent* event) {
    QLineEdit::focusInEvent(event);
    // After the press that brought the focus has placed its cursor: what is typed replaces the old figure.
    QTimer::singleShot(0, this, &QLineEdit::selectAll);
}

void NumberField::focusOutEvent(QFocusEvent* event) {
    QLineEdit::focusOutEvent(event);
    keep();
}

}  // namespace markerlamp::app
