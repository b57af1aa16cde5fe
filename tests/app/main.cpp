// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Listing the tests needs no display. Running them makes do with an offscreen screen of 1366x768, and keeps
// away from the settings and files of whoever runs them.

#include "app/support/translations.h"
#include "forms/style/fonts.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QDir>
#include <QFile>
#include <QStyleFactory>
#include <QTemporaryDir>

int main(int argc, char** argv) {
    testing::InitGoogleTest(&argc, argv);
    if (GTEST_FLAG_GET(list_tests)) return RUN_ALL_TESTS();
    QTemporaryDir home;
    for (const char* name : {"XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "XDG_CACHE_HOME"})
        qputenv(name, QFile::encodeName(home.filePath(QString::fromLatin1(name))));
    const QString runtime = home.filePath(QStringLiteral("runtime"));
    QDir().mkpath(runtime);
    QFile::setPermissions(runtime, QFile::ReadOwner | QFile::WriteOwner | QFile::ExeOwner);
    qputenv("XDG_RUNTIME_DIR", QFile::encodeName(runtime));
    const QByteArray platform = qgetenv("QT_QPA_PLATFORM");
    if (platform.isEmpty() || platform == "offscreen") {
        const QString screen = home.filePath(QStringLiteral("screen.json"));
        QFile file(screen);
        if (!file.open(QIODevice::WriteOnly)) return 1;
        file.write(
            R"({"synchronousWindowSystemEvents":false,"windowFrameMargins":false,"screens":[{"name":"one",)"
            R"("x":0,"y":0,"width":1366,"height":768,"logicalDpi":96,"logicalBaseDpi":96,"dpr":1}]})");
        file.close();
        qputenv("QT_QPA_PLATFORM", "offscreen:configfile=" + QFile::encodeName(screen));
    }
    QApplication application(argc, argv);
    QApplication::setApplicationName(QStringLiteral("markerlamp"));
    QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
    if (!markerlamp::app::loadTranslations(application)) return 1;
    if (!markerlamp::forms::loadFonts()) return 1;
    return RUN_ALL_TESTS();
}
