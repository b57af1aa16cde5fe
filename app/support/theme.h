#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The look of every screen: colour roles of the chosen palette and the scale that turns the design's pixels
// (drawn at 4.41 px/mm) into logical pixels of this screen. One object, made in runWorkstation(), handed to
// every page.

#include "forms/signs/roles.h"

#include <QFont>
#include <QObject>
#include <QPalette>

namespace markerlamp::app {

class Theme final : public QObject {
    Q_OBJECT

public:
    enum class Choice { Day, Sun, PreDawn, System };
    Q_ENUM(Choice)

    explicit Theme(QObject* parent = nullptr);

    [[nodiscard]] Choice choice() const { return m_choice; }
    void setChoice(Choice choice);
    /// Day -> Sun -> Pre-dawn -> System -> Day.
    void cycle();
    [[nodiscard]] QString choiceName() const;  ///< translated: "Day", "Sun", "Pre-dawn", "System"

    [[nodiscard]] const forms::Roles& roles() const { return m_roles; }
    [[nodiscard]] QPalette palette() const;
    /// Style sheet for the standard controls (buttons, fields, lists), sizes by scale. Never empty.
    [[nodiscard]] QString styleSheet() const;

    /// Logical pixels per millimetre; 4.41 unless calibrated with a card.
    [[nodiscard]] double pxPerMm() const { return m_pxPerMm; }
    void setPxPerMm(double pxPerMm);
    /// Rough road: targets 18/24 mm instead of 15/20.
    [[nodiscard]] bool rough() const { return m_rough; }
    void setRough(bool rough);
    /// Factor on the design's pixels: s(92) is what was drawn 92 px wide.
    [[nodiscard]] double scale() const;
    [[nodiscard]] double s(double designPixels) const { return designPixels * scale(); }

    [[nodiscard]] QFont font(double designPixels, bool bold = false) const;
    [[nodiscard]] QFont mono(double designPixels, bool bold = false) const;

    /// The desktop's palette changed: follows it when the choice is System.
    void refreshSystem();

signals:
    /// Before changed(): the application takes its font, palette and style sheet.
    void changing();
    void changed();

private:
    Choice m_choice = Choice::Day;
    forms::Roles m_roles;
    double m_pxPerMm = 4.41;
    bool m_rough = false;
};

}  // namespace markerlamp::app
