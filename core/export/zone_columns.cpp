// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/export/columns.h"

namespace markerlamp::core::columns {

const std::vector<Entry<ZoneLine>>& zoneEntries() {
    using Kind = ColumnKind;
    using Line = ZoneLine;
    static const std::vector<Entry<Line>> entries{
        {{"trainee", Kind::Text, keyOf(KeyKind::Trainee), 12, "key of the trainee"},
         [](const Line& l) { return text(l.of.person.trainee.key); }},
        {{"name", Kind::Text, kLeftOut, 24, "name of the trainee"},
         [](const Line& l) { return text(l.of.person.trainee.name); }},
        {{"group", Kind::Text, keyOf(KeyKind::Group), 16, "class or group of the trainee"},
         [](const Line& l) { return text(l.of.person.trainee.group); }},
        {{"rubric", Kind::Text, keyOf(KeyKind::Rubric), 24, "rubric of the newest attempt"},
         [](const Line& l) { return text(l.newest.rubric->id); }},
        {{"edition", Kind::Whole, kKept, 8, "its edition"},
         [](const Line& l) { return whole(l.newest.rubric->edition); }},
        {{"zone", Kind::Text, kKept, 16, "id of the zone"}, [](const Line& l) { return text(l.now.zone); }},
        {{"title", Kind::Text, kLeftOut, 24, "what the rubric calls the zone"},
         [](const Line& l) { return text(l.now.title); }},
        {{"satisfied", Kind::Whole, kKept, 10, "steps satisfied by oneself in the last three attempts"},
         [](const Line& l) { return whole(l.now.satisfied); }},
        {{"observed", Kind::Whole, kKept, 10, "steps observed in them"},
         [](const Line& l) { return whole(l.now.observed); }},
        {{"share", Kind::Share, kKept, 9,
          "share satisfied, shrunken towards how the trainee does elsewhere: few counts say little"},
         [](const Line& l) { return Cell(l.chance.rate); }},
        {{"share_low", Kind::Share, kKept, 10, "low end of its 80 percent interval"},
         [](const Line& l) { return Cell(l.chance.low); }},
        {{"share_high", Kind::Share, kKept, 10, "high end of its 80 percent interval"},
         [](const Line& l) { return Cell(l.chance.high); }},
        {{"target", Kind::Percent, kKept, 9, "pass mark of the rubric"},
         [](const Line& l) { return Cell(l.newest.rubric->pass.percent); }},
        {{"chance_below", Kind::Share, kKept, 12, "chance that the share lies under the pass mark"},
         [](const Line& l) { return Cell(l.chance.below); }},
        {{"weak", Kind::YesNo, kKept, 8, "yes: that chance is above 0.8 and five steps were observed"},
         [](const Line& l) { return Cell(l.chance.weak); }},
    };
    return entries;
}

}  // namespace markerlamp::core::columns
