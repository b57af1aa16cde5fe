// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: whatever the bytes, the rubric and limit-set readers answer; what is sound reads back the
// same.

#include "core/rubric/order_relation.h"
#include "core/rubric/rubric_reader.h"

#include <cstdint>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace markerlamp::core;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    if (const auto rubric = readRubric(text)) {
        const auto again = readRubric(writeRubric(*rubric));
        if (!again || !(*again == *rubric)) std::abort();
        const OrderRelation relation(*rubric);
        for (int i = 0; i < relation.steps(); ++i)
            if (relation.before(i, i)) std::abort();
    } else if (rubric.error().problems.empty()) {
        std::abort();
    }
    (void)readLimitSet(text);
    return 0;
}
