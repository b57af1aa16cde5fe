// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/small_screens.h"

#include <QScreen>

namespace markerlamp::app {

QScrollArea* scrollingPage(QWidget* content) {
    auto* scroll = new QScrollArea;
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    // The controls in it take the keys; the area follows them.
    scroll->setFocusPolicy(Qt::NoFocus);
    scroll->setWidget(content);
    return scroll;
}

void resizeToScreen(QWidget& window, const QSize& wanted) {
    const QScreen* screen = window.screen();
    window.resize(screen == nullptr ? wanted : wanted.boundedTo(screen->availableSize()));
}

}  // namespace markerlamp::app
