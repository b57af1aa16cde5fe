// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Sealed files: what comes out, and the four answers to a file that does not open.

#include "db_support.h"

#include "db/package/seal.h"

#include <gtest/gtest.h>
#include <sodium.h>

#include <fstream>
#include <random>

namespace markerlamp::db {
namespace {

using namespace testing;

constexpr SealCost kQuick{1, 8u << 10};  // the least that the library takes
const std::string kPassphrase = "four words or more";

void sealInto(const std::filesystem::path& path, const std::string& content) {
    auto writer = SealWriter::create(path, kPassphrase, kQuick);
    ASSERT_TRUE(writer) << writer.error().message;
    // In pieces that fit no frame.
    for (std::size_t at = 0; at < content.size(); at += 10'007)
        ASSERT_TRUE((*writer)->write(std::string_view(content).substr(at, 10'007)));
    ASSERT_TRUE((*writer)->finish());
}

core::Result<std::string> opened(const std::filesystem::path& path,
                                 const std::string& passphrase = kPassphrase) {
    auto reader = SealReader::open(path, passphrase);
    if (!reader) return core::fail(reader.error());
    std::string all;
    for (;;) {
        auto more = (*reader)->next();
        if (!more) return core::fail(more.error());
        if (more->empty()) return all;
        all += *more;
    }
}

std::string bytesOf(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}
void write(const std::filesystem::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary | std::ios::trunc) << bytes;
}

/// Random letters: nothing of it may be found in the sealed file.
std::string content(std::size_t size) {
    std::mt19937 random(7);
    std::string text(size, '\0');
    for (char& c : text) c = static_cast<char>('a' + random() % 26);
    return text;
}

class SealedSizes : public ::testing::TestWithParam<std::size_t> {};

TEST_P(SealedSizes, ComeOutAsTheyWentIn) {
    Folder folder;
    const std::string text = content(GetParam());
    sealInto(folder / "s", text);
    const auto back = opened(folder / "s");
    ASSERT_TRUE(back) << back.error().message;
    EXPECT_EQ(*back, text);
    const std::string bytes = bytesOf(folder / "s");
    if (text.size() > 20) {
        EXPECT_EQ(bytes.find(text.substr(0, 12)), std::string::npos);
    }
    EXPECT_EQ(bytes.find(kPassphrase), std::string::npos);
    const auto mode = std::filesystem::status(folder / "s").permissions();
    EXPECT_EQ(mode & std::filesystem::perms::all,
              std::filesystem::perms::owner_read | std::filesystem::perms::owner_write);
}
// Nothing, less than a frame of 64 KiB, one, one byte more, and three and a bit.
INSTANTIATE_TEST_SUITE_P(All, SealedSizes,
                         ::testing::Values(0, 1, 65'535, 65'536, 65'537, 3 * 65'536 + 5, 131'072));

TEST(Seal, TheSameContentIsNeverSealedTheSameWay) {
    Folder folder;
    sealInto(folder / "a", "the same");
    sealInto(folder / "b", "the same");
    EXPECT_NE(bytesOf(folder / "a"), bytesOf(folder / "b"));
}

TEST(Seal, AnotherPassphraseIsSaidToBeAnother) {
    Folder folder;
    sealInto(folder / "s", content(1000));
    for (const char* other : {"four words or mere", "Four words or more", "four words or more ", ""}) {
        const auto back = opened(folder / "s", other);
        ASSERT_FALSE(back);
        EXPECT_NE(back.error().message.find("this passphrase does not open"), std::string::npos)
            << back.error().message;
    }
}

TEST(Seal, AFileThatWasCutIsSaidToBeCutWhereverItWasCut) {
    Folder folder;
    sealInto(folder / "s", content(70'000));
    const std::string whole = bytesOf(folder / "s");
    std::mt19937 random(1);
    std::vector<std::size_t> lengths{8, 9, 103, 104, 105, 104 + 65'553, whole.size() - 1};
    for (int i = 0; i < 60; ++i) lengths.push_back(8 + random() % (whole.size() - 8));
    for (const std::size_t length : lengths) {
        write(folder / "cut", whole.substr(0, length));
        const auto back = opened(folder / "cut");
        ASSERT_FALSE(back) << length;
        EXPECT_NE(back.error().message.find("was cut short"), std::string::npos)
            << length << ": " << back.error().message;
    }
}

TEST(Seal, AFileThatWasAlteredIsSaidToBeAlteredWhereverItWasAltered) {
    Folder folder;
    sealInto(folder / "s", content(70'000));
    const std::string whole = bytesOf(folder / "s");
    std::mt19937 random(2);
    std::vector<std::size_t> places;
    for (std::size_t place = 8; place < 104; ++place) places.push_back(place);  // all of the header
    for (int i = 0; i < 100; ++i) places.push_back(104 + random() % (whole.size() - 104));
    places.push_back(whole.size() - 1);
    for (const std::size_t place : places) {
        std::string bytes = whole;
        bytes[place] = static_cast<char>(bytes[place] ^ (1 << (random() % 8)));
        write(folder / "altered", bytes);
        const auto back = opened(folder / "altered");
        ASSERT_FALSE(back) << place;
        EXPECT_NE(back.error().message.find("was altered"), std::string::npos)
            << place << ": " << back.error().message;
    }
    write(folder / "longer", whole + "x");
    EXPECT_NE(opened(folder / "longer").error().message.find("was altered"), std::string::npos);
}

TEST(Seal, FramesInAnotherOrderOrFromAnotherFileDoNotOpen) {
    Folder folder;
    sealInto(folder / "s", content(3 * 65'536));
    const std::string whole = bytesOf(folder / "s");
    constexpr std::size_t kFrame = 65'536 + 17;
    const auto frame = [&](std::size_t n) { return whole.substr(104 + n * kFrame, kFrame); };
    write(folder / "swapped", whole.substr(0, 104) + frame(1) + frame(0) + whole.substr(104 + 2 * kFrame));
    EXPECT_NE(opened(folder / "swapped").error().message.find("was altered"), std::string::npos);
    sealInto(folder / "t", content(3 * 65'536));
    const std::string other = bytesOf(folder / "t");
    write(folder / "mixed", whole.substr(0, 104 + kFrame) + other.substr(104 + kFrame));
    EXPECT_NE(opened(folder / "mixed").error().message.find("was altered"), std::string::npos);
}

TEST(Seal, WhatIsNoSealedFileIsSaidToBeNone) {
    Folder folder;
    write(folder / "a", "key,name\n");
    write(folder / "b", "");
    for (const char* name : {"a", "b"})
        EXPECT_NE(opened(folder / name).error().message.find("is no sealed file"), std::string::npos);
    EXPECT_EQ(opened(folder / "none").error().kind, core::ErrorKind::NotFound);
    EXPECT_FALSE(opened((folder / "")));
}

TEST(Seal, APassphraseThatIsTooShortIsRefusedAndLeavesNoFile) {
    Folder folder;
    for (const char* bad : {"", "seven77", "äöüäöüä"}) {
        const auto made = SealWriter::create(folder / "s", bad, kQuick);
        ASSERT_FALSE(made);
        EXPECT_NE(made.error().message.find("at least 8"), std::string::npos);
    }
    EXPECT_FALSE(SealWriter::create(folder / "s", std::string(1025, 'x'), kQuick));
    EXPECT_FALSE(SealWriter::create(folder / "s", "eight \xff bytes", kQuick));
    EXPECT_FALSE(std::filesystem::exists(folder / "s"));
    write(folder / "there", "kept");
    EXPECT_FALSE(SealWriter::create(folder / "there", kPassphrase, kQuick));
    EXPECT_EQ(bytesOf(folder / "there"), "kept");
}

// The form is the published one of libsodium's secretstream over Argon2id (RFC 9106): read here with the
// library's own calls, without our reader.
TEST(Seal, IsReadByTheLibraryAlone) {
    Folder folder;
    sealInto(folder / "s", "hello, yard");
    const std::string bytes = bytesOf(folder / "s");
    const auto* raw = reinterpret_cast<const unsigned char*>(bytes.data());
    unsigned char master[32], key[32];
    ASSERT_EQ(crypto_pwhash(master, sizeof master, kPassphrase.data(), kPassphrase.size(), raw + 24,
                            kQuick.passes, kQuick.memory, crypto_pwhash_ALG_ARGON2ID13),
              0);
    const std::string what = "markerlamp.seal.stream";
    crypto_generichash(key, sizeof key, reinterpret_cast<const unsigned char*>(what.data()), what.size(),
                       master, sizeof master);
    crypto_secretstream_xchacha20poly1305_state state;
    ASSERT_EQ(crypto_secretstream_xchacha20poly1305_init_pull(&state, raw + 40, key), 0);
    std::string text(11, '\0');
    unsigned char tag = 0;
    ASSERT_EQ(
        crypto_secretstream_xchacha20poly1305_pull(&state, reinterpret_cast<unsigned char*>(text.data()),
                                                   nullptr, &tag, raw + 104, 11 + 17, raw, 88),
        0);
    EXPECT_EQ(text, "hello, yard");
    EXPECT_EQ(tag, crypto_secretstream_xchacha20poly1305_TAG_FINAL);
}

}  // namespace
}  // namespace markerlamp::db
