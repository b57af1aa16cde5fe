#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a fitted model holds; only for the forecast.

#include "core/readiness/kept_chance.h"
#include "core/readiness/learning_model.h"
#include "core/readiness/mixed_fit.h"
#include "core/readiness/trainee_rows.h"

#include <Eigen/Dense>

#include <memory>
#include <vector>

namespace markerlamp::core {

inline constexpr int kGlobalDraws = 400;

struct LearningModel::Data {
    Data(std::shared_ptr<const PracticeRecord> given, double day)
        : record(std::move(given)), before(day), layout(*record, day), habits(*record, day) {}

    std::shared_ptr<const PracticeRecord> record;
    double before;
    ModelLayout layout;
    Habits habits;
    double halfLife = 30;
    bool halfLifeAssumed = true;
    Spreads spreads;
    std::vector<double> spread;   ///< by ModelGroup
    Eigen::VectorXd effects;      ///< mode of the shared effects
    Eigen::VectorXd errors;       ///< their standard errors
    Eigen::MatrixXd effectDraws;  ///< kGlobalDraws x effects, differences from the mode
    int trainees = 0, tries = 0;  ///< that the fit rests on
};

}  // namespace markerlamp::core
