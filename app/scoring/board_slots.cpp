// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/board_slots.h"

#include "app/scoring/brake_minute.h"

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

namespace {

constexpr double kGap = 8;

void placeTiles(std::vector<BoardSlot>& all, const BoardRoom& room) {
    const int perPage = std::max(1, room.rows * room.columns);
    const double width = std::floor((room.width - kGap * (room.columns - 1)) / room.columns);
    for (std::size_t i = 0; i < all.size(); ++i) {
        const int at = static_cast<int>(i) % perPage;
        const int column = at / room.rows, row = at % room.rows;
        all[i].page = static_cast<int>(i) / perPage;
        all[i].rect = QRectF(column * (width + kGap), row * (room.tileHeight + kGap), width, room.tileHeight);
    }
}

void placeReadings(std::vector<BoardSlot>& all, const BoardRoom& room) {
    const int columns = room.columns > 1 ? 2 : 1;
    const double half = std::floor((room.width - kGap * (columns - 1)) / columns);
    int page = 0;
    int row = 0;
    int column = 0;  // of the next tile in this row
    for (BoardSlot& slot : all) {
        const int need = slot.kind == BoardSlot::Kind::Minute ? std::min(2, room.rows) : 1;
        const bool wide = slot.kind != BoardSlot::Kind::Tile;
        if (wide && column > 0) {
            ++row;
            column = 0;
        }
        if (row + need > room.rows) {
            ++page;
            row = column = 0;
        }
        slot.page = page;
        slot.rect = QRectF(wide ? 0 : column * (half + kGap), row * (room.tileHeight + kGap),
                           wide ? room.width : half, need * room.tileHeight + (need - 1) * kGap);
        if (wide) {
            row += need;
        } else if (++column == columns) {
            ++row;
            column = 0;
        }
    }
}

}  // namespace

std::vector<BoardSlot> boardSlots(const core::Zone& zone, const core::AttemptHeader& header,
                                  const BoardRoom& room) {
    std::vector<BoardSlot> all;
    for (const core::Step& step : zone.steps) {
        BoardSlot slot;
        slot.step = &step;
        slot.onBus = core::appliesTo(step, header.equipment);
        if (room.readings && slot.onBus && step.reading)
            slot.kind = BrakeMinute::isMinute(step) ? BoardSlot::Kind::Minute : BoardSlot::Kind::Reading;
        all.push_back(slot);
    }
    if (room.readings)
        placeReadings(all, room);
    else
        placeTiles(all, room);
    return all;
}

int pageCount(const std::vector<BoardSlot>& all) {
    int pages = 1;
    for (const BoardSlot& slot : all) pages = std::max(pages, slot.page + 1);
    return pages;
}

}  // namespace markerlamp::app
