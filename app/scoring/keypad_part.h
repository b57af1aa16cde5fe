#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Number keys for touch, in the order of the keyboard's digits. Dashed while no field takes them. They never
// take the focus away from the field.

#include "app/scoring/part_kit.h"
#include "app/scoring/surface.h"

namespace markerlamp::app {

class KeypadPart final : public Surface {
    Q_OBJECT

public:
    /// 0 to 9 are the digits.
    enum Id { Less = 10, More = 11 };

    KeypadPart(const PartKit& kit, QWidget* parent);

    void setAwake(bool awake);
    [[nodiscard]] std::vector<Target> targets() const override;

protected:
    void paintContent(QPainter& painter) override;

private:
    bool m_awake = false;
};

}  // namespace markerlamp::app
