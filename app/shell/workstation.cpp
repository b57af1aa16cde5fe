// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/workstation.h"

#include "app/cli/command_line.h"
#include "app/settings/settings.h"
#include "app/shell/main_window.h"
#include "app/shell/unix_signals.h"
#include "app/support/display.h"
#include "app/support/theme.h"
#include "app/support/translations.h"
#include "forms/style/fonts.h"

#include <QApplication>
#include <QIcon>
#include <QMessageBox>
#include <QSessionManager>
#include <QStyleFactory>
#include <QTimer>

#include <cstdio>
#include <cstdlib>

namespace markerlamp::app {

namespace {

constexpr const char* kUsage = "Usage: markerlamp [--demo] [PROGRAM-FILE]; markerlamp --help tells more";

struct Arguments {
    bool demo = false;
    QString file;
};

std::optional<Arguments> readArguments(int argc, char** argv) {
    Arguments arguments;
    bool options = true;
    for (int i = 1; i < argc; ++i) {
        const QString word = QString::fromLocal8Bit(argv[i]);
        if (options && word == QLatin1String("--")) {
            options = false;
        } else if (options && word == QLatin1String("--demo")) {
            arguments.demo = true;
        } else if (options && word.startsWith(QLatin1Char('-'))) {
            std::fprintf(stderr, "markerlamp: unknown option %s\n%s\n", qPrintable(word), kUsage);
            return std::nullopt;
        } else if (!arguments.file.isEmpty()) {
            std::fprintf(stderr, "markerlamp: one program file at a time, got %s as well\n%s\n",
                         qPrintable(word), kUsage);
            return std::nullopt;
        } else {
            arguments.file = word;
        }
    }
    if (arguments.demo && !arguments.file.isEmpty()) {
        std::fprintf(stderr, "markerlamp: --demo opens a file of its own; leave %s out\n%s\n",
                     qPrintable(arguments.file), kUsage);
        return std::nullopt;
    }
    return arguments;
}

[[noreturn]] void leaveWithoutDisplay() {
    std::fprintf(stderr,
                 "markerlamp: no display is found, so the window cannot open. Without a display these work: "
                 "markerlamp --help lists the commands.\n");
    std::fflush(stderr);
    std::_Exit(kMachineFailed);
}

bool displayNamed() {
    for (const char* name : {"QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"})
        if (!qEnvironmentVariableIsEmpty(name)) return true;
    return false;
}

/// Only while the application object is made: a display that is named but does not answer is fatal to Qt.
void whileStarting(QtMsgType type, const QMessageLogContext&, const QString& message) {
    if (type == QtFatalMsg) leaveWithoutDisplay();
    if (type == QtWarningMsg && message.contains(QLatin1String("could not connect to display"))) return;
    if (type != QtInfoMsg && type != QtDebugMsg) std::fprintf(stderr, "%s\n", qPrintable(message));
}

}  // namespace

int runWorkstation(int argc, char** argv) {
    const auto arguments = readArguments(argc, argv);
    if (!arguments) return kWrongUsage;
    if (!displayNamed()) leaveWithoutDisplay();

    QGuiApplication::setHighDpiScaleFactorRoundingPolicy(Qt::HighDpiScaleFactorRoundingPolicy::PassThrough);
    QCoreApplication::setApplicationName(QStringLiteral("markerlamp"));
    QCoreApplication::setApplicationVersion(QStringLiteral(MARKERLAMP_VERSION));
    const auto before = qInstallMessageHandler(whileStarting);
    QApplication application(argc, argv);
    qInstallMessageHandler(before);
    QGuiApplication::setApplicationDisplayName(QStringLiteral("Markerlamp"));
    QGuiApplication::setDesktopFileName(QStringLiteral("io.github.markerlamp.Markerlamp"));
    QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
    QApplication::setWindowIcon(QIcon::fromTheme(QStringLiteral("io.github.markerlamp.Markerlamp"),
                                                 QIcon(QStringLiteral(":/icons/markerlamp.svg"))));
    loadTranslations(application);
    forms::loadFonts();

    Settings settings;
    Theme theme;
    settings.applyTo(theme);
    MainWindow window(theme, settings);
    UnixSignals unixSignals;
    QObject::connect(&unixSignals, &UnixSignals::leaveRequested, &window, [&window] {
        window.leave();
        QCoreApplication::exit(kDone);
    });
    // The desktop ends the session: nothing to ask, everything is stored; come back with the same file.
    QObject::connect(&application, &QGuiApplication::commitDataRequest, &window,
                     [&window](QSessionManager&) { window.leave(); });
    QObject::connect(&application, &QGuiApplication::saveStateRequest, &window,
                     [&window](QSessionManager& manager) {
                         QStringList command{QCoreApplication::applicationFilePath()};
                         for (const QString& path : {window.windowFilePath()})
                             if (!path.isEmpty()) command << path;
                         manager.setRestartCommand(command);
                     });
    window.show();

    QTimer::singleShot(0, &window, [&window, &settings, &arguments] {
        core::Result<void> opened;
        if (arguments->demo)
            opened = window.openDemo();
        else if (!arguments->file.isEmpty())
            opened = window.openFile(arguments->file);
        else if (const QStringList recent = settings.recentFiles(); !recent.isEmpty())
            opened = window.openFile(recent.first());
        if (opened) return;
        std::fprintf(stderr, "markerlamp: %s\n", qPrintable(errorText(opened.error())));
        window.say(errorText(opened.error(), 1));
        auto* box = new QMessageBox(QMessageBox::Warning, MainWindow::tr("Not opened"),
                                    errorText(opened.error()), QMessageBox::Close, &window);
        box->setAttribute(Qt::WA_DeleteOnClose);
        box->open();
    });
    return QApplication::exec();
}

}  // namespace markerlamp::app
