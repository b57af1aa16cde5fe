// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/text.h"

#include "core/base/fnv.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <numeric>

namespace markerlamp::core {

bool isUtf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        const int more = lead < 0x80                   ? 0
                         : lead >= 0xC2 && lead < 0xE0 ? 1
                         : lead >= 0xE0 && lead < 0xF0 ? 2
                         : lead >= 0xF0 && lead < 0xF5 ? 3
                                                       : -1;
        if (more < 0 || i + static_cast<std::size_t>(more) >= text.size()) return false;
        for (int k = 1; k <= more; ++k) {
            const auto c = static_cast<unsigned char>(text[i + static_cast<std::size_t>(k)]);
            if ((c & 0xC0) != 0x80) return false;
            if (k == 1 && ((lead == 0xE0 && c < 0xA0) || (lead == 0xED && c > 0x9F) ||
                           (lead == 0xF0 && c < 0x90) || (lead == 0xF4 && c > 0x8F)))
                return false;
        }
        i += static_cast<std::size_t>(more) + 1;
    }
    return true;
}

bool isKebabCase(std::string_view text) {
    if (text.empty() || text.size() > 100 || text.front() == '-' || text.back() == '-') return false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        const bool word = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        if (!word && !(c == '-' && text[i - 1] != '-')) return false;
    }
    return true;
}

bool isIsoDate(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    std::array<int, 3> part{};
    for (std::size_t i = 0, k = 0; i < 10; ++i) {
        if (i == 4 || i == 7) {
            ++k;
            continue;
        }
        if (text[i] < '0' || text[i] > '9') return false;
        part[k] = part[k] * 10 + (text[i] - '0');
    }
    const auto [year, month, day] = part;
    if (year < 1 || month < 1 || month > 12 || day < 1) return false;
    constexpr std::array<int, 12> lengths{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return day <= lengths[static_cast<std::size_t>(month) - 1] + (month == 2 && leap ? 1 : 0);
}

std::string shortestText(double value) {
    std::array<char, 64> buffer{};
    const auto end =
        value == std::floor(value) && std::abs(value) < 1e15
            ? std::to_chars(buffer.data(), buffer.data() + buffer.size(), static_cast<long long>(value))
            : std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
    return {buffer.data(), end.ptr};
}

std::string counted(int count, std::string_view one, std::string_view many) {
    std::string text = std::to_string(count) + " ";
    if (count != 1 && !many.empty()) return text.append(many);
    return text.append(one).append(count == 1 ? "" : "s");
}

std::string listed(const std::vector<std::string>& parts) {
    std::string text;
    for (std::size_t i = 0; i < parts.size(); ++i)
        text += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
    return text;
}

std::string listedAtMost(std::vector<std::string> parts, std::size_t most) {
    if (parts.size() > most) {
        const std::size_t more = parts.size() - most;
        parts.resize(most);
        parts.push_back(std::to_string(more) + " more");
    }
    return listed(parts);
}

std::string hashText(std::string_view bytes) {
    std::array<char, 17> text{};
    std::snprintf(text.data(), text.size(), "%016llx", static_cast<unsigned long long>(fnv1a(bytes)));
    return text.data();
}

int editDistance(std::string_view a, std::string_view b) {
    std::vector<int> row(b.size() + 1);
    std::iota(row.begin(), row.end(), 0);
    for (std::size_t i = 1; i <= a.size(); ++i) {
        int diagonal = row[0];
        row[0] = static_cast<int>(i);
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const int replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
            diagonal = row[j];
            row[j] = std::min({row[j] + 1, row[j - 1] + 1, replaced});
        }
    }
    return row.back();
}

std::string nearest(std::string_view word, const std::vector<std::string>& known) {
    if (word.size() > 60) return {};
    std::string best;
    int least = std::max(1, static_cast<int>(word.size()) / 3);
    for (const std::string& candidate : known)
        if (const int distance = editDistance(word, candidate);
            distance <= least && (best.empty() || distance < least)) {
            least = distance;
            best = candidate;
        }
    return best;
}

}  // namespace markerlamp::core
