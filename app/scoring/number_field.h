#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A field for one measured number. Takes digits and a decimal point or comma; Enter or leaving the field
// keeps the number, Esc brings the old one back. The page's own keypad types into it as well.

#include "app/support/theme.h"

#include <QLineEdit>

#include <optional>

namespace markerlamp::app {

class NumberField final : public QLineEdit {
    Q_OBJECT

public:
    explicit NumberField(const Theme& theme, QWidget* parent);

    /// What is on record; shown unless somebody is typing.
    void setNumber(std::optional<double> number);
    [[nodiscard]] std::optional<double> number() const { return m_number; }
    /// Dashed and closed while the number is not due yet.
    void setDue(bool due);
    void setFactor(double factor);
    /// From the keypad: a digit.
    void type(const QString& digit);
    /// From the keypad: one more or one less.
    void step(int by);
    /// Keeps what stands in the field.
    void keep();

    [[nodiscard]] static std::optional<double> parse(const QString& text);

signals:
    void typed(double number);
    /// Enter or Esc: the keys belong to the page again.
    void left();
    /// What was typed is no number; words say what would be right.
    void refused(QString words);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    void dress();
    void showNumber();

    const Theme& m_theme;
    double m_factor = 1;
    bool m_due = true;
    std::optional<double> m_number;
};

}  // namespace markerlamp::app
