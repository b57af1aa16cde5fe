// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/attempt_document.h"
#include "core/base/text.h"
#include "core/rubric/rubric_reader.h"
#include "demo/generator/built_in.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace markerlamp::core {
namespace {

const std::string kSmall = R"(format: markerlamp.rubric/1
id: small
edition: 2
title: Small rubric
equipment: {air-brakes: Air brakes}
pass: {percent: 80, minutes: 45}
limits:
  leak: {high: 3, unit: psi, source: "common practice, no published source"}
zones:
  - id: brakes
    title: Brakes
    steps:
      - id: start
        title: Guarded start
        show: Set the brake
      - id: leak-test
        title: Leak test
        show: Hold the pedal
        say:
          - {id: limit, text: at most 3 psi, like: [three pounds], number: {limit: leak, tolerance: 0}}
          - {id: engine, text: engine off}
        say_needed: 1
        weight: 2
        must_pass: true
        when: [air-brakes]
        reading: {quantity: loss, limit: leak, required: false}
        minutes: 1.5
order:
  - {id: chain, chain: [start, leak-test], strict: true, why: pressure}
sections:
  - {id: all, title: All, zones: [brakes], share: 1}
)";

std::string with(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
}

/// The first problem of a document with one change (a second may follow from it).
Problem firstProblem(const std::string& yaml) {
    const auto read = readRubric(yaml);
    EXPECT_FALSE(read);
    if (read || read.error().problems.empty()) return {};
    EXPECT_LE(read.error().problems.size(), 2u) << toText(read.error().problems.back());
    EXPECT_FALSE(read.error().problems.front().remedy.empty());
    return read.error().problems.front();
}

TEST(RubricReader, ReadsEveryPartOfTheFormat) {
    const auto read = readRubric(kSmall);
    ASSERT_TRUE(read) << toText(read.error().problems.front());
    EXPECT_EQ(read->edition, 2);
    const Step& step = read->zones[0].steps[1];
    EXPECT_EQ(step.sayNeeded, 1);
    EXPECT_EQ(step.weight, 2);
    EXPECT_TRUE(step.mustPass);
    EXPECT_EQ(step.say[0].number->limit, "leak");
    EXPECT_EQ(step.reading->quantity, "loss");
    EXPECT_EQ(read->zones[0].steps[0].minutes, 0.3);
    EXPECT_TRUE(read->order[0].strict);
    EXPECT_EQ(read->sections[0].share, 1);
}

TEST(RubricReader, WhatItWritesReadsBackTheSame) {
    const auto read = readRubric(kSmall);
    ASSERT_TRUE(read);
    const auto again = readRubric(writeRubric(*read));
    ASSERT_TRUE(again) << toText(again.error().problems.front());
    EXPECT_EQ(*again, *read);
}

TEST(RubricReader, TheBuiltInDocumentsAreSoundAndReadBackTheSame) {
    ASSERT_FALSE(demo::builtInDocuments().empty());
    for (const auto& document : demo::builtInDocuments()) {
        if (document.name.find(".rubric.yaml") == std::string::npos) continue;
        const auto read = readRubric(document.text, document.name);
        ASSERT_TRUE(read) << toText(read.error().problems.front());
        const auto again = readRubric(writeRubric(*read));
        ASSERT_TRUE(again) << toText(again.error().problems.front());
        EXPECT_EQ(*again, *read);
        for (const Problem& warning : rubricWarnings(*read)) ADD_FAILURE() << toText(warning);
    }
}

TEST(RubricReader, RefusesAMisspeltKeyAndNamesTheRightOne) {
    const Problem p = firstProblem(with(kSmall, "must_pass: true", "must_pas: true"));
    EXPECT_EQ(p.line, 24);
    EXPECT_EQ(p.path, "zones[0].steps[1].must_pas");
    EXPECT_NE(p.remedy.find("must_pass"), std::string::npos);
}

