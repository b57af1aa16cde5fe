// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/listening_part.h"

#include "app/scoring/brake_minute.h"
#include "app/scoring/scoring_model.h"
#include "app/support/display.h"

#include <algorithm>

namespace markerlamp::app {

ListeningPart::ListeningPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Listen for"), parent) {}

void ListeningPart::setModel(const ScoringModel* model, const BrakeMinute* minute) {
    m_model = model;
    m_minute = minute;
}

bool ListeningPart::showsMinute() const {
    return m_model != nullptr && m_minute != nullptr && m_minute->running() && m_minuteElsewhere;
}

QRectF ListeningPart::minuteRect() const {
    const double side = s(44);
    return QRectF(0, height() - side, width(), side);
}

std::vector<Surface::Target> ListeningPart::targets() const {
    if (!showsMinute()) return {};
    Target target;
    target.id = Minute;
    target.rect = minuteRect();
    target.name =
        tr("Minute %1 of 1:00, back to %2").arg(m_minute->clockText(), m_model->title(m_minute->step()));
    return {target};
}

void ListeningPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().box(p, rect(), roles.panel, roles.hair, 1);
    if (m_model == nullptr) return;
    const int index = m_model->marker();
    look().text(p, s(12), s(18), tr("Listen for"), look().font(15), roles.muted);
    if (index < 0) {
        look().text(p, s(12), s(45), tr("Every step has an outcome."), look().font(20), roles.ink,
                    width() - s(24));
        setAccessibleDescription({});
    } else {
        const core::Step& step = m_model->step(index);
        if (step.mustPass)
            look().right(p, width() - s(12), s(18), tr("must pass"), look().font(15, true), roles.ink);
        look().inverse(p, look().rect(12, 30, 44, 28), QString::number(index + 1), look().font(20, true));
        const double titleX = s(64);
        const Fitted title =
            fitText(look(), m_model->title(index), width() - titleX - s(12), 1, {20, 18}, true);
        drawFitted(p, look(), title, titleX, s(45), 0, roles.ink);
        const double bottom = height() - (showsMinute() ? s(44) : s(6));
        const int count = static_cast<int>(step.say.size());
        // Three lines of 20 px are the rule; more points stand closer, and what has no room is counted.
        double px = 20;
        double pitch = s(26);
        if (s(66) + count * pitch > bottom) {
            px = 18;
            pitch = std::max(s(20), (bottom - s(66)) / std::max(1, count));
        }
        const int room = std::max(1, static_cast<int>((bottom - s(64)) / pitch + 0.01));
        const int shown = count <= room ? count : room - 1;
        double y = s(66) + pitch / 2;
        QStringList all;
        for (int i = 0; i < count; ++i) {
            const QString words = qs(step.say[static_cast<std::size_t>(i)].text);
            all << tr("%1 %2", "number and words of a point").arg(i + 1).arg(words);
            if (i >= shown) continue;
            look().centred(p, s(34), y, QString::number(i + 1), look().font(px, true), roles.ink);
            const Fitted line = fitText(look(), words, width() - titleX - s(8), 1, {px, 18, 15});
            drawFitted(p, look(), line, titleX, y, 0, roles.ink);
            y += pitch;
        }
        if (shown < count)
            look().text(p, titleX, y, tr("and %n more", nullptr, count - shown), look().font(18),
                        roles.muted);
        if (count == 0)
            look().text(p, titleX, y, tr("nothing to say, only to show"), look().font(20), roles.muted,
                        width() - titleX - s(8));
        setAccessibleDescription(m_model->title(index) + QStringLiteral(": ") +
                                 all.join(QStringLiteral("; ")));
    }
    if (!showsMinute()) return;
    const QRectF r = minuteRect();
    look().box(p, r, roles.ground, roles.ink, 2);
    look().text(p, s(12), r.center().y(), tr("minute"), look().font(18), roles.muted);
    look().text(p, s(84), r.center().y(), m_minute->clockText(), look().font(25, true), roles.ink);
    look().text(p, s(150), r.center().y(), tr("of 1:00"), look().font(18), roles.muted);
    look().right(p, width() - s(12), r.center().y(), tr("back"), look().font(18), roles.ink);
}

}  // namespace markerlamp::app
