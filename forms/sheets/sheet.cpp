// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/sheets.h"

#include <QFile>
#include <QPageLayout>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>
#include <QSaveFile>

namespace markerlamp::forms {

Sheet::Sheet(Paper paper, QString title, std::vector<PagePainter> pages)
    : m_paper(paper), m_title(std::move(title)), m_pages(std::move(pages)) {}

QSizeF Sheet::sizeMm() const {
    return m_paper == Paper::Letter ? QSizeF(215.9, 279.4) : QSizeF(210, 297);
}

void Sheet::paintPage(QPainter& painter, int index, const QRectF& target) const {
    const QSizeF size = sizeMm();
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.translate(target.topLeft());
    painter.scale(target.width() / size.width(), target.height() / size.height());
    m_pages.at(static_cast<std::size_t>(index))(painter);
    painter.restore();
}

void Sheet::print(QPagedPaintDevice& device) const {
    QPainter painter(&device);
    const double perMm = device.logicalDpiX() / 25.4;
    const QRectF page(QPointF(0, 0), sizeMm() * perMm);
    for (int i = 0; i < pages(); ++i) {
        if (i > 0) device.newPage();
        paintPage(painter, i, page);
    }
}

core::Result<void> writePdf(const Sheet& sheet, const QString& path) {
    QSaveFile file(path);
    if (!file.open(QIODevice::WriteOnly))
        return core::fail(core::ErrorKind::Machine,
                          QStringLiteral("cannot write %1: %2").arg(path, file.errorString()).toStdString());
    {
        QPdfWriter writer(&file);
        writer.setResolution(600);
        writer.setPageSize(QPageSize(sheet.paper() == Paper::Letter ? QPageSize::Letter : QPageSize::A4));
        writer.setPageMargins(QMarginsF(0, 0, 0, 0));
        writer.setTitle(sheet.title());
        writer.setCreator(QStringLiteral("Markerlamp"));
        sheet.print(writer);
    }
    if (!file.commit())
        return core::fail(core::ErrorKind::Machine,
                          QStringLiteral("cannot write %1: %2").arg(path, file.errorString()).toStdString());
    return {};
}

}  // namespace markerlamp::forms
