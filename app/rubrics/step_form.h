#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One step of a draft as fields, and its points as a table.

#include "app/rubrics/draft_fields.h"
#include "app/support/rows_model.h"
#include "app/support/text_widgets.h"

#include <QWidget>

class QCheckBox;
class QDoubleSpinBox;
class QSpinBox;

namespace markerlamp::app {

class TableView;

class StepForm final : public QWidget {
    Q_OBJECT

public:
    explicit StepForm(const Theme& theme, QWidget* parent = nullptr);

    void setStep(Draft* draft, const QString& step);
    /// Puts the keys into the title.
    void editTitle();
    void selectPoint(const QString& point);
    [[nodiscard]] QString currentPoint() const;
    [[nodiscard]] QWidget* pointsTable() const;
    void addPoint();
    void editPoint();
    void editReading();

signals:
    void said(const QString& words);

private:
    QWidget* makeFields();
    QWidget* makePoints();
    void tieFields();
    void fillPoints();
    void showLike();
    [[nodiscard]] const core::Step* step() const;

    const Theme& m_theme;
    QPointer<Draft> m_draft;
    QString m_step;
    DraftFields* m_fields;
    BlockHead* m_head;
    QLineEdit *m_title, *m_show, *m_when, *m_caution, *m_source;
    QSpinBox *m_weight, *m_needed;
    QDoubleSpinBox* m_minutes;
    QCheckBox* m_mustPass;
    QPushButton* m_reading;
    Text* m_ofPoints;
    BlockHead* m_pointsHead;
    RowsModel* m_points;
    TableView* m_pointsTable;
    Text* m_like;
};

/// A small label over a field, in a column; the label is its buddy and its name.
[[nodiscard]] QWidget* labelled(const Theme& theme, const QString& label, QWidget* field);

}  // namespace markerlamp::app
