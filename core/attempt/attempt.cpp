// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/attempt.h"

#include <algorithm>
#include <array>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr std::array<std::pair<EventKind, std::string_view>, 15> kWords{{
    {EventKind::Show, "show"},
    {EventKind::Say, "say"},
    {EventKind::Partly, "partly"},
    {EventKind::Wrong, "wrong"},
    {EventKind::Prompt, "prompt"},
    {EventKind::Reading, "reading"},
    {EventKind::Fault, "fault"},
    {EventKind::Omit, "omit"},
    {EventKind::Unseen, "unseen"},
    {EventKind::Unreached, "unreached"},
    {EventKind::Note, "note"},
    {EventKind::Pause, "pause"},
    {EventKind::Resume, "resume"},
    {EventKind::Retract, "retract"},
    {EventKind::End, "end"},
}};

}  // namespace

std::string_view toWord(EventKind kind) {
    const auto found = std::ranges::find(kWords, kind, &std::pair<EventKind, std::string_view>::first);
    return found == kWords.end() ? std::string_view{} : found->second;
}

std::optional<EventKind> eventKindFromWord(std::string_view word) {
    const auto found = std::ranges::find(kWords, word, &std::pair<EventKind, std::string_view>::second);
    if (found == kWords.end()) return std::nullopt;
    return found->first;
}

bool isEnded(const Attempt& attempt) {
    return std::ranges::any_of(attempt.events, [](const Event& e) { return e.kind == EventKind::End; });
}

}  // namespace markerlamp::core
