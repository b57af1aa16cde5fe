#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// For screens that are smaller than the drawings: pages that scroll instead of lying over each other, dialogs
// whose buttons stay on the screen.

#include <QScrollArea>

namespace markerlamp::app {

/// The content scrolls both ways where the window is smaller than its least size; else it fills the window.
[[nodiscard]] QScrollArea* scrollingPage(QWidget* content);

/// Gives the window this size in pixels, or that of the screen where the screen is smaller.
void resizeToScreen(QWidget& window, const QSize& wanted);

}  // namespace markerlamp::app
