// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a program file says about second scorings, and what stays hidden while one is open.

#include "shared_yard.h"

#include "app/agreement/agreement_model.h"
#include "app/agreement/agreement_tables.h"
#include "app/agreement/difference_table.h"
#include "app/start/second_scoring_dialog.h"
#include "app/support/blind.h"
#include "app/support/display.h"
#include "app/support/trainee_history.h"
#include "core/agreement/attempt_code.h"
#include "db/exchange/exchange.h"

#include <QSignalSpy>
#include <QTemporaryDir>

namespace markerlamp::testing {
namespace {

class AgreementOnFile : public ::testing::Test {
protected:
    [[nodiscard]] std::filesystem::path at(const char* name) const {
        return (m_dir.path() + QLatin1Char('/') + QLatin1String(name)).toStdString();
    }
    void read() {
        auto read = app::readAgreement(*m_file);
        ASSERT_TRUE(read) << read.error().message;
        m_model.setAgreement(std::make_shared<const app::ProgramAgreement>(std::move(*read)),
                             {{{"i-1", QStringLiteral("Carla Crane")}, {"i-2", QStringLiteral("Bert Brook")}},
                              {{"t-1", QStringLiteral("Ada Example")}}});
    }
    [[nodiscard]] std::set<std::string> hidden() { return app::hiddenFrom(m_file->attempts().value()); }

