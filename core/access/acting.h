#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Who works with a program file.

#include <string>

namespace markerlamp::core {

/// Anybody: sign-in is not in use, and everybody may do everything.
enum class Role { Anybody, Instructor, Coordinator };

struct Acting {
    std::string name;  ///< as the trail of changes writes it; empty: not signed in
    Role role = Role::Anybody;
    std::string instructor;  ///< key of the instructor whose attempts are their own

    bool operator==(const Acting&) const = default;
};

}  // namespace markerlamp::core
