// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/settings/settings_dialog.h"
#include "app/support/small_screens.h"

#include "app/settings/card_gauge.h"
#include "app/settings/key_editor.h"
#include "app/support/text_widgets.h"

#include <QButtonGroup>
#include <QCheckBox>
#include <QDialogButtonBox>
#include <QHBoxLayout>
#include <QLocale>
#include <QRadioButton>
#include <QSlider>
#include <QTabBar>
#include <QTabWidget>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

/// Slider steps a pixel per millimetre is cut into.
constexpr double kSteps = 100;

QVBoxLayout* column(QWidget* tab, const Theme& theme) {
    auto* layout = new QVBoxLayout(tab);
    layout->setSpacing(qRound(theme.s(8)));
    layout->setContentsMargins(qRound(theme.s(16)), qRound(theme.s(14)), qRound(theme.s(16)),
                               qRound(theme.s(10)));
    return layout;
}

Text* words(const Theme& theme, const QString& text) {
    auto* label = new Text(theme, 13, false, Ink::Muted, text);
    label->setWordWrap(true);
    return label;
}

}  // namespace

SettingsDialog::SettingsDialog(Theme& theme, Settings& settings, QWidget* parent)
    : QDialog(parent),
      m_theme(theme),
      m_settings(settings),
      m_paletteBefore(theme.choice()),
      m_tabs(new QTabWidget) {
    setWindowTitle(tr("Settings"));
    resizeToScreen(*this, {qRound(theme.s(640)), qRound(theme.s(560))});
    auto* layout = new QVBoxLayout(this);
    m_tabs->setAccessibleName(tr("Settings"));
    m_tabs->tabBar()->setAccessibleName(tr("Settings"));
    m_tabs->addTab(scrollingPage(makeLook()), tr("&Palette"));
    m_tabs->addTab(scrollingPage(makeSizes()), tr("&Sizes"));
    m_tabs->addTab(scrollingPage(makeScoring()), tr("S&coring"));
    m_keys = new KeyEditor(m_theme, m_settings);
    auto* keys = new QWidget;
    column(keys, m_theme)->addWidget(m_keys);
    m_tabs->addTab(keys, tr("K&eys"));
    m_tabs->addTab(scrollingPage(makePaper()), tr("P&aper"));
    layout->addWidget(m_tabs, 1);
    auto* buttons = new QDialogButtonBox;
    auto* keep = buttons->addButton(tr("&Keep the settings"), QDialogButtonBox::AcceptRole);
    keep->setProperty("primary", true);
    keep->setDefault(true);
    buttons->addButton(tr("Ca&ncel"), QDialogButtonBox::RejectRole);
    layout->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::accepted, this, &SettingsDialog::accept);
    connect(buttons, &QDialogButtonBox::rejected, this, &SettingsDialog::reject);
}

QWidget* SettingsDialog::makeLook() {
    auto* tab = new QWidget;
    auto* layout = column(tab, m_theme);
    auto* group = new QButtonGroup(tab);
    const std::vector<std::tuple<Theme::Choice, QString, QString>> choices{
        {Theme::Choice::Day, tr("&Day"), tr("indoors and in the shade")},
        {Theme::Choice::Sun, tr("S&un"), tr("black on white, heavier strokes, for bright light outdoors")},
        {Theme::Choice::PreDawn, tr("P&re-dawn"), tr("dark and warm, keeps the eyes used to the dark")},
        {Theme::Choice::System, tr("S&ystem"),
         tr("the desktop's own colors, for high-contrast themes; signs are told apart by shape")},
    };
    for (const auto& [choice, name, use] : choices) {
        auto* button = new QRadioButton(name);
        button->setChecked(m_theme.choice() == choice);
        button->setAccessibleDescription(use);
        group->addButton(button);
        connect(button, &QRadioButton::toggled, this, [this, chosen = choice](bool on) {
            if (on) m_theme.setChoice(chosen);
        });
        layout->addWidget(button);
        auto* hint = words(m_theme, use);
        hint->setContentsMargins(qRound(m_theme.s(34)), 0, 0, qRound(m_theme.s(4)));
        layout->addWidget(hint);
    }
    layout->addWidget(
        words(m_theme, tr("Ctrl+Shift+L goes through them; the palette never changes by itself.")));
    layout->addStretch(1);
    return tab;
}

