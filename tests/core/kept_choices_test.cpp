// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/kept_choices.h"

#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

TEST(KeptChoices, ComeBackAsTheyWere) {
    OtherMarks marks;
    marks.shown = true;
    marks.prompted = true;
    marks.points = {"limit", "engine-off"};
    OtherMarks nobodySaw;
    nobodySaw.observed = false;
    const Choices choices{{"air-hoses", {Choice::First, {}, {}}},
                          {"belts", {Choice::Second, {}, "said \"twice\",\nsee the video"}},
                          {"fluids", {Choice::Other, marks, "neither"}},
                          {"horn", {Choice::Other, nobodySaw, {}}},
                          {"lamps", {Choice::Open, {}, "not sure yet"}}};
    const auto again = readChoices(writeChoices(choices));
    ASSERT_TRUE(again) << again.error().message;
    EXPECT_EQ(*again, choices);
    EXPECT_EQ(readChoices(writeChoices({}))->size(), 0u);
}

TEST(KeptChoices, RefuseWhatIsNone) {
    const std::string head = "{\"format\":\"markerlamp.choices/1\"}\n";
    for (const char* line :
         {"{\"step\":\"a\",\"choice\":\"third\"}", "{\"choice\":\"first\"}",
          "{\"step\":\"a\",\"choice\":\"first\",\"shown\":true}", "{\"step\":\"a\",\"choice\":\"other\"}",
          "{\"step\":\"a\",\"choice\":\"first\"}\n{\"step\":\"a\",\"choice\":\"second\"}"}) {
        const auto read = readChoices(head + line + "\n", "kept");
        ASSERT_FALSE(read) << line;
        EXPECT_FALSE(read.error().problems.empty()) << line;
        EXPECT_EQ(read.error().problems[0].file, "kept");
    }
    EXPECT_FALSE(readChoices("{\"format\":\"markerlamp.choices/2\"}\n"));
    EXPECT_FALSE(readChoices("nonsense"));
}

}  // namespace
}  // namespace markerlamp::core
