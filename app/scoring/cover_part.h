#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Lies over the marks while the trainee looks at the screen. Keys go on scoring beneath it.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

namespace markerlamp::app {

class ScoringModel;

class CoverPart final : public Surface {
    Q_OBJECT

public:
    enum Id { Uncover };

    CoverPart(const PartKit& kit, QWidget* parent);

    void setModel(const ScoringModel* model) { m_model = model; }
    [[nodiscard]] std::vector<Target> targets() const override;

protected:
    void paintContent(QPainter& painter) override;

private:
    const KeyMap& m_keys;
    const ScoringModel* m_model = nullptr;
};

}  // namespace markerlamp::app
