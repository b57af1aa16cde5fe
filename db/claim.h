#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Whose window a program file is open in. One window at a time writes to a file: of this user, of another
// user of this computer, and of another computer where the folder is shared and its file system tells of
// locks.

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

namespace markerlamp::db {

/// Who has a file, as the holder wrote it down. Empty fields: not known.
struct Holder {
    std::string host, user, process;
    std::string since;  ///< UTC, 2026-03-02T06:12:40Z
};

/// Held as long as it lives. The lock is the kernel's (flock on ".NAME.in-use" beside the file), so that it
/// goes with the process however that ends: what a killed one leaves behind is a file that nobody holds.
class Claim {
public:
    struct Outcome {
        std::unique_ptr<Claim> claim;
        std::optional<Holder> heldBy;  ///< somebody else has the file
    };
    /// Neither a claim nor a holder: the folder takes no files or knows no locks. Never waits.
    static Outcome on(const std::filesystem::path& program);
    [[nodiscard]] static std::filesystem::path placeFor(const std::filesystem::path& program);

    Claim(const Claim&) = delete;
    Claim& operator=(const Claim&) = delete;
    ~Claim();

private:
    Claim(int fd, std::filesystem::path place);
    int m_fd;
    std::filesystem::path m_place;
};

}  // namespace markerlamp::db
