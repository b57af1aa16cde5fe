// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which second scorings wait to be settled, and who stands on the program page at all.

#include "../agreement/shared_yard.h"

#include "app/agreement/agreement_model.h"
#include "app/program/program_view.h"
#include "app/readiness/readiness_desk.h"

#include <QTemporaryDir>

namespace markerlamp::testing {
namespace {

class OnTheProgramPage : public ::testing::Test {
protected:
    [[nodiscard]] std::filesystem::path at(const char* name) const {
        return (m_dir.path() + QLatin1Char('/') + QLatin1String(name)).toStdString();
    }
    std::vector<app::OpenPair> open() {
        return app::openPairs(*m_file, [] { return true; }).value();
    }

    QTemporaryDir m_dir;
    std::unique_ptr<db::ProgramFile> m_file = yardProgram(at("p.markerlamp"));
};

TEST_F(OnTheProgramPage, APairThatDiffersIsOpenUntilItIsSettled) {
    EXPECT_TRUE(open().empty());
    addPair(*m_file);
    auto pairs = open();
    ASSERT_EQ(pairs.size(), 1U);
    EXPECT_EQ(pairs[0].trainee, "t-1");
    EXPECT_EQ(pairs[0].first, kOne);
    EXPECT_EQ(pairs[0].second, kTwo);
    EXPECT_TRUE(app::openPairs(*m_file, [] { return false; })->empty()) << "stopped";

    app::AgreementModel model;
    auto read = app::readAgreement(*m_file);
    ASSERT_TRUE(read);
    model.setAgreement(std::make_shared<const app::ProgramAgreement>(std::move(*read)), {});
    model.choose("hoses", core::Choice::First);
    const auto settled = model.settle("i-1", "2026-02-03T08:00:00-05:00");
    ASSERT_TRUE(settled) << settled.error().message;
    ASSERT_TRUE(app::storeSettlement(*m_file, settled->first, settled->second));
    EXPECT_TRUE(open().empty());
}

TEST_F(OnTheProgramPage, TwoThatAgreeOrOfWhichOneIsOpenAskForNothing) {
    ASSERT_TRUE(m_file->addAttempt(scoringOf(kOne, {}, "i-1", kMorning, kYardSteps)));
    ASSERT_TRUE(m_file->addAttempt(scoringOf(kTwo, kOne, "i-2", kMorning, kYardSteps)));
    EXPECT_TRUE(open().empty()) << "nothing differs";
    const std::string other = "00000000-0000-4000-8000-000000000003";
    ASSERT_TRUE(m_file->addAttempt(stillOpen(scoringOf(other, kOne, "i-2", kMorning, {"lamps"}))));
    EXPECT_TRUE(open().empty()) << "blind until both are closed";
}

TEST_F(OnTheProgramPage, WhoWasErasedStandsNowhere) {
    ASSERT_TRUE(m_file->saveTrainee({"t-2", "Bo Example", "", "", "", "", {}, "", "", "", false}));
    ASSERT_TRUE(m_file->addAttempt(yardAttempt(kOne, "t-2", kMorning, kYardSteps)));
    const auto erased = m_file->eraseTrainee("t-2");
    ASSERT_TRUE(erased) << erased.error().message;
    ASSERT_EQ(m_file->trainees()->size(), 2U) << "the marks stay under another key";
    const auto data = app::readProgram(*m_file);
    ASSERT_TRUE(data);
    ASSERT_EQ(data->people.size(), 1U);
    EXPECT_EQ(data->people[0].trainee.key, "t-1");
    const app::ProgramView view(
        *data,
        [](const QString&) -> const app::ReadinessStanding& {
            static const app::ReadinessStanding none;
            return none;
        },
        QDate(2026, 2, 3));
    EXPECT_EQ(view.rosterRows({}).size(), 1U);
    // The marks stay among the attempts of the week: they say how much was scored.
    EXPECT_EQ(view.attemptsOf({}, -1).size(), 1U);
}

TEST_F(OnTheProgramPage, SheetsAreReadWithTheFile) {
    addPair(*m_file);
    ASSERT_TRUE(m_file->addSheetRecord({"p-1", kOne, core::SheetEvent::Made, "2026-02-02T09:00:00-05:00"}));
    const auto data = app::readProgram(*m_file);
    ASSERT_TRUE(data);
    EXPECT_EQ(data->sheets.at(kOne).made, "2026-02-02T09:00:00-05:00");
}

}  // namespace
}  // namespace markerlamp::testing
