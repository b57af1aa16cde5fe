// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/plan_layout.h"

#include <gtest/gtest.h>

#include <rapidcheck/gtest.h>

#include <set>
#include <string>
#include <utility>
#include <vector>

namespace {

using markerlamp::core::Rubric;
using markerlamp::core::Zone;
using markerlamp::forms::PlanCell;
using markerlamp::forms::planCells;
using markerlamp::forms::planRowCount;

Rubric rubricOf(const std::vector<std::pair<std::string, std::string>>& zones) {
    Rubric rubric;
    for (const auto& [id, title] : zones) {
        Zone zone;
        zone.id = id;
        zone.title = title;
        rubric.zones.push_back(zone);
    }
    return rubric;
}

PlanCell cellOf(const Rubric& rubric, const std::string& id) {
    const std::vector<PlanCell> cells = planCells(rubric);
    for (std::size_t i = 0; i < cells.size(); ++i)
        if (rubric.zones[i].id == id) return cells[i];
    ADD_FAILURE() << id;
    return {};
}

TEST(PlanCells, StandWhereTheZonesAreOnTheBus) {
    const Rubric rubric = rubricOf({{"engine", "Engine compartment"},
                                    {"front-axle", "Front axle and steering"},
                                    {"left-side", "Left side"},
                                    {"under", "Under the bus"},
                                    {"rear-axle", "Rear axle, dual wheels"},
                                    {"rear", "Rear end"},
                                    {"right-side", "Right side"},
                                    {"entry", "Entry door and steps"},
                                    {"cabin", "Cabin and emergency exits"},
                                    {"driver", "Driver's area"},
                                    {"air-brakes", "Air-brake checks"},
                                    {"lamps", "Lamps and signals"}});
    EXPECT_EQ(cellOf(rubric, "engine"), (PlanCell{0, 1}));
    EXPECT_EQ(cellOf(rubric, "front-axle"), (PlanCell{0, 2}));
    EXPECT_EQ(cellOf(rubric, "left-side"), (PlanCell{1, 2}));
    EXPECT_EQ(cellOf(rubric, "under"), (PlanCell{2, 2}));
    EXPECT_EQ(cellOf(rubric, "rear-axle"), (PlanCell{2, 0}));
    EXPECT_EQ(cellOf(rubric, "rear"), (PlanCell{3, 1}));
    EXPECT_EQ(cellOf(rubric, "right-side"), (PlanCell{1, 0}));
    EXPECT_EQ(cellOf(rubric, "entry"), (PlanCell{0, 0}));
    EXPECT_EQ(cellOf(rubric, "cabin"), (PlanCell{2, 1}));
    EXPECT_EQ(cellOf(rubric, "driver"), (PlanCell{1, 1}));
    EXPECT_EQ(cellOf(rubric, "air-brakes"), (PlanCell{3, 2}));
    EXPECT_EQ(cellOf(rubric, "lamps"), (PlanCell{3, 0}));
}

TEST(PlanCells, KeepTheFrontAtTheNoseBesideTheEngine) {
    const Rubric rubric = rubricOf({{"front", "Front end"},
                                    {"engine", "Engine"},
                                    {"rear-right", "Rear, right"},
                                    {"entry-start", "Entry, start"},
                                    {"dash-panel", "Dash panel"},
                                    {"driver-area", "Driver area"}});
    EXPECT_EQ(cellOf(rubric, "engine"), (PlanCell{0, 1}));
    EXPECT_EQ(cellOf(rubric, "front"), (PlanCell{0, 0}));
    EXPECT_EQ(cellOf(rubric, "entry-start"), (PlanCell{1, 0}));
    EXPECT_EQ(cellOf(rubric, "rear-right"), (PlanCell{3, 1}));
    EXPECT_EQ(cellOf(rubric, "driver-area"), (PlanCell{1, 1}));
}

TEST(PlanCells, PutAnEngineAtTheRearToTheTail) {
    const Rubric rubric = rubricOf({{"engine", "Rear engine compartment"}, {"front", "Front of the bus"}});
    EXPECT_EQ(cellOf(rubric, "engine"), (PlanCell{3, 1}));
    EXPECT_EQ(cellOf(rubric, "front"), (PlanCell{0, 1}));
}

TEST(PlanCells, FillFreeCellsInRubricOrderWhereNoWordHelps) {
    const Rubric rubric =
        rubricOf({{"a", "Motorraum"}, {"b", "Vorderachse"}, {"engine", "Engine"}, {"c", "Heck"}});
    EXPECT_EQ(planCells(rubric), (std::vector<PlanCell>{{0, 0}, {1, 0}, {0, 1}, {2, 0}}));
}

TEST(PlanCells, GoOnBelowWhenThereAreMoreThanTwelveZones) {
    std::vector<std::pair<std::string, std::string>> zones;
    for (int i = 0; i < 20; ++i) zones.emplace_back("zone-" + std::to_string(i), "Zone");
    const std::vector<PlanCell> cells = planCells(rubricOf(zones));
    EXPECT_EQ(planRowCount(cells), 5);
    EXPECT_EQ(cells.back(), (PlanCell{3, 4}));
}

RC_GTEST_PROP(PlanCells, NeverShareACell, ()) {
    const auto word = rc::gen::element<std::string>("rear", "left", "engine", "axle", "cab", "air brakes",
                                                    "lift", "under", "Ünten", "driver", "");
    Rubric rubric;
    const auto titles =
        *rc::gen::container<std::vector<std::pair<std::string, std::string>>>(rc::gen::pair(word, word));
    rubric = rubricOf(titles);
    const std::vector<PlanCell> cells = planCells(rubric);
    RC_ASSERT(cells.size() == titles.size());
    std::set<std::pair<int, int>> seen;
    for (const PlanCell& cell : cells) {
        RC_ASSERT(cell.column >= 0 && cell.column < 4 && cell.row >= 0);
        RC_ASSERT(seen.insert({cell.row, cell.column}).second);
    }
    RC_ASSERT(cells == planCells(rubric));
    if (titles.size() <= 12) RC_ASSERT(planRowCount(cells) == 3);
}

}  // namespace
