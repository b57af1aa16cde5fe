#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A bank card drawn on the screen: held against a real one it tells how many pixels a millimetre has.
// Size of a card: 85.60 x 53.98 mm, ISO/IEC 7810:2019, ID-1.

#include "app/support/theme.h"

#include <QWidget>

class QSlider;

namespace markerlamp::app {

inline constexpr double kCardWidthMm = 85.60;
inline constexpr double kCardHeightMm = 53.98;

class CardGauge final : public QWidget {
    Q_OBJECT

public:
    CardGauge(const Theme& theme, double pxPerMm, QWidget* parent = nullptr);
    [[nodiscard]] double pxPerMm() const { return m_pxPerMm; }
    void setPxPerMm(double pxPerMm);
    [[nodiscard]] QSize sizeHint() const override;

signals:
    void changed(double pxPerMm);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    double m_pxPerMm;
};

}  // namespace markerlamp::app