TEST(RubricReader, RefusesWhatTheFormatForbids) {
    const std::vector<std::array<std::string, 3>> cases{
        {"edition: 2", "edition: 0", "edition"},
        {"edition: 2", "edition: \"2\"", "edition"},
        {"edition: 2", "edition: 1.5", "edition"},
        {"percent: 80", "percent: 101", "pass.percent"},
        {"minutes: 45}", "minutes: 0}", "pass.minutes"},
        {"minutes: 45}", "minutes: 1000001}", "pass.minutes"},
        {"id: small", "id: Small_Rubric", "id"},
        {"id: leak-test", "id: start", "zones[0].steps[1].id"},
        {"{id: engine,", "{id: limit,", "zones[0].steps[1].say[1].id"},
        {"say_needed: 1", "say_needed: 3", "zones[0].steps[1].say_needed"},
        {"weight: 2", "weight: 0", "zones[0].steps[1].weight"},
        {"must_pass: true", "must_pass: yes please", "zones[0].steps[1].must_pass"},
        {"when: [air-brakes]", "when: [\"!air-brake\"]", "zones[0].steps[1].when"},
        {"quantity: loss, limit: leak", "quantity: loss, limit: leek", "zones[0].steps[1].reading.limit"},
        {"number: {limit: leak,", "number: {limit: leak, high: 4,", "zones[0].steps[1].say[0].number.high"},
        {"high: 3, unit", "unit", "limits.leak"},
        {"high: 3, unit", "low: 4, high: 3, unit", "limits.leak.low"},
        {"high: 3, unit", "high: .inf, unit", "limits.leak.high"},
        {"chain: [start, leak-test]", "chain: [start, leak-tst]", "order[0].chain"},
        {"chain: [start, leak-test]", "chain: [start]", "order[0].chain"},
        {"chain: [start, leak-test]", "chain: [start, \"zone:brakes\"]", "order[0].chain"},
        {"zones: [brakes], share", "zones: [brake], share", "sections[0].zones"},
        {"share: 1", "share: 1.5", "sections[0].share"},
        {"        show: Set the brake\n", "", "zones[0].steps[0]"},
        {"format: markerlamp.rubric/1", "format: markerlamp.rubric/2", "format"},
    };
    for (const auto& [from, to, path] : cases)
        EXPECT_EQ(firstProblem(with(kSmall, from, to)).path, path) << to;
}

TEST(RubricReader, ListsEveryProblemInDocumentOrder) {
    const auto read = readRubric(with(with(kSmall, "edition: 2", "edition: x"), "weight: 2", "weight: -1"));
    ASSERT_FALSE(read);
    ASSERT_EQ(read.error().problems.size(), 2u);
    EXPECT_EQ(read.error().problems[0].path, "edition");
    EXPECT_EQ(read.error().problems[1].path, "zones[0].steps[1].weight");
}

TEST(RubricReader, ShowsOneCircleOfRules) {
    const Problem p = firstProblem(
        with(kSmall, "sections:", "  - {id: back, first: [leak-test], then: [start]}\nsections:"));
    EXPECT_NE(p.message.find("start before leak-test"), std::string::npos) << p.message;
}

TEST(RubricReader, NamesEveryStepThatWouldComeBeforeItself) {
    const auto read = readRubric(with(
        kSmall, "sections:", "  - {id: both, first: [\"zone:brakes\"], then: [\"zone:brakes\"]}\nsections:"));
    ASSERT_FALSE(read);
    std::vector<std::string> named;
    for (const Problem& problem : read.error().problems)
        if (problem.path == "order[1].then") named.push_back(problem.id);
    EXPECT_EQ(named, (std::vector<std::string>{"start", "leak-test"}));
}

