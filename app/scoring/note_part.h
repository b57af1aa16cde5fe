#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The line for words in the strip's place: a note on the step just scored or on the attempt, a real defect
// that was called out, something said wrongly.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

class QLineEdit;

namespace markerlamp::app {

class NotePart final : public Surface {
    Q_OBJECT

public:
    enum Id { Keep, Defect, Wrong, Whole, Close };

    NotePart(const PartKit& kit, QWidget* parent);

    /// step: what the words belong to; empty: the attempt. defect: Enter records a real defect.
    void open(const QString& step, bool defect);
    [[nodiscard]] QLineEdit* field() const { return m_field; }
    [[nodiscard]] std::vector<Target> targets() const override;

signals:
    void noted(QString text, bool wholeAttempt);
    void defectNoted(QString text);
    void wrongNoted(QString text);
    void left();

protected:
    void paintContent(QPainter& painter) override;
    void resizeEvent(QResizeEvent* event) override;
    bool eventFilter(QObject* object, QEvent* event) override;

private:
    struct Button {
        int id;
        QString verb;
        QString key;
        QRectF rect;
    };
    [[nodiscard]] std::vector<Button> buttons() const;
    /// Too narrow for field and buttons beside each other.
    [[nodiscard]] bool stacked() const { return width() < s(1000); }
    void act(int id);
    void placeField();

    QLineEdit* m_field;
    QString m_step;
    bool m_defect = false;
    bool m_whole = false;
};

}  // namespace markerlamp::app
