// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Real answers, held out: the model's chances beside a constant, the person's own share, and person plus
// item. Data: Debian's r-cran-lme4, r-cran-psychtools, r-cran-psychotools, exported when testing (sources in
// export-open-data.R). Where there is nothing to learn from practice the model has to be level with person
// plus item, which is then the right model; where there is, it has to be better.

#include "open_answers.h"
#include "baselines.h"
#include "core/stats/forecast_quality.h"

#include <gtest/gtest.h>
#include <sys/wait.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <iostream>

namespace markerlamp::outside {

namespace {

using school::Answer;
using school::PersonPlusItem;
using school::shrunk;

constexpr double kLevel = 1.015;  // "at least level": within 1.5 %

class OpenAnswers : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        std::string pattern = (std::filesystem::temp_directory_path() / "markerlamp-open-XXXXXX").string();
        s_folder = ::mkdtemp(pattern.data());
        const std::string command = "Rscript --vanilla '" MARKERLAMP_SOURCE_DIR
                                    "/tests/outside/export-open-data.R' '" +
                                    s_folder.string() + "' 2>/dev/null";
        const int status = std::system(command.c_str());
        s_exit = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    }
    static void TearDownTestSuite() { std::filesystem::remove_all(s_folder); }
    void SetUp() override {
        if (s_exit == 127) GTEST_SKIP() << "no Rscript on this machine: the open data cannot be exported";
        if (s_exit == 77)
            GTEST_SKIP() << "R packages are missing: r-cran-lme4 r-cran-psychtools r-cran-psychotools";
        ASSERT_EQ(s_exit, 0) << "the export of the open data failed";
    }
    static std::string path(const char* name) { return (s_folder / name).string(); }

private:
    static inline std::filesystem::path s_folder;
    static inline int s_exit = -1;
};

/// Held-out answers with what each method said before.
struct Held {
    std::vector<core::ForecastAndResult> model, constant, share, personPlusItem;
    void add(const Held& more) {
        const auto append = [](auto& to, const auto& from) { to.insert(to.end(), from.begin(), from.end()); };
        append(model, more.model);
        append(constant, more.constant);
        append(share, more.share);
        append(personPlusItem, more.personPlusItem);
    }
};

struct Scores {
    double brier = 0, logLoss = 0;
};
Scores scoresOf(const std::vector<core::ForecastAndResult>& pairs) {
    const core::ForecastQuality quality = core::forecastQuality(pairs);
    return {quality.brier.value_or(1), quality.logLoss.value_or(10)};
}

void print(const char* what, const Held& held) {
    std::cout << what << ", " << held.model.size() << " held-out answers (Brier, log loss):\n";
    const auto line = [](const char* name, const auto& pairs) {
        const Scores scores = scoresOf(pairs);
        std::cout << "  " << name << " " << scores.brier << " " << scores.logLoss << "\n";
    };
    line("model           ", held.model);
    line("constant        ", held.constant);
    line("person's share  ", held.share);
    line("person plus item", held.personPlusItem);
}

int largest(const std::vector<OpenAnswer>& answers, int OpenAnswer::*what) {
    return (*std::ranges::max_element(answers, {}, what)).*what;
}

/// What is known foretells what is not, at `day`.
Held foretell(const std::vector<OpenAnswer>& known, const std::vector<OpenAnswer>& hidden,
              bool zoneAnOccasion, double apart, double day) {
    const int persons =
        1 + std::max(largest(known, &OpenAnswer::person), largest(hidden, &OpenAnswer::person));
    const int items = 1 + std::max(largest(known, &OpenAnswer::item), largest(hidden, &OpenAnswer::item));
    std::vector<Answer> answers;
    std::vector<double> right(static_cast<std::size_t>(persons)), tries(right.size());
    double allRight = 0;
    for (const OpenAnswer& answer : known) {
        answers.push_back({answer.person, answer.item, answer.right});
        right[static_cast<std::size_t>(answer.person)] += answer.right;
        tries[static_cast<std::size_t>(answer.person)] += 1;
        allRight += answer.right;
    }
    const double constant = allRight / static_cast<double>(known.size());
    const PersonPlusItem fit(answers, persons, items);

    std::vector<OpenAnswer> all = known;
    all.insert(all.end(), hidden.begin(), hidden.end());
    const auto rubric = rubricOf(all, zoneAnOccasion);
    core::ModelOptions options;
    options.before = day;
    const auto model = core::LearningModel::fit(recordOf(rubric, known, apart), options);
    std::map<int, std::map<int, double>> said;
    Held held;
    for (const OpenAnswer& answer : hidden) {
        const auto person = static_cast<std::size_t>(answer.person);
        if (!said.contains(answer.person)) said[answer.person] = chances(*model, rubric, answer.person, day);
        held.model.push_back({said.at(answer.person).at(answer.item), answer.right});
        held.constant.push_back({constant, answer.right});
        held.share.push_back({shrunk(right[person], tries[person], constant, 2), answer.right});
        held.personPlusItem.push_back({fit.chance(answer.person, answer.item), answer.right});
    }
    return held;
}

