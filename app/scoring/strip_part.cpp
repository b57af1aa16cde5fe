// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/strip_part.h"

#include "app/scoring/key_map.h"
#include "app/scoring/scoring_model.h"
#include "app/support/display.h"

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

StripPart::StripPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Just scored"), parent), m_keys(kit.keys) {}

void StripPart::setRoom(bool beadsOnly, bool said) {
    m_beadsOnly = beadsOnly;
    m_said = said;
}

int StripPart::pointCount() const {
    if (m_model == nullptr || m_model->justScored() < 0) return 0;
    return static_cast<int>(m_model->step(m_model->justScored()).say.size());
}

std::vector<PartButton> StripPart::buttons() const {
    std::vector<PartButton> all{{Prompt, tr("Prompt"), m_keys.caption(KeyAction::ArmPrompt), {}},
                                {Note, tr("Note"), m_keys.caption(KeyAction::Note), {}},
                                {Slide, tr("Slide"), m_keys.caption(KeyAction::SlideDown), {}}};
    if (m_said) all.insert(all.begin(), {Said, tr("Said"), m_keys.caption(KeyAction::Said), {}});
    const double designWidth = width() / look().factor();
    const double designHeight = height() / look().factor();
    double x = designWidth - 8 - 80.0 * static_cast<double>(all.size()) + 4;
    for (PartButton& button : all) {
        button.rect = look().rect(x, 8, 76, designHeight - 16);
        x += 80;
    }
    return all;
}

double StripPart::lampLeft() const {
    // On the drawn width the lamp stands on the right edge of the plan and the points on that of the board.
    return width() / look().factor() < 1000 ? 232 : 344;
}

QRectF StripPart::pointPad(int point) const {
    const int count = pointCount();
    const double designHeight = height() / look().factor();
    const double right = buttons().front().rect.left() / look().factor() - 12;
    const double left = lampLeft() + 48;
    const int places = count > 4 ? count : count > 3 ? 4 : 3;
    const double gap = 8;
    double each = std::floor((right - left - gap * (places - 1)) / places);
    if (m_beadsOnly || count > 4) each = std::min(each, 72.0);
    return look().rect(left + point * (each + gap), 8, each, designHeight - 16);
}

std::vector<Surface::Target> StripPart::targets() const {
    std::vector<Target> all;
    if (m_model == nullptr) return all;
    for (int i = 0; i < pointCount(); ++i)
        all.push_back(pointTarget(*m_model, m_model->justScored(), i, pointPad(i)));
    for (const PartButton& button : buttons()) {
        Target target = targetOf(button);
        if (button.id == Prompt) {
            target.role = QAccessible::CheckBox;
            target.checked = m_model->promptArmed();
            if (target.checked) target.description = tr("the next outcome counts as prompted");
        }
        all.push_back(std::move(target));
    }
    return all;
}

void StripPart::paintPoint(QPainter& p, int point) const {
    const forms::Roles& roles = look().roles();
    const int index = m_model->justScored();
    const auto at = static_cast<std::size_t>(point);
    const QRectF pad = pointPad(point);
    const core::PointMark mark = m_model->marks(index).points[at];
    const forms::BeadState state = mark == core::PointMark::Said    ? forms::BeadState::Lit
                                   : mark == core::PointMark::Wrong ? forms::BeadState::Wrong
                                                                    : forms::BeadState::Open;
    look().box(p, pad, roles.panel, roles.hair, 1);
    const bool words = !m_beadsOnly && pointCount() <= 4;
    const bool small = words && pad.width() < s(160);
    const double side = std::min<double>(qRound(s(small ? 40 : 48)), pad.width() - s(4));
    const double x = words ? pad.left() + s(small ? 4 : 8) : pad.center().x() - side / 2;
    look().bead(p, QRectF(std::round(x), std::round(pad.center().y() - side / 2), side, side), state,
                QString::number(point + 1), look().mono(side < s(36) ? 18 : 25, true),
                m_model->pending(index) && state == forms::BeadState::Lit);
    if (!words) return;
    const double textX = x + side + s(small ? 6 : 8);
    const double room = pad.right() - s(4) - textX;
    const QString text = qs(m_model->step(index).say[at].text);
    Fitted fitted = fitText(look(), text, room, 2, {20, 18});
    double pitch = 24;
    if (fitted.elided) {
        fitted = fitText(look(), text, room, 3, {18, 15});
        pitch = fitted.px >= 18 ? 20 : 19;
    }
    if (fitted.elided) {
        fitted = fitText(look(), text, room, 4, {15});
        pitch = 16;
    }
    drawFitted(p, look(), fitted, textX, pad.center().y(), s(pitch), roles.ink);
}

void StripPart::paintName(QPainter& p) const {
    const forms::Roles& roles = look().roles();
    const int index = m_model->justScored();
    if (index < 0) {
        look().text(p, s(16), s(17), tr("Just scored"), look().font(15), roles.muted);
        look().text(p, s(16), height() - s(30), tr("nothing yet"), look().font(25), roles.muted);
        return;
    }
    const core::StepMarks& marks = m_model->marks(index);
    QStringList caption{tr("Just scored")};
    if (marks.omitted)
        caption << tr("omitted");
    else if (marks.unseen)
        caption << tr("not observed");
    else if (marks.unreached)
        caption << tr("not reached");
    else if (marks.partly)
        caption << tr("partly explained");
    if (marks.wrong) caption << tr("said wrongly");
    if (marks.fault) caption << tr("real defect called out");
    if (marks.prompts > 0) caption << tr("%n prompt(s)", nullptr, marks.prompts);
    look().text(p, s(16), s(17), caption.join(tr(", ")), look().font(15), roles.muted, s(lampLeft() - 28));

    const QString number = QString::number(index + 1);
    const double yc = height() - s(30);
    look().text(p, s(16), yc, number, look().mono(25), roles.muted);
    const double x = s(16) + Look::width(number, look().mono(25)) + s(12);
    const double lampX = s(lampLeft());
    const double room = lampX - s(12) - x;
    const QString name = m_model->title(index);
    const bool low = height() < s(80);
    Fitted fitted = fitText(look(), name, room, 1, {37}, true);
    double pitch = 0;
    if (fitted.elided) {
        fitted =
            fitText(look(), name, room, 2, low ? QList<double>{20, 18} : QList<double>{25, 22, 20}, true);
        pitch = low ? 21 : 26;
    }
    drawFitted(p, look(), fitted, x, low && fitted.lines.size() > 1 ? yc + s(4) : yc, s(pitch), roles.ink);
    const forms::SignState sign = m_model->sign(index);
    look().lamp(p, lampX, height() / 2.0, 36, sign.shown, sign.pending);
}

void StripPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().box(p, rect(), roles.ground, roles.ink, 2);
    look().fill(p, QRectF(0, 0, qRound(s(6)), height()), roles.ink);
    if (m_model == nullptr) return;
    paintName(p);
    if (m_model->justScored() >= 0 && pointCount() == 0)
        look().text(p, s(lampLeft() + 48), height() / 2.0, tr("nothing to say"), look().font(18),
                    roles.muted);
    for (int i = 0; i < pointCount(); ++i) paintPoint(p, i);
    for (const PartButton& button : buttons())
        paintTallButton(p, look(), button.rect, button.verb, button.key,
                        {button.id == Prompt && m_model->promptArmed(), false});
}

}  // namespace markerlamp::app
