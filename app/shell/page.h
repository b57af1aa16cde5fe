#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A page of the window: lays out, shows, forwards. Decisions sit in its presenter or model.

#include <QWidget>

namespace markerlamp::app {

class Page : public QWidget {
    Q_OBJECT

public:
    using QWidget::QWidget;

    /// Called each time the page comes to the front.
    virtual void aboutToShow() {}

signals:
    /// Left side of the status bar: the last action, in words.
    void said(QString message);
};

}  // namespace markerlamp::app
