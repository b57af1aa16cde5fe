#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Export: what, where, how far it is, what became of it. The work runs on another thread; closing the dialog
// or Stop leaves nothing half written.

#include "app/exports/export_job.h"
#include "app/support/theme.h"

#include <QDialog>

class QButtonGroup;
class QCheckBox;
class QComboBox;
class QLabel;
class QLineEdit;
class QProgressBar;
class QPushButton;
class QVBoxLayout;

namespace markerlamp::app {

class Session;
class Text;

class ExportDialog final : public QDialog {
    Q_OBJECT

public:
    /// @param folder where the first suggestion goes
    ExportDialog(const Theme& theme, Session& session, forms::Paper paper, QString folder, QWidget* parent);
    ~ExportDialog() override;

    void choose(ExportWhat what);
    /// What the form says now.
    [[nodiscard]] ExportPlan plan() const;
    [[nodiscard]] bool isRunning() const { return m_job.isRunning(); }
    /// What was written; empty while nothing was.
    [[nodiscard]] QString outcome() const { return m_outcome; }
    [[nodiscard]] QString folder() const;

    void accept() override;
    /// Stops what runs; the next time it closes.
    void reject() override;

signals:
    void exported(const QString& said);

private:
    struct Choice;
    void addChoices(QVBoxLayout* column);
    QWidget* makeOptions();
    QWidget* makePlace();
    QWidget* makeFoot();
    void showChoice();
    /// A name that fits the choice, unless somebody typed one.
    void suggest();
    /// What is missing in the form, and where; empty: nothing.
    [[nodiscard]] std::pair<QString, QLineEdit*> missing() const;
    void choosePlace();
    void chooseSalt();
    void showRunning(bool running);
    void finish(const ExportOutcome& outcome);

    const Theme& m_theme;
    Session& m_session;
    forms::Paper m_paper;
    QString m_folder;
    QString m_suggested;
    QString m_outcome;
    ExportJob m_job;
    QButtonGroup* m_what;
    QWidget *m_form = nullptr, *m_study = nullptr, *m_sheets = nullptr, *m_package = nullptr;
    QCheckBox *m_keepSalt = nullptr, *m_oneFile = nullptr, *m_readiness = nullptr, *m_twoSided = nullptr;
    QLineEdit *m_salt = nullptr, *m_place = nullptr, *m_passphrase = nullptr, *m_again = nullptr;
    QPushButton *m_chooseSalt = nullptr, *m_export = nullptr, *m_close = nullptr;
    QComboBox* m_group = nullptr;
    QLabel* m_placeLabel = nullptr;
    Text *m_caution = nullptr, *m_said = nullptr;
    QProgressBar* m_bar = nullptr;
};

}  // namespace markerlamp::app
