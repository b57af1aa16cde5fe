#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a program could do without a learning model, to be beaten. None of it uses core/readiness.

#include <functional>
#include <vector>

namespace markerlamp::school {

/// One observed step of one person.
struct Answer {
    int person = 0;
    int item = 0;
    bool right = false;
};

/// Person plus step on the logit scale (Rasch 1960), ridge on both, by Newton steps one at a time.
class PersonPlusItem {
public:
    PersonPlusItem(const std::vector<Answer>& answers, int persons, int items, double ridge = 1);
    [[nodiscard]] double chance(int person, int item) const;

private:
    double m_mean = 0;
    std::vector<double> m_persons, m_items;
};

/// Chance that weights of what is right sum to at least `need`, with every must-pass item right: by adding up
/// one item after the other.
struct Chanced {
    double right = 0;
    int weight = 1;
    bool mustPass = false;
};
[[nodiscard]] double chanceOfPassing(const std::vector<Chanced>& items, int need);

/// (successes + strength * mean) / (tries + strength)
[[nodiscard]] double shrunk(double successes, double tries, double mean, double strength);

}  // namespace markerlamp::school