QWidget* SettingsDialog::makeSizes() {
    auto* tab = new QWidget;
    auto* layout = column(tab, m_theme);
    auto* intro =
        new Text(m_theme, 15, false, Ink::Full,
                 tr("Hold a bank card against the screen and move the slider until the outline is as "
                    "large as the card."));
    intro->setWordWrap(true);
    layout->addWidget(intro);
    const double before = m_settings.pxPerMm() > 0 ? m_settings.pxPerMm() : m_theme.pxPerMm();
    m_card = new CardGauge(m_theme, before);
    layout->addWidget(m_card, 0, Qt::AlignHCenter);
    m_size = new QSlider(Qt::Horizontal);
    m_size->setRange(qRound(2.5 * kSteps), qRound(6.4 * kSteps));
    m_size->setValue(qRound(before * kSteps));
    m_size->setAccessibleName(tr("Size of the card on the screen"));
    layout->addWidget(m_size);
    auto* value = words(m_theme, {});
    layout->addWidget(value);
    const auto tell = [value](double pxPerMm) {
        value->setText(
            tr("%1 pixels a millimetre. Targets on the scoring page are at least 15 mm, pads 20 mm.")
                .arg(QLocale().toString(pxPerMm, 'f', 2)));
    };
    tell(before);
    connect(m_size, &QSlider::valueChanged, m_card, [this](int v) { m_card->setPxPerMm(v / kSteps); });
    connect(m_card, &CardGauge::changed, this, tell);
    m_rough = new QCheckBox(tr("&Rough road: larger targets (18 and 24 mm)"));
    m_rough->setChecked(m_settings.roughRoad());
    layout->addWidget(m_rough);
    layout->addStretch(1);
    return tab;
}

QWidget* SettingsDialog::makeScoring() {
    auto* tab = new QWidget;
    auto* layout = column(tab, m_theme);
    auto* sides = new QButtonGroup(tab);
    layout->addWidget(new Text(m_theme, 15, true, Ink::Full, tr("Pads for the hand")));
    m_right = new QRadioButton(tr("at the ri&ght"));
    m_left = new QRadioButton(tr("at the &left"));
    (m_settings.dockLeft() ? m_left : m_right)->setChecked(true);
    for (QRadioButton* side : {m_right, m_left}) {
        side->setAccessibleDescription(tr("Pads for the hand"));
        sides->addButton(side);
        layout->addWidget(side);
    }
    layout->addSpacing(qRound(m_theme.s(8)));
    layout->addWidget(new Text(m_theme, 15, true, Ink::Full, tr("Tiles and keys")));
    m_dense = new QCheckBox(tr("&Three columns of smaller tiles"));
    m_dense->setChecked(m_settings.denseTiles());
    m_single = new QCheckBox(tr("S&ingle letters act while scoring"));
    m_single->setChecked(m_settings.singleKeys());
    layout->addWidget(m_dense);
    layout->addWidget(m_single);
    layout->addWidget(
        words(m_theme, tr("Switched off, letters, digits and signs act only together with Ctrl+Alt; Space, "
                          "arrows and pads still work.")));
    layout->addStretch(1);
    return tab;
}

QWidget* SettingsDialog::makePaper() {
    auto* tab = new QWidget;
    auto* layout = column(tab, m_theme);
    auto* group = new QButtonGroup(tab);
    m_letter = new QRadioButton(tr("US &Letter (8.5 x 11 in)"));
    m_a4 = new QRadioButton(tr("A&4 (210 x 297 mm)"));
    (m_settings.paper() == forms::Paper::A4 ? m_a4 : m_letter)->setChecked(true);
    for (QRadioButton* paper : {m_letter, m_a4}) {
        group->addButton(paper);
        layout->addWidget(paper);
    }
    layout->addWidget(words(m_theme, tr("Sheets are laid out for this paper; print them at 100 %.")));
    layout->addStretch(1);
    return tab;
}

void SettingsDialog::accept() {
    m_settings.setPalette(m_theme.choice());
    // Only a card that was held against the screen counts as measured.
    if (m_size->value() !=
        qRound((m_settings.pxPerMm() > 0 ? m_settings.pxPerMm() : m_theme.pxPerMm()) * kSteps))
        m_settings.setPxPerMm(m_card->pxPerMm());
    m_settings.setRoughRoad(m_rough->isChecked());
    m_settings.setDockLeft(m_left->isChecked());
    m_settings.setDenseTiles(m_dense->isChecked());
    m_settings.setSingleKeys(m_single->isChecked());
    m_keys->keep();
    m_settings.setPaper(m_a4->isChecked() ? forms::Paper::A4 : forms::Paper::Letter);
    m_settings.applyTo(m_theme);
    QDialog::accept();
}

void SettingsDialog::reject() {
    m_theme.setChoice(m_paletteBefore);
    QDialog::reject();
}

}  // namespace markerlamp::app
