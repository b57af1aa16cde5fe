// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/header_part.h"

#include "app/scoring/key_map.h"
#include "app/scoring/scoring_model.h"
#include "core/agreement/attempt_code.h"

#include <algorithm>

namespace markerlamp::app {

QString longClock(double seconds) {
    // An attempt from a document can last longer than an int has seconds.
    const auto whole = std::max(0LL, static_cast<long long>(seconds));
    const auto two = [](long long n) { return QStringLiteral("%1").arg(n, 2, 10, QLatin1Char('0')); };
    return two(whole / 3600) + QLatin1Char(':') + two(whole / 60 % 60) + QLatin1Char(':') + two(whole % 60);
}

HeaderPart::HeaderPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Attempt"), parent), m_keys(kit.keys) {}

void HeaderPart::setNames(const QString& trainee, const QString& bus) {
    m_trainee = trainee;
    m_bus = bus;
    setAccessibleDescription(tr("%1, %2", "trainee, bus").arg(trainee, bus));
}

QString HeaderPart::stateWords() const {
    if (m_model == nullptr) return {};
    if (!m_model->troubleText().isEmpty()) return tr("not saved, %n waiting", nullptr, m_model->waiting());
    if (!m_settling.isEmpty()) return m_settling;
    return m_model->paused() ? tr("paused") : tr("running");
}

QString HeaderPart::codeWords() const {
    if (m_model == nullptr) return {};
    const core::AttemptHeader& header = m_model->header();
    return header.of.empty() ? tr("code %1").arg(QString::fromStdString(core::attemptCode(header.id)))
                             : tr("second scoring");
}

std::vector<PartButton> HeaderPart::buttons() const {
    std::vector<PartButton> all;
    if (m_model == nullptr || !m_settling.isEmpty()) return all;
    all = {{Pause, m_model->paused() ? tr("Go on") : tr("Pause"), m_keys.caption(KeyAction::Pause), {}},
           {Cover, tr("Cover sheet"), m_keys.caption(KeyAction::Cover), {}},
           {Finish, tr("Finish"), m_keys.caption(KeyAction::Finish), {}}};
    const bool narrow = width() < s(1000);
    double right = width() - s(6);
    for (auto button = all.rbegin(); button != all.rend(); ++button) {
        if (narrow) button->key.clear();
        // The pause button keeps its width whichever word it shows.
        const double words = button->id == Pause ? std::max(wideButtonWidth(look(), tr("Go on"), button->key),
                                                            wideButtonWidth(look(), tr("Pause"), button->key))
                                                 : wideButtonWidth(look(), button->verb, button->key);
        button->rect = QRectF(right - qRound(words), qRound(s(4)), qRound(words), qRound(s(36)));
        right = button->rect.left() - s(8);
    }
    return all;
}

std::vector<Surface::Target> HeaderPart::targets() const {
    return targetsOf(buttons());
}

void HeaderPart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().fill(p, rect(), roles.panel);
    look().fill(p, QRectF(0, height() - look().stroke(1), width(), look().stroke(1)), roles.hair);
    if (m_model == nullptr) return;
    const double yc = s(22);
    const std::vector<PartButton> all = buttons();
    for (const auto& button : all) paintWideButton(p, look(), button.rect, button.verb, button.key);
    const double buttonsLeft = all.empty() ? width() - s(6) : all.front().rect.left();
    const bool narrow = width() < s(1000);
    const QString clock = longClock(m_model->runningSeconds());
    const double clockWidth = Look::width(clock, look().font(30, true));
    const double stateRoom = s(150);
    const double clockX = narrow ? std::max(s(180), buttonsLeft - clockWidth - stateRoom - s(28)) : s(400);

    double x = s(12);
    const bool hasClock = clockX + clockWidth + s(12) <= buttonsLeft;
    const double namesRight = (hasClock ? clockX : buttonsLeft) - s(12);
    const QString edition = tr("edition %1").arg(m_model->header().edition);
    const double busWidth = s(24) + Look::width(m_bus, look().font(18));
    const double editionWidth = s(24) + Look::width(edition, look().font(18));
    const double nameWidth = Look::width(m_trainee, look().font(25, true));
    const bool hasBus = nameWidth + busWidth <= namesRight - x || !narrow;
    const bool hasEdition = hasBus && nameWidth + busWidth + editionWidth <= namesRight - x;
    double nameRoom = namesRight - x - (hasBus ? std::min(busWidth, s(150)) : 0);
    nameRoom = std::min(nameRoom, nameWidth + 1);
    look().text(p, x, yc, m_trainee, look().font(25, true), roles.ink, nameRoom);
    x += nameRoom + s(24);
    if (hasBus) look().text(p, x, yc, m_bus, look().font(18), roles.ink, std::max(1.0, namesRight - x));
    x += busWidth;
    if (hasEdition) look().text(p, x, yc, edition, look().font(18), roles.muted);

    if (!hasClock) return;
    look().text(p, clockX, yc, clock, look().font(30, true), roles.ink);
    const double stateX = clockX + clockWidth + s(18);
    const double room = buttonsLeft - s(12) - stateX;
    if (room < s(40)) return;
    if (m_model->troubleText().isEmpty()) {
        look().text(p, stateX, yc, stateWords(), look().font(18), roles.muted, room);
        // For another instructor who scores the same performance on another machine.
        const double codeX = stateX + Look::width(stateWords(), look().font(18)) + s(18);
        if (codeX + Look::width(codeWords(), look().font(18)) <= buttonsLeft - s(12))
            look().text(p, codeX, yc, codeWords(), look().font(18), roles.muted);
        return;
    }
    const double width = std::min(room, Look::width(stateWords(), look().font(18, true)) + s(20));
    look().box(p, QRectF(stateX, s(6), width, s(32)), roles.ground, roles.ink, 2);
    look().text(p, stateX + s(10), yc, stateWords(), look().font(18, true), roles.ink, width - s(20));
}

}  // namespace markerlamp::app
