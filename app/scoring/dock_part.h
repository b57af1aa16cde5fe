#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The pads at the holding hand. Each shows at its top what the press will light. They keep their places from
// the scoring page to the settle pass.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

#include <optional>

namespace markerlamp::app {

class ScoringModel;

class DockPart final : public Surface {
    Q_OBJECT

public:
    enum Id { Both, Partly, Shown, Said, NotObserved, Undo, AcceptAll, Omitted, NotReached, Back };
    enum class Pads { Scoring, ScoringWithoutSaid, Settle, Compact };

    DockPart(const PartKit& kit, QWidget* parent);

    void setModel(const ScoringModel* model) { m_model = model; }
    void setPads(Pads pads);
    [[nodiscard]] Pads pads() const { return m_pads; }
    /// Undo in the settle pass takes back changes of the proposals first.
    void setCanUndo(bool can) { m_canUndo = can; }
    void setLineAtRight(bool right) { m_lineAtRight = right; }
    [[nodiscard]] std::vector<Target> targets() const override;

protected:
    void paintContent(QPainter& painter) override;

private:
    struct Pad {
        int id;
        QString words;
        QString key;
        QRectF rect;
        bool glyph = false;
        forms::SignState sign;
    };
    [[nodiscard]] std::vector<Pad> all() const;
    [[nodiscard]] Pad pad(int id) const;
    [[nodiscard]] bool enabled(int id) const;
    void paintPad(QPainter& painter, const Pad& pad, bool primary) const;

    const KeyMap& m_keys;
    const ScoringModel* m_model = nullptr;
    Pads m_pads = Pads::Scoring;
    bool m_canUndo = false;
    bool m_lineAtRight = false;
};

}  // namespace markerlamp::app
