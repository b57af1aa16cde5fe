#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// B612 (made for reading at a glance in a cockpit), bundled. Sizes are always pixels or points set by the
// caller.

#include <QFont>

namespace markerlamp::forms {

/// Registers the bundled faces with the running QGuiApplication; safe to call again. False when a face did
/// not load.
bool loadFonts();

/// B612 in logical pixels; no hinting, so that grabs and pages are the same on every machine.
[[nodiscard]] QFont type(double pixelSize, bool bold = false);
/// B612 Mono: step numbers, bare counts, key names. Not for times and decimals (its colon and point leave
/// holes).
[[nodiscard]] QFont typeMono(double pixelSize, bool bold = false);

}  // namespace markerlamp::forms
