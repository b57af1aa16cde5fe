// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/part_kit.h"

#include "app/scoring/scoring_model.h"
#include "app/support/display.h"

#include <QCoreApplication>
#include <QFontMetricsF>

namespace markerlamp::app {

namespace {

class PointWords {
    Q_DECLARE_TR_FUNCTIONS(PointWords)
};

void paintFrame(QPainter& p, const Look& look, const QRectF& rect, const ButtonLook& how) {
    const forms::Roles& roles = look.roles();
    if (how.inverse)
        look.box(p, rect, roles.ink, roles.ink, 1);
    else if (how.dashed)
        look.dashedBox(p, rect, roles.ground, roles.line, 1);
    else
        look.box(p, rect, roles.ground, roles.line, 1);
}

QColor verbInk(const Look& look, const ButtonLook& how) {
    return how.inverse ? look.roles().ground : how.dashed ? look.roles().line : look.roles().ink;
}

QColor keyInk(const Look& look, const ButtonLook& how) {
    return how.inverse ? look.roles().ground : how.dashed ? look.roles().line : look.roles().muted;
}

}  // namespace

Surface::Target targetOf(const PartButton& button) {
    Surface::Target target;
    target.id = button.id;
    target.rect = button.rect;
    target.name = button.verb;
    target.key = button.key;
    return target;
}

std::vector<Surface::Target> targetsOf(const std::vector<PartButton>& buttons) {
    std::vector<Surface::Target> all;
    for (const PartButton& button : buttons) all.push_back(targetOf(button));
    return all;
}

Surface::Target pointTarget(const ScoringModel& model, int step, int point, const QRectF& rect) {
    const auto at = static_cast<std::size_t>(point);
    const core::PointMark mark = model.marks(step).points[at];
    Surface::Target target;
    target.id = point;
    target.rect = rect;
    target.name = QStringLiteral("%1 %2").arg(point + 1).arg(qs(model.step(step).say[at].text));
    target.description = mark == core::PointMark::Said    ? PointWords::tr("said")
                         : mark == core::PointMark::Wrong ? PointWords::tr("said wrongly")
                                                          : PointWords::tr("open");
    target.role = QAccessible::CheckBox;
    target.checked = mark == core::PointMark::Said;
    target.key = QString::number(point + 1);
    return target;
}

double wideButtonWidth(const Look& look, const QString& verb, const QString& key) {
    const double keyWidth = key.isEmpty() ? 0 : look.s(10) + Look::width(key, look.mono(15));
    return Look::width(verb, look.font(18)) + keyWidth + look.s(24);
}

void paintWideButton(QPainter& p, const Look& look, const QRectF& rect, const QString& verb,
                     const QString& key, const ButtonLook& how) {
    paintFrame(p, look, rect, how);
    const double yc = rect.center().y();
    if (!key.isEmpty() && wideButtonWidth(look, verb, key) - look.s(12) > rect.width()) {
        paintWideButton(p, look, rect, verb, {}, how);
        return;
    }
    const double width = wideButtonWidth(look, verb, key) - look.s(24);
    const double x = std::max(rect.left() + look.s(4), rect.center().x() - width / 2);
    look.text(p, x, yc, verb, look.font(18), verbInk(look, how), rect.right() - look.s(4) - x);
    if (!key.isEmpty())
        look.text(p, x + Look::width(verb, look.font(18)) + look.s(10), yc, key, look.mono(15),
                  keyInk(look, how));
}

void paintTallButton(QPainter& p, const Look& look, const QRectF& rect, const QString& verb,
                     const QString& key, const ButtonLook& how) {
    paintFrame(p, look, rect, how);
    const double room = rect.width() - look.s(8);
    const Fitted word = fitText(look, verb, room, 1, {20, 18, 15});
    const double xc = rect.center().x();
    if (key.isEmpty()) {
        drawFitted(p, look, word, xc, rect.center().y(), 0, verbInk(look, how), true);
        return;
    }
    drawFitted(p, look, word, xc, rect.top() + rect.height() * 0.34, 0, verbInk(look, how), true);
    Fitted shown;
    for (const double px : {18.0, 15.0, 13.0}) {
        shown.font = look.mono(px);
        shown.lines = {QFontMetricsF(shown.font).elidedText(key, Qt::ElideRight, rect.width() - look.s(4))};
        if (shown.lines.front() == key) break;
    }
    drawFitted(p, look, shown, xc, rect.top() + rect.height() * 0.72, 0, keyInk(look, how), true);
}

QString limitWords(const core::Limit& limit) {
    return boundsText(limit.low, limit.high, qs(limit.unit), limit.exclusive);
}

}  // namespace markerlamp::app