    QTemporaryDir m_dir;
    std::unique_ptr<db::ProgramFile> m_file = yardProgram(at("p.markerlamp"));
    app::AgreementModel m_model;
};

TEST_F(AgreementOnFile, PairsByIdAndByCode) {
    addPair(*m_file);
    const std::string other = "00000000-0000-4000-8000-000000000009";
    ASSERT_TRUE(m_file->addAttempt(
        scoringOf(other, core::attemptCode(kOne), "i-2", "2026-02-02T08:00:05-05:00", {"lamps"})));
    const auto agreement = app::readAgreement(*m_file).value();
    ASSERT_EQ(agreement.pairs.size(), 2u);
    for (const app::PairOnFile& pair : agreement.pairs) EXPECT_EQ(pair.first.attempt.header.id, kOne);
    EXPECT_TRUE(agreement.waiting.empty());
    EXPECT_EQ(agreement.instructors, 2);
    EXPECT_EQ(agreement.shown.attempts, 2);
}

TEST_F(AgreementOnFile, WhatCannotBeComparedYetSaysWhy) {
    ASSERT_TRUE(m_file->addAttempt(scoringOf(kTwo, core::attemptCode(kOne), "i-2", kMorning, {"lamps"})));
    auto agreement = app::readAgreement(*m_file).value();
    EXPECT_TRUE(agreement.pairs.empty());
    ASSERT_EQ(agreement.waiting.size(), 1u);
    EXPECT_EQ(agreement.waiting[0].why, app::WaitingScoring::Why::FirstMissing);
    const QString words = app::waitingWords(agreement.waiting);
    EXPECT_TRUE(words.contains(app::qs(core::attemptCode(kOne)))) << words.toStdString();
    EXPECT_TRUE(words.contains(QStringLiteral("import")));
    // The first one comes by file, still running on its machine: nothing of the second is shown.
    ASSERT_TRUE(m_file->addAttempt(stillOpen(scoringOf(kOne, {}, "i-1", kMorning, kYardSteps))));
    agreement = app::readAgreement(*m_file).value();
    EXPECT_EQ(agreement.waiting.at(0).why, app::WaitingScoring::Why::FirstOpen);
    EXPECT_EQ(hidden(), (std::set<std::string>{kTwo}));
    core::Event end;
    end.n = 4;
    end.t = 9;
    end.kind = core::EventKind::End;
    ASSERT_TRUE(m_file->appendEvents(kOne, std::vector{end}));
    EXPECT_EQ(app::readAgreement(*m_file)->pairs.size(), 1u);
    EXPECT_TRUE(hidden().empty());
}

TEST_F(AgreementOnFile, TheFirstIsHiddenWhileTheSecondIsOpen) {
    ASSERT_TRUE(m_file->addAttempt(scoringOf(kOne, {}, "i-1", kMorning, kYardSteps)));
    EXPECT_TRUE(hidden().empty());
    ASSERT_TRUE(m_file->addAttempt(stillOpen(scoringOf(kTwo, kOne, "i-2", kMorning, {"lamps"}))));
    EXPECT_EQ(hidden(), (std::set<std::string>{kOne}));
    EXPECT_TRUE(app::readAgreement(*m_file)->pairs.empty());
    // Neither in the trainee's history nor on paper.
    const auto scorers = app::scorersOf(*m_file);
    EXPECT_TRUE(app::traineeHistory(*m_file, scorers, "t-1")->empty());
    const auto sheet = app::progressSheetInput(*m_file, scorers, "t-1", kOne);
    ASSERT_FALSE(sheet);
    EXPECT_EQ(sheet.error().message, app::hiddenReason());
    // Set aside, it holds nobody up.
    ASSERT_TRUE(m_file->setAside(kTwo));
    EXPECT_TRUE(hidden().empty());
    EXPECT_EQ(app::traineeHistory(*m_file, scorers, "t-1")->size(), 1u);
}

TEST_F(AgreementOnFile, SettlingMakesAThirdRecordThatCountsForNobody) {
    addPair(*m_file);
    read();
    ASSERT_EQ(m_model.compared().differences.size(), 1u);
    EXPECT_EQ(m_model.open(), 1);
    EXPECT_FALSE(m_model.changed());
    EXPECT_FALSE(m_model.settle("i-1", "2026-02-03T08:00:00-05:00")) << "nothing was chosen";
    const QSignalSpy chosen(&m_model, &app::AgreementModel::chosen);
    m_model.choose("hoses", core::Choice::Second);
    m_model.setReason("hoses", QStringLiteral(" seen on the video "));
    EXPECT_EQ(chosen.count(), 1);
    EXPECT_EQ(m_model.open(), 0);
    EXPECT_FALSE(m_model.settle("", "2026-02-03T08:00:00-05:00")) << "nobody settles";
    const auto made = m_model.settle("i-1", "2026-02-03T08:00:00-05:00");
    ASSERT_TRUE(made) << made.error().message;
    EXPECT_EQ(made->second.secondRight, std::vector<std::string>{"hoses"});
    ASSERT_TRUE(app::storeSettlement(*m_file, made->first, made->second));

    // All three are there; one is practice, and two are scorings.
    EXPECT_EQ(m_file->attempts()->size(), 3u);
    EXPECT_EQ(m_file->practiceRecord().value()->attempts().size(), 1u);
    EXPECT_EQ(app::traineeHistory(*m_file, app::scorersOf(*m_file), "t-1")->size(), 1u);
    EXPECT_EQ(app::scoringsToCompare(*m_file)->size(), 2u);
    read();
    ASSERT_EQ(m_model.pairs(), 1);
    EXPECT_EQ(m_model.pair()->settled->id, made->second.id);
    EXPECT_EQ(m_model.settling("hoses").choice, core::Choice::Second);
    EXPECT_EQ(m_model.settling("hoses").reason, "seen on the video");
    EXPECT_FALSE(m_model.changed());
    // Another model, as after the next start, finds the same on file.
    app::AgreementModel again;
    again.setAgreement(std::make_shared<const app::ProgramAgreement>(app::readAgreement(*m_file).value()),
                       {});
    EXPECT_EQ(again.settling("hoses"), m_model.settling("hoses"));
    EXPECT_FALSE(again.changed());

    // Out and in again: the same file says the same.
    ASSERT_TRUE(db::exportTo(*m_file, at("out")));
    auto other = db::ProgramFile::create(at("q.markerlamp")).value();
    ASSERT_TRUE(db::importPaths(*other, {at("out")})->allAccepted());
    EXPECT_EQ(app::readAgreement(*other)->pairs.at(0).settled, m_model.pair()->settled);
    EXPECT_EQ(app::scoringsToCompare(*other)->size(), 2u);
}

TEST_F(AgreementOnFile, WhatNeitherHadRightComesBackAsItWasChosen) {
    addPair(*m_file);
    read();
    m_model.chooseOther("hoses", {false, false, false, {}});
    const auto made = m_model.settle("i-2", "2026-02-03T08:00:00-05:00").value();
    EXPECT_EQ(made.second.other, std::vector<std::string>{"hoses"});
    ASSERT_TRUE(app::storeSettlement(*m_file, made.first, made.second));
    app::AgreementModel again;
    again.setAgreement(std::make_shared<const app::ProgramAgreement>(app::readAgreement(*m_file).value()),
                       {});
    EXPECT_EQ(again.settling("hoses").choice, core::Choice::Other);
    EXPECT_FALSE(again.settling("hoses").other.observed);
}

TEST_F(AgreementOnFile, NamesCanBeHidden) {
    addPair(*m_file);
    read();
    EXPECT_EQ(m_model.firstMark(), QStringLiteral("CC"));
    EXPECT_EQ(m_model.secondMark(), QStringLiteral("BB"));
    EXPECT_TRUE(app::pairFacts(m_model).join(QLatin1Char(' ')).contains(QStringLiteral("Ada Example")));
    m_model.setNamesHidden(true);
    QString all = app::pairFacts(m_model).join(QLatin1Char(' ')) + m_model.pairTitle(0);
    for (const app::Row& row : app::differenceRows(m_model))
        for (const app::Cell& cell : row.cells) all += cell.text + cell.tip;
    for (const app::Row& row : app::pairsTable(m_model).rows)
        for (const app::Cell& cell : row.cells) all += cell.text;
    for (const char* name : {"Ada", "Carla", "Bert", "CC", "BB"})
        EXPECT_FALSE(all.contains(QLatin1String(name))) << name << " in " << all.toStdString();
    EXPECT_EQ(m_model.firstMark(), QStringLiteral("A"));
    EXPECT_EQ(m_model.secondMark(), QStringLiteral("B"));
}

TEST_F(AgreementOnFile, OneInstructorTwiceIsToldApart) {
    ASSERT_TRUE(m_file->addAttempt(scoringOf(kOne, {}, "i-1", kMorning, kYardSteps)));
    ASSERT_TRUE(m_file->addAttempt(scoringOf(kTwo, kOne, "i-1", "2026-02-05T08:00:00-05:00", {"lamps"})));
    read();
    EXPECT_NE(m_model.firstMark(), m_model.secondMark());
    EXPECT_TRUE(app::pairFacts(m_model).join(QLatin1Char(' ')).contains(QStringLiteral("later")));
}

TEST_F(AgreementOnFile, CountsComeFirstAndUndefinedStaysUndefined) {
    addPair(*m_file);
    read();
    const QString words =
        app::agreementWords(m_model.shown(), m_model.said(), QStringLiteral("CC"), QStringLiteral("BB"));
    // Lamps and horn by both, hoses by the first alone.
    EXPECT_TRUE(words.startsWith(QStringLiteral("Shown: both yes 2, only CC 1, only BB 0, both no 0")))
        << words.toStdString();
    EXPECT_TRUE(words.contains(QStringLiteral("no step that both observed")))
        << "the yard has nothing to say";
    const app::DataTable table = app::agreementTable(QString(), m_model.shown(), m_model.said());
    EXPECT_EQ(table.rows.back().cells[1].text, QStringLiteral("steps"));
    EXPECT_EQ(table.rows[6].cells[2].text, QStringLiteral("undefined"));
}

TEST(SecondScoring, TakesEverythingOfTheFirstButTheInstructor) {
    const core::AttemptHeader first = scoringOf(kOne, {}, "i-1", kMorning, {}).header;
    const auto header = app::secondHeader(first, "i-2", "2026-02-03T08:00:00-05:00");
    ASSERT_TRUE(header);
    EXPECT_NE(header->id, first.id);
    EXPECT_EQ(header->of, first.id);
    EXPECT_EQ(header->instructor, "i-2");
    EXPECT_EQ(header->zones, first.zones);
    EXPECT_EQ(header->trainee, first.trainee);
    EXPECT_FALSE(app::secondHeader(first, "i-1", kMorning));
    EXPECT_FALSE(app::secondHeader(first, "", kMorning));
}

TEST_F(AgreementOnFile, AttemptsAreFoundByCodeOrWords) {
    addPair(*m_file);
    const auto choices = app::firstChoices(m_file->attempts().value(), m_file->trainees().value(),
                                           m_file->instructors().value());
    ASSERT_EQ(choices.size(), 1u) << "a second scoring is not scored a second time";
    const QString code = app::qs(core::attemptCode(kOne));
    EXPECT_EQ(choices[0].code, code);
    EXPECT_EQ(app::findChoices(choices, code.toLower()).size(), 1u);
    EXPECT_EQ(app::findChoices(choices, code.left(3)).size(), 1u);
    EXPECT_EQ(app::findChoices(choices, QStringLiteral("ada crane")).size(), 1u);
    EXPECT_TRUE(app::findChoices(choices, QStringLiteral("ada brook")).empty());
    EXPECT_EQ(app::findChoices(choices, QString()).size(), 1u);
}

}  // namespace
}  // namespace markerlamp::testing
