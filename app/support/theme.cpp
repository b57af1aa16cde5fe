// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/theme.h"

#include "forms/style/fonts.h"

#include <QApplication>

namespace markerlamp::app {

namespace {

constexpr double kDesignPxPerMm = 4.41;

forms::Roles systemRoles() {
    // Shape alone must do: every sign in the window's text colour.
    const QPalette p = QApplication::style() != nullptr ? QApplication::palette() : QPalette();
    forms::Roles r = forms::Roles::day();
    r.ground = p.color(QPalette::Base);
    r.panel = p.color(QPalette::Window);
    r.ink = r.muted = r.line = r.hair = r.shown = r.said = p.color(QPalette::WindowText);
    r.on = p.color(QPalette::Base);
    return r;
}

}  // namespace

Theme::Theme(QObject* parent) : QObject(parent), m_roles(forms::Roles::day()) {}

void Theme::setChoice(Choice choice) {
    if (choice == m_choice) return;
    m_choice = choice;
    switch (choice) {
        case Choice::Day:
            m_roles = forms::Roles::day();
            break;
        case Choice::Sun:
            m_roles = forms::Roles::sun();
            break;
        case Choice::PreDawn:
            m_roles = forms::Roles::preDawn();
            break;
        case Choice::System:
            // Takes back what another palette had set, so that the desktop's own colours show.
            QApplication::setPalette(QPalette());
            m_roles = systemRoles();
            break;
    }
    emit changing();
    emit changed();
}

void Theme::refreshSystem() {
    if (m_choice != Choice::System) return;
    const forms::Roles now = systemRoles();
    if (now.ground == m_roles.ground && now.ink == m_roles.ink && now.panel == m_roles.panel) return;
    m_roles = now;
    emit changed();
}

void Theme::cycle() {
    setChoice(static_cast<Choice>((static_cast<int>(m_choice) + 1) % 4));
}

QString Theme::choiceName() const {
    switch (m_choice) {
        case Choice::Day:
            return tr("Day");
        case Choice::Sun:
            return tr("Sun");
        case Choice::PreDawn:
            return tr("Pre-dawn");
        case Choice::System:
            return tr("System");
    }
    return {};
}

QPalette Theme::palette() const {
    if (m_choice == Choice::System) return QPalette();
    const forms::Roles& r = m_roles;
    QPalette p;
    p.setColor(QPalette::Window, r.ground);
    p.setColor(QPalette::Base, r.ground);
    p.setColor(QPalette::AlternateBase, r.panel);
    p.setColor(QPalette::Button, r.panel);
    p.setColor(QPalette::ToolTipBase, r.panel);
    for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText, QPalette::ToolTipText,
                            QPalette::BrightText}) {
        p.setColor(role, r.ink);
        p.setColor(QPalette::Disabled, role, r.line);
    }
    p.setColor(QPalette::PlaceholderText, r.muted);
    p.setColor(QPalette::Mid, r.line);
    p.setColor(QPalette::Midlight, r.hair);
    p.setColor(QPalette::Light, r.panel);
    p.setColor(QPalette::Dark, r.line);
    p.setColor(QPalette::Shadow, r.line);
    p.setColor(QPalette::Highlight, r.ink);
    p.setColor(QPalette::HighlightedText, r.ground);
    p.setColor(QPalette::Link, r.ink);
    return p;
}

