#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Invented rubrics and attempts for the tests of the sheets, and looks at what stands on a page.

#include "../support/longer_language.h"

#include "core/attempt/attempt.h"
#include "core/attempt/marks.h"
#include "core/history/history.h"
#include "core/rubric/rubric.h"
#include "core/rubric/rubric_reader.h"
#include "core/scoring/scorecard.h"
#include "demo/generator/built_in.h"
#include "forms/sheets/sheets.h"

#include <gtest/gtest.h>

#include <QCoreApplication>
#include <QDateTime>
#include <QDir>
#include <QFile>
#include <QProcess>
#include <QStandardPaths>
#include <QTemporaryDir>

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::forms::testing {

struct RubricShape {
    int zones = 12;
    int steps = 10;
    int points = 3;
    std::string stepTitle = "Slack adjuster %";  ///< % becomes the step's number
    std::string zoneTitle;                       ///< empty: usual names
    std::string pointText = "not loose or bent %";
    std::string showText = "The slack adjuster at the wheel";
};

inline std::string numbered(std::string text, int number) {
    const auto at = text.find('%');
    return at == std::string::npos ? text : text.replace(at, 1, std::to_string(number));
}

inline std::shared_ptr<core::Rubric> makeRubric(const RubricShape& shape = {}) {
    static const std::vector<std::pair<std::string, std::string>> usual{
        {"front", "Front end"},       {"engine", "Engine"},           {"front-axle", "Front axle"},
        {"left-side", "Left side"},   {"rear-axle", "Rear axle"},     {"rear-right", "Rear, right"},
        {"entry", "Entry, start"},    {"lamps", "School lamps"},      {"air-brakes", "Air brakes"},
        {"dash-panel", "Dash panel"}, {"driver-area", "Driver area"}, {"cabin", "Cabin, exits"}};
    auto rubric = std::make_shared<core::Rubric>();
    rubric->id = "test-rubric";
    rubric->edition = 3;
    rubric->title = "School bus inspection, test rubric";
    rubric->pass.percent = 80;
    rubric->equipment = {{"air-brakes", "Air brakes"}, {"wheelchair-lift", "Wheelchair lift"}};
    rubric->limits = {{"applied-leak", {}, 3, "psi", false, "model commercial driver manual, section 5.3"},
                      {"tread-front", 4, {}, "1/32 in", false, "49 CFR 393.75(b)"}};
    int number = 0;
    for (int z = 0; z < shape.zones; ++z) {
        core::Zone zone;
        const auto index = static_cast<std::size_t>(z);
        zone.id = index < usual.size() ? usual[index].first : "zone-" + std::to_string(z);
        zone.title = !shape.zoneTitle.empty() ? numbered(shape.zoneTitle, z + 1)
                     : index < usual.size()   ? usual[index].second
                                              : "Further zone " + std::to_string(z + 1);
        for (int s = 0; s < shape.steps; ++s) {
            core::Step step;
            step.id = "step-" + std::to_string(++number);
            step.title = numbered(shape.stepTitle, number);
            step.show = shape.showText;
            for (int p = 0; p < shape.points; ++p)
                step.say.push_back({"p" + std::to_string(p), numbered(shape.pointText, p + 1), {}, {}});
            step.sayNeeded = shape.points;
            step.mustPass = zone.id == "air-brakes" && s < 3;
            zone.steps.push_back(step);
        }
        rubric->zones.push_back(zone);
    }
    return rubric;
}

/// Records what one trainee does; everything not touched is satisfied.
class Practice {
public:
    explicit Practice(std::shared_ptr<const core::Rubric> rubric,
                      std::string started = "2026-03-02T06:10:00-05:00")
        : m_rubric(std::move(rubric)) {
        m_attempt.header.id = "8f7c2a10-0000-4000-8000-000000000001";
        m_attempt.header.rubric = m_rubric->id;
        m_attempt.header.edition = m_rubric->edition;
        m_attempt.header.trainee = "trainee-a";
        m_attempt.header.instructor = "instructor-k";
        m_attempt.header.bus = "14";
        for (const auto& [tag, title] : m_rubric->equipment) m_attempt.header.equipment.push_back(tag);
        for (const core::Zone& zone : m_rubric->zones) m_attempt.header.zones.push_back(zone.id);
        m_attempt.header.started = std::move(started);
    }

    core::AttemptHeader& header() { return m_attempt.header; }

    core::Event& add(core::EventKind kind, const std::string& step = {}) {
        core::Event event;
        event.n = static_cast<int>(m_attempt.events.size()) + 1;
        event.t = event.n * 2.0;
        event.kind = kind;
        event.step = step;
        m_attempt.events.push_back(event);
        return m_attempt.events.back();
    }

    void satisfy(const core::Step& step) { credit(step, static_cast<int>(step.say.size())); }

    /// Shown, and the first `points` points said.
    void credit(const core::Step& step, int points) {
        if (!step.show.empty()) add(core::EventKind::Show, step.id);
        for (int p = 0; p < points; ++p)
            add(core::EventKind::Say, step.id).point = step.say[static_cast<std::size_t>(p)].id;
    }

    /// Walks all steps in rubric order; `special` returns true when it has dealt with the step itself.
    Practice& walk(const std::function<bool(Practice&, const core::Step&, int)>& special) {
        int index = 0;
        for (const core::Zone& zone : m_rubric->zones)
            for (const core::Step& step : zone.steps)
                if (core::appliesTo(step, m_attempt.header.equipment))
                    if (!special(*this, step, index++)) satisfy(step);
        add(core::EventKind::End);
        return *this;
    }

    [[nodiscard]] core::ScoredAttempt scored() const {
        return {m_rubric, m_attempt, core::score(*m_rubric, m_attempt)};
    }

private:
    std::shared_ptr<const core::Rubric> m_rubric;
    core::Attempt m_attempt;
};

/// An attempt whose every `every`-th step is missed, `misses` in all, each in another way.
inline core::ScoredAttempt attemptWithMisses(const std::shared_ptr<const core::Rubric>& rubric, int misses,
                                             int every = 9) {
    int left = misses;
    Practice practice(rubric);
    practice.walk([&](Practice& p, const core::Step& step, int index) {
        if (index % every != every - 1 || left == 0) return false;
        const int points = static_cast<int>(step.say.size());
        switch (left-- % 4) {
            case 0:
                p.add(core::EventKind::Omit, step.id);
                break;
            case 1:
                p.credit(step, points / 2);
                break;
            case 2:
                p.add(core::EventKind::Prompt, step.id);
                p.satisfy(step);
                break;
            default:
                p.credit(step, points > 0 ? points - 1 : 0);
                p.add(core::EventKind::Wrong, step.id).text = "named the wrong part";
        }
        return true;
    });
    return practice.scored();
}

inline ProgressSheetInput inputFor(std::vector<core::ScoredAttempt> history, Paper paper = Paper::Letter) {
    ProgressSheetInput input;
    input.programTitle = QStringLiteral("Invented program");
    input.trainee.key = "trainee-a";
    input.trainee.name = "Trainee A";
    input.instructorName = QStringLiteral("K");
    input.busTitle = QStringLiteral("Bus 14");
    input.history = std::move(history);
    input.version = QStringLiteral("0.1.0");
    input.printed = QDateTime(QDate(2026, 3, 2), QTime(7, 5));
    input.paper = paper;
    return input;
}

inline QString textOf(const Sheet& sheet, int page) {
    QStringList lines;
    for (const auto& placed : sheet.texts(page)) lines << placed.text;
    return lines.join(QLatin1Char(' '));
}

inline QString textOf(const Sheet& sheet) {
    QStringList pages;
    for (int i = 0; i < sheet.pages(); ++i) pages << textOf(sheet, i);
    return pages.join(QLatin1Char(' '));
}

/// Letters and digits alone: words are found again however they were wrapped.
inline QString letters(const QString& text) {
    QString only;
    for (const QChar c : text)
        if (c.isLetterOrNumber()) only += c;
    return only;
}

inline bool saysSo(const Sheet& sheet, const std::string& words) {
    return letters(textOf(sheet)).contains(letters(QString::fromStdString(words)));
}

using markerlamp::testing::LongerLanguage;

inline void makeLonger(std::string& text) {
    text = LongerLanguage::longer(QString::fromStdString(text)).toStdString();
}

/// The same for what the rubric itself says.
inline std::shared_ptr<core::Rubric> longerRubric(const core::Rubric& rubric) {
    auto longer = std::make_shared<core::Rubric>(rubric);
    makeLonger(longer->title);
    for (core::Zone& zone : longer->zones) {
        makeLonger(zone.title);
        for (core::Step& step : zone.steps) {
            makeLonger(step.title);
            if (!step.show.empty()) makeLonger(step.show);
            if (!step.caution.empty()) makeLonger(step.caution);
            for (core::Point& point : step.say) makeLonger(point.text);
        }
    }
    return longer;
}

inline std::vector<core::Rubric> builtInRubrics() {
    std::vector<core::Rubric> rubrics;
    for (const demo::BuiltInDocument& document : demo::builtInDocuments()) {
        if (!QString::fromStdString(document.name).endsWith(QLatin1String(".rubric.yaml"))) continue;
        auto rubric = core::readRubric(document.text, document.name);
        EXPECT_TRUE(rubric) << document.name;
        if (rubric) rubrics.push_back(std::move(*rubric));
    }
    EXPECT_GE(rubrics.size(), 2u);
    return rubrics;
}

/// Where a PDF goes: a folder that the person at the desk named in MARKERLAMP_SHEETS_DIR to look at the
/// pages, else a temporary one.
class PdfFolder {
public:
    [[nodiscard]] QString path(const QString& name) const {
        const QString wanted = qEnvironmentVariable("MARKERLAMP_SHEETS_DIR");
        const QString folder = wanted.isEmpty() ? m_temporary.path() : wanted;
        QDir().mkpath(folder);
        return folder + QLatin1Char('/') + name;
    }

private:
    QTemporaryDir m_temporary;
};

/// Standard output of a program; nothing when the machine does not have it or it failed.
inline std::optional<QByteArray> outputOf(const QString& program, const QStringList& arguments) {
    const QString found = QStandardPaths::findExecutable(program);
    if (found.isEmpty()) return std::nullopt;
    QProcess process;
    process.start(found, arguments);
    if (!process.waitForFinished(60'000) || process.exitCode() != 0) return std::nullopt;
    return process.readAllStandardOutput();
}

/// Whether an upright or level line runs through the letters.
inline bool strikes(const QLineF& line, const QRectF& letters) {
    const QRectF body = letters.adjusted(0.1, 0.25, -0.1, -0.25);
    const QRectF thin(QPointF(qMin(line.x1(), line.x2()), qMin(line.y1(), line.y2())),
                      QPointF(qMax(line.x1(), line.x2()), qMax(line.y1(), line.y2())));
    return thin.right() > body.left() && thin.left() < body.right() && thin.bottom() > body.top() &&
           thin.top() < body.bottom() && body.height() > 0;
}

/// Every line of type inside the margins and no two of them over each other.
inline void expectTidy(const Sheet& sheet) {
    const double left = 19.05, other = 15.24;
    const QRectF area(left, other, sheet.sizeMm().width() - left - other,
                      sheet.sizeMm().height() - 2 * other);
    for (int page = 0; page < sheet.pages(); ++page) {
        const auto& texts = sheet.texts(page);
        for (std::size_t i = 0; i < texts.size(); ++i) {
            EXPECT_GE(texts[i].points, 9) << texts[i].text.toStdString();
            EXPECT_TRUE(area.adjusted(-0.3, -0.3, 0.3, 0.3).contains(texts[i].box))
                << "page " << page + 1 << " outside: " << texts[i].text.toStdString() << " at "
                << texts[i].box.x() << ", " << texts[i].box.y() << ", right " << texts[i].box.right()
                << ", bottom " << texts[i].box.bottom();
            for (const auto& [line, width] : sheet.lines(page))
                EXPECT_FALSE(strikes(line, texts[i].box))
                    << "page " << page + 1 << ": a line runs through \"" << texts[i].text.toStdString()
                    << "\" at " << line.x1() << ", " << line.y1();
            for (std::size_t j = i + 1; j < texts.size(); ++j) {
                const QRectF both = texts[i].box.intersected(texts[j].box);
                EXPECT_FALSE(both.width() > 0.05 && both.height() > 0.25)
                    << "page " << page + 1 << ": \"" << texts[i].text.toStdString() << "\" lies over \""
                    << texts[j].text.toStdString() << "\" at " << both.x() << ", " << both.y();
            }
        }
    }
}

}  // namespace markerlamp::forms::testing
