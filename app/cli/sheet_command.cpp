// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp sheet`: printed documents as PDF, without a display.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/support/trainee_history.h"
#include "core/rubric/rubric_reader.h"
#include "forms/sheets/sheets.h"
#include "forms/style/fonts.h"

#include <QDateTime>
#include <QFile>
#include <QFileInfo>
#include <QGuiApplication>
#include <QStringList>

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

namespace markerlamp::app {

namespace {

using core::ErrorKind;
using core::fail;
using core::Result;

constexpr const char* kHelp =
    "Usage: markerlamp sheet FILE --trainee KEY [--attempt ID] --out F.pdf\n"
    "       markerlamp sheet --blank RUBRIC [--equipment TAGS] --out F.pdf\n"
    "       markerlamp sheet --study RUBRIC [--zone ID] --out F.pdf\n\n"
    "Writes a printed document, black and white, as PDF. FILE is a program file (*.markerlamp), RUBRIC a\n"
    "rubric document (*.rubric.yaml). Print at 100 percent.\n\n"
    "  --trainee KEY     progress sheet of this trainee\n"
    "  --attempt ID      of this attempt; without it, of the newest finished one\n"
    "  --blank RUBRIC    blank score sheet, for days without power\n"
    "  --equipment TAGS  only the steps of a bus with these tags (\"air-brakes wheelchair-lift\");\n"
    "                    without it every step, marked with what it needs\n"
    "  --study RUBRIC    what to show and what to say\n"
    "  --zone ID         of one zone; without it, of all of them\n"
    "  --out F.pdf       the file to write; nothing is written when anything is refused\n"
    "  --paper SIZE      letter (default) or a4\n"
    "  --help            this text\n\n"
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 a file could not be read or written.\n\n"
    "Training record: the official test, the state's manual, the maker's limits and the program's safety\n"
    "rules decide.\n";

/// Options by their bare names.
class Request {
public:
    explicit Request(const QStringList& words)
        : m_arguments(words, {},
                      {QStringLiteral("--trainee"), QStringLiteral("--attempt"), QStringLiteral("--blank"),
                       QStringLiteral("--equipment"), QStringLiteral("--study"), QStringLiteral("--zone"),
                       QStringLiteral("--out"), QStringLiteral("--paper")}) {}

