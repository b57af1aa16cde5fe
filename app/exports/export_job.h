#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One export from the window: what is to be written where, done on another thread with a connection of its
// own, and what became of it in words.

#include "app/exports/export_tables.h"
#include "forms/sheets/sheets.h"

#include <QFutureWatcher>
#include <QObject>
#include <QString>
#include <QStringList>

#include <atomic>
#include <memory>
#include <optional>

namespace markerlamp::app {

enum class ExportWhat { Spreadsheet, Tables, Study, Sheets, Documents, Package };

struct ExportPlan {
    ExportWhat what = ExportWhat::Spreadsheet;
    QString program;               ///< the program file
    QString out;                   ///< file or folder
    QString passphrase;            ///< Package
    QString saltFile;              ///< Study; empty: the salt is thrown away
    std::optional<QString> group;  ///< Sheets; absent: everybody
    bool oneFile = true;           ///< Sheets
    bool twoSided = false;         ///< Sheets, in one file
    bool readiness = false;        ///< Sheets
    forms::Paper paper = forms::Paper::Letter;
    ExportMoment moment;

    /// Whether `out` is one file; else it is a folder.
    [[nodiscard]] bool toFile() const {
        return what == ExportWhat::Spreadsheet || what == ExportWhat::Package ||
               (what == ExportWhat::Sheets && oneFile);
    }
};

struct ExportOutcome {
    std::optional<core::Error> error;
    bool stopped = false;  ///< by the user: nothing was written
    QString said;          ///< "12 sheets, 14 pages: /home/..."
    QStringList remarks;   ///< what else there is to know, one sentence each
    QStringList sheetsOf;  ///< ids of the attempts whose sheets were written
};

/// Does all of it on this thread.
[[nodiscard]] ExportOutcome runExport(const ExportPlan& plan, const ExportProgress& progress);

/// "training-roster.xlsx", "training-study": a name that nothing in `folder` has yet, as a whole path.
[[nodiscard]] QString suggestedExport(const ExportPlan& plan, const QString& folder);

class ExportJob final : public QObject {
    Q_OBJECT

public:
    explicit ExportJob(QObject* parent = nullptr);
    ~ExportJob() override;

    void start(const ExportPlan& plan);
    /// Asks to stop; finished() comes once it has.
    void stop();
    /// From start() until finished() is told.
    [[nodiscard]] bool isRunning() const { return m_running; }

signals:
    void progressed(int permille);
    void finished(const ExportOutcome& outcome);

private:
    void end();

    QFutureWatcher<ExportOutcome> m_watcher;
    bool m_running = false;
    /// Not the future's own: a cancelled one loses what the work says, also where it was just done.
    std::shared_ptr<std::atomic<bool>> m_stop;
};

}  // namespace markerlamp::app
