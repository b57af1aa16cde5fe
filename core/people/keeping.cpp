// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/keeping.h"

#include "core/people/person_file.h"

#include <algorithm>
#include <map>
#include <tuple>

namespace markerlamp::core {

std::vector<KeepRow> keepRows(const std::vector<Trainee>& trainees, const std::vector<LastRecord>& last,
                              const std::string& today, const PeopleSettings& settings) {
    std::map<std::string_view, std::string_view> dates;
    for (const LastRecord& one : last) dates[one.trainee] = one.date;
    std::vector<KeepRow> rows;
    for (const Trainee& trainee : trainees) {
        if (isErased(trainee)) continue;
        KeepRow row;
        row.trainee = trainee.key;
        row.last = dates[trainee.key];
        row.from = monthsAfter(row.last, 12 * settings.keepYears);
        row.may = row.from <= today;  // ISO dates sort as they follow
        rows.push_back(std::move(row));
    }
    std::ranges::sort(rows, {}, [](const KeepRow& row) { return std::tie(row.from, row.trainee); });
    return rows;
}

}  // namespace markerlamp::core
