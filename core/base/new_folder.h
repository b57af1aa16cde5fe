#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A folder that appears whole or not at all: filled beside its place, then renamed.

#include "core/base/result.h"

#include <filesystem>

namespace markerlamp::core {

class NewFolder {
public:
    /// `dir` must not exist or be empty, and its parent must be there. Only the owner may look into it.
    static Result<NewFolder> begin(const std::filesystem::path& dir);
    NewFolder(NewFolder&& other) noexcept;
    NewFolder(const NewFolder&) = delete;
    NewFolder& operator=(NewFolder&&) = delete;
    NewFolder& operator=(const NewFolder&) = delete;
    /// Takes away what was not published.
    ~NewFolder();

    /// Where to put the files meanwhile.
    [[nodiscard]] const std::filesystem::path& path() const { return m_part; }
    /// Gives the folder its name; nothing may be added afterwards.
    Result<void> publish();

private:
    NewFolder(std::filesystem::path part, std::filesystem::path target);

    std::filesystem::path m_part;  ///< empty: published, or moved from
    std::filesystem::path m_target;
};

}  // namespace markerlamp::core
