#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Many sheets in one PDF, page after page: none is kept once it is drawn. The file appears whole or not at
// all.

#include "core/base/result.h"
#include "forms/sheets/sheets.h"

#include <filesystem>
#include <memory>

namespace markerlamp::forms {

class PdfBook {
public:
    /// Readable for its owner only: it holds the marks of many people.
    static core::Result<std::unique_ptr<PdfBook>> begin(const std::filesystem::path& path, Paper paper,
                                                        const QString& title);
    ~PdfBook();
    PdfBook(const PdfBook&) = delete;
    PdfBook& operator=(const PdfBook&) = delete;

    /// What comes next stands on a leaf of its own where both sides are printed: adds an empty page if need
    /// be.
    core::Result<void> beginLeaf();
    core::Result<void> add(const Sheet& sheet);
    core::Result<void> publish();
    [[nodiscard]] int pages() const;  ///< empty ones too

private:
    struct Impl;
    explicit PdfBook(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> m_impl;
};

}  // namespace markerlamp::forms
