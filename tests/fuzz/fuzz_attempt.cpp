// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: whatever the bytes, the attempt reader answers; what is sound reads back the same.

#include "core/attempt/attempt_document.h"

#include <cstdint>
#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace markerlamp::core;
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    if (const auto attempt = readAttempt(text)) {
        const auto again = readAttempt(writeAttempt(*attempt));
        if (!again || !(*again == *attempt)) std::abort();
    } else if (attempt.error().problems.empty()) {
        std::abort();
    }
    return 0;
}