    [[nodiscard]] bool help() const { return m_arguments.has(QStringLiteral("--help")); }
    [[nodiscard]] QString file() const { return m_arguments.rest().value(0); }
    [[nodiscard]] bool has(const char* option) const { return m_arguments.value(dashed(option)).has_value(); }
    [[nodiscard]] QString of(const char* option) const {
        return m_arguments.value(dashed(option)).value_or(QString());
    }
    /// What is wrong with the way the options go together; empty when nothing is.
    [[nodiscard]] QString problem() const;

private:
    static QString dashed(const char* option) { return QStringLiteral("--") + QLatin1String(option); }
    Arguments m_arguments;
};

QString Request::problem() const {
    if (!m_arguments.problem().isEmpty()) return m_arguments.problem();
    for (const char* option : {"trainee", "attempt", "blank", "equipment", "study", "zone", "out", "paper"})
        if (has(option) && of(option).isEmpty())
            return QStringLiteral("%1 needs a value").arg(dashed(option));
    const int kinds = int(has("trainee")) + int(has("blank")) + int(has("study"));
    if (kinds == 0) return QStringLiteral("say which sheet: --trainee KEY, --blank RUBRIC or --study RUBRIC");
    if (kinds > 1)
        return QStringLiteral("--trainee, --blank and --study make one sheet each; give one of them");
    if (has("trainee") && file().isEmpty())
        return QStringLiteral("name the program file (*.markerlamp) of the trainee");
    if (m_arguments.rest().size() > (has("trainee") ? 1 : 0))
        return QStringLiteral("%1 is one word too many").arg(m_arguments.rest().last());
    const std::array<std::pair<const char*, const char*>, 3> belongs{
        {{"attempt", "trainee"}, {"equipment", "blank"}, {"zone", "study"}}};
    for (const auto& [option, to] : belongs)
        if (has(option) && !has(to))
            return QStringLiteral("--%1 goes with --%2 only").arg(QLatin1String(option), QLatin1String(to));
    if (!has("out")) return QStringLiteral("--out F.pdf is missing");
    const QString paper = of("paper").toLower();
    if (has("paper") && paper != QLatin1String("letter") && paper != QLatin1String("a4"))
        return QStringLiteral("--paper is letter or a4, not \"%1\"").arg(of("paper"));
    // Writing the PDF over a file that it was made from would lose that file.
    const QString out = QFileInfo(of("out")).canonicalFilePath();  // empty when there is none yet
    for (const QString& input : {file(), of("blank"), of("study")})
        if (!input.isEmpty() && !out.isEmpty() && QFileInfo(input).canonicalFilePath() == out)
            return QStringLiteral("--out names the same file as the input, %1").arg(input);
    return {};
}

Result<core::Rubric> readRubric(const QString& path) {
    QFile file(path);
    if (!file.open(QIODevice::ReadOnly))
        return fail(ErrorKind::Machine,
                    "cannot read " + path.toStdString() + ": " + file.errorString().toStdString());
    const QByteArray bytes = file.read(static_cast<qint64>(core::kMaxRubricBytes) + 1);
    return core::readRubric(bytes.toStdString(), path.toStdString());
}

Result<std::vector<std::string>> equipmentOf(const core::Rubric& rubric, const QString& tags) {
    std::vector<std::string> equipment;
    for (const QString& tag : tags.simplified().split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
        const std::string word = tag.toStdString();
        const bool known = std::any_of(rubric.equipment.begin(), rubric.equipment.end(),
                                       [&](const auto& item) { return item.first == word; });
        if (!known) {
            std::string tagsKnown;
            for (const auto& [id, title] : rubric.equipment)
                tagsKnown += (tagsKnown.empty() ? "" : ", ") + id;
            return fail(ErrorKind::NotFound,
                        "the rubric knows no equipment \"" + word + "\"; it knows " + tagsKnown);
        }
        equipment.push_back(word);
    }
    return equipment;
}

Result<void> zoneExists(const core::Rubric& rubric, const std::string& zone) {
    if (zone.empty() || rubric.zone(zone)) return {};
    std::string known;
    for (const core::Zone& one : rubric.zones) known += (known.empty() ? "" : ", ") + one.id;
    return fail(ErrorKind::NotFound, "the rubric has no zone \"" + zone + "\"; its zones are " + known);
}

Result<forms::Sheet> make(const Request& request) {
    const forms::Paper paper =
        request.of("paper").toLower() == QLatin1String("a4") ? forms::Paper::A4 : forms::Paper::Letter;
    const QString version = QStringLiteral(MARKERLAMP_VERSION);
    const QDateTime printed = QDateTime::currentDateTime();
    if (request.has("trainee")) {
        auto file = db::ProgramFile::open(
            std::filesystem::path(QFile::encodeName(request.file()).toStdString()), db::OpenMode::ReadOnly);
        if (!file) return fail(file.error());
        auto input = progressSheetInput(**file, scorersOf(**file), request.of("trainee").toStdString(),
                                        request.of("attempt").toStdString());
        if (!input) return fail(input.error());
        input->version = version;
        input->printed = printed;
        input->paper = paper;
        return forms::progressSheet(*input);
    }
    const bool blank = request.has("blank");
    auto rubric = readRubric(request.of(blank ? "blank" : "study"));
    if (!rubric) return fail(rubric.error());
    if (blank) {
        auto equipment = equipmentOf(*rubric, request.of("equipment"));
        if (!equipment) return fail(equipment.error());
        return forms::blankSheet(*rubric, *equipment, paper, version, printed);
    }
    const std::string zone = request.of("zone").toStdString();
    if (auto known = zoneExists(*rubric, zone); !known) return fail(known.error());
    return forms::studySheet(*rubric, zone, {}, paper, version, printed);
}

/// Qt's remarks about the session (no run-time folder, no display) are none of the reader's business.
void onlyTrouble(QtMsgType type, const QMessageLogContext&, const QString& message) {
    if (type == QtCriticalMsg || type == QtFatalMsg) std::fprintf(stderr, "%s\n", qPrintable(message));
}

}  // namespace

int sheetCommand(const QStringList& arguments) {
    const Request request(arguments);
    if (request.help()) return printHelp(kHelp);
    if (const QString problem = request.problem(); !problem.isEmpty())
        return wrongUsage(QStringLiteral("sheet"), problem, kHelp);

    // Type needs an application object, but no display.
    if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
    qInstallMessageHandler(onlyTrouble);
    int argc = 1;
    char name[] = "markerlamp";
    char* argv[] = {name, nullptr};
    const QGuiApplication application(argc, argv);
    if (!forms::loadFonts())
        return reportError({ErrorKind::Machine, "the program's own fonts could not be loaded", {}, {}});

    const Result<forms::Sheet> sheet = make(request);
    if (!sheet) return reportError(sheet.error());
    if (auto written = forms::writePdf(*sheet, request.of("out")); !written)
        return reportError(written.error());
    std::printf("%s: pages: %d\n", request.of("out").toLocal8Bit().constData(), sheet->pages());
    return kDone;
}

}  // namespace markerlamp::app
