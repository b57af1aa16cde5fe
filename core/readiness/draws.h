#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Random numbers that are the same on every machine and in every run: the distributions of the standard
// library are not laid down, its engines are.

#include <Eigen/Dense>

#include <cstdint>
#include <random>
#include <vector>

namespace markerlamp::core {

class Draws {
public:
    explicit Draws(std::uint64_t seed) : m_engine(seed) {}
    [[nodiscard]] double uniform();  ///< in (0, 1)
    [[nodiscard]] double normal();
    [[nodiscard]] Eigen::MatrixXd normals(Eigen::Index rows, Eigen::Index columns);
    /// n values that cover (0, 1) evenly, in random order.
    [[nodiscard]] std::vector<double> stratified(int n);

private:
    std::mt19937_64 m_engine;
};

}  // namespace markerlamp::core
