#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A new file that is too large to be held in memory: written piece by piece.

#include "core/base/result.h"

#include <cstdio>
#include <filesystem>
#include <memory>
#include <string_view>

namespace markerlamp::core {

class FileWriter {
public:
    /// Makes a file with mode 0600; refuses one that is there.
    static Result<FileWriter> create(const std::filesystem::path& path);

    Result<void> write(std::string_view bytes);
    /// Syncs and closes. Only then are the bytes sure to be there.
    Result<void> finish();

private:
    struct Close {
        void operator()(std::FILE* file) const noexcept { std::fclose(file); }
    };
    FileWriter(std::filesystem::path path, std::FILE* file) : m_path(std::move(path)), m_file(file) {}
    Result<void> failed(int code) const;

    std::filesystem::path m_path;
    std::unique_ptr<std::FILE, Close> m_file;
};

}  // namespace markerlamp::core
