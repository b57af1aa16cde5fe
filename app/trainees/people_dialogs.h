#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Forms for a trainee, an instructor and a bus, and the small lists of instructors and buses.

#include "app/support/rows_model.h"
#include "app/support/text_widgets.h"
#include "app/trainees/people_forms.h"
#include "core/rubric/rubric.h"

#include <QDialog>

#include <functional>

class QCheckBox;
class QFormLayout;
class QLineEdit;
class QPlainTextEdit;
class QScrollArea;
class QTableWidget;

namespace markerlamp::app {

class Session;
class TableView;

/// A form with a line for what is wrong, a verb and Cancel. Accepts only what check() takes.
class FormDialog : public QDialog {
    Q_OBJECT

public:
    FormDialog(const Theme& theme, const QString& title, const QString& verb, QWidget* parent);
    void accept() override;

protected:
    virtual core::Result<void> check() = 0;
    void showEvent(QShowEvent* event) override;
    QLineEdit* addField(const QString& label, const QString& text, const QString& placeholder = {});
    [[nodiscard]] QFormLayout* form() const { return m_form; }
    [[nodiscard]] const Theme& theme() const { return m_theme; }
    /// What cannot be taken back: Enter cancels, and the button is no more filled than the other. Returns it.
    QPushButton* makeDangerous();

private:
    /// Shows the whole form where the screen is large enough for it.
    void fit();

    const Theme& m_theme;
    QFormLayout* m_form;
    QScrollArea* m_scroll = nullptr;
    Text* m_problem;
    QPushButton* m_good = nullptr;
    QPushButton* m_cancel = nullptr;
};

class TraineeDialog final : public FormDialog {
    Q_OBJECT

public:
    /// trainee: empty key means a new one.
    TraineeDialog(const Theme& theme, const core::Trainee& trainee, const QStringList& otherKeys,
                  QWidget* parent);
    [[nodiscard]] const core::Trainee& trainee() const { return m_trainee; }

protected:
    core::Result<void> check() override;

private:
    core::Trainee m_trainee;
    QStringList m_taken;
    QLineEdit *m_key, *m_name, *m_started, *m_issued, *m_expires, *m_medical, *m_percent, *m_theory, *m_group;
    QPlainTextEdit* m_note;
};

class InstructorDialog final : public FormDialog {
    Q_OBJECT

public:
    InstructorDialog(const Theme& theme, const core::Instructor& instructor, const QStringList& otherKeys,
                     QWidget* parent);
    [[nodiscard]] const core::Instructor& instructor() const { return m_instructor; }

protected:
    core::Result<void> check() override;

private:
    core::Instructor m_instructor;
    QStringList m_taken;
    QLineEdit *m_key, *m_name;
};

class BusDialog final : public FormDialog {
    Q_OBJECT

public:
    /// tags and limits: those of all rubrics of the file.
    BusDialog(const Theme& theme, const core::Bus& bus, const QStringList& otherKeys,
              const std::vector<std::pair<std::string, std::string>>& tags,
              const std::vector<core::Limit>& limits, QWidget* parent);
    [[nodiscard]] const core::Bus& bus() const { return m_bus; }

protected:
    core::Result<void> check() override;

private:
    core::Bus m_bus;
    QStringList m_taken;
    QLineEdit *m_key, *m_title, *m_note;
    std::vector<std::pair<std::string, QCheckBox*>> m_tags;
    QTableWidget* m_limits;
};

/// A list with Add, Edit and Close.
class ListDialog final : public QDialog {
    Q_OBJECT

public:
    using Rows = std::function<std::vector<Row>()>;
    /// id empty: add; returns the id to select, empty when nothing changed.
    using Edit = std::function<QString(const QString& id, QWidget* parent)>;

    ListDialog(const Theme& theme, const QString& title, const QString& remark, std::vector<Column> columns,
               const std::vector<int>& widths, Rows rows, Edit edit, QWidget* parent);

private:
    void fill(const QString& select);

    Rows m_rows;
    Edit m_edit;
    RowsModel* m_model;
    TableView* m_table;
};

/// The lists over an open file; changes are stored and announced.
void showInstructors(const Theme& theme, Session& session, QWidget* parent);
void showBuses(const Theme& theme, Session& session, QWidget* parent);
/// Adds (key empty) or edits; returns the key, empty when cancelled.
QString editTrainee(const Theme& theme, Session& session, const QString& key, QWidget* parent);

}  // namespace markerlamp::app
