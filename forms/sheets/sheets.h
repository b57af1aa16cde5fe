#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Printed documents. Each builder takes core values and returns a Sheet, which renders the same to preview,
// PDF and printer. Black and white, no grey; lengths in mm.

#include "core/base/result.h"
#include "core/history/history.h"
#include "core/people/people.h"
#include "core/rubric/rubric.h"

#include <QDateTime>
#include <QPagedPaintDevice>
#include <QString>

#include <functional>
#include <memory>
#include <optional>
#include <vector>

class QPainter;

namespace markerlamp::forms {

enum class Paper { Letter, A4 };

/// A laid-out document: pages that can be painted in mm. Copies share the pages.
class Sheet {
public:
    using PagePainter =
        std::function<void(QPainter& painter)>;  ///< the painter's unit is 1 mm, origin at the page's corner

    Sheet(Paper paper, QString title, std::vector<PagePainter> pages);
    [[nodiscard]] Paper paper() const { return m_paper; }
    [[nodiscard]] const QString& title() const { return m_title; }
    [[nodiscard]] int pages() const { return static_cast<int>(m_pages.size()); }
    [[nodiscard]] QSizeF sizeMm() const;
    /// Paints page `index` so that `target` (in the painter's units) holds the whole page.
    void paintPage(QPainter& painter, int index, const QRectF& target) const;
    /// All pages on a printer or PDF writer whose page size has been set to paper().
    void print(QPagedPaintDevice& device) const;

private:
    Paper m_paper;
    QString m_title;
    std::vector<PagePainter> m_pages;
};

struct ProgressSheetInput {
    QString programTitle;
    core::Trainee trainee;
    QString instructorName;
    QString busTitle;
    std::vector<core::ScoredAttempt> history;  ///< oldest first; the last one is the attempt of the sheet
    QString amendedBy;                         ///< empty: not amended
    QString amendedAt;
    QString version;  ///< program version for the foot
    QDateTime printed;
    Paper paper = Paper::Letter;
};

/// One page for up to 12 misses; the rest goes on page 2.
[[nodiscard]] Sheet progressSheet(const ProgressSheetInput& input);
/// Blank score sheet for days without power.
[[nodiscard]] Sheet blankSheet(const core::Rubric& rubric, const std::vector<std::string>& equipment,
                               Paper paper, const QString& version, const QDateTime& printed);
/// What to show and say, for the trainee; zoneId empty: every zone. `missed`: steps to mark (may be empty).
[[nodiscard]] Sheet studySheet(const core::Rubric& rubric, const std::string& zoneId,
                               const std::vector<std::string>& missed, Paper paper, const QString& version,
                               const QDateTime& printed);

/// Written beside and renamed. Needs a QGuiApplication (offscreen will do).
core::Result<void> writePdf(const Sheet& sheet, const QString& path);

}  // namespace markerlamp::forms
