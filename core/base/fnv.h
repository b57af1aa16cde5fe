#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// FNV-1a, 64 bits (http://www.isthe.com/chongo/tech/comp/fnv/): the same on every machine, unlike std::hash.

#include <cstdint>
#include <string_view>

namespace markerlamp::core {

[[nodiscard]] constexpr std::uint64_t fnv1a(std::string_view bytes) {
    std::uint64_t hash = 0xcbf29ce484222325U;
    for (const char c : bytes) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
    return hash;
}

}  // namespace markerlamp::core
