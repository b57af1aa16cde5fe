// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/step_finder.h"

#include "app/scoring/scoring_model.h"
#include "app/support/display.h"

#include <QStringList>

#include <algorithm>
#include <optional>

namespace markerlamp::app {

namespace {

bool holdsAll(const QString& text, const QStringList& words) {
    return std::ranges::all_of(words,
                               [&](const QString& word) { return text.contains(word, Qt::CaseInsensitive); });
}

bool everyWordBegins(const QString& text, const QStringList& words) {
    const QStringList own = text.split(QLatin1Char(' '), Qt::SkipEmptyParts);
    return std::ranges::all_of(words, [&](const QString& word) {
        return std::ranges::any_of(
            own, [&](const QString& one) { return one.startsWith(word, Qt::CaseInsensitive); });
    });
}

/// Smaller is better; nullopt: no match.
std::optional<int> rankOf(const ScoringModel& model, int index, const QStringList& words) {
    if (words.size() == 1 && words.front() == QString::number(index + 1)) return 0;
    const QString title = model.title(index);
    if (title.startsWith(words.join(QLatin1Char(' ')), Qt::CaseInsensitive)) return 1;
    if (everyWordBegins(title, words)) return 2;
    if (holdsAll(title, words)) return 3;
    QString rest =
        title + QLatin1Char(' ') + model.zones()[static_cast<std::size_t>(model.zoneOf(index))].title;
    const core::Step& step = model.step(index);
    rest += QLatin1Char(' ') + qs(step.show);
    for (const core::Point& point : step.say) {
        rest += QLatin1Char(' ') + qs(point.text);
        for (const std::string& like : point.like) rest += QLatin1Char(' ') + qs(like);
    }
    if (holdsAll(rest, words)) return 4;
    return std::nullopt;
}

}  // namespace

std::vector<int> findSteps(const ScoringModel& model, const QString& words) {
    const QStringList wanted = words.simplified().split(QLatin1Char(' '), Qt::SkipEmptyParts);
    if (wanted.isEmpty()) return {};
    std::vector<std::pair<int, int>> found;
    for (int i = 0; i < model.stepCount(); ++i)
        if (const auto rank = rankOf(model, i, wanted)) found.emplace_back(*rank, i);
    std::ranges::sort(found);
    std::vector<int> steps;
    for (const auto& [rank, index] : found) steps.push_back(index);
    return steps;
}

}  // namespace markerlamp::app
