// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/style/fonts.h"

#include <QByteArray>
#include <QFile>
#include <QFontDatabase>
#include <QtEndian>

static void initResources() {
    Q_INIT_RESOURCE(markerlamp_fonts);
}

namespace markerlamp::forms {

namespace {

// The faces are registered under family names of our own. The mono faces call themselves "B612" as well
// (name record 1), and so do copies installed on the machine; asked for "B612", Qt then picks a mono face.
constexpr char kTextFamily[] = "LamT";
constexpr char kMonoPrefix[] = "LamM";
constexpr char kMonoFamily[] = "LamM Mono";

quint16 read16(const QByteArray& bytes, qsizetype at) {
    return at >= 0 && at + 2 <= bytes.size() ? qFromBigEndian<quint16>(bytes.constData() + at) : quint16(0);
}

quint32 read32(const QByteArray& bytes, qsizetype at) {
    return at >= 0 && at + 4 <= bytes.size() ? qFromBigEndian<quint32>(bytes.constData() + at) : 0;
}

/// Writes `prefix` over the first letters of the family names (records 1 and 16 of the table 'name', OpenType
/// specification 1.9); the PostScript name, which a PDF shows, stays.
void renameFamily(QByteArray& font, const char* prefix) {
    const QByteArray letters(prefix);
    const int tables = read16(font, 4);
    for (int table = 0; table < tables; ++table) {
        const qsizetype entry = 12 + 16 * table;
        if (font.mid(entry, 4) != "name") continue;
        const qsizetype names = read32(font, entry + 8);
        const int count = read16(font, names + 2);
        const qsizetype storage = names + read16(font, names + 4);
        for (int i = 0; i < count; ++i) {
            const qsizetype record = names + 6 + 12 * i;
            const int id = read16(font, record + 6);
            const bool wide = read16(font, record) != 1;  // platform 1 is 8-bit, the others UTF-16
            if (id != 1 && id != 16) continue;
            const qsizetype text = storage + read16(font, record + 10);
            for (qsizetype k = 0; k < letters.size(); ++k) {
                const qsizetype at = text + (wide ? 2 * k + 1 : k);
                if (at < font.size()) font[at] = letters[k];
            }
        }
    }
}

QFont make(const char* family, double pixelSize, bool bold) {
    QFont font{QString::fromLatin1(family)};
    font.setPixelSize(qMax(1, qRound(pixelSize)));
    font.setBold(bold);
    font.setHintingPreference(QFont::PreferNoHinting);
    // Without shaping, "fi" stays two characters in a PDF and can be searched for.
    font.setStyleStrategy(QFont::PreferNoShaping);
    return font;
}

}  // namespace

bool loadFonts() {
    static bool done = false;
    static bool good = true;
    if (done) return good;
    done = true;
    initResources();
    for (const char* face : {"B612-Regular", "B612-Bold", "B612-Italic", "B612-BoldItalic",
                             "B612Mono-Regular", "B612Mono-Bold"}) {
        QFile file(QStringLiteral(":/fonts/%1.otf").arg(QLatin1String(face)));
        if (!file.open(QIODevice::ReadOnly)) {
            good = false;
            continue;
        }
        QByteArray font = file.readAll();
        renameFamily(font, QByteArray(face).startsWith("B612Mono") ? kMonoPrefix : kTextFamily);
        if (QFontDatabase::addApplicationFontFromData(font) < 0) good = false;
    }
    return good;
}

QFont type(double pixelSize, bool bold) {
    return make(kTextFamily, pixelSize, bold);
}

QFont typeMono(double pixelSize, bool bold) {
    return make(kMonoFamily, pixelSize, bold);
}

}  // namespace markerlamp::forms
