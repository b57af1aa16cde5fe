// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/style/fonts.h"

#include <QFontDatabase>

static void initResources() {
    Q_INIT_RESOURCE(markerlamp_fonts);
}

namespace markerlamp::forms {

bool loadFonts() {
    static bool done = false;
    static bool good = true;
    if (done) return good;
    done = true;
    initResources();
    for (const char* face : {"B612-Regular", "B612-Bold", "B612-Italic", "B612-BoldItalic",
                             "B612Mono-Regular", "B612Mono-Bold"}) {
        if (QFontDatabase::addApplicationFont(QStringLiteral(":/fonts/%1.otf").arg(QLatin1String(face))) < 0)
            good = false;
    }
    return good;
}

static QFont make(const QString& family, double pixelSize, bool bold) {
    QFont font(family);
    font.setPixelSize(qMax(1, qRound(pixelSize)));
    font.setBold(bold);
    font.setHintingPreference(QFont::PreferNoHinting);
    // Without shaping, "fi" stays two characters in a PDF and can be searched for.
    font.setStyleStrategy(QFont::PreferNoShaping);
    return font;
}

QFont type(double pixelSize, bool bold) {
    return make(QStringLiteral("B612"), pixelSize, bold);
}
QFont typeMono(double pixelSize, bool bold) {
    return make(QStringLiteral("B612 Mono"), pixelSize, bold);
}

}  // namespace markerlamp::forms
