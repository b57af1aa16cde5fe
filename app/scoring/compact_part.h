#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The scoring page where there is no room for the board: one card for the next step, one for the step just
// scored, six buttons and the last words.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

namespace markerlamp::app {

class ScoringModel;

class CompactPart final : public Surface {
    Q_OBJECT

public:
    /// Points of the step just scored are 0..8.
    enum Id { NextStep = 100, Said, Prompt, Note, Slide, Zones, Brakes };
    /// Height of the lines that stay when the readings or the plan lie over the cards, design pixels.
    inline static constexpr double kTop = 36;
    inline static constexpr double kBottom = 112;

    CompactPart(const PartKit& kit, QWidget* parent);

    void setModel(const ScoringModel* model) { m_model = model; }
    void setNames(const QString& trainee, const QString& bus);
    void setWords(const QString& last, const QString& saved);
    void setBrakesOpen(bool open) { m_brakesOpen = open; }
    [[nodiscard]] std::vector<Target> targets() const override;
    [[nodiscard]] int partAt(int id, const QPointF& position) const override;

protected:
    void paintContent(QPainter& painter) override;

private:
    [[nodiscard]] std::vector<PartButton> buttons() const;
    [[nodiscard]] double w() const { return width() / look().factor(); }
    [[nodiscard]] double h() const { return height() / look().factor(); }
    [[nodiscard]] QRectF nextCard() const;
    [[nodiscard]] QRectF lastCard() const;
    [[nodiscard]] QRectF beadRect(int point, int count) const;
    void paintTop(QPainter& painter) const;
    void paintNext(QPainter& painter) const;
    void paintLast(QPainter& painter) const;

    const KeyMap& m_keys;
    const ScoringModel* m_model = nullptr;
    QString m_trainee, m_bus, m_last, m_saved;
    bool m_brakesOpen = false;
};

}  // namespace markerlamp::app
