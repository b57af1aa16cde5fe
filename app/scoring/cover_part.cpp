// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/cover_part.h"

#include "app/scoring/header_part.h"
#include "app/scoring/key_map.h"
#include "app/scoring/scoring_model.h"

#include <algorithm>

namespace markerlamp::app {

CoverPart::CoverPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Cover sheet"), parent), m_keys(kit.keys) {}

std::vector<Surface::Target> CoverPart::targets() const {
    Target target;
    target.id = Uncover;
    const double w = std::min(s(320), width() - s(32));
    target.rect = QRectF(std::round(width() / 2.0 - w / 2), std::round(height() / 2.0 + s(40)), std::round(w),
                         qRound(s(88)));
    target.name = tr("Show the marks");
    target.key = m_keys.caption(KeyAction::Cover);
    return {target};
}

void CoverPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().fill(p, rect(), roles.ground);
    if (m_model == nullptr) return;
    const double xc = width() / 2.0;
    const double yc = height() / 2.0;
    look().centred(p, xc, yc - s(90), longClock(m_model->runningSeconds()), look().font(56, true), roles.ink);
    drawFitted(p, look(), fitText(look(), tr("The marks are covered."), width() - s(32), 2, {25, 20}), xc,
               yc - s(26), s(30), roles.ink, true);
    drawFitted(p, look(), fitText(look(), tr("Keys go on scoring."), width() - s(32), 1, {18, 15}), xc,
               yc + s(8), 0, roles.muted, true);
    const Target button = targets().front();
    paintTallButton(p, look(), button.rect, button.name, button.key);
}

}  // namespace markerlamp::app
