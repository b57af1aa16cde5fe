#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One program file (*.markerlamp): a SQLite database with everything of a training program. Opens, migrates,
// reads and writes core values. Not thread-safe: one ProgramFile per thread; several on the same file work
// together (WAL).

#include "core/access/accounts.h"
#include "core/access/deeds.h"
#include "core/agreement/settlement.h"
#include "core/attempt/attempt.h"
#include "core/base/result.h"
#include "core/history/sheet_record.h"
#include "core/people/keeping.h"
#include "core/people/people.h"
#include "core/people/person_file.h"
#include "core/people/training.h"
#include "core/readiness/practice_record.h"
#include "core/readiness/readiness_records.h"
#include "core/rubric/rubric.h"
#include "core/rubric/rubric_reader.h"
#include "core/scoring/scorecard.h"
#include "core/trail/trail.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace markerlamp::db {

enum class OpenMode { ReadWrite, ReadOnly };

struct RubricInfo {
    std::string id;
    int edition = 1;
    std::string title;
    bool used = false;  ///< an attempt was scored with it
};

/// Where an attempt stands.
enum class AttemptState { Open, SetAside, Ended };

/// One row of a list: header facts and the figures of the last known scorecard (a projection, refilled when
/// needed).
struct AttemptInfo {
    std::string id;
    std::string trainee;
    std::string instructor;
    std::string bus;
    std::string rubric;
    int edition = 1;
    std::string started;  ///< as written in the header
    std::string of;
    AttemptState state = AttemptState::Open;
    core::AttemptResult result = core::AttemptResult::Incomplete;
    double percent = 0;
    int earned = 0;
    int possible = 0;
    double shownPercent = 100;
    double saidPercent = 100;
    double orderPercent = 100;
    double seconds = 0;
    int stepsScored = 0;  ///< steps in scope that are not dark
    int stepsInScope = 0;
    bool amended = false;
    bool partial = false;  ///< not all zones of the rubric

    bool operator==(const AttemptInfo&) const = default;
};

/// How much work a passphrase is to whoever tries: what libsodium calls interactive, or the least that there
/// is (for tests).
enum class PassphraseCost { Usual, Least };

/// What became of one record that was offered.
enum class Added { New, AlreadyThere };

/// An attempt while it is in memory, with its rubric and its scorecard.
using ScoredSeen = std::function<void(const std::shared_ptr<const core::Rubric>&, const core::Attempt&,
                                      const core::Scorecard&)>;

class ProgramFile {
public:
    /// Makes a new file (mode 0600) with today's schema. Refuses to overwrite.
    static core::Result<std::unique_ptr<ProgramFile>> create(const std::filesystem::path& path);
    /// Opens and, when the schema is older, makes a verified copy beside it and migrates; ReadOnly reads an
    /// older file as it is, where what its form does not have yet is empty. Refuses files that are not ours
    /// (application_id) or newer than this program.
    static core::Result<std::unique_ptr<ProgramFile>> open(const std::filesystem::path& path,
                                                           OpenMode mode = OpenMode::ReadWrite);
    ~ProgramFile();
    ProgramFile(const ProgramFile&) = delete;
    ProgramFile& operator=(const ProgramFile&) = delete;

    [[nodiscard]] const std::filesystem::path& path() const;
    /// Who makes the changes that follow: the trail writes the name down, and what core/access/deeds.h does
    /// not let them do is refused. Nobody in particular at first, who may do everything: whoever opens a file
    /// with accounts asks for one of them before anything is shown.
    void actAs(core::Acting acting);
    [[nodiscard]] const core::Acting& acting() const;
    [[nodiscard]] core::Result<void> may(core::Deed deed) const;
    /// Whether this attempt may be amended or set aside by who acts.
    core::Result<void> mayAlter(const std::string& attemptId);

