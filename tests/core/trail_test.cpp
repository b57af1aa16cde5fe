// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/trail/trail.h"

#include "core/base/moment.h"

#include <gtest/gtest.h>

#include <functional>

namespace markerlamp::core {
namespace {

TrailEntry entryAfter(const std::vector<TrailEntry>& before, std::string what, std::string words) {
    TrailEntry entry;
    entry.number = static_cast<std::int64_t>(before.size()) + 1;
    entry.at = "2026-03-02T06:10:00-05:00";
    entry.atMs = millisecondsOf(entry.at).value();
    entry.by = "i-1";
    entry.what = std::move(what);
    entry.salt = trailSalt();
    entry.trainee = "t-1";
    entry.subject = "t-1";
    entry.words = std::move(words);
    entry.digest = digestOf(entry);
    entry.seal = sealOf(before.empty() ? std::string() : before.back().seal, entry);
    return entry;
}

std::vector<TrailEntry> fourEntries() {
    std::vector<TrailEntry> trail;
    for (const char* name : {"Ada", "Ada Example", "Ada Exemplar", "Ada E."})
        trail.push_back(entryAfter(trail, "trainee.changed", wordsOfChange({}, {{"name", name}}).value()));
    return trail;
}

TEST(Blake2b, IsThatOfThePublishedFunction) {
    // RFC 7693 defines the function and prints the 64-byte digest of "abc"; these of 32 bytes are those of
    // CPython's hashlib, whose BLAKE2 is the authors' reference code.
    EXPECT_EQ(blake2b("abc"), "bddd813c634239723171ef3fee98579b94964e3bb1cb3e427262c8c068d52319");
    EXPECT_EQ(blake2b(""), "0e5751c026e543b2e8ab2eb06099daa1d1e5df47778f7787faab45cdf12fe3a8");
}

TEST(Trail, AsItWasWrittenHasNoFlaw) {
    EXPECT_FALSE(firstFlaw({}));
    EXPECT_FALSE(firstFlaw(fourEntries()));
}

TEST(Trail, EveryFieldOfEveryEntryIsSealed) {
    const std::vector<std::function<void(TrailEntry&)>> changes{
        [](TrailEntry& e) { e.at = "2026-03-03T06:10:00-05:00"; }, [](TrailEntry& e) { e.atMs += 1000; },
        [](TrailEntry& e) { e.by = "i-2"; }, [](TrailEntry& e) { e.what = "trainee.added"; },
        [](TrailEntry& e) { e.salt = trailSalt(); }, [](TrailEntry& e) { e.trainee.clear(); },
        [](TrailEntry& e) { e.subject = "t-2"; }, [](TrailEntry& e) { e.words = R"({"is":{"name":"Bo"}})"; },
        [](TrailEntry& e) { e.words.clear(); }, [](TrailEntry& e) { e.digest = blake2b("another"); },
        [](TrailEntry& e) { e.seal = blake2b("another"); },
        // One who knows the method, and makes digest and seal anew.
        [](TrailEntry& e) {
            e.words = R"({"is":{"name":"Bo"}})";
            e.digest = digestOf(e);
        }};
    for (std::size_t place = 0; place < 4; ++place)
        for (std::size_t change = 0; change < changes.size(); ++change) {
            auto trail = fourEntries();
            changes[change](trail[place]);
            const auto flaw = firstFlaw(trail);
            ASSERT_TRUE(flaw) << place << " " << change;
            EXPECT_EQ(flaw->number, static_cast<std::int64_t>(place) + 1) << change;
        }
}

TEST(Trail, AnEntrySealedAnewDoesNotFitTheNext) {
    auto trail = fourEntries();
    trail[1].by = "i-2";
    trail[1].seal = sealOf(trail[0].seal, trail[1]);
    EXPECT_EQ(firstFlaw(trail)->number, 3);
}

TEST(Trail, AnEntryThatIsGoneIsNamed) {
    auto trail = fourEntries();
    trail.erase(trail.begin() + 1);
    const auto flaw = firstFlaw(trail);
    ASSERT_TRUE(flaw);
    EXPECT_EQ(flaw->number, 2);
    EXPECT_NE(flaw->message.find("missing"), std::string::npos);
    // What the number says is sealed, so counting on does not hide it.
    for (std::size_t i = 1; i < trail.size(); ++i) --trail[i].number;
    EXPECT_EQ(firstFlaw(trail)->number, 2);
}

TEST(Trail, WhatWasErasedMustBeToldByALaterEntry) {
    auto trail = fourEntries();
    const auto takeOut = [](TrailEntry& entry) {
        for (auto member :
             {&TrailEntry::salt, &TrailEntry::trainee, &TrailEntry::subject, &TrailEntry::words})
            (entry.*member).clear();
    };
    takeOut(trail[1]);
    EXPECT_EQ(firstFlaw(trail)->number, 2);
    trail.push_back(entryAfter(trail, std::string(kPersonErased), wordsOfErasing({2}, "erased-0a")));
    EXPECT_FALSE(firstFlaw(trail));
    takeOut(trail[2]);
    EXPECT_EQ(firstFlaw(trail)->number, 3);
}

TEST(TrailWords, SayWhatWasAndWhatIs) {
    EXPECT_FALSE(wordsOfChange({{"name", "Ada"}}, {{"name", "Ada"}}));
    TrailEntry entry;
    entry.words =
        wordsOfChange({{"name", "Ada"}, {"note", "late"}, {"group", ""}}, {{"name", "Bo"}, {"group", "fall"}})
            .value();
    EXPECT_EQ(entry.words, R"({"was":{"name":"Ada","note":"late"},"is":{"name":"Bo","group":"fall"}})");
    EXPECT_EQ(fieldsOf(entry),
              (std::vector<TrailField>{{"name", "Ada", "Bo"}, {"group", "", "fall"}, {"note", "late", ""}}));
}

TEST(TrailWords, OfAnAmendmentHoldItsEvents) {
    const std::string document =
        "{\"format\":\"markerlamp.attempt/1\"}\n{\"n\":1,\"do\":\"end\"}\n{\"n\":2,\"do\":\"show\"}\n";
    TrailEntry entry;
    entry.words = wordsOfAttempt(document, 1);
    EXPECT_EQ(documentDigest(entry), blake2b(document));
    EXPECT_EQ(fieldsOf(entry), (std::vector<TrailField>{{"event", "", "2: show"}}));
    entry.words = wordsOfAttempt(document, 0);
    EXPECT_TRUE(fieldsOf(entry).empty());
}

TEST(TrailWords, HideALicenceNumber) {
    TrailEntry entry;
    entry.what = kLicenceChanged;
    entry.words = wordsOfChange({{"number", "S 778-99"}}, {{"number", "S 778-98"}, {"state", "OH"}}).value();
    EXPECT_EQ(fieldsOf(entry),
              (std::vector<TrailField>{{"number", "\u202699", "\u202698"}, {"state", "", "OH"}}));
}

TEST(TrailWords, BytesThatAreNoTextAreNotInTheWay) {
    const auto words = wordsOfChange({}, {{"note",
                                           "a\xff"
                                           "b"}})
                           .value();
    EXPECT_EQ(words, "{\"is\":{\"note\":\"a\uFFFDb\"}}");
    TrailEntry entry;
    entry.words = "[not an object";
    EXPECT_TRUE(fieldsOf(entry).empty());
    EXPECT_EQ(documentDigest(entry), "");
}

TEST(Moment, IsWrittenOnAClockOfItsOffset) {
    // RFC 3339, section 5.8: the two ways of writing one moment.
    const auto ms = millisecondsOf("1996-12-19T16:39:57-08:00").value();
    EXPECT_EQ(momentOf(ms, -8 * 60), "1996-12-19T16:39:57-08:00");
    EXPECT_EQ(momentOf(ms, 0), "1996-12-20T00:39:57+00:00");
    EXPECT_EQ(momentOf(-1, 330), "1970-01-01T05:29:59+05:30");
}

}  // namespace
}  // namespace markerlamp::core
