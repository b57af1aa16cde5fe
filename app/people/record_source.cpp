// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/people/record_source.h"

#include "app/support/display.h"
#include "app/support/trainee_history.h"

namespace markerlamp::app {

using core::Result;

Result<core::PeopleSettings> peopleSettingsOf(db::ProgramFile& file) {
    const auto facts = file.facts();
    if (!facts) return core::fail(facts.error());
    return core::peopleSettingsFromFacts(*facts);
}

Result<core::PersonFile> personOf(db::ProgramFile& file, const std::string& trainee) {
    auto person = file.personFile(trainee);
    if (!person) return core::fail(person.error());
    if (*person) return std::move(**person);
    const auto all = file.trainees();
    if (!all) return core::fail(all.error());
    return core::fail(core::ErrorKind::NotFound, noSuchTrainee(trainee, *all));
}

Result<forms::TrainingRecordInput> trainingRecordInput(db::ProgramFile& file, const std::string& trainee) {
    const auto person = personOf(file, trainee);
    if (!person) return core::fail(person.error());
    const auto settings = peopleSettingsOf(file);
    if (!settings) return core::fail(settings.error());
    const auto title = file.fact("program.title");
    if (!title) return core::fail(title.error());
    const auto instructors = file.instructors();
    if (!instructors) return core::fail(instructors.error());
    forms::TrainingRecordInput input;
    input.record = core::trainingRecord(*person, *settings);
    input.programTitle = qs(title->value_or(std::string()));
    for (const core::Instructor& one : *instructors) input.instructors[one.key] = qs(one.name);
    return input;
}

Result<std::vector<core::KeepRow>> keepRowsOf(db::ProgramFile& file, const std::string& today) {
    const auto trainees = file.trainees();
    if (!trainees) return core::fail(trainees.error());
    const auto last = file.lastRecords();
    if (!last) return core::fail(last.error());
    const auto settings = peopleSettingsOf(file);
    if (!settings) return core::fail(settings.error());
    return core::keepRows(*trainees, *last, today, *settings);
}

}  // namespace markerlamp::app
