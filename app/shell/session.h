#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// An open program file with its writer thread: what every page works on. Lives on the window's thread.

#include "core/base/result.h"
#include "core/history/history.h"
#include "db/event_writer.h"
#include "db/program_file.h"

#include <QObject>
#include <QString>

#include <memory>

namespace markerlamp::app {

class Session final : public QObject {
    Q_OBJECT

public:
    static core::Result<std::unique_ptr<Session>> open(const QString& path);
    /// New file with the built-in rubrics; demo: also the invented district.
    static core::Result<std::unique_ptr<Session>> create(const QString& path, bool demo);
    ~Session() override;

    [[nodiscard]] db::ProgramFile& file() { return *m_file; }
    [[nodiscard]] QString path() const;
    [[nodiscard]] QString title() const;  ///< of the program, else the file's name

    /// Stores a press on the writer thread; see stored() and trouble().
    quint64 startAttempt(const core::AttemptHeader& header);
    quint64 append(const QString& attemptId, std::vector<core::Event> events);
    /// Waits for the writer; used before pages read what was just written, and when the program ends.
    bool flush(int milliseconds = 5000);

    /// All attempts of a trainee that are fit for history (ended, not set aside, not second scorings),
    /// scored, oldest first. upTo: only those not after this attempt; empty: all.
    core::Result<std::vector<core::ScoredAttempt>> history(const QString& trainee, const QString& upTo = {});

    /// Pages call these after they changed something.
    void notePeopleChanged();
    void noteAttemptChanged(const QString& id);
    void noteRubricsChanged();

signals:
    void stored(quint64 upToTicket);
    /// message empty: writing works again.
    void trouble(QString message, int waiting);
    void peopleChanged();
    void attemptChanged(QString id);
    void rubricsChanged();

private:
    Session();
    std::unique_ptr<db::ProgramFile> m_file;
    std::unique_ptr<db::EventWriter> m_writer;
};

}  // namespace markerlamp::app
