#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The painted parts of the Agreement page: counts with their coefficients, and the funnel of strictness.

#include "app/support/painted_chart.h"
#include "core/agreement/shared_attempts.h"
#include "core/agreement/strictness.h"

#include <functional>
#include <optional>
#include <string>

namespace markerlamp::app {

/// Counts of two by two first, then the share marked alike with its interval, then one coefficient; shown
/// over said.
class CoefficientView final : public PaintedChart {
    Q_OBJECT

public:
    CoefficientView(const Theme& theme, const QString& name, QWidget* parent = nullptr);
    /// first, second: whose yes and no the counts are.
    void setAgreement(const core::Agreement& shown, const core::Agreement& said, const QString& first,
                      const QString& second);

protected:
    void draw(QPainter& painter) override;

private:
    struct Line {
        QString name;
        std::optional<double> value;
        std::optional<core::Interval> interval;
        bool grey = false;
    };
    /// Where the columns stand: as wide as their words, so that no language runs one into the next.
    struct Columns {
        double yes = 0, no = 0;  ///< right edges of the counts
        double names = 0;        ///< left edge of the names of the figures
        double axisLeft = 0, axisRight = 0;
    };
    [[nodiscard]] Columns columns() const;
    [[nodiscard]] QRectF axis() const;
    void paintAxis(QPainter& painter) const;
    void paintMeasure(QPainter& painter, double top, const core::Agreement& agreement, const QString& title,
                      const QColor& color, bool square) const;
    void paintCounts(QPainter& painter, double top, const core::Agreement& agreement, const QString& title,
                     const QColor& color) const;
    void paintLine(QPainter& painter, double y, const Line& line, const QColor& color, bool square) const;

    core::Agreement m_shown, m_said;
    QString m_first, m_second;
};

/// Steps scored against steps in 100 credited above or below the average; limits of luck as a funnel.
class StrictnessView final : public PaintedChart {
    Q_OBJECT

public:
    using Letters = std::function<QString(const std::string&)>;

    explicit StrictnessView(const Theme& theme, QWidget* parent = nullptr);
    void setFunnel(const core::StrictnessFunnel& funnel, Letters letters, const QString& words);

protected:
    void draw(QPainter& painter) override;

private:
    [[nodiscard]] QRectF plot() const;
    [[nodiscard]] double highestSteps() const;
    [[nodiscard]] double highestCredit() const;
    [[nodiscard]] QPointF place(double steps, double credit) const;
    void paintAxes(QPainter& painter) const;
    void paintLimits(QPainter& painter) const;
    [[nodiscard]] QString wordsOf(const core::Strictness& one) const;
    [[nodiscard]] QRectF placeOfWords(const core::Strictness& one, double wide) const;
    void paintDots(QPainter& painter) const;

    core::StrictnessFunnel m_funnel;
    Letters m_letters;
};

}  // namespace markerlamp::app
