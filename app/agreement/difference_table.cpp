// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/agreement/difference_table.h"

#include "app/debrief/debrief_presenter.h"
#include "app/support/display.h"

#include <QCoreApplication>
#include <QMouseEvent>
#include <QPainter>

namespace markerlamp::app {

namespace {

struct DifferenceText {
    Q_DECLARE_TR_FUNCTIONS(DifferenceText)
};

constexpr double kButtonHeight = 28, kButtonGap = 4, kButtonSides = 20;

}  // namespace

std::vector<Column> settlingColumns() {
    return {{DifferenceText::tr("step")},
            {DifferenceText::tr("scorer")},
            {DifferenceText::tr("shown, said")},
            {DifferenceText::tr("at"), true},
            {DifferenceText::tr("settled as")}};
}

QString choiceWord(const AgreementModel& model, core::Choice choice) {
    switch (choice) {
        case core::Choice::First:
            return model.pair() != nullptr ? model.firstMark() : DifferenceText::tr("first");
        case core::Choice::Second:
            return model.pair() != nullptr ? model.secondMark() : DifferenceText::tr("second");
        case core::Choice::Other:
            return DifferenceText::tr("other");
        case core::Choice::Open:
            break;
    }
    return DifferenceText::tr("open");
}

QString differenceWords(const AgreementModel& model, const core::StepDifference& difference) {
    return DifferenceText::tr("%1: %2; %3: %4", "scorer: marks; other scorer: marks")
        .arg(model.firstMark(), marksWords(difference.first.marks), model.secondMark(),
             marksWords(difference.second.marks));
}

std::vector<Row> differenceRows(const AgreementModel& model) {
    std::vector<Row> rows;
    const PairOnFile* pair = model.pair();
    if (pair == nullptr) return rows;
    for (const core::StepDifference& one : model.compared().differences) {
        const core::Step* step = pair->first.rubric->step(one.step);
        const bool mustPass = step != nullptr && step->mustPass;
        const DifferenceCell cell{qs(one.title),
                                  qs(one.zone),
                                  model.firstMark(),
                                  model.secondMark(),
                                  forms::signState(one.first.marks, mustPass),
                                  forms::signState(one.second.marks, mustPass),
                                  model.settling(one.step).choice};
        const QVariant payload = QVariant::fromValue(cell);
        rows.push_back(
            {qs(one.step),
             {{.text = cell.title,
               .payload = payload,
               .tip = DifferenceText::tr("%1, %2", "step, zone").arg(cell.title, cell.zone)},
              {.payload = payload,
               .tip = DifferenceText::tr("%1 over %2", "scorers").arg(cell.firstMark, cell.secondMark)},
              {.payload = payload, .tip = differenceWords(model, one)},
              {.text = clockText(one.seconds), .sort = one.seconds},
              {.payload = payload,
               .tip = DifferenceText::tr("settled as %1").arg(choiceWord(model, cell.choice))}}});
    }
    return rows;
}

std::array<QString, 4> DifferenceDelegate::words(const DifferenceCell& cell) const {
    return {cell.firstMark, cell.secondMark, DifferenceText::tr("other"), DifferenceText::tr("open")};
}

std::array<QRectF, 4> DifferenceDelegate::buttons(const DifferenceCell& cell, const QRectF& place) const {
    // The room of every word is that of its bold form: nothing moves when a choice is made.
    const QFontMetricsF metrics(theme().font(13, true));
    std::array<QRectF, 4> rects;
    double x = place.left();
    const auto all = words(cell);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const double width = metrics.horizontalAdvance(all[i]) + theme().s(kButtonSides);
        rects[i] =
            QRectF(x, place.center().y() - theme().s(kButtonHeight) / 2, width, theme().s(kButtonHeight));
        x += width + theme().s(kButtonGap);
    }
    return rects;
}

double DifferenceDelegate::settledWidth(const QString& firstMark, const QString& secondMark) const {
    const DifferenceCell cell{{}, {}, firstMark, secondMark, {}, {}, core::Choice::Open};
    return buttons(cell, QRectF()).back().right() + theme().s(20);
}

void DifferenceDelegate::paintButtons(QPainter& painter, const QRectF& place,
                                      const DifferenceCell& cell) const {
    const forms::Roles& roles = theme().roles();
    const auto rects = buttons(cell, place);
    const auto all = words(cell);
    painter.setRenderHint(QPainter::Antialiasing);
    for (std::size_t i = 0; i < rects.size(); ++i) {
        const bool on = kChoices[i] == cell.choice;
        painter.setPen(QPen(on ? roles.ink : roles.line, std::max(1.0, roles.minStroke)));
        painter.setBrush(on ? roles.ink : roles.ground);
        painter.drawRoundedRect(rects[i].adjusted(0.5, 0.5, -0.5, -0.5), theme().s(4), theme().s(4));
        const QFont font = theme().font(13, on);
        const double width = QFontMetricsF(font).horizontalAdvance(all[i]);
        forms::drawTextMiddle(painter, rects[i].center().x() - width / 2, rects[i].center().y(), all[i], font,
                              on ? roles.ground : roles.ink);
    }
}

void DifferenceDelegate::paintContent(QPainter& painter, const QRectF& place,
                                      const QModelIndex& index) const {
    const QVariant payload = index.data(RowsModel::PayloadRole);
    if (!payload.canConvert<DifferenceCell>()) return RowDelegate::paintContent(painter, place, index);
    const auto cell = payload.value<DifferenceCell>();
    const forms::Roles& roles = theme().roles();
    const double upper = place.center().y() - theme().s(12), lower = place.center().y() + theme().s(12);
    const double z = theme().s(14);
    painter.save();
    switch (index.column()) {
        case StepColumn:
            forms::drawTextMiddle(painter, place.left(), upper, cell.title, theme().font(15, true), roles.ink,
                                  place.width());
            forms::drawTextMiddle(painter, place.left(), lower, cell.zone, theme().font(13), roles.muted,
                                  place.width());
            break;
        case ScorerColumn:
            for (const auto& [mark, y] :
                 {std::pair(cell.firstMark, upper), std::pair(cell.secondMark, lower)})
                forms::drawTextMiddle(painter, place.left(), y, mark, theme().font(13, true), roles.ink,
                                      place.width());
            break;
        case MarksColumn:
            for (const auto& [sign, y] : {std::pair(cell.first, upper), std::pair(cell.second, lower)})
                paintSign(painter, QRectF(place.left() + theme().s(10), y - z / 2, z, z), sign, roles,
                          theme().scale());
            break;
        case SettledColumn:
            paintButtons(painter, place, cell);
            break;
        default:
            break;
    }
    painter.restore();
}

bool DifferenceDelegate::editorEvent(QEvent* event, QAbstractItemModel* model,
                                     const QStyleOptionViewItem& option, const QModelIndex& index) {
    if (event->type() == QEvent::MouseButtonRelease && index.column() == SettledColumn) {
        const auto cell = index.data(RowsModel::PayloadRole).value<DifferenceCell>();
        const double pad = theme().s(8);
        const auto rects = buttons(cell, QRectF(option.rect).adjusted(pad, 0, -pad, -1));
        const QPointF at = static_cast<QMouseEvent*>(event)->position();
        for (std::size_t i = 0; i < rects.size(); ++i)
            if (rects[i].contains(at)) {
                emit chosen(index.data(RowsModel::IdRole).toString(), static_cast<int>(kChoices[i]));
                return true;
            }
    }
    return RowDelegate::editorEvent(event, model, option, index);
}

}  // namespace markerlamp::app
