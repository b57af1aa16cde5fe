#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The rubric as a whole as fields: title, about, pass rule, equipment and sections; and the small form of a
// zone.

#include "app/rubrics/draft_fields.h"
#include "app/support/rows_model.h"
#include "app/support/text_widgets.h"

#include <QWidget>

class QCheckBox;
class QDoubleSpinBox;

namespace markerlamp::app {

class TableView;

class WholeForm final : public QWidget {
    Q_OBJECT

public:
    explicit WholeForm(const Theme& theme, QWidget* parent = nullptr);

    void setDraft(Draft* draft);
    void editTitle();

    /// Whichever of the two tables has the keys; nullptr: neither.
    [[nodiscard]] QWidget* tableWithKeys() const;
    void add();
    void edit();
    void retire();

signals:
    void said(const QString& words);

private:
    void tieFields();
    void fill();
    void editEquipment(const QString& tag);
    void editSection(const QString& id);

    const Theme& m_theme;
    QPointer<Draft> m_draft;
    DraftFields* m_fields;
    QLineEdit* m_title;
    QPlainTextEdit* m_about;
    QDoubleSpinBox *m_percent, *m_minutes;
    QCheckBox* m_minutesFail;
    RowsModel *m_equipment, *m_sections;
    TableView *m_equipmentTable, *m_sectionsTable;
};

class ZoneForm final : public QWidget {
    Q_OBJECT

public:
    explicit ZoneForm(const Theme& theme, QWidget* parent = nullptr);

    void setZone(Draft* draft, const QString& zone);
    void editTitle();

private:
    QString m_zone;
    DraftFields* m_fields;
    BlockHead* m_head;
    QLineEdit* m_title;
    Text* m_words;
};

}  // namespace markerlamp::app
