// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/keypad_part.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace markerlamp::app {

namespace {

constexpr std::array<int, 12> kOrder{1, 2, 3, 4, 5, 6, 7, 8, 9, 0, KeypadPart::Less, KeypadPart::More};

QString face(int id) {
    if (id == KeypadPart::Less) return QStringLiteral("%1%2").arg(QChar(0x2212)).arg(1);
    if (id == KeypadPart::More) return QStringLiteral("+1");
    return QString::number(id);
}

}  // namespace

KeypadPart::KeypadPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Number keys"), parent) {
    // With a keyboard there are real digits; a stop of the Tab key here would only be in the way.
    setFocusPolicy(Qt::NoFocus);
    setKeepsSides(true);
}

void KeypadPart::setAwake(bool awake) {
    if (awake == m_awake) return;
    m_awake = awake;
    contentChanged();
}

std::vector<Surface::Target> KeypadPart::targets() const {
    std::vector<Target> all;
    const double w = width() / look().factor();
    const double h = height() / look().factor();
    constexpr double kGap = 8;
    // Two rows where one would make the keys too narrow for a finger.
    const std::size_t rows = w < 12 * 60 ? 2 : 1;
    const std::size_t columns = kOrder.size() / rows;
    const double each = std::floor((w + kGap) / static_cast<double>(columns) - kGap);
    const double high = std::floor((h + kGap) / static_cast<double>(rows) - kGap);
    for (std::size_t i = 0; i < kOrder.size(); ++i) {
        Target target;
        const std::size_t row = i / columns, column = i % columns;
        target.id = kOrder[i];
        target.rect = look().rect(static_cast<double>(column) * (each + kGap),
                                  static_cast<double>(row) * (high + kGap), each, high);
        target.name = kOrder[i] == Less   ? tr("One less")
                      : kOrder[i] == More ? tr("One more")
                                          : face(kOrder[i]);
        target.enabled = m_awake;
        all.push_back(std::move(target));
    }
    return all;
}

void KeypadPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().fill(p, rect(), roles.ground);
    for (const Target& key : targets()) {
        if (m_awake)
            look().box(p, key.rect, roles.panel, roles.line, 2);
        else
            look().dashedBox(p, key.rect, roles.panel, roles.line, 1);
        look().centred(p, key.rect.center().x(), key.rect.center().y(), face(key.id), look().font(30, true),
                       m_awake ? roles.ink : roles.line);
    }
}

}  // namespace markerlamp::app
