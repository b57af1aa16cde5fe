#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Tests that let the program work in a folder of their own.

#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>

namespace markerlamp::cli {

class InFolder : public ::testing::Test {
protected:
    void SetUp() override {
        std::string pattern = (std::filesystem::temp_directory_path() / "markerlamp-XXXXXX").string();
        dir = ::mkdtemp(pattern.data());
    }
    void TearDown() override { std::filesystem::remove_all(dir); }

    [[nodiscard]] std::string at(const std::string& name) const { return (dir / name).string(); }

    /// Every file below a folder: its path there, and its bytes.
    [[nodiscard]] std::map<std::string, std::string> filesOf(const std::string& name) const {
        std::map<std::string, std::string> files;
        for (const auto& entry : std::filesystem::recursive_directory_iterator(dir / name)) {
            if (!entry.is_regular_file()) continue;
            std::ostringstream text;
            text << std::ifstream(entry.path(), std::ios::binary).rdbuf();
            files[std::filesystem::relative(entry.path(), dir / name).string()] = text.str();
        }
        return files;
    }

    std::filesystem::path dir;
};

}  // namespace markerlamp::cli
