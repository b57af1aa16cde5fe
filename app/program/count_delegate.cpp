// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/program/count_delegate.h"

#include "app/support/rows_model.h"

#include <QPainter>

#include <algorithm>

namespace markerlamp::app {

void CountDelegate::paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const {
    const QVariant payload = index.data(RowsModel::PayloadRole);
    if (!payload.canConvert<CountMarks>()) return;
    const auto marks = payload.value<CountMarks>();
    const forms::Roles& roles = theme().roles();
    // Many trainees: narrower marks, never fewer.
    const double pitch = std::min(theme().s(14), place.width() / std::max(1, marks.count));
    const double gap = pitch > 4 ? 2 : 0;
    const double width = std::max(0.5, pitch - gap), height = theme().s(12);
    painter.setRenderHint(QPainter::Antialiasing);
    for (int i = 0; i < marks.count; ++i) {
        const QRectF mark(place.left() + i * pitch, place.center().y() - height / 2, width, height);
        QPen pen(roles.ink, std::min(1.5, width / 3));
        if (marks.word == core::ReadinessWord::TooLittle) pen.setStyle(Qt::DotLine);
        painter.setPen(pen);
        painter.setBrush(marks.word == core::ReadinessWord::Ready ? QBrush(roles.ink) : QBrush(Qt::NoBrush));
        painter.drawRect(mark.adjusted(0.75, 0.75, -0.75, -0.75));
        if (marks.word == core::ReadinessWord::Close)
            painter.fillRect(QRectF(mark.left(), mark.top(), mark.width() / 2, mark.height()), roles.ink);
    }
}

}  // namespace markerlamp::app
