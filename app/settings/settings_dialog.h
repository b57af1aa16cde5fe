#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Settings of this workstation. Palette and sizes show at once; Cancel puts them back.

#include "app/settings/settings.h"
#include "app/support/theme.h"

#include <QDialog>

class QCheckBox;
class QComboBox;
class QRadioButton;
class QSlider;
class QTabWidget;

namespace markerlamp::app {

class CardGauge;

class KeyEditor;

class SettingsDialog final : public QDialog {
    Q_OBJECT

public:
    SettingsDialog(Theme& theme, Settings& settings, QWidget* parent);
    void accept() override;
    void reject() override;

private:
    QWidget* makeLook();
    QWidget* makeSizes();
    QWidget* makeScoring();
    QWidget* makePaper();

    Theme& m_theme;
    Settings& m_settings;
    Theme::Choice m_paletteBefore;
    QTabWidget* m_tabs;
    KeyEditor* m_keys = nullptr;
    CardGauge* m_card = nullptr;
    QSlider* m_size = nullptr;
    QCheckBox *m_rough = nullptr, *m_dense = nullptr, *m_single = nullptr;
    QRadioButton *m_left = nullptr, *m_right = nullptr, *m_letter = nullptr, *m_a4 = nullptr;
};

}  // namespace markerlamp::app
