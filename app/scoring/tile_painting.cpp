// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/tile_painting.h"

#include <QCoreApplication>

#include <algorithm>

namespace markerlamp::app {

namespace {

class TileWords {
    Q_DECLARE_TR_FUNCTIONS(TileWords)
};

}  // namespace

double capsuleLeft(const Look& look, const QRectF& rect, const forms::SignState& sign) {
    const QSizeF size = forms::capsuleSize(static_cast<int>(sign.beads.size()), 28, look.factor());
    return rect.right() - look.s(16) - size.width();
}

void paintTileFrame(QPainter& p, const Look& look, const QRectF& r, const TileContent& tile,
                    double lineHeight) {
    const forms::Roles& roles = look.roles();
    if (tile.sign.mustPass) look.outlineOutside(p, r, 4, 2);
    if (tile.marker) {
        look.box(p, r, tile.scored ? roles.panel : roles.ground, roles.ink, 4);
        look.fill(p, QRectF(r.left() + look.s(2), r.top() + look.s(2), look.s(46), r.height() - look.s(4)),
                  roles.ink);
    } else {
        look.box(p, r, tile.scored ? roles.panel : roles.ground, tile.scored ? roles.hair : roles.line, 1);
        if (tile.justScored)
            look.fill(p, QRectF(r.left(), r.top(), qRound(look.s(6)), r.height()), roles.ink);
    }
    if (tile.sign.prompts > 0) {
        const QRectF notch(r.left(), r.top() + lineHeight - look.s(26), look.s(32), look.s(26));
        const bool onInk = tile.marker;
        look.fill(p, notch, onInk ? roles.ground : roles.ink);
        look.centred(p, notch.center().x(), notch.center().y(),
                     QStringLiteral("P%1").arg(std::min(tile.sign.prompts, 9)), look.mono(18, true),
                     onInk ? roles.ink : roles.ground);
    }
    if (tile.sign.amended) {
        const double side = look.s(18);
        QPolygonF corner;
        for (const QPointF& point : {QPointF(r.right(), r.bottom() - side), QPointF(r.right(), r.bottom()),
                                     QPointF(r.right() - side, r.bottom())})
            corner << look.seen(point);
        p.save();
        p.setRenderHint(QPainter::Antialiasing);
        p.setPen(Qt::NoPen);
        p.setBrush(roles.ink);
        p.drawPolygon(corner);
        p.restore();
    }
}

void paintTileLine(QPainter& p, const Look& look, const QRectF& r, const TileContent& tile, double lineHeight,
                   double nameRight) {
    const forms::Roles& roles = look.roles();
    const double yc = r.top() + lineHeight / 2;
    const bool below = !tile.sign.letter.isEmpty() || tile.sign.prompts > 0;
    const double numberY = below ? r.top() + look.s(20) : yc;
    const QString number = QString::number(tile.number);
    const QColor numberInk = tile.marker ? roles.ground : roles.muted;
    if (tile.marker)
        look.centred(p, r.left() + look.s(26), numberY, number, look.mono(18, true), numberInk);
    else
        look.right(p, r.left() + look.s(46), numberY, number, look.mono(18), numberInk);
    if (!tile.sign.letter.isEmpty()) {
        const QColor ink = tile.marker ? roles.ground : roles.ink;
        if (tile.sign.prompts > 0)
            look.centred(p, r.left() + look.s(41), r.top() + lineHeight - look.s(13), tile.sign.letter,
                         look.font(20, true), ink);
        else
            look.right(p, r.left() + look.s(46), r.top() + lineHeight - look.s(20), tile.sign.letter,
                       look.font(20, true), ink);
    }
    look.lamp(p, r.left() + look.s(56), yc, 28, tile.sign.shown, tile.sign.pending);
    look.capsule(p, r.right() - look.s(16), yc, 28, tile.sign);
    const double x = r.left() + look.s(tile.dense ? 92 : 100);
    const double px = tile.dense ? 20 : 25;
    const Fitted name =
        fitText(look, tile.title, nameRight - x, 2, {px, std::max(20.0, px - 3), 20}, tile.marker);
    drawFitted(p, look, name, x, yc, look.s(name.px >= 25 ? 30 : 27), roles.ink);
}

void paintTile(QPainter& p, const Look& look, const QRectF& r, const TileContent& tile) {
    const forms::Roles& roles = look.roles();
    if (tile.number == 0) {
        look.dashedBox(p, r, roles.panel, roles.line, 1);
        const double x = r.left() + look.s(100);
        look.text(p, x, r.center().y() - look.s(13), tile.title, look.font(tile.dense ? 18 : 20), roles.muted,
                  r.right() - look.s(12) - x);
        look.text(p, x, r.center().y() + look.s(13), TileWords::tr("not on this bus"), look.font(18),
                  roles.muted, r.right() - look.s(12) - x);
        return;
    }
    paintTileFrame(p, look, r, tile, r.height());
    const bool omitted = tile.sign.capsule == forms::LampState::Omitted;
    paintTileLine(p, look, r, tile, r.height(), capsuleLeft(look, r, tile.sign) - look.s(omitted ? 20 : 12));
}

void paintVerdict(QPainter& p, const Look& look, double x, double yc, Verdict verdict, double maxWidth) {
    const forms::Roles& roles = look.roles();
    const QString word = verdictWord(verdict);
    const double pad = verdict == Verdict::Within ? 0 : look.s(8);
    double px = 20;
    while (px > 15 && Look::width(word, look.font(px, true)) + 2 * pad > maxWidth) px -= 1;
    const QFont font = look.font(px, true);
    const QRectF box(x, yc - look.s(14), Look::width(word, font) + 2 * pad, look.s(28));
    if (verdict == Verdict::TooClose) look.box(p, box, roles.ground, roles.ink, 2);
    if (verdict == Verdict::Over || verdict == Verdict::Under) look.box(p, box, roles.ink, roles.ink, 2);
    look.text(p, x + pad, yc, word, font,
              verdict == Verdict::Over || verdict == Verdict::Under ? roles.ground : roles.ink);
}

}  // namespace markerlamp::app
