// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/note_part.h"

#include <QLineEdit>

#include <algorithm>

namespace markerlamp::app {

NotePart::NotePart(const PartKit& kit, QWidget* parent) : WordsPart(kit, tr("Note"), tr("Words"), parent) {
    connect(this, &Surface::pressed, this, [this](int id) { act(id); });
}

void NotePart::open(const QString& step, bool defect) {
    m_step = step;
    m_defect = defect && !step.isEmpty();
    m_whole = step.isEmpty();
    openEmpty(m_defect ? tr("The defect, in words (may stay empty)") : tr("Words of the note"));
}

std::vector<PartButton> NotePart::buttons() const {
    std::vector<PartButton> all{
        {Keep, m_defect ? tr("Keep") : tr("Keep note"), m_defect ? QString() : tr("Enter"), {}}};
    if (!m_step.isEmpty()) {
        if (m_defect) all.front() = {Keep, tr("Note only"), {}, {}};
        all.push_back({Defect, tr("Real defect"), m_defect ? tr("Enter") : QString(), {}});
        all.push_back({Wrong, tr("Said wrong"), {}, {}});
        all.push_back({Whole, m_whole ? tr("On the step") : tr("On all"), {}, {}});
    }
    all.push_back({Close, tr("Close"), tr("Esc"), {}});
    const double w = width() / look().factor();
    const double h = height() / look().factor();
    if (stacked()) {
        const double pitch = (w - 16 + 4) / static_cast<double>(all.size());
        double x = 8;
        for (PartButton& button : all) {
            button.rect = look().rect(x, h - 68, pitch - 4, 60);
            x += pitch;
        }
        return all;
    }
    constexpr double kEach = 116;
    double x = w - 8 - (kEach + 4) * static_cast<double>(all.size()) + 4;
    for (PartButton& button : all) {
        button.rect = look().rect(x, 8, kEach, h - 16);
        x += kEach + 4;
    }
    return all;
}

std::vector<Surface::Target> NotePart::targets() const {
    return targetsOf(buttons());
}

void NotePart::act(int id) {
    const QString text = field()->text().trimmed();
    switch (id) {
        case Keep:
            if (!text.isEmpty()) emit noted(text, m_whole);
            emit left();
            break;
        case Defect:
            emit defectNoted(text);
            emit left();
            break;
        case Wrong:
            emit wrongNoted(text);
            emit left();
            break;
        case Whole:
            m_whole = !m_whole;
            field()->setFocus(Qt::OtherFocusReason);
            contentChanged();
            break;
        default:
            emit left();
            break;
    }
}

QRectF NotePart::fieldRect() const {
    const double right = stacked() ? width() - s(12) : buttons().front().rect.left() - s(12);
    const double top = stacked() ? s(26) : height() - s(54);
    return QRectF(s(16), top, right - s(16), s(44));
}

void NotePart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().box(p, rect(), roles.ground, roles.ink, 2);
    look().fill(p, QRectF(0, 0, qRound(s(6)), height()), roles.ink);
    const QString caption = m_defect  ? tr("Real defect at %1").arg(m_step)
                            : m_whole ? tr("Note on the whole attempt")
                                      : tr("Note on %1").arg(m_step);
    const auto all = buttons();
    look().text(p, s(16), s(15), caption, look().font(15), roles.muted,
                (stacked() ? width() : all.front().rect.left()) - s(28));
    for (const PartButton& button : all) paintTallButton(p, look(), button.rect, button.verb, button.key);
}

}  // namespace markerlamp::app