TEST(RubricReader, RefusesHostileDocumentsWithoutReadingThem) {
    EXPECT_FALSE(readRubric("a: &x [1]\nb: [*x, *x]\n"));
    EXPECT_FALSE(readRubric(std::string(100'000, '[')));
    EXPECT_FALSE(readRubric("about: |\n  \"\nx: " + std::string(100'000, '[')))
        << "a quote that hides the nesting";
    std::string deep;
    for (int i = 0; i < 2000; ++i) deep += std::string(static_cast<std::size_t>(i), ' ') + "a:\n";
    EXPECT_FALSE(readRubric(deep));
    std::string dashes;
    for (int i = 0; i < 100'000; ++i) dashes += "- ";
    EXPECT_FALSE(readRubric(dashes));
    EXPECT_FALSE(readRubric(std::string(kMaxRubricBytes + 1, 'a')));
    EXPECT_FALSE(readRubric("format: \xff\xfe"));
    EXPECT_FALSE(readRubric(""));
    EXPECT_FALSE(readRubric(", no\nid: small\n")) << "the YAML library never came back from this one";
    EXPECT_FALSE(readRubric(kSmall + "---\n" + kSmall));
    EXPECT_FALSE(readRubric(std::string("a\0b", 3)));
}

// Each of these took minutes or a gigabyte once: what is counted must be bounded, not only bytes and nesting.
TEST(RubricReader, BoundsWhatItCounts) {
    const auto many = [](int count, const std::string& before, const std::string& after) {
        std::string text;
        for (int i = 0; i < count; ++i) text += before + std::to_string(i) + after;
        return text;
    };
    const auto crowded = readRubric(many(40'000, "key-", ": 1\n"));
    ASSERT_FALSE(crowded);
    EXPECT_NE(crowded.error().problems.back().message.find("more than 2000 keys"), std::string::npos);
    EXPECT_FALSE(readRubric(with(kSmall, "equipment: {", "equipment: {" + many(20'000, "tag-", ": x, "))));
    EXPECT_NE(firstProblem("a: [" + many(150'000, "", ",") + "]\n").message.find("more than 120000"),
              std::string::npos);

    std::string crossed =
        "format: markerlamp.rubric/1\nid: big\nedition: 1\ntitle: Big\nabout: x\npass: {percent: "
        "80}\nzones:\n";
    for (const std::string zone : {"a", "b"})
        crossed += "  - id: " + zone + "\n    title: Z\n    steps:\n" +
                   many(500, "      - {id: " + zone + "-", ", title: T, show: S}\n");
    const std::string once = crossed + "order:\n  - {id: one, first: [\"zone:a\"], then: [\"zone:b\"]}\n";
    const auto read = readRubric(once);
    EXPECT_TRUE(read) << toText(read.error().problems.front());
    const Problem p = firstProblem(crossed + "order:\n" +
                                   many(500, "  - {id: r-", ", first: [\"zone:a\"], then: [\"zone:b\"]}\n"));
    EXPECT_EQ(p.path, "order");
    EXPECT_NE(p.message.find("2,000,000 pairs"), std::string::npos);
}

TEST(RubricReader, TakesAnyWholeWeightAndAnAllowanceThatCannotBeExceeded) {
    EXPECT_EQ(readRubric(with(kSmall, "weight: 2", "weight: 40000")).value().zones[0].steps[1].weight,
              40'000);
    EXPECT_EQ(readRubric(with(kSmall, "edition: 2", "edition: 20260302")).value().edition, 20'260'302);
    EXPECT_TRUE(readRubric(with(kSmall, "minutes: 45", "minutes_fail: true")));
}

TEST(RubricReader, TakesStarsAmpersandsAndBracketsInTextAsText) {
    std::string text = with(kSmall, "title: Guarded start", "title: Wheels & *all* lamps [both]");
    text = with(text, "edition: 2\n",
                "edition: 2\nabout: |\n  *note* see &this\n  [ an open bracket, a \" quote\n");
    const auto read = readRubric(text);
    ASSERT_TRUE(read) << toText(read.error().problems.front());
    EXPECT_EQ(read->zones[0].steps[0].title, "Wheels & *all* lamps [both]");
}

TEST(RubricReader, ADocumentCutAnywhereIsRefusedOrSound) {
    for (std::size_t length = 0; length < kSmall.size(); ++length) {
        const auto read = readRubric(kSmall.substr(0, length));
        if (!read) {
            EXPECT_FALSE(read.error().problems.empty()) << length;
        }
    }
}

TEST(LimitSet, MakesANewEditionOfARubric) {
    const auto rubric = readRubric(kSmall).value();
    const auto set = readLimitSet(
        "format: markerlamp.limits/1\nid: other\ntitle: Other\nlimits:\n  leak: {high: 2, unit: psi, "
        "exclusive: true, source: test}\n");
    ASSERT_TRUE(set);
    EXPECT_EQ(readLimitSet(writeLimitSet(*set)).value(), *set);
    const auto changed = withLimits(rubric, *set, 3);
    ASSERT_TRUE(changed);
    EXPECT_EQ(changed->limit("leak")->high, 2.0);
    EXPECT_EQ(changed->edition, 3);
    EXPECT_FALSE(withLimits(rubric, *set, 2));
    LimitSet unknown = *set;
    unknown.limits[0].id = "leek";
    EXPECT_FALSE(withLimits(rubric, unknown, 3));
}

const std::string kAttempt =
    R"({"format":"markerlamp.attempt/1","id":"a-1","rubric":"small","edition":2,"trainee":"t-1","instructor":"i-1","bus":"14","equipment":["air-brakes"],"zones":["brakes"],"limits":{"leak":{"high":2}},"started":"2026-03-02T06:10:00-05:00"}
{"n":1,"t":0,"do":"show","step":"start"}
{"n":2,"t":3.2,"do":"say","step":"leak-test","point":"limit","value":3,"unit":"psi"}
{"n":3,"t":4,"do":"pause"}
{"n":4,"t":9,"do":"resume"}
{"n":5,"t":9.5,"do":"retract","event":2}
{"n":6,"t":10,"do":"reading","step":"leak-test","value":1.5,"unit":"psi"}
{"n":7,"t":20,"do":"end"}
{"n":8,"t":20,"do":"omit","step":"leak-test","by":"i-1","at":"2026-03-02T07:00:00-05:00"}
)";

Problem attemptProblem(const std::string& text) {
    const auto read = readAttempt(text);
    EXPECT_FALSE(read) << text;
    if (read) return {};
    EXPECT_LE(read.error().problems.size(), 2u) << toText(read.error().problems.back());
    return read.error().problems.front();
}

TEST(AttemptDocument, WhatItWritesReadsBackTheSame) {
    const auto read = readAttempt(kAttempt);
    ASSERT_TRUE(read) << toText(read.error().problems.front());
    EXPECT_EQ(writeAttempt(*read), kAttempt);
    EXPECT_TRUE(checkAgainstRubric(*read, readRubric(kSmall).value()).empty());
    std::string crlf;
    for (const char c : kAttempt) crlf += c == '\n' ? std::string("\r\n") : std::string(1, c);
    EXPECT_EQ(readAttempt(crlf).value(), *read);
    EXPECT_EQ(readAttempt(kAttempt.substr(0, kAttempt.size() - 1)).value(), *read);
}

TEST(AttemptDocument, RefusesWhatTheFormatForbids) {
    const std::vector<std::tuple<std::string, std::string, int, std::string>> cases{
        {"\"n\":2", "\"n\":3", 3, "n"},
        {"\"t\":3.2", "\"t\":-1", 3, "t"},
        {"\"t\":9,", "\"t\":1,", 5, "t"},
        {"\"do\":\"show\"", "\"do\":\"shown\"", 2, "do"},
        {"\"do\":\"show\",", "\"do\":\"show\",\"colour\":1,", 2, "colour"},
        {"\"event\":2", "\"event\":3", 6, "event"},
        {"\"event\":2", "\"event\":6", 6, "event"},
        {"\"value\":3,\"unit\":\"psi\"", "\"value\":3", 3, "unit"},
        {"\"value\":3,", "\"value\":3,\"low\":1,\"high\":2,", 3, "value"},
        {"\"value\":3", "\"value\":\"3\"", 3, "value"},
        {"\"do\":\"resume\"", "\"do\":\"pause\"", 5, "do"},
        {"\"started\":\"2026-03-02T06:10:00-05:00\"", "\"started\":\"2026-02-30T06:10:00-05:00\"", 1,
         "started"},
        {"\"bus\":\"14\"", "\"bus\":14", 1, "bus"},
        {"\"bus\":\"14\",", "", 1, "bus"},
        {"\"edition\":2", "\"edition\":2.5", 1, "edition"},
        {"{\"high\":2}", "{}", 1, "limits"},
        {"\"at\":\"2026-03-02T07:00:00-05:00\"", "\"at\":\"today\"", 9, "at"},
        {",\"by\":\"i-1\"", "", 9, "by"},
        {"\"do\":\"omit\",\"step\":\"leak-test\"", "\"do\":\"end\"", 9, "do"},
        {"\"t\":20,\"do\":\"omit\"", "\"t\":21,\"do\":\"omit\"", 9, "t"},
        {"{\"n\":1,\"t\":0", "{\"n\":1,\"n\":1,\"t\":0", 2, "n"},
    };
    for (const auto& [from, to, line, key] : cases) {
        const Problem p = attemptProblem(with(kAttempt, from, to));
        EXPECT_EQ(p.line, line) << to;
        EXPECT_EQ(p.path, key) << to;
        EXPECT_FALSE(p.remedy.empty());
    }
    EXPECT_EQ(attemptProblem(with(kAttempt, "{\"n\":3,", "{\"by\":\"x\",\"n\":3,")).path, "by")
        << "before the end";
}

TEST(AttemptDocument, NamesWhatDoesNotFitTheRubric) {
    const Rubric rubric = readRubric(kSmall).value();
    const auto check = [&](const std::string& from, const std::string& to) {
        const auto read = readAttempt(with(kAttempt, from, to));
        EXPECT_TRUE(read) << to;
        const auto problems = checkAgainstRubric(*read, rubric, "file");
        return problems.empty() ? Problem{} : problems.front();
    };
    EXPECT_EQ(check("\"step\":\"start\"", "\"step\":\"stat\"").line, 2);
    EXPECT_EQ(check("\"point\":\"limit\"", "\"point\":\"limt\"").path, "point");
    EXPECT_EQ(check("\"value\":1.5,\"unit\":\"psi\"", "\"value\":1.5,\"unit\":\"kPa\"").path, "unit");
    EXPECT_EQ(check("\"equipment\":[\"air-brakes\"]", "\"equipment\":[]").line, 3)
        << "out of scope without air brakes";
    EXPECT_EQ(check("\"zones\":[\"brakes\"]", "\"zones\":[\"brake\"]").path, "zones");
    EXPECT_EQ(check("\"limits\":{\"leak\"", "\"limits\":{\"leek\"").path, "limits");
    EXPECT_EQ(check("\"edition\":2", "\"edition\":1").path, "edition");
    EXPECT_EQ(check("\"value\":3,\"unit\":\"psi\"", "\"value\":3,\"unit\":\"kPa\"").message, "")
        << "a recited number in another unit earns no credit but is no fault of the document";
}

TEST(AttemptDocument, TakesAReadingWhereTheRubricSetsNoLimit) {
    const auto read = readAttempt(with(kAttempt, "\"do\":\"show\",\"step\":\"start\"",
                                       "\"do\":\"reading\",\"step\":\"start\",\"value\":1,\"unit\":\"V\""));
    ASSERT_TRUE(read) << toText(read.error().problems.front());
    EXPECT_TRUE(checkAgainstRubric(*read, readRubric(kSmall).value()).empty());
}

TEST(AttemptDocument, BoundsWhatItCounts) {
    std::string keys;
    std::string tags;
    for (int i = 0; i < 20'000; ++i) {
        keys += "\"k" + std::to_string(i) + "\":1,";
        tags += "\"t" + std::to_string(i) + "\",";
    }
    EXPECT_NE(
        attemptProblem(with(kAttempt, "{\"format\"", "{" + keys + "\"format\"")).message.find("1200 keys"),
        std::string::npos);
    EXPECT_EQ(attemptProblem(with(kAttempt, "[\"air-brakes\"]", "[" + tags + "\"air-brakes\"]")).path,
              "equipment");
    EXPECT_NE(attemptProblem(std::string(600'000, ' ') + kAttempt).message.find("512 KiB"),
              std::string::npos);
}

TEST(AttemptDocument, HostileLinesAreRefused) {
    EXPECT_FALSE(readAttempt(""));
    EXPECT_FALSE(readAttempt(std::string(100'000, '[')));
    EXPECT_FALSE(readAttempt(kAttempt + "\n"));
    EXPECT_FALSE(readAttempt(with(kAttempt, "a-1", "a\xff")));
    EXPECT_FALSE(readAttempt(with(kAttempt, "\"t\":3.2", "\"t\":1e999")));
    for (std::size_t length = 0; length < kAttempt.size(); ++length)
        (void)readAttempt(kAttempt.substr(0, length));
}

// A seeded mutator over sound documents: whatever comes out, both readers answer, and a refusal names a
// problem.
TEST(Readers, SurviveTenThousandMutatedDocuments) {
    std::uint64_t state = 1;
    const auto next = [&state](std::size_t below) {
        state = state * 6364136223846793005u + 1442695040888963407u;
        return static_cast<std::size_t>(state >> 33) % below;
    };
    int sound = 0, refused = 0;
    for (int i = 0; i < 10'000; ++i) {
        std::string text = i % 2 == 0 ? kSmall : kAttempt;
        for (std::size_t k = next(4) + 1; k > 0 && !text.empty(); --k) {
            const std::size_t at = next(text.size());
            switch (next(4)) {
                case 0:
                    text[at] = static_cast<char>(next(256));
                    break;
                case 1:
                    text.erase(at, next(20) + 1);
                    break;
                case 2:
                    text.insert(at, text.substr(next(text.size()), next(40)));
                    break;
                default:
                    text.insert(at, 1, "{}[]:,-&*\"'\n #"[next(14)]);
                    break;
            }
        }
        if (i % 2 == 0) {
            const auto read = readRubric(text);
            read ? ++sound : ++refused;
            if (!read) {
                ASSERT_FALSE(read.error().problems.empty()) << text;
            }
        } else {
            const auto read = readAttempt(text);
            read ? ++sound : ++refused;
            if (!read) {
                ASSERT_FALSE(read.error().problems.empty()) << text;
            }
        }
    }
    std::printf("mutated documents: %d sound, %d refused\n", sound, refused);
    EXPECT_GT(sound, 100);
    EXPECT_GT(refused, 1000);
}

TEST(Text, ChecksUtf8AndDates) {
    // RFC 3629 section 4: overlong, surrogate and out-of-range forms are not UTF-8.
    EXPECT_TRUE(isUtf8("a\xC3\xA9\xE2\x82\xAC\xF0\x9F\x9A\x8C"));
    for (const char* bad : {"\xC0\xAF", "\xED\xA0\x80", "\xF4\x90\x80\x80", "\xE2\x82", "\x80"})
        EXPECT_FALSE(isUtf8(bad));
    // ISO 8601 with the Gregorian leap rule: 2000 was a leap year, 1900 was not.
    EXPECT_TRUE(isIsoDate("2000-02-29"));
    EXPECT_FALSE(isIsoDate("1900-02-29"));
    EXPECT_FALSE(isIsoDate("2026-13-01"));
    EXPECT_FALSE(isIsoDate("2026-1-1"));
    EXPECT_EQ(editDistance("kitten", "sitting"), 3);  // Levenshtein's distance, the usual textbook pair
}

}  // namespace
}  // namespace markerlamp::core
