#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A mixed logistic model of all step outcomes of a program, fitted by penalised likelihood with the spreads
// of its groups by marginal likelihood (Laplace). See README.md of this folder for formula, sources and
// figures.

#include "core/base/result.h"
#include "core/readiness/practice_record.h"

#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace markerlamp::core {

/// Raised whenever the same records would give another forecast; kept beside every frozen one.
inline constexpr int kForecastVersion = 1;

struct ModelOptions {
    double before = 1e9;         ///< day: only attempts that began before it count
    double halfLifeDays = 30;    ///< of practice; assumed unless the data prefer another (see README.md)
    bool searchHalfLife = true;  ///< among a few others, where the data clearly prefer one
    /// In [0, 1]; return false to stop: the fit then returns no model.
    std::function<bool(double)> progress;
};

/// Everything that the program's record says about steps, instructors, learning; and, on demand, about one
/// trainee. Deterministic for the same record. Immutable: one may be shared between threads.
class LearningModel {
public:
    /// A record without any attempt gives the prior model. nullptr only when progress said stop.
    static std::shared_ptr<const LearningModel> fit(std::shared_ptr<const PracticeRecord> record,
                                                    const ModelOptions& options = {});
    ~LearningModel();

    struct Spreads;  ///< standard deviations of the groups on the logit scale
    [[nodiscard]] const Spreads& spreads() const;
    [[nodiscard]] double halfLifeDays() const;
    [[nodiscard]] bool halfLifeIsAssumed() const;
    [[nodiscard]] double before() const;  ///< the day up to which it was fitted
    [[nodiscard]] const PracticeRecord& record() const;

    /// An instructor's severity: how many logits harder than the average (positive: stricter), with its
    /// standard error. For the program side; never a ranking.
    struct Severity {
        std::string instructor;
        double mean = 0, error = 0;
        int steps = 0;
    };
    [[nodiscard]] std::vector<Severity> severities() const;

    struct Data;
    [[nodiscard]] const Data& data() const { return *m_data; }

private:
    explicit LearningModel(std::unique_ptr<const Data> data);
    std::unique_ptr<const Data> m_data;
};

struct LearningModel::Spreads {
    double trainee = 0, slope = 0, zone = 0, step = 0, instructor = 0, day = 0;
};

}  // namespace markerlamp::core
