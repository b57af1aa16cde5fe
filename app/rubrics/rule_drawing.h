#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Order rules drawn as what before what: a box for each step or zone, arrows between them, one row for each
// rule. Where rules go in a circle, the way round stands first. Each row says the same in words.

#include "app/rubrics/draft.h"
#include "app/support/theme.h"

#include <QListView>
#include <QStandardItemModel>

#include <vector>

namespace markerlamp::app {

/// One row, ready to be drawn.
struct OrderRow {
    QString rule;  ///< id; empty: the circle
    QString title;
    QString kind;  ///< "strict, must pass"
    /// Boxes in the order of reading; an arrow leads from a group to the next.
    std::vector<std::vector<QString>> groups;
    QString words;
    bool inCircle = false;
};
[[nodiscard]] std::vector<OrderRow> orderRows(const Draft& draft);

class RuleDrawing final : public QListView {
    Q_OBJECT

public:
    explicit RuleDrawing(const Theme& theme, QWidget* parent = nullptr);

    void setDraft(const Draft& draft);
    /// Empty on the circle, and where there is no rule.
    [[nodiscard]] QString currentRule() const;
    void selectRule(const QString& rule);
    [[nodiscard]] QSize sizeHint() const override;

signals:
    void opened();

protected:
    void resizeEvent(QResizeEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    class Delegate;

    const Theme& m_theme;
    QStandardItemModel* m_model;
    std::vector<OrderRow> m_rows;
};

}  // namespace markerlamp::app
