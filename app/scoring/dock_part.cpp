// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/dock_part.h"

#include "app/scoring/key_map.h"
#include "app/scoring/scoring_model.h"

#include <algorithm>

namespace markerlamp::app {

namespace {

forms::SignState glyph(forms::LampState shown, forms::LampState capsule, forms::BeadState bead) {
    forms::SignState sign;
    sign.shown = shown;
    sign.capsule = capsule;
    sign.beads = {bead, bead};
    return sign;
}

}  // namespace

DockPart::DockPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Outcomes"), parent), m_keys(kit.keys) {}

void DockPart::setPads(Pads pads) {
    m_pads = pads;
    contentChanged();
}

DockPart::Pad DockPart::pad(int id) const {
    using forms::BeadState;
    using forms::LampState;
    const bool compact = m_pads == Pads::Compact;
    const auto make = [&](const QString& words, const QString& key) {
        return Pad{id, words, key, {}, false, {}};
    };
    const auto lit = [&](const QString& words, KeyAction key, const forms::SignState& sign) {
        return Pad{id, words, m_keys.caption(key), {}, !compact, sign};
    };
    switch (id) {
        case Both:
            return lit(tr("Both"), KeyAction::Both, glyph(LampState::Lit, LampState::Open, BeadState::Lit));
        case Partly:
            return lit(tr("Partly"), KeyAction::Partly,
                       glyph(LampState::Lit, LampState::Half, BeadState::Open));
        case Shown:
            return lit(tr("Shown"), KeyAction::Shown,
                       glyph(LampState::Lit, LampState::Open, BeadState::Open));
        case Said:
            return lit(tr("Said"), KeyAction::Said, glyph(LampState::Open, LampState::Open, BeadState::Lit));
        case NotObserved:
            return lit(compact ? tr("Not obs.") : tr("Not observed"), KeyAction::NotObserved,
                       glyph(LampState::NotObserved, LampState::NotObserved, BeadState::Open));
        case Omitted:
            return lit(tr("Omitted"), KeyAction::Omitted,
                       glyph(LampState::Omitted, LampState::Omitted, BeadState::Open));
        case NotReached: {
            Pad made = make(tr("Not reached"), QStringLiteral("R"));
            made.glyph = !compact;
            made.sign = glyph(LampState::NotReached, LampState::NotReached, BeadState::Open);
            return made;
        }
        case AcceptAll:
            return make(tr("Accept all"), tr("Enter"));
        case Back:
            return make(tr("Back"), tr("Esc"));
        default:
            return make(tr("Undo"), m_keys.caption(KeyAction::Undo));
    }
}

std::vector<DockPart::Pad> DockPart::all() const {
    std::vector<int> ids;
    switch (m_pads) {
        case Pads::Scoring:
            ids = {Both, Partly, Shown, Said, NotObserved, Undo};
            break;
        case Pads::ScoringWithoutSaid:
            ids = {Both, Partly, Shown, NotObserved, Undo};
            break;
        case Pads::Settle:
            ids = {AcceptAll, Omitted, NotReached, Back, NotObserved, Undo};
            break;
        case Pads::Compact:
            ids = {Both, Partly, Shown, NotObserved, Undo};
            break;
    }
    const double h = height() / look().factor();
    const auto others = static_cast<double>(ids.size() - 1);
    double first = 144;
    double each = 96;
    double gap = 16;
    double top = 8;
    if (m_pads == Pads::Compact) {
        first = 80;
        each = 64;
        gap = 8;
    } else if (first + others * (each + gap) + top > h + 0.5) {
        // 20 mm and gaps of 3 mm are the least.
        gap = 13;
        first = 130;
        each = std::min(96.0, (h - 2 * top - first - others * gap) / others);
    }
    if (each < 64 || (m_pads == Pads::Settle && h < 500)) {
        // Not a page for thumbs any more, but everything is still there.
        gap = 8;
        first = std::min(80.0, (h - 2 * top) / (others + 2));
        each = (h - 2 * top - first - others * gap) / others;
    }
    std::vector<Pad> pads;
    double y = top;
    for (std::size_t i = 0; i < ids.size(); ++i) {
        Pad made = pad(ids[i]);
        const double height = i == 0 ? first : each;
        if (height < 84) made.glyph = false;
        made.rect = look().rect((width() / look().factor() - 120) / 2, y, 120, height);
        y += height + gap;
        pads.push_back(std::move(made));
    }
    return pads;
}

bool DockPart::enabled(int id) const {
    if (m_model == nullptr) return false;
    if (id == Undo) return m_model->canUndo() || m_canUndo;
    if (id == Both || id == Partly || id == Shown || id == Said) return m_model->marker() >= 0;
    if (id == NotObserved && m_pads != Pads::Settle) return m_model->marker() >= 0;
    return true;
}

std::vector<Surface::Target> DockPart::targets() const {
    std::vector<Target> targets;
    for (const Pad& pad : all()) {
        Target target;
        target.id = pad.id;
        target.rect = pad.rect;
        target.name = pad.words;
        target.key = pad.key;
        target.enabled = enabled(pad.id);
        targets.push_back(std::move(target));
    }
    return targets;
}

void DockPart::paintPad(QPainter& p, const Pad& pad, bool primary) const {
    const forms::Roles& roles = look().roles();
    const bool on = enabled(pad.id);
    const bool filled = primary && on && look().filledPrimary();
    if (filled)
        look().box(p, pad.rect, roles.ink, roles.ink, 2);
    else if (!on)
        look().dashedBox(p, pad.rect, roles.panel, roles.line, 1);
    else
        look().box(p, pad.rect, roles.panel, primary ? roles.ink : roles.line, primary ? 4 : 2);
    const QColor ink = !on ? roles.line : filled ? roles.ground : roles.ink;
    const QColor keyInk = !on ? roles.line : filled ? roles.ground : roles.muted;
    const QRectF& r = pad.rect;
    const double h = r.height() / look().factor();
    const double xc = r.center().x();
    const QFont keyFont = look().mono(18);
    const bool big = primary && h >= 100;
    Fitted words = fitText(look(), pad.words, r.width() - s(8), 1, {25, 22}, true);
    double pitch = 0;
    if (words.elided) {
        words = fitText(look(), pad.words, r.width() - s(6), h < 60 ? 1 : 2, {big ? 25.0 : 20.0, 20, 18, 15},
                        true);
        pitch = words.px >= 25 ? 31 : 20;
    }
    const bool twoLines = words.lines.size() > 1;
    const double keyY = r.bottom() - s(big ? 28 : h < 60 ? 12 : h < 92 || twoLines ? 14 : 18);
    look().centred(p, xc, keyY, pad.key, h < 60 ? look().mono(15) : keyFont, keyInk);
    const double wordsTop = pad.glyph ? r.top() + s(big ? 54 : twoLines ? 30 : 35) : r.top() + s(big ? 8 : 2);
    const double wordsBottom = keyY - s(h < 60 ? 7 : 10);
    drawFitted(p, look(), words, xc, (wordsTop + wordsBottom) / 2, s(pitch), ink, true);
    if (!pad.glyph) return;
    // On the filled pad the sign is drawn in the pad's own two colours.
    const double lamp = primary ? 28 : 20;
    const double yc = r.top() + s(primary ? 38 : twoLines ? 17 : 22);
    const QSizeF capsule = forms::capsuleSize(2, primary ? 28 : 20, look().factor());
    const double gap = s(pad.sign.shown == forms::LampState::Omitted ? 14 : 12);
    const double left = xc - (s(lamp) + gap + capsule.width()) / 2;
    if (filled || !on) {
        forms::Roles own = roles;
        own.ground = filled ? roles.ink : roles.panel;
        own.muted = own.shown = own.said = own.ink = filled ? roles.ground : roles.line;
        forms::paintLamp(p,
                         look().seen(QRectF(std::round(left), std::round(yc - s(lamp) / 2), qRound(s(lamp)),
                                            qRound(s(lamp)))),
                         pad.sign.shown, own, look().factor());
        forms::paintCapsule(
            p, look().seen(QRectF(QPointF(left + s(lamp) + gap, yc - capsule.height() / 2), capsule)),
            pad.sign, own, look().factor());
        return;
    }
    look().lamp(p, left, yc, lamp, pad.sign.shown);
    look().capsule(p, left + s(lamp) + gap + capsule.width(), yc, primary ? 28 : 20, pad.sign);
}

void DockPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().fill(p, rect(), roles.ground);
    const double line = look().stroke(1);
    look().fill(p, QRectF(m_lineAtRight ? width() - line : 0, 0, line, height()), roles.hair);
    bool primary = true;
    for (const Pad& pad : all()) {
        paintPad(p, pad, primary);
        primary = false;
    }
}

}  // namespace markerlamp::app
