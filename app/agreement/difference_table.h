#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The pair view: each difference a row, the first's lamps over the second's, and what it was settled as.

#include "app/agreement/agreement_model.h"
#include "app/support/rows_model.h"
#include "app/support/sign_widgets.h"

#include <array>

namespace markerlamp::app {

/// What the painted columns of one row need.
struct DifferenceCell {
    QString title, zone;
    QString firstMark, secondMark;
    forms::SignState first, second;
    core::Choice choice = core::Choice::Open;
};

enum DifferenceColumn { StepColumn, ScorerColumn, MarksColumn, AtColumn, SettledColumn };

[[nodiscard]] std::vector<Column> settlingColumns();
[[nodiscard]] std::vector<Row> differenceRows(const AgreementModel& model);
/// "K: shown, 2 of 3 points; M: omitted".
[[nodiscard]] QString differenceWords(const AgreementModel& model, const core::StepDifference& difference);
/// The order of the four choices everywhere.
inline constexpr std::array kChoices{core::Choice::First, core::Choice::Second, core::Choice::Other,
                                     core::Choice::Open};
[[nodiscard]] QString choiceWord(const AgreementModel& model, core::Choice choice);

/// Paints a row; a click on one of its four choices is told. The same choices stand as buttons below the
/// table, for the keyboard and for assistive technology.
class DifferenceDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;
    bool editorEvent(QEvent* event, QAbstractItemModel* model, const QStyleOptionViewItem& option,
                     const QModelIndex& index) override;
    [[nodiscard]] double settledWidth(const QString& firstMark, const QString& secondMark) const;

signals:
    void chosen(QString step, int choice);

protected:
    void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const override;

private:
    [[nodiscard]] std::array<QString, 4> words(const DifferenceCell& cell) const;
    [[nodiscard]] std::array<QRectF, 4> buttons(const DifferenceCell& cell, const QRectF& place) const;
    void paintButtons(QPainter& painter, const QRectF& place, const DifferenceCell& cell) const;
};

}  // namespace markerlamp::app

Q_DECLARE_METATYPE(markerlamp::app::DifferenceCell)
