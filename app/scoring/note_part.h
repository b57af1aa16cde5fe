#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The line for words in the strip's place: a note on the step just scored or on the attempt, a real defect
// that was called out, something said wrongly.

#include "app/scoring/words_part.h"

namespace markerlamp::app {

class NotePart final : public WordsPart {
    Q_OBJECT

public:
    enum Id { Keep, Defect, Wrong, Whole, Close };

    /// Narrower than this, the buttons stand below the field; design pixels.
    inline static constexpr double kStackedBelow = 1000;
    inline static constexpr double kStackedHeight = 150;

    NotePart(const PartKit& kit, QWidget* parent);

    /// step: what the words belong to; empty: the attempt. defect: Enter records a real defect.
    void open(const QString& step, bool defect);
    [[nodiscard]] std::vector<Target> targets() const override;

signals:
    void noted(QString text, bool wholeAttempt);
    void defectNoted(QString text);
    void wrongNoted(QString text);

protected:
    void paintContent(QPainter& painter) override;
    [[nodiscard]] QRectF fieldRect() const override;
    void entered() override { act(m_defect ? Defect : Keep); }

private:
    [[nodiscard]] std::vector<PartButton> buttons() const;
    /// Too narrow for field and buttons beside each other.
    [[nodiscard]] bool stacked() const { return width() < s(kStackedBelow); }
    void act(int id);

    QString m_step;
    bool m_defect = false;
    bool m_whole = false;
};

}  // namespace markerlamp::app
