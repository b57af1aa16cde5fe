// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/sheets.h"

#include "core/base/files.h"

#include <QBuffer>
#include <QFile>
#include <QPageLayout>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>

#include <algorithm>

namespace markerlamp::forms {

QSizeF paperSizeMm(Paper paper) {
    return paper == Paper::Letter ? QSizeF(215.9, 279.4) : QSizeF(210, 297);
}

Sheet::Sheet(Paper paper, QString title, std::vector<PageDrawing> pages)
    : m_paper(paper),
      m_title(std::move(title)),
      m_pages(std::make_shared<const std::vector<PageDrawing>>(std::move(pages))) {}

const std::vector<PageDrawing::PlacedText>& Sheet::texts(int index) const {
    return m_pages->at(static_cast<std::size_t>(index)).texts();
}

const std::vector<PageDrawing::PlacedLine>& Sheet::lines(int index) const {
    return m_pages->at(static_cast<std::size_t>(index)).lines();
}

void Sheet::paintPage(QPainter& painter, int index, const QRectF& target) const {
    const QSizeF size = sizeMm();
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setRenderHint(QPainter::TextAntialiasing);
    painter.translate(target.topLeft());
    painter.scale(target.width() / size.width(), target.height() / size.height());
    m_pages->at(static_cast<std::size_t>(index)).paint(painter);
    painter.restore();
}

bool Sheet::print(QPagedPaintDevice& device, int first, int last) const {
    if (last < 0 || last >= pages()) last = pages() - 1;
    const double perMm = device.logicalDpiX() / 25.4;
    const QSizeF onDevice = device.pageLayout().fullRect(QPageLayout::Millimeter).size();
    const QSizeF size = sizeMm();
    // Paper sizes are rounded to points: half a millimetre is no reason to shrink.
    double factor = std::min(onDevice.width() / size.width(), onDevice.height() / size.height());
    if (factor > 0.995) factor = 1;
    const QRectF page(QPointF(0, 0), size * factor * perMm);
    QPainter painter;
    if (!painter.begin(&device)) return false;
    for (int i = first; i <= last; ++i) {
        if (i > first && !device.newPage()) return false;
        paintPage(painter, i, page);
    }
    return painter.end();
}

core::Result<void> writePdf(const Sheet& sheet, const std::filesystem::path& path) {
    QByteArray pdf;
    bool printed = false;
    {
        QBuffer buffer(&pdf);
        buffer.open(QIODevice::WriteOnly);
        QPdfWriter writer(&buffer);
        writer.setResolution(600);
        writer.setPageSize(QPageSize(sheet.paper() == Paper::Letter ? QPageSize::Letter : QPageSize::A4));
        writer.setPageMargins(QMarginsF(0, 0, 0, 0));
        writer.setTitle(sheet.title());
        writer.setCreator(QStringLiteral("Markerlamp"));
        printed = sheet.print(writer);
    }
    if (!printed)
        return core::fail(core::ErrorKind::Machine, path.string() + " cannot be written: no PDF came out");
    return core::replaceFile(path, {pdf.constData(), static_cast<std::size_t>(pdf.size())});
}

core::Result<void> writePdf(const Sheet& sheet, const QString& path) {
    return writePdf(sheet, std::filesystem::path(QFile::encodeName(path).toStdString()));
}

}  // namespace markerlamp::forms
