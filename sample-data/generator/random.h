#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Chance for the demo program. Whole numbers only, no std::distribution and no floating point, so that the
// same seed gives the same program with every compiler and library.

#include <cstdint>
#include <initializer_list>
#include <string_view>

namespace markerlamp::demo {

/// splitmix64 (Steele, Lea and Flood 2014).
class Random {
public:
    explicit Random(std::uint64_t seed) : m_state(seed) {}

    std::uint64_t next() {
        m_state += 0x9E3779B97F4A7C15u;
        std::uint64_t z = m_state;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
        return z ^ (z >> 31);
    }
    /// 0 .. bound-1; bound >= 1.
    int below(int bound) {
        return static_cast<int>(((next() >> 32) * static_cast<std::uint64_t>(bound)) >> 32);
    }
    /// Both ends included.
    int between(int low, int high) { return low + below(high - low + 1); }
    /// True in `perMille` of 1000 cases.
    bool chance(int perMille) { return below(1000) < perMille; }

private:
    std::uint64_t m_state;
};

/// A number that belongs to these words: what a trainee finds hard stays hard in every attempt.
inline std::uint64_t mix(std::uint64_t seed, std::initializer_list<std::string_view> words) {
    std::uint64_t hash = 0xCBF29CE484222325u ^ seed;
    for (const std::string_view word : words) {
        for (const char c : word) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3u;
        hash = (hash ^ 0xFFu) * 0x100000001B3u;
    }
    return Random(hash).next();
}

}  // namespace markerlamp::demo
