// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/program_file.h"

#include "core/base/files.h"
#include "db/schema/migrator.h"
#include "db/sqlite/connection.h"
#include "db/sqlite/failure.h"
#include "db/store/access_store.h"
#include "db/store/attempt_store.h"
#include "db/store/erase_store.h"
#include "db/store/people_store.h"
#include "db/store/readiness_store.h"
#include "db/store/rubric_store.h"
#include "db/store/settlement_store.h"
#include "db/store/sheet_store.h"
#include "db/store/trail_store.h"
#include "db/store/training_store.h"

namespace markerlamp::db {

using core::Result;

struct ProgramFile::Impl {
    Impl(std::filesystem::path where, std::unique_ptr<Connection> open)
        : path(std::move(where)),
          connection(std::move(open)),
          trail(*connection),
          people(*connection, trail),
          rubrics(*connection, trail),
          attempts(*connection, trail, rubrics, people),
          readiness(*connection, trail, people, rubrics, attempts),
          training(*connection, trail, people),
          settlements(*connection, trail, people),
          sheets(*connection, trail, people),
          access(*connection, trail) {
        connection->onUndone([this] {
            rubrics.forget();
            attempts.forget();
        });
    }

    /// @param whose the trainee whose file it is; nothing: those of all
    Result<std::vector<core::PersonFile>> personFiles(std::vector<core::Trainee> trainees,
                                                      const Whose& whose) {
        core::PeopleOnFile all;
        all.trainees = std::move(trainees);
        Result<void> done;
        const auto take = [&done](auto& into, auto read) {
            if (!done) return;
            if (read)
                into = std::move(*read);
            else
                done = core::fail(read.error());
        };
        take(all.licences, training.licences(whose));
        take(all.courses, training.courses(whose));
        take(all.hours, training.clockHours(whose));
        take(all.bookings, training.bookedTests(whose));
        take(all.absences, training.absences(whose));
        take(all.results, readiness.testResults(whose));
        if (!done) return core::fail(done.error());
        return core::personFiles(all);
    }

    Result<void> may(core::Deed deed) const { return core::may(acting, deed); }
    [[nodiscard]] bool guarded() const { return acting.role == core::Role::Instructor; }
    /// Nobody learns from the words whether the attempt exists.
    [[nodiscard]] static tl::unexpected<core::Error> notTheirs(const std::string& id) {
        return core::fail(core::ErrorKind::NotFound, "there is no attempt " + id + " among your own");
    }
    /// Nothing: it is not there, or another instructor's.
    Result<std::optional<AttemptInfo>> ownInfo(const std::string& id) {
        auto info = attempts.info(id);
        if (info && *info && !core::isOwn(acting, (*info)->instructor)) return std::optional<AttemptInfo>{};
        return info;
    }
    Result<void> mayAlter(const std::string& id) {
        if (!guarded()) return {};
        const auto info = ownInfo(id);
        if (!info) return core::fail(info.error());
        return *info ? may(core::Deed::AmendOwn) : notTheirs(id);
    }
    /// Scoring in the name of `instructor`.
    Result<void> mayScoreAs(const std::string& instructor) const {
        return may(core::isOwn(acting, instructor) ? core::Deed::Score : core::Deed::AlterAnothers);
    }
    EraseStore eraser() { return {*connection, trail, attempts, path}; }