    // Signing in. Sign-in is in use while there are accounts.
    core::Result<std::vector<core::Account>> accounts();  ///< by name
    /// The first account, a coordinator's. Returns the recovery code, which is kept nowhere.
    core::Result<std::string> startSignIn(const core::Account& coordinator, const std::string& passphrase);
    /// Inserts or replaces by name; without a passphrase the stored one stays. The only coordinator stays
    /// one. Whoever may not manage accounts may give their own a new passphrase, and nothing else.
    core::Result<void> saveAccount(const core::Account& account,
                                   const std::optional<std::string>& passphrase = {});
    core::Result<void> removeAccount(const std::string& name);
    core::Result<void> endSignIn();               ///< all accounts and the recovery code go
    core::Result<std::string> newRecoveryCode();  ///< the one before is good for nothing then
    /// Who it is; does not act as them. The same error for a wrong name and a wrong passphrase, after the
    /// same work. Every try is on disk as a failure before it is looked at, and refused while signInWait()
    /// lasts.
    core::Result<core::Acting> signIn(const std::string& name, const std::string& passphrase,
                                      std::int64_t nowMs);
    core::Result<std::int64_t> signInWait(std::int64_t nowMs);  ///< milliseconds until the next try
    /// A new passphrase for this coordinator, who is made where there is none, by the recovery code; as slow
    /// to guess as signIn(). Returns the next recovery code.
    core::Result<std::string> recover(const std::string& code, const std::string& name,
                                      const std::string& passphrase, std::int64_t nowMs);
    void setPassphraseCost(PassphraseCost cost);

    /// Title of the program ("Pinewater Unified, driver training"); and other small facts by key (program.*,
    /// ui.*).
    core::Result<std::optional<std::string>> fact(const std::string& key);
    core::Result<std::vector<std::pair<std::string, std::string>>> facts();  ///< all, sorted by key
    core::Result<void> setFact(const std::string& key, const std::string& value);

    // People and buses. save: inserts or replaces by key; a complete entry clears toComplete.
    core::Result<std::vector<core::Trainee>> trainees();
    core::Result<std::optional<core::Trainee>> trainee(const std::string& key);
    core::Result<void> saveTrainee(const core::Trainee& trainee);
    core::Result<std::vector<core::Instructor>> instructors();
    core::Result<void> saveInstructor(const core::Instructor& instructor);
    core::Result<std::vector<core::Bus>> buses();
    core::Result<void> saveBus(const core::Bus& bus);

    // What is kept of trainees besides. Records are added and never changed, as those of readiness below: a
    // correction is a record that replaces one. All, or those of one trainee, by date and id.
    using Whose = std::optional<std::string>;
    core::Result<std::vector<core::ClockHours>> clockHours(const Whose& trainee = {});
    core::Result<Added> addClockHours(const core::ClockHours& hours);
    core::Result<std::vector<core::BookedTest>> bookedTests(const Whose& trainee = {});
    core::Result<Added> addBookedTest(const core::BookedTest& test);
    core::Result<std::vector<core::Absence>> absences(const Whose& trainee = {});
    core::Result<Added> addAbsence(const core::Absence& absence);
    // Entries that may change; saving one that says nothing takes it out.
    core::Result<std::vector<core::Licence>> licences(const Whose& trainee = {});
    core::Result<void> saveLicence(const core::Licence& licence);
    core::Result<std::vector<core::Course>> courses(const Whose& trainee = {});
    core::Result<void> saveCourse(const core::Course& course);
    /// All of it that stands, one for each trainee by key. The second: nothing for a key that is not known.
    core::Result<std::vector<core::PersonFile>> personFiles();
    core::Result<std::optional<core::PersonFile>> personFile(const std::string& trainee);

    // Rubrics: whole documents, immutable once stored. Another text under the same id and edition:
    // ErrorKind::Conflict.
    core::Result<Added> addRubric(const std::string& yaml, const std::string& name = {});
    core::Result<std::vector<RubricInfo>> rubrics();
    /// Parsed and cached for the life of this object.
    core::Result<std::shared_ptr<const core::Rubric>> rubric(const std::string& id, int edition);
    core::Result<std::string> rubricText(const std::string& id, int edition);
    core::Result<Added> addLimitSet(const std::string& yaml, const std::string& name = {});
    core::Result<std::vector<core::LimitSet>> limitSets();
    core::Result<std::string> limitSetText(const std::string& id);

