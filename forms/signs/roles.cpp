// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/signs/roles.h"

namespace markerlamp::forms {

static Roles make(const char* ground, const char* panel, const char* ink, const char* muted, const char* line,
                  const char* hair, const char* shown, const char* said, const char* on) {
    Roles r;
    r.ground = QColor(ground);
    r.panel = QColor(panel);
    r.ink = QColor(ink);
    r.muted = QColor(muted);
    r.line = QColor(line);
    r.hair = QColor(hair);
    r.shown = QColor(shown);
    r.said = QColor(said);
    r.on = QColor(on);
    return r;
}

Roles Roles::day() {
    return make("#FFFFFF", "#F2F4F6", "#101418", "#4A5560", "#6B7680", "#C9D1D8", "#0B4F8A", "#8A4B00",
                "#FFFFFF");
}

Roles Roles::sun() {
    Roles r = make("#FFFFFF", "#FFFFFF", "#000000", "#222222", "#000000", "#000000", "#00305C", "#5A2E00",
                   "#FFFFFF");
    r.minStroke = 2;
    return r;
}

Roles Roles::preDawn() {
    Roles r = make("#14110E", "#1E1A16", "#E6D6C0", "#B8A68F", "#8F7F6B", "#3C342C", "#6FB7F0", "#F0A848",
                   "#14110E");
    r.filledPrimary = false;
    return r;
}

Roles Roles::paper() {
    return make("#FFFFFF", "#FFFFFF", "#000000", "#000000", "#000000", "#000000", "#000000", "#000000",
                "#FFFFFF");
}

}  // namespace markerlamp::forms
