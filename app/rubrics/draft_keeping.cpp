// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/draft_keeping.h"

#include "core/rubric/draft_reading.h"
#include "core/rubric/rubric_reader.h"
#include "db/program_file.h"

#include <algorithm>
#include <charconv>

namespace markerlamp::app {

namespace {

constexpr std::string_view kKey = "draft.rubric.";
/// First line of what is kept: a remark to YAML.
constexpr std::string_view kBase = "# begun from edition ";

}  // namespace

core::Result<void> keepDraft(db::ProgramFile& file, const core::Rubric& draft, int base) {
    return file.setFact(std::string(kKey) + draft.id,
                        std::string(kBase) + std::to_string(base) + "\n" + core::writeRubric(draft));
}

core::Result<std::optional<KeptDraft>> keptDraft(db::ProgramFile& file, const std::string& rubric) {
    const auto text = file.fact(std::string(kKey) + rubric);
    if (!text) return core::fail(text.error());
    if (!*text || (*text)->empty()) return std::optional<KeptDraft>();
    KeptDraft kept;
    const std::string_view all = **text;
    if (all.starts_with(kBase))
        (void)std::from_chars(all.data() + kBase.size(), all.data() + all.size(), kept.base);
    kept.rubric = core::readRubricAsFarAsItGoes(all).rubric;
    if (kept.rubric.id != rubric)
        return core::fail(core::ErrorKind::Refused, "the draft of " + rubric + " cannot be read");
    return std::optional<KeptDraft>(std::move(kept));
}

core::Result<void> forgetDraft(db::ProgramFile& file, const std::string& rubric) {
    return file.setFact(std::string(kKey) + rubric, {});
}

core::Result<std::vector<std::string>> draftsIn(db::ProgramFile& file) {
    const auto facts = file.facts();
    if (!facts) return core::fail(facts.error());
    std::vector<std::string> ids;
    for (const auto& [key, value] : *facts)
        if (key.starts_with(kKey) && !value.empty()) ids.push_back(key.substr(kKey.size()));
    return ids;
}

core::Result<int> nextEdition(db::ProgramFile& file, const std::string& rubric) {
    const auto infos = file.rubrics();
    if (!infos) return core::fail(infos.error());
    int next = 1;
    for (const db::RubricInfo& info : *infos)
        if (info.id == rubric) next = std::max(next, info.edition + 1);
    return next;
}

core::Result<std::vector<std::shared_ptr<const core::Rubric>>> editionsOf(db::ProgramFile& file,
                                                                          const std::string& rubric) {
    const auto infos = file.rubrics();
    if (!infos) return core::fail(infos.error());
    std::vector<std::shared_ptr<const core::Rubric>> editions;
    for (const db::RubricInfo& info : *infos) {
        if (info.id != rubric) continue;
        auto read = file.rubric(info.id, info.edition);
        if (!read) return core::fail(read.error());
        editions.push_back(std::move(*read));
    }
    return editions;
}

}  // namespace markerlamp::app
