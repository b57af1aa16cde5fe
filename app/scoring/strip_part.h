#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The step that was just scored: its lamp, one pad for each point, and what can still be done to it.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

namespace markerlamp::app {

class ScoringModel;

class StripPart final : public Surface {
    Q_OBJECT

public:
    /// Points are 0..8.
    enum Id { Prompt = 100, Note, Slide, Said };
    /// Part of the slide button: 0 down, 1 up.
    StripPart(const PartKit& kit, QWidget* parent);

    void setModel(const ScoringModel* model) { m_model = model; }
    /// beadsOnly: no words beside the points; said: the dock has no room for that pad.
    void setRoom(bool beadsOnly, bool said);
    [[nodiscard]] std::vector<Target> targets() const override;

protected:
    void paintContent(QPainter& painter) override;

private:
    [[nodiscard]] std::vector<PartButton> buttons() const;
    [[nodiscard]] int pointCount() const;
    /// Left edge of the lamp, design pixels; the points follow it.
    [[nodiscard]] double lampLeft() const;
    [[nodiscard]] QRectF pointPad(int point) const;
    void paintPoint(QPainter& painter, int point) const;
    void paintName(QPainter& painter) const;

    const KeyMap& m_keys;
    const ScoringModel* m_model = nullptr;
    bool m_beadsOnly = false;
    bool m_said = false;
};

}  // namespace markerlamp::app
