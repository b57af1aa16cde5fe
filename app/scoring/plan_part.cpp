// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/plan_part.h"

#include "app/scoring/key_map.h"
#include "app/scoring/scoring_model.h"
#include "app/support/display.h"

#include <algorithm>

namespace markerlamp::app {

namespace {

constexpr double kCell = 92;
constexpr double kPitch = 96;

}  // namespace

PlanPart::PlanPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Plan of the bus"), parent), m_keys(kit.keys) {
    setKeepsSides(true);
}

void PlanPart::setModel(const ScoringModel* model) {
    m_model = model;
    m_absent.clear();
    m_absentTitles.clear();
    if (model == nullptr) return;
    const core::Rubric& rubric = model->recorder().rubric();
    const std::vector<forms::PlanCell> cells = forms::planCells(rubric);
    for (std::size_t i = 0; i < rubric.zones.size(); ++i) {
        if (std::ranges::find(model->zones(), rubric.zones[i].id, &ScoringModel::Zone::id) !=
            model->zones().end())
            continue;
        m_absent.push_back(cells[i]);
        m_absentTitles.push_back(qs(rubric.zones[i].title));
    }
}

int PlanPart::rows() const {
    return m_model == nullptr ? forms::kPlanRows
                              : forms::planRowCount(forms::planCells(m_model->recorder().rubric()));
}

QRectF PlanPart::cellRect(const forms::PlanCell& cell) const {
    // A plan that opens over the page may be larger or smaller than the one beside the board.
    const double room = std::min((width() / look().factor() + 4) / forms::kPlanColumns,
                                 (height() / look().factor() - kHead + 4) / rows());
    const double pitch = std::min(kPitch, room);
    return look().rect(cell.column * pitch, kHead + cell.row * pitch, pitch - (kPitch - kCell),
                       pitch - (kPitch - kCell));
}

QString PlanPart::zoneWords(int zone) const {
    const auto& z = m_model->zones()[static_cast<std::size_t>(zone)];
    QString words = tr("%1 of %2 scored").arg(m_model->scoredIn(zone)).arg(z.count);
    if (const int dark = m_model->darkBehindIn(zone); dark > 0)
        words += tr(", %n left behind", nullptr, dark);
    return words;
}

std::vector<Surface::Target> PlanPart::targets() const {
    std::vector<Target> all;
    if (m_model == nullptr) return all;
    for (int i = 0; i < static_cast<int>(m_model->zones().size()); ++i) {
        const auto& zone = m_model->zones()[static_cast<std::size_t>(i)];
        Target target;
        target.id = i;
        target.rect = cellRect(zone.cell);
        target.name = zone.title;
        target.description = zoneWords(i);
        target.key = m_keys.zoneCaption(zone.keyIndex);
        target.checked = i == m_model->currentZone();
        all.push_back(std::move(target));
    }
    return all;
}

void PlanPart::paintCell(QPainter& p, int zone) const {
    const forms::Roles& roles = look().roles();
    const auto& z = m_model->zones()[static_cast<std::size_t>(zone)];
    const QRectF r = cellRect(z.cell);
    const bool here = zone == m_model->currentZone();
    const int scored = m_model->scoredIn(zone);
    const bool complete = scored == z.count;
    look().box(p, r, complete ? roles.panel : roles.ground, here ? roles.ink : roles.line, here ? 4 : 1);
    const QString key = m_keys.zoneCaption(z.keyIndex);
    if (here && !key.isEmpty())
        look().inverse(p, QRectF(r.left(), r.top(), s(24), s(28)), key, look().font(20, true), 4);
    else
        look().text(p, r.left() + s(8), r.top() + s(16), key, look().font(20, true), roles.ink);
    look().right(p, r.right() - s(6), r.top() + s(16), QStringLiteral("%1/%2").arg(scored).arg(z.count),
                 look().mono(18), roles.ink);
    const double room = r.width() - s(8) - s(6);
    const Fitted name = fitText(look(), z.title, room, 2, {20, 18});
    for (int i = 0; i < name.lines.size(); ++i)
        look().text(p, r.left() + s(8), r.top() + s(41 + 22 * i), name.lines[i], name.font, roles.ink);
    if (r.height() < s(88)) return;  // a small pop-up has no room for the bar
    const QRectF bar(r.left() + qRound(s(8)), r.top() + qRound(s(78)), qRound(s(48)), qRound(s(8)));
    look().box(p, bar, roles.ground, roles.muted, 1, 0);
    look().fill(p, QRectF(bar.left(), bar.top(), bar.width() * scored / std::max(1, z.count), bar.height()),
                roles.ink);
    if (const int dark = m_model->darkBehindIn(zone); dark > 0)
        look().darkCount(p, r.right() - s(6), r.top() + s(82), QString::number(dark), look().font(18, true));
}

void PlanPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    if (m_model == nullptr) return;
    look().fill(p, rect(), roles.ground);
    const double yc = s(18);
    look().text(p, 0, yc, tr("%1 of %2").arg(m_model->scored()).arg(m_model->stepCount()),
                look().font(25, true), roles.ink);
    if (const int dark = m_model->darkBehind(); dark > 0)
        look().darkCount(p, std::min<double>(width(), s(380)), yc, tr("%n dark behind", nullptr, dark),
                         look().font(18));
    for (std::size_t i = 0; i < m_absent.size(); ++i) {
        const QRectF r = cellRect(m_absent[i]);
        look().dashedBox(p, r, roles.ground, roles.line, 1);
        const Fitted name = fitText(look(), m_absentTitles[i], r.width() - s(14), 2, {20, 18});
        for (int line = 0; line < name.lines.size(); ++line)
            look().text(p, r.left() + s(8), r.top() + s(41 + 22 * line), name.lines[line], name.font,
                        roles.line);
    }
    for (int i = 0; i < static_cast<int>(m_model->zones().size()); ++i) paintCell(p, i);
}

}  // namespace markerlamp::app
