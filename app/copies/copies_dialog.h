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

/// Asks twice for the passphrase that copies in the second place are sealed with; empty: plain.
class CopySealDialog final : public FormDialog {
    Q_OBJECT

public:
    CopySealDialog(const Theme& theme, bool sealed, QWidget* parent);
    [[nodiscard]] QString passphrase() const;

protected:
    core::Result<void> check() override;

private:
    bool m_sealed;
    QLineEdit *m_first, *m_again;
};

class CopiesDialog final : public QDialog {
    Q_OBJECT

public:
    CopiesDialog(const Theme& theme, Session& session, CopyKeeper& keeper, QWidget* parent);

    /// The copy that is to take the file's place; empty: none. The dialog is closed then.
    [[nodiscard]] QString restore() const { return m_restore; }
    /// What was done last, in words; empty: nothing.
    [[nodiscard]] QString outcome() const { return m_outcome; }
    /// Nothing is looked into any more.
    [[nodiscard]] bool isComplete() const {
        return !m_reader.isRunning() && m_looks.size() >= m_copies.size();
    }
    /// Seals copies in the second place without asking; empty: they are plain from now on.
    void setSeal(const QString& passphrase);
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
    void chooseSeal();
    [[nodiscard]] const db::CopyFile* current() const;
    [[nodiscard]] std::optional<CopyLook> currentLook() const;

    const Theme& m_theme;
    Session& m_session;
    CopyKeeper& m_keeper;
    std::vector<db::CopyFile> m_copies;
    std::map<QString, CopyLook> m_looks;
    QString m_restore, m_outcome;
    CopyReader m_reader;
    Text* m_words;
    RowsModel* m_model;
    TableView* m_table;
    Text* m_lines;
    Text* m_place;
    QPushButton* m_now;
    QPushButton* m_restoreButton;
    QPushButton *m_noPlace, *m_seal;
};

}  // namespace markerlamp::app