    // Attempts. Who acts as an instructor gets their own only; what is worked out over all (readiness, the
    // practice record, figures) still is.
    /// All, or those of one trainee; newest first by start.
    core::Result<std::vector<AttemptInfo>> attempts(const std::optional<std::string>& trainee = {});
    core::Result<std::optional<AttemptInfo>> attemptInfo(const std::string& id);
    core::Result<core::Attempt> attempt(const std::string& id);
    /// A whole document. Checks it against its rubric, makes entries for people and buses it names and the
    /// file does not know. Same id and same content: AlreadyThere; other content: Conflict, the stored one
    /// unchanged.
    core::Result<Added> addAttempt(const core::Attempt& attempt);
    core::Result<void> startAttempt(const core::AttemptHeader& header);
    /// One committed, synced transaction; n must go on from the last stored event. An end event ends the
    /// attempt.
    core::Result<void> appendEvents(const std::string& attemptId, std::span<const core::Event> events);
    core::Result<void> setAside(const std::string& attemptId, bool aside = true);
    /// Refreshes the list figures of one attempt from its events.
    core::Result<void> refreshProjection(const std::string& attemptId);
    /// Drops and refills all of them; progress in [0, 1], return false to stop.
    core::Result<void> refillProjections(const std::function<bool(double)>& progress = {});
    /// Ids of attempts whose stored list figures are not what their events give.
    core::Result<std::vector<std::string>> wrongFigures();

    // Readiness: records that are added and never changed. Same id and same content: AlreadyThere; other
    // content: Conflict.
    core::Result<std::vector<core::FrozenForecast>> forecasts();  ///< oldest first
    core::Result<Added> addForecast(const core::FrozenForecast& forecast);
    core::Result<std::vector<core::Override>> overrides();  ///< oldest first
    core::Result<Added> addOverride(const core::Override& override_);
    /// By date, then id, without those that were struck; the second: with them.
    core::Result<std::vector<core::TestResult>> testResults(const Whose& trainee = {});
    core::Result<std::vector<core::TestResult>> allTestResults();
    core::Result<Added> addTestResult(const core::TestResult& result);
    core::Result<std::vector<core::StruckResult>> struckResults();  ///< by id
    core::Result<Added> addStruckResult(const core::StruckResult& strike);
    // What two instructors settled after a second scoring. Added and never changed, likewise.
    core::Result<std::vector<core::Settlement>> settlements();  ///< oldest first
    core::Result<Added> addSettlement(const core::Settlement& settlement);
    // What became of the paper of attempts. Added and never changed, likewise.
    /// Of all attempts or of one; oldest first.
    core::Result<std::vector<core::SheetRecord>> sheetRecords(const std::optional<std::string>& attempt = {});
    core::Result<Added> addSheetRecord(const core::SheetRecord& record);
    // Who changed what and when: every change to people, results, rubrics and settings, and to an attempt
    // after its end; each of them adds to it.
    core::Result<std::vector<core::TrailEntry>> trail();  ///< by number
    /// What all ended first scorings say about who can do what; scores each anew. Stopped by progress:
    /// nullptr.
    /// @param seen told of each attempt that counts, in the order in which they came into the file; nothing
    /// of
    ///             it is kept afterwards
    core::Result<std::shared_ptr<const core::PracticeRecord>> practiceRecord(
        const std::function<bool(double)>& progress = {}, const ScoredSeen& seen = {});

    /// The newest day that any record of a trainee bears, for each who has one.
    core::Result<std::vector<core::LastRecord>> lastRecords();
    /// Takes name, papers and all words about the trainee out of the file and its log, and removes the copies
    /// that this program made; the marks stay under a key that says nothing. For good. A copy without the
    /// person is made afterwards.
    core::Result<core::Erased> eraseTrainee(const std::string& trainee);

    /// Runs `body` in one transaction; an error return rolls back.
    core::Result<void> transaction(const std::function<core::Result<void>()>& body);

private:
    struct Impl;
    explicit ProgramFile(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> m_impl;
};

}  // namespace markerlamp::db
