#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Zones and steps as a tree with a remark at the right end of each row, drawn like the tables.

#include "app/support/theme.h"

#include <QStandardItemModel>
#include <QTreeView>

#include <map>

namespace markerlamp::core {
struct Rubric;
}

namespace markerlamp::app {

class StepTree final : public QTreeView {
    Q_OBJECT

public:
    enum Role { ZoneRole = Qt::UserRole + 20, StepRole, RemarkRole };

    explicit StepTree(const Theme& theme, QWidget* parent = nullptr);
    /// Keeps what is chosen and what is open. remarks: by step id, in place of "must pass".
    void setRubric(const core::Rubric& rubric, const std::map<QString, QString>& remarks = {});
    /// step empty: the zone; both empty: the rubric as a whole. False where it is not there.
    bool select(const QString& zone, const QString& step);
    /// Empty on the first row, "about this rubric".
    [[nodiscard]] QString currentZone() const;
    [[nodiscard]] QString currentStep() const;
    /// The next step after the current one whose title holds the words; goes round. Empty: none.
    QString find(const QString& words);

protected:
    void drawRow(QPainter* painter, const QStyleOptionViewItem& option,
                 const QModelIndex& index) const override;

private:
    [[nodiscard]] QModelIndex indexOf(const QString& zone, const QString& step) const;

    const Theme& m_theme;
    QStandardItemModel* m_model;
};

}  // namespace markerlamp::app
