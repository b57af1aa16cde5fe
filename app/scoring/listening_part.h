#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What to listen for: the points of the step at the marker, with their digits. While a brake minute runs and
// another zone is open, its clock stands here and leads back.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

namespace markerlamp::app {

class BrakeMinute;
class ScoringModel;

class ListeningPart final : public Surface {
    Q_OBJECT

public:
    enum Id { Minute };

    ListeningPart(const PartKit& kit, QWidget* parent);

    void setModel(const ScoringModel* model, const BrakeMinute* minute);
    /// The running minute is not to be seen on the board, so that its clock stands here.
    void setMinuteElsewhere(bool elsewhere) { m_minuteElsewhere = elsewhere; }
    [[nodiscard]] std::vector<Target> targets() const override;

protected:
    void paintContent(QPainter& painter) override;

private:
    [[nodiscard]] bool showsMinute() const;
    [[nodiscard]] QRectF minuteRect() const;

    const ScoringModel* m_model = nullptr;
    const BrakeMinute* m_minute = nullptr;
    bool m_minuteElsewhere = false;
};

}  // namespace markerlamp::app
