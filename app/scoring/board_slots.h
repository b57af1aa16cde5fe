#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which step of a zone stands where on the board, page by page: tiles down the columns, or, while readings
// are taken, slots over the whole width with the tiles between them. A pure function, in design pixels.

#include "core/attempt/attempt.h"
#include "core/rubric/rubric.h"

#include <QRectF>

#include <vector>

namespace markerlamp::app {

struct BoardSlot {
    enum class Kind { Tile, Reading, Minute };
    const core::Step* step = nullptr;
    bool onBus = true;  ///< the step applies to this bus
    Kind kind = Kind::Tile;
    int page = 0;
    QRectF rect;
};

struct BoardRoom {
    double width = 824;
    int rows = 6;
    int columns = 2;
    double tileHeight = 68;
    bool readings = false;

    bool operator==(const BoardRoom&) const = default;
};

[[nodiscard]] std::vector<BoardSlot> boardSlots(const core::Zone& zone, const core::AttemptHeader& header,
                                                const BoardRoom& room);
[[nodiscard]] int pageCount(const std::vector<BoardSlot>& all);

}  // namespace markerlamp::app
