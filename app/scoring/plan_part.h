#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The plan of the bus seen from above, nose left: one cell for each zone, laid out like the block of twelve
// keys that opens them, with how far each zone is.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"
#include "forms/sheets/plan_layout.h"

namespace markerlamp::app {

class ScoringModel;

class PlanPart final : public Surface {
    Q_OBJECT

public:
    /// Targets are zones of the model.
    PlanPart(const PartKit& kit, QWidget* parent);

    void setModel(const ScoringModel* model);
    /// Height of the line with the counts above the cells, in design pixels.
    inline static constexpr double kHead = 40;
    [[nodiscard]] int rows() const;
    [[nodiscard]] std::vector<Target> targets() const override;
    /// "Rear axle: 8 of 12 scored, 3 left behind".
    [[nodiscard]] QString zoneWords(int zone) const;

protected:
    void paintContent(QPainter& painter) override;

private:
    [[nodiscard]] QRectF cellRect(const forms::PlanCell& cell) const;
    void paintCell(QPainter& painter, int zone) const;

    const KeyMap& m_keys;
    const ScoringModel* m_model = nullptr;
    std::vector<forms::PlanCell> m_absent;  ///< cells of zones that this attempt leaves out
    std::vector<QString> m_absentTitles;
};

}  // namespace markerlamp::app
