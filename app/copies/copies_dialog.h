#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of the open program file: when and why each was made, what is in it, whether it is sound; another
// one now, one restored, and the second place.

#include "app/copies/copies_view.h"
#include "app/copies/copy_keeper.h"
#include "app/copies/copy_reader.h"
#include "app/trainees/people_dialogs.h"

#include <QDialog>

class QLabel;
class QPushButton;

namespace markerlamp::app {

class Session;
class TableView;

/// Says what restoring changes and asks once more.
class RestoreDialog final : public FormDialog {
    Q_OBJECT

public:
    RestoreDialog(const Theme& theme, const db::CopyFile& copy, const CopyLook& look, QWidget* parent);

protected:
    core::Result<void> check() override { return {}; }
};

class CopiesDialog final : public QDialog {
    Q_OBJECT

public:
    CopiesDialog(const Theme& theme, Session& session, CopyKeeper& keeper, QWidget* parent);

    /// The copy that is to take the file's place; empty: none. The dialog is closed then.
    [[nodiscard]] QString restore() const { return m_restore; }
    /// What was done last, in words; empty: nothing.
    [[nodiscard]] QString done() const { return m_done; }
    /// Nothing is looked into any more.
    [[nodiscard]] bool isComplete() const {
        return !m_reader.isRunning() && m_looks.size() >= m_copies.size();
    }
    /// Sets the second place without asking where; empty: none.
    void setPlace(const QString& folder);

private:
    void fill();
    void take(const CopyLook& look);
    void showCurrent();
    void showPlace();
    void copyNow();
    void restoreCurrent();
    void choosePlace();
    [[nodiscard]] const db::CopyFile* current() const;
    [[nodiscard]] std::optional<CopyLook> currentLook() const;

    const Theme& m_theme;
    Session& m_session;
    CopyKeeper& m_keeper;
    std::vector<db::CopyFile> m_copies;
    std::map<QString, CopyLook> m_looks;
    QString m_restore, m_done;
    CopyReader m_reader;
    Text* m_words;
    RowsModel* m_model;
    TableView* m_table;
    Text* m_lines;
    Text* m_place;
    QPushButton* m_now;
    QPushButton* m_restoreButton;
    QPushButton* m_noPlace;
};

}  // namespace markerlamp::app
