#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Printed documents. Each builder takes core values and returns a Sheet, which renders the same to preview,
// PDF and printer. Black and white, no grey; lengths in mm.

#include "core/base/result.h"
#include "core/drill/drill_plan.h"
#include "core/history/history.h"
#include "core/people/people.h"
#include "core/readiness/readiness_word.h"
#include "core/rubric/rubric.h"
#include "forms/style/page_drawing.h"

#include <QDateTime>
#include <QPagedPaintDevice>
#include <QSizeF>
#include <QString>

#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

class QPainter;

namespace markerlamp::forms {

enum class Paper { Letter, A4 };

/// Letter: 215.9 x 279.4 mm; A4: 210 x 297 mm.
[[nodiscard]] QSizeF paperSizeMm(Paper paper);

/// A laid-out document: pages that can be painted in mm. Copies share the pages.
class Sheet {
public:
    Sheet(Paper paper, QString title, std::vector<PageDrawing> pages);
    [[nodiscard]] Paper paper() const { return m_paper; }
    [[nodiscard]] const QString& title() const { return m_title; }
    [[nodiscard]] int pages() const { return static_cast<int>(m_pages->size()); }
    [[nodiscard]] QSizeF sizeMm() const { return paperSizeMm(m_paper); }
    /// What page `index` says, line by line with its place in mm.
    [[nodiscard]] const std::vector<PageDrawing::PlacedText>& texts(int index) const;
    [[nodiscard]] const std::vector<PageDrawing::PlacedLine>& lines(int index) const;
    /// Paints page `index` so that `target` (in the painter's units) holds the whole page.
    void paintPage(QPainter& painter, int index, const QRectF& target) const;
    /// Pages `first`..`last` (0-based; last < 0: to the end) on a printer or PDF writer that prints on the
    /// full page. Drawn at 100 % and, where the device's paper is smaller than paper(), shrunk to fit. False
    /// when the device fails.
    bool print(QPagedPaintDevice& device, int first = 0, int last = -1) const;

private:
    Paper m_paper;
    QString m_title;
    std::shared_ptr<const std::vector<PageDrawing>> m_pages;
};

/// Where readiness stands on the day of printing.
struct SheetReadiness {
    core::Readiness readiness;
    core::ReadinessSettings settings;
    QString overrideBy;  ///< name of who set the word, where somebody did
};

/// What to practise in the minutes that were asked for.
struct SheetDrill {
    double minutes = 0;
    std::vector<core::DrillLine> lines;
};

struct ProgressSheetInput {
    QString programTitle;
    core::Trainee trainee;
    QString instructorName;
    QString busTitle;
    std::vector<core::ScoredAttempt> history;  ///< oldest first; the last one is the attempt of the sheet
    QString amendedBy;                         ///< empty: not amended
    QString amendedAt;
    std::optional<SheetReadiness> readiness;  ///< printed only where it is given
    std::optional<SheetDrill> drill;          ///< the same
    QString version;                          ///< program version for the foot
    QDateTime printed;
    Paper paper = Paper::Letter;
};

/// One page for up to 12 misses; the rest goes on page 2.
[[nodiscard]] Sheet progressSheet(const ProgressSheetInput& input);
/// Blank score sheet for days without power. equipment empty: every step, those that need some equipment
/// marked so; else only the steps of such a bus.
[[nodiscard]] Sheet blankSheet(const core::Rubric& rubric, const std::vector<std::string>& equipment,
                               Paper paper, const QString& version, const QDateTime& printed);
/// What to show and say, for the trainee; zoneId empty: every zone. `missed`: steps to mark (may be empty).
[[nodiscard]] Sheet studySheet(const core::Rubric& rubric, const std::string& zoneId,
                               const std::vector<std::string>& missed, Paper paper, const QString& version,
                               const QDateTime& printed);

/// Written beside and renamed; what is there must be a regular file. Needs a QGuiApplication (offscreen will
/// do).
core::Result<void> writePdf(const Sheet& sheet, const std::filesystem::path& path);
core::Result<void> writePdf(const Sheet& sheet, const QString& path);

}  // namespace markerlamp::forms