QString Theme::styleSheet() const {
    const forms::Roles& r = m_roles;
    const auto px = [this](double v) { return QString::number(qRound(s(v))); };
    // The frame of a button is 6 px deep in every state, border and padding together: a border that grew with
    // the focus would cut into the words. A first button is filled or has a thick line already: its focus is
    // a ring round it, drawn in app/resources. The focus is 2 px more than the line without it.
    constexpr int kFrame = 6;
    const int side = qRound(s(12)) + kFrame;
    const auto rest = [](int whole, int border) { return QString::number(whole - border); };
    const int line = qRound(r.minStroke), focusLine = line + 2, primaryLine = r.filledPrimary ? 1 : 3;
    // Fields take their colours of text from the palette: a colour in the sheet would make Qt 6.4 draw what a
    // field asks for at half strength, too faint to read.
    QString sheet = QStringLiteral(
        "QPushButton{border:%W%px solid %line%;border-radius:4px;min-height:%hb%px;padding:%bv%px %bh%px;"
        "background:%ground%;color:%ink%}"
        "QPushButton:hover{background:%panel%}"
        "QPushButton:focus{border:%fw%px solid %ink%;padding:%fv%px %fh%px}"
        "QPushButton:disabled{border:%W%px dashed %line%;padding:%bv%px %bh%px;color:%line%}"
        "QPushButton[primary=\"true\"]{background:%primaryGround%;color:%primaryInk%;border:%pw%px solid "
        "%ink%;padding:%pv%px %ph%px}"
        "QPushButton[primary=\"true\"]:focus{border-width:6px;border-radius:0;padding:0 %p12%px;"
        "border-image:url(:/icons/focus-%ring%.svg) 6 6 6 6 stretch stretch}"
        "QPushButton[primary=\"true\"]:disabled{background:%ground%;color:%line%;border:%W%px dashed %line%;"
        "padding:%bv%px %bh%px}"
        "QLineEdit,QComboBox,QDateEdit,QSpinBox,QDoubleSpinBox{border:%W%px solid %line%;border-radius:4px;"
        "min-height:%h38%px;padding:0 %p8%px;background:%ground%}"
        "QLineEdit:focus,QComboBox:focus,QDateEdit:focus,QSpinBox:focus,QDoubleSpinBox:focus,"
        "QPlainTextEdit:focus,QTextBrowser:focus,QListView:focus,QTableView:focus,QTreeView:focus{border:%fw%"
        "px "
        "solid %ink%}"
        "QLineEdit:focus,QComboBox:focus,QDateEdit:focus,QSpinBox:focus,QDoubleSpinBox:focus{padding:0 "
        "%f8%px}"
        "QListView,QTableView,QTreeView,QPlainTextEdit,QTextBrowser{border:%W%px solid "
        "%line%;background:%ground%;selection-background-color:%panel%;selection-color:%ink%}"
        "QListView,QTableView,QTreeView,QTextBrowser{color:%ink%}"
        "QListView::item:selected,QTreeView::item:selected{background:%panel%;color:%ink%;border-left:6px "
        "solid %ink%}"
        "QTreeView[lined=\"true\"]::item{min-height:%p24%px}"
        "QTreeView[lined=\"true\"]::item:selected{border-left:0;border-top:1px solid %ink%;border-bottom:1px "
        "solid %ink%}"
        "QHeaderView::section{background:%ground%;color:%muted%;border:0;border-bottom:1px solid "
        "%line%;padding:0 8px}"
        "QHeaderView::section:first{padding-left:12px}"
        "QCheckBox,QRadioButton{border:2px solid transparent;padding:2px;color:%ink%}"
        "QCheckBox:focus,QRadioButton:focus{border:2px solid %ink%}"
        "QCheckBox::indicator,QRadioButton::indicator,QAbstractItemView::indicator{width:%h20%px;height:%h20%"
        "px;border:2px solid %muted%;"
        "background:%ground%}"
        "QCheckBox::indicator,QAbstractItemView::indicator{border-radius:3px}QRadioButton::indicator{border-"
        "radius:%h12%px}"
        "QCheckBox::indicator:checked,QAbstractItemView::indicator:checked{image:url(:/icons/"
        "check-%shade%.svg);border-color:%ink%}"
        "QAbstractItemView::indicator{width:%h14%px;height:%h14%px}"
        "QAbstractItemView::indicator:indeterminate{background:%muted%}"
        "QRadioButton::indicator:checked{image:url(:/icons/dot-%shade%.svg);border-color:%ink%}"
        "QSlider::groove:horizontal{height:4px;background:%line%}"
        "QSlider::handle:horizontal{width:%h20%px;margin:-10px 0;border:2px solid %ink%;border-radius:4px;"
        "background:%ground%}"
        "QSlider::handle:horizontal:focus{background:%ink%}QSlider:focus{border:2px solid %ink%}"
        "QTabWidget::pane{border:1px solid %line%;top:-1px}"
        "QTabBar::tab{background:%panel%;color:%ink%;border:1px solid %line%;padding:%p6%px %p12%px}"
        "QTabBar::tab:selected{background:%ground%;border-bottom:4px solid %ink%}"
        "QTabBar:focus{border:2px solid %ink%}"
        "QProgressBar{border:1px solid %line%;background:%ground%;color:%ink%;text-align:center}"
        "QProgressBar::chunk{background:%muted%}"
        "QMenuBar{background:%panel%;color:%ink%;border-bottom:1px solid "
        "%hair%}QMenuBar::item{padding:%p2%px "
        "%p12%px}QMenuBar::item:selected{background:%ink%;color:%ground%}"
        "QMenu{background:%ground%;color:%ink%;border:1px solid %line%}"
        "QMenu::item{padding:%p8%px %p24%px}QMenu::item:selected{background:%ink%;color:%ground%}"
        "QMenu::item:disabled{color:%line%}"
        "QStatusBar{background:%panel%;color:%ink%;border-top:1px solid %hair%}QStatusBar::item{border:0}"
        "QTableView[flat=\"true\"],QTreeView[flat=\"true\"],QListView[flat=\"true\"]{border:0}"
        "QTableView[flat=\"true\"]:focus,QTreeView[flat=\"true\"]:focus,QListView[flat=\"true\"]:focus{"
        "border:"
        "0}"
        "QComboBox::drop-down{border:0;width:%h30%px}"
        "QComboBox::down-arrow{image:url(:/icons/arrow-%shade%.svg);width:12px;height:8px}"
        "QSpinBox::up-button,QSpinBox::down-button{subcontrol-origin:border;width:%h24%px;border:0}"
        "QSpinBox::up-button{subcontrol-position:top right}"
        "QSpinBox::down-button{subcontrol-position:bottom right}"
        "QSpinBox::up-arrow{image:url(:/icons/arrow-up-%shade%.svg);width:10px;height:6px}"
        "QSpinBox::down-arrow{image:url(:/icons/arrow-%shade%.svg);width:10px;height:6px}"
        "QSpinBox[small=\"true\"],QDoubleSpinBox[small=\"true\"],QLineEdit[small=\"true\"],"
        "QComboBox[small=\"true\"]{min-height:%hs%px}"
        "QPushButton[field=\"true\"]{text-align:left;min-height:%hs%px;padding:0 %p8%px;border:%W%px solid "
        "%line%}"
        "QPushButton[field=\"true\"]:focus{padding:0 %f8%px;border:%fw%px solid %ink%}"
        "QComboBox QAbstractItemView{border:1px solid %line%}"
        "QPushButton[link=\"true\"]{border:2px solid transparent;min-height:%hl%px;padding:0;"
        "background:transparent;color:%ink%}"
        "QPushButton[link=\"true\"]:focus{border:2px solid %ink%;padding:0}"
        "QPushButton[link=\"true\"]:disabled{border:2px solid transparent;padding:0;color:%line%}"
        "QScrollArea{border:0;background:%ground%}"
        "QScrollArea[clear=\"true\"]{background:transparent}"
        "QToolTip{background:%panel%;color:%ink%;border:1px solid %line%}");
    // Texts have no frame; with the focus they have one, and nothing moves when it comes.
    static const QString texts = QStringLiteral(
        "QTextBrowser[flat=\"true\"],QScrollArea[flat=\"true\"]{border:3px solid transparent}"
        "QTextBrowser[flat=\"true\"]:focus,QScrollArea[flat=\"true\"]:focus{border:3px solid %1}");
    // Hardly a rule, but never empty: taking the sheet away makes Qt forget which widgets it had styled, and
    // the next sheet then walks over those that are gone since (seen with Qt 6.4.2).
    if (m_choice == Choice::System)
        return texts.arg(QLatin1String("palette(window-text)")) +
               QLatin1String("QListView:focus{border:3px solid palette(window-text)}");
    sheet += texts.arg(r.ink.name());
    sheet.replace(QLatin1String("%shade%"),
                  m_choice == Choice::PreDawn ? QLatin1String("light") : QLatin1String("dark"));
    sheet
        .replace(QLatin1String("%ring%"), m_choice == Choice::PreDawn ? QLatin1String("predawn")
                                          : m_choice == Choice::Sun   ? QLatin1String("sun")
                                                                      : QLatin1String("day"))
        .replace(QLatin1String("%ground%"), r.ground.name())
        .replace(QLatin1String("%panel%"), r.panel.name())
        .replace(QLatin1String("%ink%"), r.ink.name())
        .replace(QLatin1String("%muted%"), r.muted.name())
        .replace(QLatin1String("%line%"), r.line.name())
        .replace(QLatin1String("%hair%"), r.hair.name())
        .replace(QLatin1String("%p2%"), px(2))
        .replace(QLatin1String("%primaryGround%"), (r.filledPrimary ? r.ink : r.ground).name())
        .replace(QLatin1String("%primaryInk%"), (r.filledPrimary ? r.ground : r.ink).name())
        .replace(QLatin1String("%pw%"), QString::number(primaryLine))
        .replace(QLatin1String("%pv%"), rest(kFrame, primaryLine))
        .replace(QLatin1String("%ph%"), rest(side, primaryLine))
        .replace(QLatin1String("%bv%"), rest(kFrame, line))
        .replace(QLatin1String("%bh%"), rest(side, line))
        .replace(QLatin1String("%fh%"), rest(side, focusLine))
        .replace(QLatin1String("%fv%"), rest(kFrame, focusLine))
        .replace(QLatin1String("%f8%"), rest(qRound(s(8)), focusLine - line))
        .replace(QLatin1String("%fw%"), QString::number(focusLine))
        .replace(QLatin1String("%hb%"), rest(qRound(s(32)), 2 * kFrame))
        .replace(QLatin1String("%hl%"), rest(qRound(s(24)), 4))
        .replace(QLatin1String("%W%"), QString::number(line))
        .replace(QLatin1String("%h24%"), px(24))
        .replace(QLatin1String("%h20%"), px(20))
        .replace(QLatin1String("%h14%"), px(14))
        .replace(QLatin1String("%h12%"), px(12))
        .replace(QLatin1String("%p6%"), px(6))
        .replace(QLatin1String("%h30%"), px(28))
        .replace(QLatin1String("%h38%"), px(36))
        .replace(QLatin1String("%hs%"), px(26))
        .replace(QLatin1String("%p8%"), px(8))
        .replace(QLatin1String("%p12%"), px(12))
        .replace(QLatin1String("%p24%"), px(24));
    return sheet;
}

void Theme::setPxPerMm(double pxPerMm) {
    if (pxPerMm < 2 || pxPerMm > 20 || pxPerMm == m_pxPerMm) return;
    m_pxPerMm = pxPerMm;
    emit changing();
    emit changed();
}

void Theme::setRough(bool rough) {
    if (rough == m_rough) return;
    m_rough = rough;
    emit changed();
}

double Theme::scale() const {
    return m_pxPerMm / kDesignPxPerMm;
}

QFont Theme::font(double designPixels, bool bold) const {
    return forms::type(s(designPixels), bold);
}
QFont Theme::mono(double designPixels, bool bold) const {
    return forms::typeMono(s(designPixels), bold);
}

}  // namespace markerlamp::app
