#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A number of trainees as marks, filled like the shape of their readiness.

#include "app/support/table_view.h"
#include "core/readiness/readiness_word.h"

#include <QMetaType>

namespace markerlamp::app {

struct CountMarks {
    core::ReadinessWord word = core::ReadinessWord::NotYet;
    int count = 0;
};

class CountDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;

protected:
    void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const override;
};

}  // namespace markerlamp::app

Q_DECLARE_METATYPE(markerlamp::app::CountMarks)
