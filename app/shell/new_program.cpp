// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/new_program.h"

#include "core/rubric/rubric_reader.h"
#include "db/program_file.h"
#include "demo/generator/built_in.h"
#include "demo/generator/demo_program.h"

#include <algorithm>
#include <optional>

namespace markerlamp::app {

namespace {

using core::Result;

bool isRubric(const demo::BuiltInDocument& document) {
    return document.name.ends_with(".rubric.yaml");
}

Result<void> addBuiltIn(db::ProgramFile& file) {
    for (const demo::BuiltInDocument& document : demo::builtInDocuments()) {
        const auto added = isRubric(document) ? file.addRubric(document.text, document.name)
                                              : file.addLimitSet(document.text, document.name);
        if (!added) return core::fail(added.error());
    }
    return {};
}

/// The built-in rubric whose buses all have this equipment tag.
Result<core::Rubric> builtInRubric(const std::string& id) {
    for (const demo::BuiltInDocument& document : demo::builtInDocuments()) {
        if (!isRubric(document)) continue;
        auto rubric = core::readRubric(document.text, document.name);
        if (!rubric) return core::fail(rubric.error());
        if (rubric->id == id) return rubric;
    }
    return core::fail(core::ErrorKind::NotFound, "there is no built-in rubric " + id);
}

Result<void> addDemo(db::ProgramFile& file, const std::string& lastDay) {
    auto air = builtInRubric("air-brake-school-bus");
    if (!air) return core::fail(air.error());
    auto hydraulic = builtInRubric("hydraulic-brake-school-bus");
    if (!hydraulic) return core::fail(hydraulic.error());
    demo::DemoOptions options;
    options.lastDay = lastDay;
    const demo::DemoProgram program = demo::makeDemoProgram(*air, *hydraulic, options);
    for (const auto& [key, value] :
         {std::pair{"program.title", program.title}, std::pair{"program.note", program.note},
          std::pair{"program.record.provider_name", program.title},
          std::pair{kDemoUntilFact, program.lastDay}})
        if (auto done = file.setFact(key, value); !done) return done;
    for (const auto& trainee : program.trainees)
        if (auto done = file.saveTrainee(trainee); !done) return done;
    for (const auto& instructor : program.instructors)
        if (auto done = file.saveInstructor(instructor); !done) return done;
    for (const auto& bus : program.buses)
        if (auto done = file.saveBus(bus); !done) return done;
    for (const auto& attempt : program.attempts)
        if (auto added = file.addAttempt(attempt); !added) return core::fail(added.error());
    for (const auto& hours : program.hours)
        if (auto added = file.addClockHours(hours); !added) return core::fail(added.error());
    for (const auto& test : program.bookings)
        if (auto added = file.addBookedTest(test); !added) return core::fail(added.error());
    for (const auto& absence : program.absences)
        if (auto added = file.addAbsence(absence); !added) return core::fail(added.error());
    for (const auto& course : program.courses)
        if (auto done = file.saveCourse(course); !done) return done;
    return {};
}

}  // namespace

Result<void> makeProgram(const std::filesystem::path& path, const std::optional<std::string>& demoUntil) {
    Result<void> done;
    {
        auto file = db::ProgramFile::create(path);
        if (!file) return core::fail(file.error());
        (*file)->actAs({"Markerlamp", core::Role::Anybody, {}});  // what comes with the program
        done = (*file)->transaction([&]() -> Result<void> {
            if (auto added = addBuiltIn(**file); !added) return added;
            return demoUntil ? addDemo(**file, *demoUntil) : Result<void>{};
        });
    }
    if (!done) {
        std::error_code ignored;
        for (const char* tail : {"", "-wal", "-shm"})
            std::filesystem::remove(std::filesystem::path(path.string() + tail), ignored);
    }
    return done;
}

}  // namespace markerlamp::app
