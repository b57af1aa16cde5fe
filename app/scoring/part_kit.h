#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What every painted part of the scoring page is handed, and the buttons that several of them paint.

#include "app/scoring/look.h"
#include "app/scoring/surface.h"
#include "core/rubric/rubric.h"

#include <QString>

namespace markerlamp::app {

class ContactGuard;
class KeyMap;
class ScoringModel;
class Theme;

struct PartKit {
    const Theme& theme;
    ContactGuard& guard;
    const KeyMap& keys;
};

/// A painted button: what it does, the key that does the same, where it stands.
struct PartButton {
    int id;
    QString verb;
    QString key;
    QRectF rect;
};

[[nodiscard]] Surface::Target targetOf(const PartButton& button);
[[nodiscard]] std::vector<Surface::Target> targetsOf(const std::vector<PartButton>& buttons);
/// A point of a step, as something to flip.
[[nodiscard]] Surface::Target pointTarget(const ScoringModel& model, int step, int point, const QRectF& rect);

struct ButtonLook {
    bool inverse = false;  ///< armed, chosen
    bool dashed = false;   ///< waiting, disabled
};

/// Verb and key beside each other, for the header.
void paintWideButton(QPainter& p, const Look& look, const QRectF& rect, const QString& verb,
                     const QString& key, const ButtonLook& how = {});
[[nodiscard]] double wideButtonWidth(const Look& look, const QString& verb, const QString& key);
/// Verb over key, for strip and compact card.
void paintTallButton(QPainter& p, const Look& look, const QRectF& rect, const QString& verb,
                     const QString& key, const ButtonLook& how = {});

/// "3 psi at most" in the words of the trade, and where the figure comes from.
[[nodiscard]] QString limitWords(const core::Limit& limit);

}  // namespace markerlamp::app
