// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of the window, offscreen at 1366x768: a press to its pixels with a district loaded, pages, opening,
// memory. With MARKERLAMP_BENCH_STATE=1 also at the size of a state (takes minutes and a gigabyte). Prints a
// table; judges nothing.

#include "app/scoring/scoring_model.h"
#include "app/scoring/scoring_page.h"
#include "app/settings/settings.h"
#include "app/shell/main_window.h"
#include "app/shell/session.h"
#include "app/start/start_page.h"
#include "app/support/display.h"
#include "app/support/theme.h"
#include "app/support/translations.h"
#include "app/trainees/trainee_page.h"
#include "district.h"
#include "forms/style/fonts.h"

#include <QApplication>
#include <QStyleFactory>
#include <QTemporaryDir>
#include <QTest>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <fstream>

namespace {

using namespace markerlamp;
using Clock = std::chrono::steady_clock;

double milliseconds(Clock::time_point since) {
    return std::chrono::duration<double, std::milli>(Clock::now() - since).count();
}

void row(const char* what, double measured, const char* unit, double limit) {
    std::printf("%-58s %10.3f %-3s  limit %8.3f  ratio %6.2f\n", what, measured, unit, limit,
                measured / limit);
}

double peakMegabytes() {
    std::ifstream status("/proc/self/status");
    for (std::string line; std::getline(status, line);)
        if (line.starts_with("VmHWM:")) return std::strtod(line.c_str() + 6, nullptr) / 1024;
    return 0;
}

enum class Pages { All, Lists };

void measure(const QString& path, const char* size, Pages pages = Pages::All) {
    std::printf("%s\n", size);
    const QTemporaryDir home;
    app::Settings settings(home.filePath(QStringLiteral("settings.ini")));
    app::Theme theme;
    auto start = Clock::now();
    app::MainWindow window(theme, settings);
    window.resize(1366, 768);
    window.show();
    if (!window.openFile(path)) std::abort();
    QApplication::processEvents();
    window.grab();
    row("open the file to a usable window", milliseconds(start) / 1000, "s", 1);

    auto* trainee = window.findChild<app::TraineePage*>();
    std::vector<double> shown;
    const auto trainees = window.session()->file().trainees();
    for (std::size_t i = 0; i < 20; ++i) {
        start = Clock::now();
        trainee->showTrainee(app::qs((*trainees)[i * 7 % trainees->size()].key));
        window.showPage(app::MainWindow::PageId::Trainee);
        window.grab();
        shown.push_back(milliseconds(start));
    }
    std::ranges::sort(shown);
    row("trainee page, median", shown[10], "ms", 100);

    window.closeFile();
    if (!window.openFile(path)) std::abort();
    QApplication::processEvents();
    start = Clock::now();
    window.showPage(app::MainWindow::PageId::Program);
    window.grab();
    row("program page, first time", milliseconds(start), "ms", 300);
    window.showPage(app::MainWindow::PageId::Trainees);
    start = Clock::now();
    window.showPage(app::MainWindow::PageId::Program);
    window.grab();
    row("program page, again", milliseconds(start), "ms", 300);
    if (pages == Pages::Lists) return;

    auto* form = window.findChild<app::StartPage*>();
    auto* page = window.findChild<app::ScoringPage*>();
    window.showPage(app::MainWindow::PageId::Scoring);
    form->chooseTrainee(app::qs(trainees->front().key));
    QTest::keyClick(form, Qt::Key_Return, Qt::ControlModifier);
    QApplication::processEvents();
    if (!page->isActive()) std::abort();
    std::vector<double> presses;
    for (int i = 0; i < page->model()->stepCount() && i < 110; ++i) {
        start = Clock::now();
        // Two keys in turn: the same one twice this quickly would count as a bounce.
        QTest::keyClick(page, i % 2 == 0 ? Qt::Key_J : Qt::Key_Space);
        QApplication::processEvents();
        page->repaint();
        presses.push_back(milliseconds(start));
        QTest::qWait(5);
    }
    std::ranges::sort(presses);
    row("press to pixels, p95", presses[presses.size() * 95 / 100], "ms", 33);
    window.closeFile();
    row("memory at its peak", peakMegabytes(), "MB", 400);
}

}  // namespace

int main(int argc, char** argv) {
    if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
    QApplication application(argc, argv);
    QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
    app::loadTranslations(application);
    forms::loadFonts();
    const QTemporaryDir dir;
    const auto make = [&](const QString& name, std::size_t count) {
        const QString path = dir.filePath(name);
        auto file = db::ProgramFile::create(app::ss(path)).value();
        bench::fill(*file, count);
        return path;
    };
    measure(make(QStringLiteral("district.markerlamp"), 3000), "a district: 3,000 attempts");
    if (qEnvironmentVariableIsSet("MARKERLAMP_BENCH_STATE")) {
        // 16 trainees with 114 attempts are one demo program.
        measure(make(QStringLiteral("people.markerlamp"), 3000 / 16 * 114), "3,000 trainees: 21,300 attempts",
                Pages::Lists);
        measure(make(QStringLiteral("state.markerlamp"), 60000), "a state: 60,000 attempts");
    }
    return 0;
}
