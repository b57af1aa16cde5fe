#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A part that lies over the page with a line of text: Enter acts, Esc leaves, letters go nowhere else.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

class QLineEdit;

namespace markerlamp::app {

class WordsPart : public Surface {
    Q_OBJECT

public:
    WordsPart(const PartKit& kit, const QString& name, const QString& fieldName, QWidget* parent);

    [[nodiscard]] QLineEdit* field() const { return m_field; }

signals:
    void left();

protected:
    /// Shows the part with an empty field that has the keys.
    void openEmpty(const QString& placeholder);
    /// Where the field stands, in the part's own coordinates.
    [[nodiscard]] virtual QRectF fieldRect() const = 0;
    virtual void entered() = 0;
    /// Up (-1) or Down (+1) in the field.
    virtual void stepped(int by) { Q_UNUSED(by) }
    void placeField();
    void resizeEvent(QResizeEvent* event) override;
    bool eventFilter(QObject* object, QEvent* event) override;

private:
    QLineEdit* m_field;
};

}  // namespace markerlamp::app
