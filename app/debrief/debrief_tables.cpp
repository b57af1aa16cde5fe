// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/debrief/debrief_tables.h"

#include "app/support/display.h"

#include <QCoreApplication>

namespace markerlamp::app {

namespace {

class TableText {
    Q_DECLARE_TR_FUNCTIONS(TableText)
};

Cell numberCell(int value) {
    return sortedCell(QString::number(value), value);
}

}  // namespace

DataTable missedTable(const Debrief& debrief) {
    DataTable table{TableText::tr("Missed"),
                    {{TableText::tr("rank"), true},
                     {TableText::tr("step")},
                     {TableText::tr("zone")},
                     {TableText::tr("outcome")},
                     {TableText::tr("shown, said")},
                     {TableText::tr("missing")},
                     {TableText::tr("missed lately"), true},
                     {TableText::tr("of attempts"), true}},
                    {}};
    for (const MissedLine& line : debrief.missed)
        table.rows.push_back(
            {qs(line.say.step),
             {numberCell(line.rank), longCell(qs(line.say.title)), longCell(qs(line.say.zoneTitle)),
              Cell{outcomeWord(line.say.outcome)}, longCell(line.lampWords), longCell(line.missing),
              numberCell(line.say.missedRecent), numberCell(line.say.seenRecent)}});
    return table;
}

DataTable planTable(const Debrief& debrief) {
    DataTable table{TableText::tr("Plan"),
                    {{TableText::tr("zone")},
                     {TableText::tr("satisfied"), true},
                     {TableText::tr("observed"), true},
                     {TableText::tr("share"), true},
                     {TableText::tr("pass mark"), true}},
                    {}};
    for (const PlanFact& fact : debrief.plan) {
        Row row{fact.title, {longCell(fact.title)}};
        if (!fact.inScope)
            row.cells.push_back(mutedCell(TableText::tr("not asked")));
        else {
            row.cells.push_back(numberCell(fact.satisfied));
            row.cells.push_back(numberCell(fact.observed));
            row.cells.push_back(Cell{fact.observed > 0 ? percentText(100.0 * fact.satisfied / fact.observed)
                                                       : TableText::tr("not observed")});
            row.cells.push_back(Cell{percentText(debrief.passPercent)});
        }
        table.rows.push_back(std::move(row));
    }
    return table;
}

DataTable orderTable(const Debrief& debrief) {
    DataTable table{TableText::tr("Order"),
                    {{TableText::tr("done as"), true},
                     {TableText::tr("step")},
                     {TableText::tr("belongs as"), true},
                     {TableText::tr("place")}},
                    {}};
    for (const OrderTick& tick : debrief.order.ticks)
        table.rows.push_back(
            {tick.step,
             {numberCell(tick.done + 1), longCell(tick.title), numberCell(tick.belongs + 1),
              boldCell(tick.displaced ? TableText::tr("out of place") : TableText::tr("in place"),
                       tick.displaced)}});
    return table;
}

}  // namespace markerlamp::app
