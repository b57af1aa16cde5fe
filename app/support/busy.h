#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include <QApplication>

#include <utility>

namespace markerlamp::app {

/// Work of a moment, for which the window waits: its cursor says so. Returns what the work does.
template <class Work>
auto whileBusy(Work&& work) {
    struct Cursor {
        Cursor() { QApplication::setOverrideCursor(Qt::WaitCursor); }
        ~Cursor() { QApplication::restoreOverrideCursor(); }
    };
    const Cursor cursor;
    return std::forward<Work>(work)();
}

}  // namespace markerlamp::app
