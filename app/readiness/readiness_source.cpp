// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/readiness_source.h"

namespace markerlamp::app {

namespace {

class FileSource final : public ReadinessSource {
public:
    explicit FileSource(std::unique_ptr<ProgramReadiness> program) : m_program(std::move(program)) {}

    core::Result<ReadinessAnswer> answer(const std::string& trainee, double now, bool withPlanner,
                                         const Progress& progress) override {
        ReadinessQuestion question;
        question.now = now;
        const auto upTo = [&progress](double from, double to) {
            return [&progress, from, to](double share) {
                return !progress || progress(from + (to - from) * share);
            };
        };
        auto readiness = m_program->readiness(trainee, question, upTo(0, withPlanner ? 0.8 : 1));
        if (!readiness) return core::fail(readiness.error());
        ReadinessAnswer answer;
        answer.readiness = std::move(*readiness);
        if (!answer.readiness.forecast.tooLittle)
            if (auto outlook = m_program->outlook(trainee, question)) answer.outlook = std::move(*outlook);
        if (!withPlanner) return answer;
        auto planner = m_program->planner(trainee, question, upTo(0.8, 1));
        if (!planner && wasStopped(planner.error())) return core::fail(planner.error());
        if (planner) {
            answer.planner = std::make_shared<const core::DrillPlanner>(std::move(*planner));
            if (const auto& rubric = answer.planner->draws().scope.rubric) {
                answer.rubric = rubric->id;
                answer.edition = rubric->edition;
            }
        }
        return answer;
    }

private:
    std::unique_ptr<ProgramReadiness> m_program;
};

}  // namespace

ReadinessOpener readinessOf(const std::filesystem::path& programFile) {
    return [programFile](
               const ReadinessSource::Progress& progress) -> core::Result<std::unique_ptr<ReadinessSource>> {
        auto file = db::ProgramFile::open(programFile, db::OpenMode::ReadOnly);
        if (!file) return core::fail(file.error());
        auto program = ProgramReadiness::read(**file, progress);
        if (!program) return core::fail(program.error());
        return std::make_unique<FileSource>(std::move(*program));
    };
}

bool wasStopped(const core::Error& error) {
    return error.kind == core::ErrorKind::Usage && error.message.empty();
}

}  // namespace markerlamp::app
