// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/translations.h"

#include <QCoreApplication>
#include <QLibraryInfo>
#include <QLocale>
#include <QTranslator>

namespace markerlamp::app {

bool loadTranslations(QCoreApplication& application) {
    auto* english = new QTranslator(&application);
    const bool good = english->load(QStringLiteral(":/i18n/markerlamp_en.qm"));
    if (good) QCoreApplication::installTranslator(english);
    const QLocale locale;
    if (locale.language() == QLocale::English || locale.language() == QLocale::C) return good;
    auto* toolkit = new QTranslator(&application);
    if (toolkit->load(locale, QStringLiteral("qtbase"), QStringLiteral("_"),
                      QLibraryInfo::path(QLibraryInfo::TranslationsPath)))
        QCoreApplication::installTranslator(toolkit);
    auto* own = new QTranslator(&application);
    if (own->load(locale, QStringLiteral("markerlamp"), QStringLiteral("_"), QStringLiteral(":/i18n")))
        QCoreApplication::installTranslator(own);
    return good;
}

}  // namespace markerlamp::app
