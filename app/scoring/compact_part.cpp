// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/compact_part.h"

#include "app/scoring/header_part.h"
#include "app/scoring/key_map.h"
#include "app/scoring/scoring_model.h"
#include "app/support/display.h"

#include <algorithm>

namespace markerlamp::app {

CompactPart::CompactPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Scoring"), parent), m_keys(kit.keys) {}

void CompactPart::setNames(const QString& trainee, const QString& bus) {
    m_trainee = trainee;
    m_bus = bus;
}

void CompactPart::setWords(const QString& last, const QString& saved) {
    m_last = last;
    m_saved = saved;
}

QRectF CompactPart::nextCard() const {
    return look().rect(12, 46, w() - 24, h() - 384 + 140);
}

QRectF CompactPart::lastCard() const {
    return look().rect(8, h() - 188, w() - 16, 76);
}

std::vector<PartButton> CompactPart::buttons() const {
    const QString zones = QStringLiteral("%1-%2").arg(m_keys.zoneCaption(0), m_keys.zoneCaption(11));
    std::vector<PartButton> all{
        {Said, tr("Said"), m_keys.caption(KeyAction::Said), {}},
        {Prompt, tr("Prompt"), m_keys.caption(KeyAction::ArmPrompt), {}},
        {Note, tr("Note"), m_keys.caption(KeyAction::Note), {}},
        {Slide, tr("Slide"), m_keys.caption(KeyAction::SlideDown), {}},
        {Zones, tr("Zones"), zones, {}},
        {Brakes, m_brakesOpen ? tr("Card") : tr("Brakes"), m_keys.caption(KeyAction::Brake), {}}};
    const double pitch = (w() - 16 + 8) / 6;
    double x = 8;
    for (PartButton& button : all) {
        button.rect = look().rect(x, h() - 104, pitch - 8, 60);
        x += pitch;
    }
    return all;
}

QRectF CompactPart::beadRect(int point, int count) const {
    const double pitch = count <= 3 ? 60 : std::min(60.0, (w() - 16 - 344) / count);
    const double side = std::min(48.0, pitch - 4);
    const QRectF card = lastCard();
    return QRectF(std::round(s(348 + point * pitch)), std::round(card.center().y() - s(side) / 2),
                  std::round(s(side)), std::round(s(side)));
}

std::vector<Surface::Target> CompactPart::targets() const {
    std::vector<Target> all;
    if (m_model == nullptr) return all;
    if (m_model->marker() >= 0 && !m_brakesOpen) {
        Target next;
        next.id = NextStep;
        next.rect = nextCard();
        next.name = tr("Next: %1").arg(m_model->describe(m_model->marker()));
        next.description = qs(m_model->step(m_model->marker()).caution);
        next.parts = {tr("Shown"), tr("Said")};
        all.push_back(std::move(next));
    }
    const int index = m_model->justScored();
    const int count = index < 0 || m_brakesOpen ? 0 : static_cast<int>(m_model->step(index).say.size());
    for (int i = 0; i < count; ++i)
        all.push_back(
            pointTarget(*m_model, index, i, beadRect(i, count).adjusted(-s(2), -s(10), s(2), s(10))));
    for (const PartButton& button : buttons()) {
        all.push_back(targetOf(button));
        all.back().checked = button.id == Prompt && m_model->promptArmed();
    }
    return all;
}

int CompactPart::partAt(int id, const QPointF& position) const {
    if (id != NextStep) return 0;
    const QRectF card = nextCard();
    if (position.x() < card.left() + s(66)) return 1;
    if (position.x() >= card.right() - s(88)) return 2;
    return 0;
}

void CompactPart::paintTop(QPainter& p) const {
    const forms::Roles& roles = look().roles();
    look().fill(p, QRectF(0, 0, width(), s(kTop)), roles.panel);
    look().fill(p, QRectF(0, s(kTop), width(), look().stroke(1)), roles.hair);
    const double yc = s(18);
    double right = width() - s(8);
    if (const int dark = m_model->darkBehind(); dark > 0)
        right = look().darkCount(p, right, yc, tr("%n dark", nullptr, dark), look().font(18)) - s(16);
    const QString count = tr("%1 of %2").arg(m_model->scored()).arg(m_model->stepCount());
    right -= Look::width(count, look().font(18));
    look().text(p, right, yc, count, look().font(18), roles.ink);
    const QString clock = longClock(m_model->runningSeconds());
    const double clockWidth = Look::width(clock, look().font(25, true));
    double x = right - s(20) - clockWidth;
    const bool trouble = !m_model->troubleText().isEmpty();
    if (!trouble && !m_model->paused()) {
        look().text(p, x, yc, clock, look().font(25, true), roles.ink);
    } else {
        const QString words = trouble ? tr("not saved: %1").arg(m_model->waiting()) : tr("paused");
        look().right(p, x + clockWidth, yc, words, look().font(18, true), roles.ink);
        x = std::min(x, x + clockWidth - Look::width(words, look().font(18, true)));
    }
    const double room = x - s(12) - s(12);
    const double name = std::min(room, Look::width(m_trainee, look().font(18, true)) + 1);
    look().text(p, s(12), yc, m_trainee, look().font(18, true), roles.ink, name);
    if (room - name > s(60))
        look().text(p, s(12) + name + s(12), yc, m_bus, look().font(18), roles.muted, room - name - s(16));
}

void CompactPart::paintNext(QPainter& p) const {
    const forms::Roles& roles = look().roles();
    const QRectF card = nextCard();
    const int index = m_model->marker();
    if (index < 0) {
        look().box(p, card, roles.panel, roles.hair, 1);
        drawFitted(p, look(),
                   fitText(look(), tr("Every step has an outcome. Finish settles and ends."),
                           card.width() - s(24), 2, {25, 20}),
                   card.left() + s(12), card.center().y(), s(30), roles.ink);
        return;
    }
    const core::Step& step = m_model->step(index);
    const forms::SignState sign = m_model->sign(index);
    if (step.mustPass) look().outlineOutside(p, card, 4, 2);
    look().box(p, card, roles.ground, roles.ink, 4);
    look().fill(p, QRectF(card.left(), card.top(), s(48), card.height()), roles.ink);
    look().centred(p, card.left() + s(24), card.top() + s(32), QString::number(index + 1),
                   look().mono(25, true), roles.ground);
    look().centred(p, card.left() + s(24), card.bottom() - s(22),
                   sign.letter.isEmpty() ? tr("next") : sign.letter,
                   look().font(sign.letter.isEmpty() ? 15 : 20, !sign.letter.isEmpty()), roles.ground);
    const double titleY = card.top() + s(32);
    const double capsule = look().capsule(p, card.right() - s(12), titleY, 28, sign);
    const double lampX = std::min(capsule - s(41), card.right() - s(123));
    look().lamp(p, lampX, titleY, 28, sign.shown, sign.pending);
    const double x = card.left() + s(60);
    Fitted title = fitText(look(), m_model->title(index), lampX - s(16) - x, 1, {37, 33, 30, 27, 25}, true);
    if (title.elided) title = fitText(look(), m_model->title(index), lampX - s(16) - x, 2, {22, 20}, true);
    drawFitted(p, look(), title, x, titleY, s(24), roles.ink);

    const auto& zone = m_model->zones()[static_cast<std::size_t>(m_model->zoneOf(index))];
    const QString place = tr("%1 %2 %3/%4", "key, zone, scored, steps")
                              .arg(m_keys.zoneCaption(zone.keyIndex), zone.title)
                              .arg(m_model->scoredIn(m_model->zoneOf(index)))
                              .arg(zone.count)
                              .trimmed();
    double bottom = card.bottom() - s(4);
    if (!step.caution.empty()) {
        const QString word = tr("Caution");
        const double wordWidth = Look::width(word, look().font(15, true)) + s(14);
        const double boxWidth = card.right() - s(2) - x;
        const double room = boxWidth - wordWidth - s(12);
        // A caution is read whole, and rather pushes a point off the card.
        Fitted words;
        for (int lines = 1; lines <= 3 && (lines == 1 || words.elided); ++lines)
            words = fitText(look(), qs(step.caution), room, lines, {15, 13});
        const double boxHeight = words.lines.size() > 1 ? s(6) + s(16) * words.lines.size() : s(26);
        const QRectF box(x - s(6), card.bottom() - boxHeight - s(5), boxWidth, boxHeight);
        look().box(p, box, roles.ground, roles.ink, 2);
        look().inverse(p, QRectF(box.left(), box.top(), wordWidth, box.height()), word,
                       look().font(15, true));
        drawFitted(p, look(), words, box.left() + wordWidth + s(7), box.center().y(), s(16), roles.ink);
        bottom = box.top() - s(2);
    }
    const double foot = bottom - s(13);
    const double placeWidth = Look::width(place, look().font(18));
    look().right(p, card.right() - s(12), foot, place, look().font(18), roles.muted);
    if (step.mustPass)
        look().right(p, card.right() - s(12), foot - s(26), tr("must pass"), look().font(15, true),
                     roles.ink);
    const double top = card.top() + s(58);
    const double space = bottom - top;
    const int count = static_cast<int>(step.say.size());
    double pitch = std::min(s(34), space / std::max(1, count));
    const double px = pitch >= s(32) ? 25 : pitch >= s(25) ? 20 : pitch >= s(20) ? 18 : 15;
    int shown = count;
    if (pitch < s(16)) {
        pitch = s(16);
        shown = static_cast<int>(space / pitch);
    }
    for (int i = 0; i < shown; ++i) {
        const double y = top + pitch * (i + 0.5);
        look().centred(p, x + s(6), y, QString::number(i + 1), look().font(px, true), roles.ink);
        const bool beside = y > foot - s(40);
        const double right = card.right() - s(12) - (beside ? placeWidth + s(12) : 0);
        const Fitted words = fitText(look(), qs(step.say[static_cast<std::size_t>(i)].text),
                                     right - x - s(24), 1, {px, 18, 15});
        drawFitted(p, look(), words, x + s(24), y, 0, roles.ink);
    }
}

void CompactPart::paintLast(QPainter& p) const {
    const forms::Roles& roles = look().roles();
    const QRectF card = lastCard();
    look().box(p, card, roles.panel, roles.hair, 1);
    look().fill(p, QRectF(card.left(), card.top(), s(6), card.height()), roles.ink);
    look().text(p, s(24), card.top() + s(19), tr("Just scored"), look().font(15), roles.muted);
    const int index = m_model->justScored();
    const double yc = card.bottom() - s(26);
    if (index < 0) {
        look().text(p, s(24), yc, tr("nothing yet"), look().font(20), roles.muted);
        return;
    }
    const forms::SignState sign = m_model->sign(index);
    const QString number = QString::number(index + 1);
    look().text(p, s(24), yc, number, look().mono(20), roles.muted);
    const double x = s(24) + Look::width(number, look().mono(20)) + s(8);
    Fitted name = fitText(look(), m_model->title(index), s(272) - x, 1, {25, 22, 20, 18}, true);
    if (name.elided) name = fitText(look(), m_model->title(index), s(272) - x, 2, {18}, true);
    drawFitted(p, look(), name, x, name.lines.size() > 1 ? yc - s(4) : yc, s(21), roles.ink);
    look().lamp(p, s(284), card.center().y(), 32, sign.shown, sign.pending);
    if (!sign.letter.isEmpty())
        look().text(p, s(322), card.center().y(), sign.letter, look().font(20, true), roles.ink);
    const int count = static_cast<int>(sign.beads.size());
    for (int i = 0; i < count; ++i) {
        const forms::BeadState bead = sign.beads[static_cast<std::size_t>(i)];
        look().bead(p, beadRect(i, count), bead, QString::number(i + 1),
                    look().mono(count > 5 ? 18 : 25, true), sign.pending && bead == forms::BeadState::Lit);
    }
}

void CompactPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().fill(p, rect(), roles.ground);
    if (m_model == nullptr) return;
    paintTop(p);
    if (!m_brakesOpen) {
        paintNext(p);
        paintLast(p);
    }
    for (const PartButton& button : buttons())
        paintTallButton(p, look(), button.rect, button.verb, button.key,
                        {button.id == Prompt && m_model->promptArmed(), false});
    look().fill(p, QRectF(0, height() - s(36), width(), look().stroke(1)), roles.hair);
    const double yc = height() - s(19);
    const double savedWidth = Look::width(m_saved, look().font(15));
    look().right(p, width() - s(12), yc, m_saved, look().font(15), roles.muted);
    look().text(p, s(12), yc, m_last, look().font(15), roles.ink,
                std::max(1.0, width() - s(36) - savedWidth));
}

}  // namespace markerlamp::app
