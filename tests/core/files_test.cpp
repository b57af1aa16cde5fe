// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/files.h"

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

#include <sys/stat.h>

namespace markerlamp::core {
namespace {

namespace fs = std::filesystem;

class Files : public ::testing::Test {
protected:
    void SetUp() override {
        std::string pattern = (fs::temp_directory_path() / "markerlamp-XXXXXX").string();
        ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
        m_dir = pattern;
        ASSERT_EQ(::mkfifo((m_dir / "pipe").c_str(), 0600), 0);
        fs::create_directory(m_dir / "folder");
        fs::create_directory_symlink(m_dir / "folder", m_dir / "to-folder");
        fs::create_symlink(m_dir / "nowhere", m_dir / "to-nothing");
    }
    void TearDown() override { fs::remove_all(m_dir); }

    fs::path write(const std::string& name, const std::string& text) const {
        std::ofstream(m_dir / name, std::ios::binary) << text;
        return m_dir / name;
    }
    [[nodiscard]] std::string bytes(const std::string& name) const {
        std::ostringstream text;
        text << std::ifstream(m_dir / name, std::ios::binary).rdbuf();
        return text.str();
    }
    [[nodiscard]] std::size_t entries() const {
        return static_cast<std::size_t>(
            std::distance(fs::directory_iterator(m_dir), fs::directory_iterator()));
    }

    fs::path m_dir;
};

TEST_F(Files, ADocumentIsReadWholeOrOneByteTooFar) {
    const std::string text = std::string(200'000, 'x') + '\0' + "y";
    EXPECT_EQ(readDocument(write("d", text), text.size()).value(), text);
    EXPECT_EQ(readDocument(m_dir / "d", 10).value().size(), 11u) << "so that its reader sees it is too large";
    EXPECT_EQ(readDocument(write("empty", ""), 10).value(), "");
    EXPECT_EQ(readDocument(write("\xFF\xFE name", "z"), 10).value(), "z") << "a name need not be UTF-8";
}

TEST_F(Files, WhatIsNotThereIsNotFoundAndWhatIsNoDocumentIsRefused) {
    for (const char* name : {"none", "none/below", "d/below", "to-nothing"}) {
        write("d", "x");
        const auto read = readDocument(m_dir / name, 10);
        ASSERT_FALSE(read) << name;
        EXPECT_EQ(read.error().kind, ErrorKind::NotFound) << name;
        EXPECT_NE(read.error().message.find(name), std::string::npos) << read.error().message;
    }
    for (const char* name : {"pipe", "folder", "to-folder"}) {
        const auto read = readDocument(m_dir / name, 10);
        ASSERT_FALSE(read) << name;
        EXPECT_EQ(read.error().kind, ErrorKind::Refused) << name;
        EXPECT_NE(read.error().message.find("regular file"), std::string::npos) << read.error().message;
    }
}

TEST_F(Files, WhatTheSystemWillNotLookAtIsTheMachinesFault) {
    // A link to itself stands for every name that may well be there: no access shows the same, but not to
    // root.
    fs::create_symlink("circle", m_dir / "circle");
    EXPECT_EQ(readDocument(m_dir / "circle", 10).error().kind, ErrorKind::Machine);
    EXPECT_EQ(replaceFile(m_dir / "circle", "x").error().kind, ErrorKind::Machine);
    EXPECT_EQ(folderIsThere(m_dir / "circle" / "x").error().kind, ErrorKind::Machine);
}

TEST_F(Files, ReplacingKeepsModeAndLink) {
    ASSERT_TRUE(replaceFile(m_dir / "new", "one"));
    EXPECT_EQ(bytes("new"), "one");
    fs::permissions(m_dir / "new", fs::perms::owner_read | fs::perms::owner_write);
    fs::create_symlink("new", m_dir / "link");
    ASSERT_TRUE(replaceFile(m_dir / "link", "two"));
    EXPECT_EQ(bytes("new"), "two");
    EXPECT_TRUE(fs::is_symlink(m_dir / "link"));
    EXPECT_EQ(fs::status(m_dir / "new").permissions(), fs::perms::owner_read | fs::perms::owner_write);
}

TEST_F(Files, NothingButARegularFileIsReplaced) {
    const std::size_t before = entries();
    for (const char* name : {"pipe", "folder", "to-folder", "to-nothing"}) {
        const auto done = replaceFile(m_dir / name, "x");
        ASSERT_FALSE(done) << name;
        EXPECT_EQ(done.error().kind, ErrorKind::Refused) << name;
        EXPECT_NE(done.error().message.find(name), std::string::npos) << done.error().message;
    }
    EXPECT_TRUE(fs::is_fifo(m_dir / "pipe"));
    EXPECT_TRUE(fs::is_symlink(m_dir / "to-folder"));
    EXPECT_EQ(entries(), before) << "nothing half written";
}

TEST_F(Files, AFolderThatIsNotThereIsNamed) {
    const auto done = replaceFile(m_dir / "none" / "x", "x");
    ASSERT_FALSE(done);
    EXPECT_EQ(done.error().kind, ErrorKind::NotFound);
    EXPECT_NE(done.error().message.find("there is no folder " + (m_dir / "none").string()), std::string::npos)
        << done.error().message;
    write("d", "x");
    EXPECT_EQ(replaceFile(m_dir / "d" / "x", "x").error().kind, ErrorKind::Refused) << "below a file";
}

TEST_F(Files, ALongNameHasRoomForWhatIsMadeBesideIt) {
    const std::string name(250, 'n');
    ASSERT_TRUE(replaceFile(m_dir / name, "x"));
    EXPECT_EQ(bytes(name), "x");
}

}  // namespace
}  // namespace markerlamp::core
