#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The order at a glance: steps as they were done over the steps as they belong, joined only where a step is
// out of place.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"
#include "core/scoring/scorecard.h"

#include <memory>

namespace markerlamp::app {

class ScoringModel;

class RibbonPart final : public Surface {
    Q_OBJECT

public:
    RibbonPart(const PartKit& kit, QWidget* parent);

    void setModel(const ScoringModel* model);
    /// Judges the order again.
    void refresh();
    /// "4 out of place: 49, 52, 62, 65".
    [[nodiscard]] QString words() const;
    [[nodiscard]] int outOfPlace() const { return static_cast<int>(m_always.size() + m_others.size()); }

protected:
    void paintContent(QPainter& painter) override;

private:
    struct Band {
        std::vector<int> steps;  ///< side by side in both rows
    };
    [[nodiscard]] std::vector<Band> bands() const;
    [[nodiscard]] double axisLeft() const { return s(104); }
    [[nodiscard]] double axisRight() const;
    [[nodiscard]] double doneX(int step) const;
    [[nodiscard]] double homeX(int step) const;
    [[nodiscard]] QString countWords() const;
    [[nodiscard]] QString stepWords() const;

    const ScoringModel* m_model = nullptr;
    std::unique_ptr<core::Scorer> m_scorer;
    std::vector<int> m_sequence;  ///< engaged steps in the order they were done
    std::vector<int> m_always;    ///< out of place whichever way one looks at it
    std::vector<int> m_others;    ///< one choice among several
    double m_span = 1;            ///< seconds of the whole upper row
};

}  // namespace markerlamp::app
