// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/new_folder.h"

#include "core/base/files.h"

#include <system_error>
#include <utility>

namespace markerlamp::core {

namespace fs = std::filesystem;

NewFolder::NewFolder(fs::path part, fs::path target) : m_part(std::move(part)), m_target(std::move(target)) {}

NewFolder::NewFolder(NewFolder&& other) noexcept
    : m_part(std::exchange(other.m_part, {})), m_target(std::move(other.m_target)) {}

NewFolder::~NewFolder() {
    if (m_part.empty()) return;
    std::error_code ignored;
    fs::remove_all(m_part, ignored);
}

Result<NewFolder> NewFolder::begin(const fs::path& dir) {
    std::error_code ec;
    fs::path target = dir;
    if (!target.has_filename()) target = target.parent_path();
    const auto status = fs::status(target, ec);
    if (fs::exists(status)) {
        if (!fs::is_directory(status) || !fs::is_empty(target, ec))
            return fail(ErrorKind::Refused,
                        dir.string() + " is there and not an empty folder; choose another name");
        // The folder itself is replaced, not a link that leads to it.
        target = fs::canonical(target, ec);
        if (ec) return fail(ErrorKind::Machine, dir.string() + " cannot be used: " + ec.message());
    } else if (fs::is_symlink(fs::symlink_status(target, ec))) {
        return fail(ErrorKind::Refused, dir.string() + " is a link that leads nowhere; choose another name");
    } else if (auto there = folderIsThere(target); !there) {
        return fail(there.error());
    }
    fs::path part = besideName(target, "part");
    fs::create_directory(part, ec);
    if (ec)
        return fail(ErrorKind::Machine,
                    "no folder can be made beside " + target.string() + ": " + ec.message());
    fs::permissions(part, fs::perms::owner_all, ec);
    return NewFolder(std::move(part), std::move(target));
}

Result<void> NewFolder::publish() {
    std::error_code ec;
    fs::rename(m_part, m_target, ec);  // takes the place of an empty folder
    if (ec)
        return fail(ErrorKind::Machine,
                    "the folder " + m_target.string() + " cannot be put in its place: " + ec.message());
    m_part.clear();
    return {};
}

}  // namespace markerlamp::core
