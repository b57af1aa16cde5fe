// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/draws.h"

#include <cmath>
#include <numbers>
#include <utility>

namespace markerlamp::core {

double Draws::uniform() {
    constexpr double kBits = 1.0 / 9007199254740992.0;  // 2^-53
    return (static_cast<double>(m_engine() >> 11) + 0.5) * kBits;
}

double Draws::normal() {  // Box & Muller 1958
    const double radius = std::sqrt(-2 * std::log(uniform()));
    return radius * std::cos(2 * std::numbers::pi * uniform());
}

Eigen::MatrixXd Draws::normals(Eigen::Index rows, Eigen::Index columns) {
    Eigen::MatrixXd values(rows, columns);
    // Every second column mirrors the one before it: means over draws come out with less noise.
    for (Eigen::Index c = 0; c < columns; ++c)
        for (Eigen::Index r = 0; r < rows; ++r) values(r, c) = c % 2 == 1 ? -values(r, c - 1) : normal();
    return values;
}

std::vector<double> Draws::stratified(int n) {
    std::vector<double> values;
    values.reserve(static_cast<std::size_t>(n));
    for (int i = 0; i < n; ++i) values.push_back((i + 0.5) / n);
    for (std::size_t i = values.size(); i > 1; --i)  // Fisher & Yates
        std::swap(values[i - 1], values[m_engine() % i]);
    return values;
}

}  // namespace markerlamp::core
