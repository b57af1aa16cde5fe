// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/session.h"

#include "app/shell/demo_file.h"
#include "app/shell/new_program.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "app/support/trainee_history.h"
#include "db/writer/own_place.h"

#include <QDir>
#include <QFileInfo>
#include <QLocale>
#include <QSysInfo>

#include <algorithm>
#include <utility>

namespace markerlamp::app {

namespace {

/// Who has it, and since when.
QString heldWords(const QString& path, const db::Holder& holder) {
    const QString file = QDir::toNativeSeparators(path);
    const QDateTime since = QDateTime::fromString(qs(holder.since), Qt::ISODate);
    if (holder.host.empty() || !since.isValid())
        return Session::tr("%1 is open in another window; use that window, or close it first").arg(file);
    const QString when = QLocale().toString(since.toLocalTime(), QLocale::ShortFormat);
    if (qs(holder.host) != QSysInfo::machineHostName())
        return Session::tr("%1 is open since %2 on another computer (%3, user %4); close it there first")
            .arg(file, when, qs(holder.host), qs(holder.user));
    return Session::tr(
               "%1 is open since %2 in another window on this computer (%3, user %4, process %5); use "
               "that window, or close it first")
        .arg(file, when, qs(holder.host), qs(holder.user), qs(holder.process));
}

/// What an earlier run left beside the file belongs in before anybody reads: a log, if it is this file's, and
/// what it had to leave in the spill file.
core::Result<void> takeInWhatIsLeft(const QString& path) {
    if (auto fits = db::logFits(fsPath(path)); !fits) return fits;
    if (auto recovered = db::EventWriter::recoverSpill(fsPath(path)); !recovered)
        return core::fail(recovered.error());
    return {};
}

}  // namespace

Session::Session() = default;
Session::~Session() = default;

core::Result<std::unique_ptr<Session>> Session::lock(const QString& path) {
    std::unique_ptr<Session> session(new Session);
    auto [claim, heldBy] = db::Claim::on(fsPath(path));
    if (heldBy) return core::fail(core::ErrorKind::Busy, ss(heldWords(path, *heldBy)));
    session->m_claim = std::move(claim);  // none where there is no place for one: better open than not at all
    return session;
}

core::Result<void> Session::begin(const QString& path) {
    if (auto taken = takeInWhatIsLeft(path); !taken) return taken;
    auto file = db::ProgramFile::open(fsPath(path));
    if (!file) return core::fail(file.error());
    m_file = std::move(*file);
    m_place = db::fileIdOf(fsPath(path));
    const auto stored = [this](std::uint64_t upTo) {
        QMetaObject::invokeMethod(
            this,
            [this, upTo] {
                m_storedUpTo = std::max<quint64>(m_storedUpTo, upTo);
                m_lastStored = QDateTime::currentDateTime();
                emit this->stored(upTo);
            },
            Qt::QueuedConnection);
    };
    const auto inTrouble = [this](const core::Error* error, std::size_t waiting) {
        const QString message = error != nullptr ? errorText(*error, 1) : QString();
        QMetaObject::invokeMethod(
            this,
            [this, message, waiting] {
                if (message.isEmpty()) openAgain();
                emit trouble(message, static_cast<int>(waiting));
            },
            Qt::QueuedConnection);
    };
    m_writer = std::make_unique<db::EventWriter>(fsPath(path), stored, inTrouble);
    return {};
}

/// The writer may have taken up the same file in another place: a stick that was plugged in again.
void Session::openAgain() {
    const auto place = db::fileIdOf(m_file->path());
    if (!place || place == m_place) return;
    auto again = db::ProgramFile::open(m_file->path());
    if (!again) return;  // what is asked of the file then is answered with the reason
    (*again)->actAs(m_file->acting());
    m_before.push_back(std::exchange(m_file, std::move(*again)));
    m_place = place;
    notePeopleChanged();
    noteRubricsChanged();
}

core::Result<std::unique_ptr<Session>> Session::open(const QString& path) {
    if (!QFileInfo::exists(path))
        return core::fail(core::ErrorKind::NotFound,
                          ss(tr("there is no file %1").arg(QDir::toNativeSeparators(path))));
    auto session = lock(path);
    if (!session) return session;
    if (auto begun = (*session)->begin(path); !begun) return core::fail(begun.error());
    return session;
}

core::Result<std::unique_ptr<Session>> Session::make(const QString& path,
                                                     const std::optional<std::string>& demoUntil) {
    auto session = lock(path);
    if (!session) return session;
    if (auto made = makeProgram(fsPath(path), demoUntil); !made) return core::fail(made.error());
    if (auto begun = (*session)->begin(path); !begun) return core::fail(begun.error());
    return session;
}

core::Result<std::unique_ptr<Session>> Session::create(const QString& path, bool demo) {
    return make(path, demo ? std::optional(demoDay(QDate::currentDate())) : std::nullopt);
}

core::Result<std::unique_ptr<Session>> Session::openDemo(const QString& path, const QDate& today) {
    if (!QFileInfo::exists(path)) return make(path, demoDay(today));
    auto session = lock(path);
    if (!session) return session;
    // What waits to be stored is somebody's work: into the file with it before that is compared.
    if (auto taken = takeInWhatIsLeft(path); !taken) return core::fail(taken.error());
    // A demo that cannot be renewed (a full disk, another program reads it) is still a demo.
    (void)renewDemo(fsPath(path), today);
    if (auto begun = (*session)->begin(path); !begun) return core::fail(begun.error());
    return session;
}

QString Session::path() const {
    return pathText(m_file->path());
}

QString Session::title() const {
    const auto title = m_file->fact("program.title");
    if (title && *title && !(*title)->empty()) return qs(**title);
    return QFileInfo(path()).completeBaseName();
}

quint64 Session::startAttempt(const core::AttemptHeader& header) {
    return m_writer->startAttempt(header);
}
quint64 Session::append(const QString& attemptId, std::vector<core::Event> events) {
    return m_writer->append(ss(attemptId), std::move(events), m_file->acting().name);
}
bool Session::flush(int milliseconds) {
    return m_writer->flush(std::chrono::milliseconds(milliseconds));
}

core::Result<const core::Scorer*> Session::scorer(const std::string& rubric, int edition) {
    const auto key = std::make_pair(rubric, edition);
    auto found = m_scorers.find(key);
    if (found == m_scorers.end()) {
        auto loaded = m_file->rubric(rubric, edition);
        if (!loaded) return core::fail(loaded.error());
        found = m_scorers.emplace(key, core::Scorer(*loaded)).first;
    }
    return &found->second;
}

core::Result<core::ScoredAttempt> Session::scored(const QString& attemptId) {
    auto attempt = m_file->attempt(ss(attemptId));
    if (!attempt) return core::fail(attempt.error());
    auto made = scorer(attempt->header.rubric, attempt->header.edition);
    if (!made) return core::fail(made.error());
    auto rubric = m_file->rubric(attempt->header.rubric, attempt->header.edition);
    if (!rubric) return core::fail(rubric.error());
    core::Scorecard card = (*made)->score(*attempt, true);
    return core::ScoredAttempt{*rubric, std::move(*attempt), std::move(card)};
}

core::Result<std::vector<core::ScoredAttempt>> Session::history(const QString& trainee, const QString& upTo) {
    return traineeHistory(
        *m_file, [this](const std::string& rubric, int edition) { return scorer(rubric, edition); },
        ss(trainee), ss(upTo));
}

void Session::notePeopleChanged() {
    emit peopleChanged();
}
void Session::noteAttemptChanged(const QString& id) {
    emit attemptChanged(id);
}
void Session::noteRubricsChanged() {
    emit rubricsChanged();
}

void Session::noteSheetChanged(const QString& attempt) {
    emit sheetChanged(attempt);
}

}  // namespace markerlamp::app