/// Of every person one occasion is hidden, another one for the next person. The answers of one sitting have
/// no order that matters, so the occasions are told in rotation, the hidden one last: what an item is worth
/// must not be mixed up with its place in the row.
Held hideOneOccasion(std::vector<OpenAnswer> answers) {
    const int occasions = 1 + largest(answers, &OpenAnswer::occasion);
    std::vector<OpenAnswer> known, hidden;
    for (OpenAnswer& answer : answers) {
        const int last = answer.person % occasions;
        answer.place = (answer.occasion + 2 * occasions - last - 1) % occasions;
        (answer.occasion == last ? hidden : known).push_back(answer);
    }
    // A quarter of an hour apart: one sitting, nothing is forgotten in it.
    const double apart = 1.0 / 96;
    return foretell(known, hidden, true, apart, kFirstDay + apart * (occasions - 1));
}

void expectLevel(const Held& held) {
    const Scores model = scoresOf(held.model);
    for (const auto* other : {&held.constant, &held.share, &held.personPlusItem}) {
        EXPECT_LT(model.brier, kLevel * scoresOf(*other).brier);
        EXPECT_LT(model.logLoss, kLevel * scoresOf(*other).logLoss);
    }
    EXPECT_LT(model.brier, 0.97 * scoresOf(held.constant).brier);
}

}  // namespace

TEST_F(OpenAnswers, OfTheVerbalQuestionsAreForetoldAsWellAsByPersonPlusItem) {
    const Held held = hideOneOccasion(readAnswers(path("verbal.csv")));
    print("VerbAgg", held);
    ASSERT_GT(held.model.size(), 1800u);
    expectLevel(held);
}

TEST_F(OpenAnswers, OfTheAbilityItemsAreForetoldAsWellAsByPersonPlusItem) {
    const Held held = hideOneOccasion(readAnswers(path("ability.csv")));
    print("ability", held);
    ASSERT_GT(held.model.size(), 1700u);
    expectLevel(held);
}

TEST_F(OpenAnswers, OfTheMathematicsExamAreForetoldAsWellAsByPersonPlusItem) {
    const Held held = hideOneOccasion(readAnswers(path("exam.csv")));
    print("MathExam14W", held);
    ASSERT_GT(held.model.size(), 2500u);
    expectLevel(held);
}

TEST_F(OpenAnswers, OfPeopleWhoPractiseAreForetoldBetterThanWithoutPractice) {
    const std::vector<OpenAnswer> answers = readTrials(path("memory.csv"));
    Held held;
    for (int trial = 3; trial < 6; ++trial) {  // each from the trials before it
        std::vector<OpenAnswer> known, hidden;
        for (const OpenAnswer& answer : answers)
            if (answer.occasion <= trial) (answer.occasion == trial ? hidden : known).push_back(answer);
        // Trials of a list follow each other at once; three minutes is a guess, not in the data.
        const double apart = 3.0 / 1440;
        held.add(foretell(known, hidden, false, apart, kFirstDay + apart * trial));
    }
    print("MemoryDeficits", held);
    ASSERT_EQ(held.model.size(), 3u * 96 * 20);
    const Scores model = scoresOf(held.model);
    for (const auto* other : {&held.constant, &held.share, &held.personPlusItem}) {
        EXPECT_LT(model.brier, 0.98 * scoresOf(*other).brier);
        EXPECT_LT(model.logLoss, 0.98 * scoresOf(*other).logLoss);
    }
}

}  // namespace markerlamp::outside
