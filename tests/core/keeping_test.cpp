// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/keeping.h"

#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

Trainee named(const std::string& key) {
    Trainee trainee;
    trainee.key = trainee.name = key;
    return trainee;
}

TEST(Keeping, RecordsAreKeptThreeYearsFromTheNewest) {
    // 49 CFR 380.725: at least three years from the date on which a record is made or received.
    const std::vector<Trainee> trainees{named("t-1"), named("t-2"), named("t-3"), named("erased-12")};
    const std::vector<LastRecord> last{{"t-1", "2023-11-28"}, {"t-2", "2023-11-29"}};
    const auto rows = keepRows(trainees, last, "2026-11-28", {});
    ASSERT_EQ(rows.size(), 3u) << "who was erased is not asked about again";
    EXPECT_EQ(rows[0].trainee, "t-3");
    EXPECT_TRUE(rows[0].may) << "nothing is on record";
    EXPECT_EQ(rows[1].from, "2026-11-28");
    EXPECT_TRUE(rows[1].may);
    EXPECT_EQ(rows[2].from, "2026-11-29");
    EXPECT_FALSE(rows[2].may);
    PeopleSettings longer;
    longer.keepYears = 5;
    EXPECT_EQ(keepRows(trainees, last, "2026-11-28", longer)[1].from, "2028-11-28");
    longer.keepYears = 0;
    EXPECT_TRUE(keepRows(trainees, last, "2026-11-28", longer)[2].may);
}

TEST(Keeping, ALeapDayEndsOnTheLastOfFebruary) {
    EXPECT_EQ(keepRows({named("t-1")}, {{"t-1", "2024-02-29"}}, "2026-11-28", {})[0].from, "2027-02-28");
}

}  // namespace
}  // namespace markerlamp::core
