#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The dark steps with what is proposed for each and why; one letter or touch changes a step or a whole zone.

#include "app/scoring/part_kit.h"
#include "app/scoring/settle_model.h"
#include "app/scoring/surface.h"

namespace markerlamp::app {

class ScoringModel;

class SettlePart final : public Surface {
    Q_OBJECT

public:
    /// Targets are row * kPerRow + place in the row.
    enum Place { Row, Omit, Unsee, Unreach, ZoneName };
    inline static constexpr int kPerRow = 10;
    enum Id { PageBefore = 100000, PageAfter };

    SettlePart(const PartKit& kit, QWidget* parent);

    void setModels(const ScoringModel* model, SettleModel* settle);
    /// The letters act on the whole zone of the current row.
    void chooseZone(bool zone);
    [[nodiscard]] bool zoneChosen() const { return m_zoneChosen; }
    [[nodiscard]] int rowsOnPage() const;
    [[nodiscard]] std::vector<Target> targets() const override;

protected:
    void paintContent(QPainter& painter) override;

private:
    struct Columns {
        bool wide = true;
        double step, name, nameRight, lamp, capsule, word, why, change;
    };
    [[nodiscard]] Columns columns() const;
    [[nodiscard]] int firstRow() const;
    [[nodiscard]] QRectF rowRect(int row) const;
    [[nodiscard]] QRectF changeRect(int row, int place) const;
    [[nodiscard]] std::vector<Target> pageButtons() const;
    void paintHead(QPainter& painter) const;
    void paintColumnHeads(QPainter& painter) const;
    void paintRow(QPainter& painter, int row) const;

    const KeyMap& m_keys;
    const ScoringModel* m_model = nullptr;
    SettleModel* m_settle = nullptr;
    bool m_zoneChosen = false;
};

}  // namespace markerlamp::app