    std::filesystem::path path;
    core::Acting acting;
    std::unique_ptr<Connection> connection;
    TrailStore trail;
    PeopleStore people;
    RubricStore rubrics;
    AttemptStore attempts;
    ReadinessStore readiness;
    TrainingStore training;
    SettlementStore settlements;
    SheetStore sheets;
    AccessStore access;
};

ProgramFile::ProgramFile(std::unique_ptr<Impl> impl) : m_impl(std::move(impl)) {}
ProgramFile::~ProgramFile() = default;

Result<std::unique_ptr<ProgramFile>> ProgramFile::create(const std::filesystem::path& path) {
    std::error_code ec;
    if (std::filesystem::exists(path, ec))
        return core::fail(core::ErrorKind::Refused, path.string() + " is there already; choose another name");
    if (auto there = core::folderIsThere(path); !there) return core::fail(there.error());
    // Made beside under another name: a file that appears under its own name is whole.
    const std::filesystem::path part = core::besideName(path, "part");
    if (auto made = core::createPrivateFile(part); !made) return core::fail(made.error());
    const auto filled = [&]() -> Result<void> {
        auto connection = Connection::open(part, Access::ReadWrite);
        if (!connection) return core::fail(connection.error());
        return initialise(**connection);
    }();
    auto done = filled ? publishDatabase(part, path) : filled;
    removeDatabase(part);
    if (!done) return core::fail(done.error());
    return open(path);
}

Result<std::unique_ptr<ProgramFile>> ProgramFile::open(const std::filesystem::path& path, OpenMode mode) {
    const bool readOnly = mode == OpenMode::ReadOnly;
    auto connection = Connection::open(path, readOnly ? Access::ReadOnly : Access::ReadWrite);
    if (!connection) return core::fail(connection.error());
    auto version = identify(**connection, path);
    if (!version) return core::fail(version.error());
    // Who only reads leaves an older form as it is: stand-ins take the place of what it does not have.
    if (!readOnly) {
        if (auto migrated = migrate(**connection, path); !migrated) return core::fail(migrated.error());
        auto logged = guarded(path.string() + " cannot be opened", [&]() -> Result<void> {
            (*connection)->database().exec("PRAGMA journal_mode = WAL");
            return {};
        });
        if (!logged) return core::fail(logged.error());
        // What lies there now is what is open: from here on that is looked after, the log too.
        if ((*connection)->moved())
            return core::fail(core::ErrorKind::Machine,
                              path.string() + " changed its place while it was opened");
    }
    auto impl = std::make_unique<Impl>(path, std::move(*connection));
    if (auto prepared = impl->attempts.prepareProjection(); !prepared) return core::fail(prepared.error());
    if (auto prepared = impl->readiness.prepare(); !prepared) return core::fail(prepared.error());
    if (auto prepared = impl->training.prepare(); !prepared) return core::fail(prepared.error());
    if (auto prepared = impl->settlements.prepare(); !prepared) return core::fail(prepared.error());
    if (auto prepared = impl->sheets.prepare(); !prepared) return core::fail(prepared.error());
    if (auto prepared = impl->access.prepare(); !prepared) return core::fail(prepared.error());
    if (auto prepared = impl->trail.prepare(); !prepared) return core::fail(prepared.error());
    return std::unique_ptr<ProgramFile>(new ProgramFile(std::move(impl)));
}

const std::filesystem::path& ProgramFile::path() const {
    return m_impl->path;
}

void ProgramFile::actAs(core::Acting acting) {
    m_impl->acting = std::move(acting);
    m_impl->trail.actAs(m_impl->acting.name);
}
const core::Acting& ProgramFile::acting() const {
    return m_impl->acting;
}
Result<void> ProgramFile::may(core::Deed deed) const {
    return m_impl->may(deed);
}
Result<void> ProgramFile::mayAlter(const std::string& attemptId) {
    return m_impl->mayAlter(attemptId);
}

Result<std::vector<core::Account>> ProgramFile::accounts() {
    return m_impl->access.accounts();
}
Result<std::string> ProgramFile::startSignIn(const core::Account& coordinator,
                                             const std::string& passphrase) {
    if (auto good = m_impl->may(core::Deed::ManageAccounts); !good) return core::fail(good.error());
    return m_impl->access.start(coordinator, passphrase);
}
Result<void> ProgramFile::saveAccount(const core::Account& account,
                                      const std::optional<std::string>& passphrase) {
    // Their own passphrase everybody may change, and nothing else of their account.
    const core::Acting& me = m_impl->acting;
    const bool own = passphrase && !me.name.empty() && me.role != core::Role::Anybody &&
                     core::Acting{account.name, account.role, account.instructor} == me;
    if (!own)
        if (auto good = m_impl->may(core::Deed::ManageAccounts); !good) return core::fail(good.error());
    return m_impl->access.save(account, passphrase);
}
Result<void> ProgramFile::removeAccount(const std::string& name) {
    if (auto good = m_impl->may(core::Deed::ManageAccounts); !good) return core::fail(good.error());
    return m_impl->access.remove(name);
}
Result<void> ProgramFile::endSignIn() {
    if (auto good = m_impl->may(core::Deed::ManageAccounts); !good) return core::fail(good.error());
    return m_impl->access.end();
}
Result<std::string> ProgramFile::newRecoveryCode() {
    if (auto good = m_impl->may(core::Deed::ManageAccounts); !good) return core::fail(good.error());
    return m_impl->access.newRecoveryCode();
}
Result<core::Acting> ProgramFile::signIn(const std::string& name, const std::string& passphrase,
                                         std::int64_t nowMs) {
    return m_impl->access.signIn(name, passphrase, nowMs);
}
Result<std::int64_t> ProgramFile::signInWait(std::int64_t nowMs) {
    return m_impl->access.wait(nowMs);
}
Result<std::string> ProgramFile::recover(const std::string& code, const std::string& name,
                                         const std::string& passphrase, std::int64_t nowMs) {
    return m_impl->access.recover(code, name, passphrase, nowMs);
}
void ProgramFile::setPassphraseCost(PassphraseCost cost) {
    m_impl->access.setCost(cost);
}

Result<std::optional<std::string>> ProgramFile::fact(const std::string& key) {
    return m_impl->people.fact(key);
}
Result<std::vector<std::pair<std::string, std::string>>> ProgramFile::facts() {
    return m_impl->people.facts();
}
Result<void> ProgramFile::setFact(const std::string& key, const std::string& value) {
    if (auto good = core::mayChangeFact(m_impl->acting, key); !good) return core::fail(good.error());
    return m_impl->people.setFact(key, value);
}

Result<std::vector<core::Trainee>> ProgramFile::trainees() {
    return m_impl->people.trainees();
}
Result<std::optional<core::Trainee>> ProgramFile::trainee(const std::string& key) {
    return m_impl->people.trainee(key);
}
Result<void> ProgramFile::saveTrainee(const core::Trainee& trainee) {
    if (auto good = m_impl->may(core::Deed::ChangePeople); !good) return core::fail(good.error());
    return m_impl->people.save(trainee);
}
Result<std::vector<core::Instructor>> ProgramFile::instructors() {
    return m_impl->people.instructors();
}
Result<void> ProgramFile::saveInstructor(const core::Instructor& instructor) {
    if (auto good = m_impl->may(core::Deed::ChangePeople); !good) return core::fail(good.error());
    return m_impl->people.save(instructor);
}
Result<std::vector<core::Bus>> ProgramFile::buses() {
    return m_impl->people.buses();
}
Result<void> ProgramFile::saveBus(const core::Bus& bus) {
    if (auto good = m_impl->may(core::Deed::ChangePeople); !good) return core::fail(good.error());
    return m_impl->people.save(bus);
}

Result<std::vector<core::ClockHours>> ProgramFile::clockHours(const Whose& trainee) {
    return m_impl->training.clockHours(trainee);
}
Result<Added> ProgramFile::addClockHours(const core::ClockHours& hours) {
    if (auto good = m_impl->may(core::Deed::NoteTraining); !good) return core::fail(good.error());
    if (!hours.instructor.empty() && !core::isOwn(m_impl->acting, hours.instructor))
        return core::fail(core::ErrorKind::Refused,
                          "only a coordinator may put clock hours on file that another instructor taught");
    return m_impl->training.add(hours);
}
Result<std::vector<core::BookedTest>> ProgramFile::bookedTests(const Whose& trainee) {
    return m_impl->training.bookedTests(trainee);
}
Result<Added> ProgramFile::addBookedTest(const core::BookedTest& test) {
    if (auto good = m_impl->may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    return m_impl->training.add(test);
}
Result<std::vector<core::Absence>> ProgramFile::absences(const Whose& trainee) {
    return m_impl->training.absences(trainee);
}
Result<Added> ProgramFile::addAbsence(const core::Absence& absence) {
    if (auto good = m_impl->may(core::Deed::NoteTraining); !good) return core::fail(good.error());
    return m_impl->training.add(absence);
}
Result<std::vector<core::Licence>> ProgramFile::licences(const Whose& trainee) {
    return m_impl->training.licences(trainee);
}
Result<void> ProgramFile::saveLicence(const core::Licence& licence) {
    if (auto good = m_impl->may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    return m_impl->training.save(licence);
}
Result<std::vector<core::Course>> ProgramFile::courses(const Whose& trainee) {
    return m_impl->training.courses(trainee);
}
Result<void> ProgramFile::saveCourse(const core::Course& course) {
    if (auto good = m_impl->may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    return m_impl->training.save(course);
}
Result<std::vector<core::PersonFile>> ProgramFile::personFiles() {
    auto trainees = m_impl->people.trainees();
    if (!trainees) return core::fail(trainees.error());
    return m_impl->personFiles(std::move(*trainees), {});
}
Result<std::optional<core::PersonFile>> ProgramFile::personFile(const std::string& key) {
    auto trainee = m_impl->people.trainee(key);
    if (!trainee) return core::fail(trainee.error());
    if (!*trainee) return std::optional<core::PersonFile>{};
    auto files = m_impl->personFiles({**trainee}, key);
    if (!files) return core::fail(files.error());
    return std::optional(std::move(files->front()));
}

Result<Added> ProgramFile::addRubric(const std::string& yaml, const std::string& name) {
    if (auto good = m_impl->may(core::Deed::ChangeRubrics); !good) return core::fail(good.error());
    return m_impl->rubrics.add(yaml, name);
}
Result<std::vector<RubricInfo>> ProgramFile::rubrics() {
    return m_impl->rubrics.list();
}
Result<std::shared_ptr<const core::Rubric>> ProgramFile::rubric(const std::string& id, int edition) {
    return m_impl->rubrics.rubric(id, edition);
}
Result<std::string> ProgramFile::rubricText(const std::string& id, int edition) {
    return m_impl->rubrics.text(id, edition);
}
Result<Added> ProgramFile::addLimitSet(const std::string& yaml, const std::string& name) {
    if (auto good = m_impl->may(core::Deed::ChangeRubrics); !good) return core::fail(good.error());
    return m_impl->rubrics.addLimitSet(yaml, name);
}
Result<std::vector<core::LimitSet>> ProgramFile::limitSets() {
    return m_impl->rubrics.limitSets();
}
Result<std::string> ProgramFile::limitSetText(const std::string& id) {
    return m_impl->rubrics.limitSetText(id);
}

Result<std::vector<AttemptInfo>> ProgramFile::attempts(const std::optional<std::string>& trainee) {
    auto list = m_impl->attempts.list(trainee);
    if (list && m_impl->guarded())
        std::erase_if(
            *list, [this](const AttemptInfo& info) { return !core::isOwn(m_impl->acting, info.instructor); });
    return list;
}
Result<std::optional<AttemptInfo>> ProgramFile::attemptInfo(const std::string& id) {
    return m_impl->ownInfo(id);
}
Result<core::Attempt> ProgramFile::attempt(const std::string& id) {
    auto attempt = m_impl->attempts.attempt(id);
    if (m_impl->guarded() && (!attempt ? attempt.error().kind == core::ErrorKind::NotFound
                                       : !core::isOwn(m_impl->acting, attempt->header.instructor)))
        return Impl::notTheirs(id);
    return attempt;
}
Result<Added> ProgramFile::addAttempt(const core::Attempt& attempt) {
    if (auto good = m_impl->mayScoreAs(attempt.header.instructor); !good) return core::fail(good.error());
    return m_impl->attempts.add(attempt);
}
Result<void> ProgramFile::startAttempt(const core::AttemptHeader& header) {
    if (auto good = m_impl->mayScoreAs(header.instructor); !good) return core::fail(good.error());
    return m_impl->attempts.start(header);
}
Result<void> ProgramFile::appendEvents(const std::string& attemptId, std::span<const core::Event> events) {
    if (auto good = m_impl->mayAlter(attemptId); !good) return core::fail(good.error());
    return m_impl->attempts.append(attemptId, events);
}
Result<void> ProgramFile::setAside(const std::string& attemptId, bool aside) {
    if (auto good = m_impl->mayAlter(attemptId); !good) return core::fail(good.error());
    return m_impl->attempts.setAside(attemptId, aside);
}
Result<void> ProgramFile::refreshProjection(const std::string& attemptId) {
    return m_impl->attempts.refresh(attemptId);
}
Result<void> ProgramFile::refillProjections(const std::function<bool(double)>& progress) {
    return m_impl->attempts.refill(progress);
}

Result<std::vector<std::string>> ProgramFile::wrongFigures() {
    return m_impl->attempts.wrongFigures();
}

Result<std::vector<core::FrozenForecast>> ProgramFile::forecasts() {
    return m_impl->readiness.forecasts();
}
Result<Added> ProgramFile::addForecast(const core::FrozenForecast& forecast) {
    if (auto good = m_impl->may(core::Deed::Score); !good) return core::fail(good.error());
    return m_impl->readiness.add(forecast);
}
Result<std::vector<core::Override>> ProgramFile::overrides() {
    return m_impl->readiness.overrides();
}
Result<Added> ProgramFile::addOverride(const core::Override& override_) {
    if (auto good = m_impl->may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    return m_impl->readiness.add(override_);
}
Result<std::vector<core::TestResult>> ProgramFile::testResults(const Whose& trainee) {
    return m_impl->readiness.testResults(trainee);
}
Result<std::vector<core::TestResult>> ProgramFile::allTestResults() {
    return m_impl->readiness.allTestResults();
}
Result<std::vector<core::StruckResult>> ProgramFile::struckResults() {
    return m_impl->training.struckResults();
}
Result<Added> ProgramFile::addStruckResult(const core::StruckResult& strike) {
    if (auto good = m_impl->may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    return m_impl->training.add(strike);
}
Result<Added> ProgramFile::addTestResult(const core::TestResult& result) {
    if (auto good = m_impl->may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    return m_impl->readiness.add(result);
}
Result<std::vector<core::Settlement>> ProgramFile::settlements() {
    return m_impl->settlements.settlements();
}
Result<Added> ProgramFile::addSettlement(const core::Settlement& settlement) {
    if (auto good = m_impl->may(core::Deed::Settle); !good) return core::fail(good.error());
    return m_impl->settlements.add(settlement);
}
Result<std::vector<core::SheetRecord>> ProgramFile::sheetRecords(const std::optional<std::string>& attempt) {
    return m_impl->sheets.records(attempt);
}
Result<Added> ProgramFile::addSheetRecord(const core::SheetRecord& record) {
    if (auto good = m_impl->mayAlter(record.attempt); !good) return core::fail(good.error());
    return m_impl->sheets.add(record);
}
Result<std::vector<core::TrailEntry>> ProgramFile::trail() {
    if (auto good = m_impl->may(core::Deed::SeeProgram); !good) return core::fail(good.error());
    return m_impl->trail.entries();
}
Result<std::shared_ptr<const core::PracticeRecord>> ProgramFile::practiceRecord(
    const std::function<bool(double)>& progress, const ScoredSeen& seen) {
    return m_impl->readiness.practiceRecord(progress, seen);
}

Result<std::vector<core::LastRecord>> ProgramFile::lastRecords() {
    return m_impl->eraser().lastRecords();
}
Result<core::Erased> ProgramFile::eraseTrainee(const std::string& trainee) {
    if (auto good = m_impl->may(core::Deed::Erase); !good) return core::fail(good.error());
    auto erased = m_impl->eraser().erase(trainee);
    m_impl->attempts.forget();
    return erased;
}

Result<void> ProgramFile::transaction(const std::function<Result<void>()>& body) {
    return m_impl->connection->transaction(body);
}

}  // namespace markerlamp::db
