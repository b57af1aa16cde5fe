// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/clipboard.h"

#include <QAbstractItemModel>
#include <QClipboard>
#include <QGuiApplication>
#include <QMimeData>
#include <QPixmap>
#include <QWidget>

namespace markerlamp::app {

namespace {

/// What the cell says in words where it only paints a sign.
QString cellText(const QAbstractItemModel& model, int row, int column) {
    const QModelIndex index = model.index(row, column);
    QString text = index.data(Qt::DisplayRole).toString();
    if (text.isEmpty()) text = index.data(Qt::AccessibleTextRole).toString();
    return text.replace(QLatin1Char('\t'), QLatin1Char(' ')).replace(QLatin1Char('\n'), QLatin1Char(' '));
}

}  // namespace

QString tableAsTsv(const QAbstractItemModel& model) {
    QString out;
    for (int row = -1; row < model.rowCount(); ++row) {
        QStringList cells;
        for (int column = 0; column < model.columnCount(); ++column)
            cells << (row < 0 ? model.headerData(column, Qt::Horizontal)
                                    .toString()
                                    .replace(QLatin1Char('\n'), QLatin1Char(' '))
                              : cellText(model, row, column));
        out += cells.join(QLatin1Char('\t')) + QLatin1Char('\n');
    }
    return out;
}

QString tableAsHtml(const QAbstractItemModel& model) {
    QString out = QStringLiteral("<table>\n");
    for (int row = -1; row < model.rowCount(); ++row) {
        out += QLatin1String("<tr>");
        for (int column = 0; column < model.columnCount(); ++column) {
            const QString text =
                row < 0 ? model.headerData(column, Qt::Horizontal).toString() : cellText(model, row, column);
            out += (row < 0 ? QStringLiteral("<th>%1</th>") : QStringLiteral("<td>%1</td>"))
                       .arg(text.toHtmlEscaped());
        }
        out += QLatin1String("</tr>\n");
    }
    return out + QLatin1String("</table>\n");
}

int copyTable(const QAbstractItemModel& model) {
    auto* data = new QMimeData;
    data->setText(tableAsTsv(model));
    data->setHtml(tableAsHtml(model));
    QGuiApplication::clipboard()->setMimeData(data);
    return model.rowCount();
}

void copyImage(QWidget& widget) {
    QGuiApplication::clipboard()->setPixmap(widget.grab());
}

}  // namespace markerlamp::app
