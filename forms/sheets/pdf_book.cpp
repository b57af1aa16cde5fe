// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/pdf_book.h"

#include "core/base/files.h"

#include <QFile>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>

#include <system_error>
#include <utility>

namespace markerlamp::forms {

using core::ErrorKind;
using core::fail;
using core::Result;

struct PdfBook::Impl {
    std::filesystem::path target, part;
    QFile file;
    std::unique_ptr<QPdfWriter> writer;
    QPainter painter;
    int pages = 0;

    ~Impl() {
        if (painter.isActive()) painter.end();
        writer.reset();
        file.close();
        std::error_code ignored;
        if (!part.empty()) std::filesystem::remove(part, ignored);
    }
    [[nodiscard]] tl::unexpected<core::Error> failed() const {
        return fail(ErrorKind::Machine,
                    target.string() + " cannot be written: " + file.errorString().toStdString());
    }
};

PdfBook::PdfBook(std::unique_ptr<Impl> impl) : m_impl(std::move(impl)) {}
PdfBook::~PdfBook() = default;

Result<std::unique_ptr<PdfBook>> PdfBook::begin(const std::filesystem::path& path, Paper paper,
                                                const QString& title) {
    auto target = core::replaceTarget(path);
    if (!target) return fail(target.error());
    auto impl = std::make_unique<Impl>();
    impl->target = std::move(*target);
    const auto part = core::besideName(impl->target, "part");
    if (auto made = core::createPrivateFile(part); !made) return fail(made.error());
    impl->part = part;
    impl->file.setFileName(QFile::decodeName(part.c_str()));
    if (!impl->file.open(QIODevice::WriteOnly)) return impl->failed();
    impl->writer = std::make_unique<QPdfWriter>(&impl->file);
    impl->writer->setResolution(600);
    impl->writer->setPageSize(QPageSize(paper == Paper::Letter ? QPageSize::Letter : QPageSize::A4));
    impl->writer->setPageMargins(QMarginsF(0, 0, 0, 0));
    impl->writer->setTitle(title);
    impl->writer->setCreator(QStringLiteral("Markerlamp"));
    if (!impl->painter.begin(impl->writer.get())) return impl->failed();
    return std::unique_ptr<PdfBook>(new PdfBook(std::move(impl)));
}

Result<void> PdfBook::beginLeaf() {
    if (m_impl->pages % 2 == 0) return {};
    if (!m_impl->writer->newPage()) return m_impl->failed();
    ++m_impl->pages;
    return {};
}

Result<void> PdfBook::add(const Sheet& sheet) {
    const QRectF page(QPointF(0, 0), sheet.sizeMm() * (m_impl->writer->logicalDpiX() / 25.4));
    for (int i = 0; i < sheet.pages(); ++i) {
        if (m_impl->pages++ > 0 && !m_impl->writer->newPage()) return m_impl->failed();
        sheet.paintPage(m_impl->painter, i, page);
    }
    if (m_impl->file.error() != QFileDevice::NoError) return m_impl->failed();
    return {};
}

Result<void> PdfBook::publish() {
    const bool ended = m_impl->painter.end();
    m_impl->writer.reset();
    const bool flushed = m_impl->file.flush();
    if (!ended || !flushed || m_impl->file.error() != QFileDevice::NoError) return m_impl->failed();
    m_impl->file.close();
    if (auto done = core::supersede(m_impl->part, m_impl->target); !done) return done;
    m_impl->part.clear();
    return {};
}

int PdfBook::pages() const {
    return m_impl->pages;
}

}  // namespace markerlamp::forms
