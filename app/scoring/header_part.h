#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The line at the top: who, which bus, the clock and its state, and the three buttons of the whole attempt.
// When the disk does not take the presses, it says so here.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

namespace markerlamp::app {

class ScoringModel;

class HeaderPart final : public Surface {
    Q_OBJECT

public:
    enum Id { Pause, Cover, Finish };

    HeaderPart(const PartKit& kit, QWidget* parent);

    void setModel(const ScoringModel* model) { m_model = model; }
    void setNames(const QString& trainee, const QString& bus);
    /// In the settle pass the clock stands and there are no buttons; words: "ended 06:51:26".
    void setSettling(const QString& words) { m_settling = words; }
    [[nodiscard]] QString stateWords() const;  ///< running, paused, not saved ...
    /// "code KTRWMB": by which another instructor names the attempt.
    [[nodiscard]] QString codeWords() const;
    [[nodiscard]] std::vector<Target> targets() const override;

protected:
    void paintContent(QPainter& painter) override;

private:
    [[nodiscard]] std::vector<PartButton> buttons() const;

    const KeyMap& m_keys;
    const ScoringModel* m_model = nullptr;
    QString m_trainee;
    QString m_bus;
    QString m_settling;
};

/// 00:14:32
[[nodiscard]] QString longClock(double seconds);

}  // namespace markerlamp::app
