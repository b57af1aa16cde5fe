#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Ties the fields of a form to a draft: what is typed is a change of the draft at once, one step of undo for
// as long as the field has the keys; what undo brings back stands in the field again.

#include "app/rubrics/draft.h"

#include <QObject>
#include <QPointer>

#include <functional>
#include <string>
#include <vector>

class QCheckBox;
class QDoubleSpinBox;
class QLineEdit;
class QPlainTextEdit;
class QSpinBox;

namespace markerlamp::app {

class DraftFields final : public QObject {
    Q_OBJECT

public:
    /// name: what the field is called in the words of an undo step. A reader gives nothing where the thing
    /// that the form is about is not there (any more); then nothing is written either.
    template <class T>
    struct Access {
        QString name;
        std::function<std::optional<T>(const core::Rubric&)> read;
        std::function<void(core::Rubric&, const T&)> write;
    };

    explicit DraftFields(QObject* parent);

    void tie(QLineEdit* field, Access<std::string> access);
    void tie(QPlainTextEdit* field, Access<std::string> access);
    void tie(QSpinBox* field, Access<int> access);
    void tie(QDoubleSpinBox* field, Access<double> access);
    void tie(QCheckBox* field, Access<bool> access);

    /// What the form is about; title as undo steps name it.
    void setDraft(Draft* draft, const DraftSpot& spot, const QString& title);
    /// Shows what the draft holds.
    void load();

protected:
    /// Undo and redo are those of the draft, also while a field has the keys.
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    template <class T>
    void write(const Access<T>& access, const T& value);
    void watch(QWidget* field);

    QPointer<Draft> m_draft;
    DraftSpot m_spot;
    QString m_title;
    bool m_loading = false;
    std::vector<std::function<void()>> m_loads;
};

}  // namespace markerlamp::app
