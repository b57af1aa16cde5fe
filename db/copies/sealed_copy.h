#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Copies that only a passphrase opens.

#include "core/base/result.h"
#include "db/package/seal.h"

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string_view>
#include <utility>

namespace markerlamp::db {

class ProgramFile;

/// Writes a copy that lies still as a sealed file: beside the name, read back and compared, synced, renamed.
core::Result<void> sealCopy(const std::filesystem::path& copy, const std::filesystem::path& sealed,
                            const SealKey& key);
/// A sealed copy of a program file under a name that is not there yet; the plain copy in between is private
/// and goes again.
core::Result<void> sealedCopyTo(const std::filesystem::path& program, const std::filesystem::path& sealed,
                                const SealKey& key);

/// A copy as a plain file, while this lives: a sealed one is opened into a private folder beside `near`,
/// under its own name without ".sealed".
class OpenedCopy {
public:
    using Open =
        std::function<core::Result<std::unique_ptr<SealReader>>(const std::filesystem::path& sealed)>;
    /// A copy that is not sealed is used where it lies, and `open` is not asked.
    static core::Result<OpenedCopy> open(const std::filesystem::path& copy, const std::filesystem::path& near,
                                         const Open& open);
    OpenedCopy(OpenedCopy&& other) noexcept;
    OpenedCopy(const OpenedCopy&) = delete;
    OpenedCopy& operator=(const OpenedCopy&) = delete;
    OpenedCopy& operator=(OpenedCopy&&) = delete;
    ~OpenedCopy();

    [[nodiscard]] const std::filesystem::path& path() const { return m_path; }

private:
    OpenedCopy(std::filesystem::path path, std::filesystem::path folder)
        : m_path(std::move(path)), m_folder(std::move(folder)) {}
    std::filesystem::path m_path;
    std::filesystem::path m_folder;  ///< empty: nothing to take away
};

/// The key that copies in the second place are sealed with; nothing: they are plain.
core::Result<std::optional<SealKey>> secondSealOf(ProgramFile& file);
/// From now on copies in the second place are sealed, and plain ones there go once a sealed one is there. An
/// empty passphrase: plain again; sealed ones stay.
core::Result<void> setSecondSeal(ProgramFile& file, std::string_view passphrase, const SealCost& cost = {});

}  // namespace markerlamp::db
