#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A copy from wherever it lies, in the place of a program file that need not be there: on a new machine, or
// where the file does not open any more.

#include "app/trainees/people_dialogs.h"

class QLabel;
class QPushButton;

namespace markerlamp::app {

class BringBackDialog final : public FormDialog {
    Q_OBJECT

public:
    /// openFile: what the window has open, into which nothing is brought here; may be empty.
    BringBackDialog(const Theme& theme, QString openFile, QWidget* parent);

    void setCopy(const QString& copy);
    void setProgram(const QString& program);
    /// The file that the copy stands in now, after the dialog was accepted.
    [[nodiscard]] QString program() const;
    /// "Restored: 12 attempts. The file as it was before lies among the copies"; after it was accepted.
    [[nodiscard]] QString outcome() const { return m_outcome; }

    /// Where a copy belongs: into the file that it was made of, where that is beside its folder, and else
    /// into the folder for documents.
    [[nodiscard]] static QString programOf(const QString& copy);

protected:
    core::Result<void> check() override;

private:
    QLineEdit* addPath(const QString& label, const QString& choose, const std::function<void()>& ask);
    void chooseCopy();
    void chooseProgram();
    void update();
    [[nodiscard]] core::Result<void> restore();

    QString m_openFile;
    QLineEdit *m_copy, *m_passphrase, *m_program;
    Text* m_notice;
    bool m_ownPlace = false;  ///< the place was chosen or typed, and does not follow the copy
    QString m_outcome;
};

}  // namespace markerlamp::app
