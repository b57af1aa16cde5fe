#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// An open program file with its writer thread: what every page works on. Lives on the window's thread.

#include "core/base/result.h"
#include "core/history/history.h"
#include "db/claim.h"
#include "db/event_writer.h"
#include "db/program_file.h"
#include "db/sqlite/file_id.h"

#include <QDate>
#include <QDateTime>
#include <QObject>
#include <QString>

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::app {

class Session final : public QObject {
    Q_OBJECT

public:
    /// Refuses with ErrorKind::Busy while another window has the file open. What an earlier run could not
    /// store is stored first.
    static core::Result<std::unique_ptr<Session>> open(const QString& path);
    /// New file with the built-in rubrics; demo: also the invented district, up to the last working day
    /// before today. Leaves nothing behind when it fails.
    static core::Result<std::unique_ptr<Session>> create(const QString& path, bool demo);
    /// The demo at this path: made where none is, made afresh where it has grown old and nobody changed it.
    static core::Result<std::unique_ptr<Session>> openDemo(const QString& path,
                                                           const QDate& today = QDate::currentDate());
    ~Session() override;

    [[nodiscard]] db::ProgramFile& file() { return *m_file; }
    [[nodiscard]] QString path() const;
    [[nodiscard]] QString title() const;  ///< of the program, else the file's name

    /// Stores a press on the writer thread; see stored() and trouble().
    quint64 startAttempt(const core::AttemptHeader& header);
    quint64 append(const QString& attemptId, std::vector<core::Event> events);
    /// Waits for the writer; used before pages read what was just written, and when the program ends.
    bool flush(int milliseconds = 5000);
    /// When the last press became durable; invalid before the first one.
    [[nodiscard]] QDateTime lastStored() const { return m_lastStored; }
    /// The highest ticket that is durable.
    [[nodiscard]] quint64 storedUpTo() const { return m_storedUpTo; }

    /// All attempts of a trainee that are fit for history (ended, not set aside, not second scorings),
    /// scored, oldest first. upTo: only those not after this attempt; empty: all.
    core::Result<std::vector<core::ScoredAttempt>> history(const QString& trainee, const QString& upTo = {});
    /// One attempt with its card, whatever its state; with the steps that every smallest set contains.
    core::Result<core::ScoredAttempt> scored(const QString& attemptId);

    /// Pages call these after they changed something.
    void notePeopleChanged();
    void noteAttemptChanged(const QString& id);
    void noteRubricsChanged();
    void noteSheetChanged(const QString& attempt);

signals:
    void stored(quint64 upToTicket);
    /// message empty: writing works again.
    void trouble(QString message, int waiting);
    void peopleChanged();
    void attemptChanged(QString id);
    void rubricsChanged();
    void sheetChanged(QString attempt);

private:
    Session();
    static core::Result<std::unique_ptr<Session>> lock(const QString& path);
    static core::Result<std::unique_ptr<Session>> make(const QString& path,
                                                       const std::optional<std::string>& demoUntil);
    core::Result<void> begin(const QString& path);
    void openAgain();
    core::Result<const core::Scorer*> scorer(const std::string& rubric, int edition);

    std::unique_ptr<db::Claim> m_claim;
    std::vector<std::unique_ptr<db::ProgramFile>> m_before;  ///< who still looks into them finds them there
    std::unique_ptr<db::ProgramFile> m_file;
    std::optional<db::FileId> m_place;  ///< where m_file lies
    std::map<std::pair<std::string, int>, core::Scorer> m_scorers;
    QDateTime m_lastStored;
    quint64 m_storedUpTo = 0;
    std::unique_ptr<db::EventWriter> m_writer;  // last: its thread ends before anything it tells about
};

}  // namespace markerlamp::app
