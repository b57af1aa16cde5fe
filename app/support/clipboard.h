#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Tables leave the program as TSV and HTML, pictures as images.

#include <QString>

class QAbstractItemModel;
class QWidget;

namespace markerlamp::app {

/// Header and rows, tabs between, one line a row; tabs and line ends inside a cell become spaces.
[[nodiscard]] QString tableAsTsv(const QAbstractItemModel& model);
[[nodiscard]] QString tableAsHtml(const QAbstractItemModel& model);
/// Both on the clipboard; returns the number of rows.
int copyTable(const QAbstractItemModel& model);
void copyImage(QWidget& widget);

}  // namespace markerlamp::app
