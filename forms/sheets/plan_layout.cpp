// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/plan_layout.h"

#include <algorithm>
#include <cstddef>
#include <set>
#include <string>
#include <string_view>

namespace markerlamp::forms {

namespace {

/// A zone whose words hold all of `words` wants one of `cells`, the first that is free.
struct Wish {
    std::vector<std::string_view> words;  ///< beginnings of words, lower case
    std::vector<PlanCell> cells;
};

// The narrow descriptions come first: "rear axle" must not be taken for the rear of the bus, and the engine
// stands before the front, which then takes the corner beside it.
const std::vector<Wish>& wishes() {
    static const std::vector<Wish> table{
        {{"rear", "engine"}, {{3, 1}}},
        {{"front", "axle"}, {{0, 2}}},
        {{"front", "wheel"}, {{0, 2}}},
        {{"rear", "axle"}, {{2, 0}, {2, 2}}},
        {{"rear", "wheel"}, {{2, 0}, {2, 2}}},
        {{"air", "brake"}, {{3, 2}, {1, 2}}},
        {{"brake", "check"}, {{3, 2}, {1, 2}}},
        {{"brake", "test"}, {{3, 2}, {1, 2}}},
        {{"engine"}, {{0, 1}}},
        {{"hood"}, {{0, 1}}},
        {{"front"}, {{0, 1}, {0, 0}, {0, 2}}},
        {{"nose"}, {{0, 1}, {0, 0}, {0, 2}}},
        {{"rear", "right"}, {{3, 1}, {3, 0}, {2, 0}}},
        {{"rear", "left"}, {{3, 1}, {3, 2}, {2, 2}}},
        {{"right"}, {{1, 0}, {2, 0}, {0, 0}}},
        {{"curb"}, {{1, 0}, {2, 0}, {0, 0}}},
        {{"left"}, {{1, 2}, {2, 2}, {0, 2}}},
        {{"entry"}, {{0, 0}, {1, 0}}},
        {{"entrance"}, {{0, 0}, {1, 0}}},
        {{"step", "well"}, {{0, 0}, {1, 0}}},
        {{"stepwell"}, {{0, 0}, {1, 0}}},
        {{"loading", "door"}, {{0, 0}, {1, 0}}},
        {{"lamp"}, {{3, 0}, {0, 0}}},
        {{"light"}, {{3, 0}, {0, 0}}},
        {{"signal"}, {{3, 0}, {0, 0}}},
        {{"lift"}, {{2, 0}, {3, 0}}},
        {{"under"}, {{2, 2}, {3, 2}}},
        {{"frame"}, {{2, 2}, {3, 2}}},
        {{"axle"}, {{0, 2}, {2, 0}}},
        {{"steering"}, {{0, 2}, {1, 1}}},
        {{"suspension"}, {{0, 2}, {2, 2}}},
        {{"driver"}, {{1, 1}, {0, 1}}},
        {{"cabin"}, {{2, 1}, {1, 1}}},
        {{"passenger"}, {{2, 1}, {1, 1}}},
        {{"interior"}, {{2, 1}, {1, 1}}},
        {{"inside"}, {{2, 1}, {1, 1}}},
        {{"aisle"}, {{2, 1}, {1, 1}}},
        {{"exit"}, {{2, 1}, {3, 1}}},
        {{"rear"}, {{3, 1}, {3, 0}, {3, 2}}},
        {{"back"}, {{3, 1}, {3, 0}, {3, 2}}},
        {{"tail"}, {{3, 1}, {3, 0}, {3, 2}}},
        {{"dash"}, {{1, 1}, {1, 0}, {2, 1}, {2, 2}}},
        {{"gauge"}, {{1, 1}, {1, 0}, {2, 1}, {2, 2}}},
        {{"control"}, {{1, 1}, {1, 0}, {2, 1}, {2, 2}}},
        {{"seat", "start"}, {{1, 1}, {2, 1}}},
        {{"cab"}, {{1, 1}, {2, 1}}},
        {{"approach"}, {{0, 0}, {0, 1}}},
        {{"brake"}, {{3, 2}, {1, 2}}},
    };
    return table;
}

// Whole words only for these: "cab" is not the cabin, "lift" not "liftgate".
bool begins(std::string_view word, std::string_view wanted) {
    if (wanted == "cab" || wanted == "lift" || wanted == "right" || wanted == "left") return word == wanted;
    return word.substr(0, wanted.size()) == wanted;
}

std::vector<std::string> wordsOf(const core::Zone& zone) {
    std::vector<std::string> words(1);
    for (const char c : zone.id + " " + zone.title) {
        const bool upper = c >= 'A' && c <= 'Z';
        if (upper || (c >= 'a' && c <= 'z'))
            words.back() += upper ? static_cast<char>(c - 'A' + 'a') : c;
        else if (!words.back().empty())
            words.emplace_back();
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

/// The cells a zone would like, best first, and how narrow the description was that it met first.
struct Wanted {
    std::vector<PlanCell> cells;
    std::size_t rank = 0;
};

Wanted wantedBy(const core::Zone& zone) {
    const std::vector<std::string> words = wordsOf(zone);
    Wanted wanted{{}, wishes().size()};
    for (std::size_t i = 0; i < wishes().size(); ++i) {
        const Wish& wish = wishes()[i];
        const bool meets = std::all_of(wish.words.begin(), wish.words.end(), [&](std::string_view one) {
            return std::any_of(words.begin(), words.end(),
                               [&](const std::string& word) { return begins(word, one); });
        });
        if (!meets) continue;
        if (wanted.cells.empty()) wanted.rank = i;
        for (const PlanCell& cell : wish.cells)
            if (std::find(wanted.cells.begin(), wanted.cells.end(), cell) == wanted.cells.end())
                wanted.cells.push_back(cell);
    }
    return wanted;
}

}  // namespace

std::vector<PlanCell> planCells(const core::Rubric& rubric) {
    const std::size_t count = rubric.zones.size();
    std::vector<Wanted> wanted;
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < count; ++i) {
        wanted.push_back(wantedBy(rubric.zones[i]));
        order.push_back(i);
    }
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return wanted[a].rank < wanted[b].rank; });

    std::vector<PlanCell> cells(count);
    std::vector<bool> placed(count, false);
    std::set<std::pair<int, int>> taken;
    const auto place = [&](std::size_t zone, PlanCell cell) {
        if (!taken.insert({cell.row, cell.column}).second) return;
        cells[zone] = cell;
        placed[zone] = true;
    };
    // The narrowest description chooses first.
    for (const std::size_t zone : order)
        for (const PlanCell& cell : wanted[zone].cells)
            if (!placed[zone]) place(zone, cell);
    int next = 0;
    for (std::size_t zone = 0; zone < count; ++zone) {
        while (!placed[zone]) {
            place(zone, {next % kPlanColumns, next / kPlanColumns});
            ++next;
        }
    }
    return cells;
}

int planRowCount(const std::vector<PlanCell>& cells) {
    int rows = kPlanRows;
    for (const PlanCell& cell : cells) rows = std::max(rows, cell.row + 1);
    return rows;
}

}  // namespace markerlamp::forms
