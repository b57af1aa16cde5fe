// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/settings/settings.h"

#include <QFileInfo>

namespace markerlamp::app {

namespace {

const QString kVersionKey = QStringLiteral("version");
const QString kRecentKey = QStringLiteral("files/recent");
const QString kGeometryKey = QStringLiteral("window/geometry");

}  // namespace

Settings::Settings(QObject* parent)
    : QObject(parent),
      m_store(QSettings::IniFormat, QSettings::UserScope, QStringLiteral("markerlamp"),
              QStringLiteral("markerlamp")) {
    bringUpToDate();
}

Settings::Settings(const QString& file, QObject* parent)
    : QObject(parent), m_store(file, QSettings::IniFormat) {
    bringUpToDate();
}

void Settings::bringUpToDate() {
    // There has been one layout so far. A file of a later program is left as it is: keys this one does not
    // know do no harm.
    if (m_store.value(kVersionKey, 0).toInt() < kVersion) m_store.setValue(kVersionKey, kVersion);
    // Programs of before noted keys of people here, which stand in the program file now.
    m_store.remove(QStringLiteral("start"));
}

QVariant Settings::value(const QString& key, const QVariant& otherwise) const {
    return m_store.value(key, otherwise);
}

void Settings::setValue(const QString& key, const QVariant& value) {
    if (m_store.value(key) == value) return;
    m_store.setValue(key, value);
    emit changed();
}

Theme::Choice Settings::palette() const {
    const int stored = value(QStringLiteral("look/palette"), 0).toInt();
    return stored >= 0 && stored <= 3 ? static_cast<Theme::Choice>(stored) : Theme::Choice::Day;
}
void Settings::setPalette(Theme::Choice choice) {
    setValue(QStringLiteral("look/palette"), static_cast<int>(choice));
}

double Settings::pxPerMm() const {
    return value(QStringLiteral("look/pxPerMm"), 0).toDouble();
}
void Settings::setPxPerMm(double pxPerMm) {
    setValue(QStringLiteral("look/pxPerMm"), pxPerMm);
}

bool Settings::roughRoad() const {
    return value(QStringLiteral("look/roughRoad"), false).toBool();
}
void Settings::setRoughRoad(bool rough) {
    setValue(QStringLiteral("look/roughRoad"), rough);
}

bool Settings::dockLeft() const {
    return value(QStringLiteral("scoring/dockLeft"), false).toBool();
}
void Settings::setDockLeft(bool left) {
    setValue(QStringLiteral("scoring/dockLeft"), left);
}

bool Settings::denseTiles() const {
    return value(QStringLiteral("scoring/denseTiles"), false).toBool();
}
void Settings::setDenseTiles(bool dense) {
    setValue(QStringLiteral("scoring/denseTiles"), dense);
}

bool Settings::singleKeys() const {
    return value(QStringLiteral("scoring/singleKeys"), true).toBool();
}
void Settings::setSingleKeys(bool on) {
    setValue(QStringLiteral("scoring/singleKeys"), on);
}

forms::Paper Settings::paper() const {
    return value(QStringLiteral("print/paper")).toString() == QLatin1String("A4") ? forms::Paper::A4
                                                                                  : forms::Paper::Letter;
}
void Settings::setPaper(forms::Paper paper) {
    setValue(QStringLiteral("print/paper"),
             paper == forms::Paper::A4 ? QStringLiteral("A4") : QStringLiteral("Letter"));
}

QStringList Settings::recentFiles() const {
    QStringList there;
    for (const QString& path : value(kRecentKey).toStringList())
        if (QFileInfo::exists(path)) there << path;
    return there;
}

void Settings::noteRecentFile(const QString& path) {
    const QString absolute = QFileInfo(path).absoluteFilePath();
    QStringList files = recentFiles();
    files.removeAll(absolute);
    files.prepend(absolute);
    setValue(kRecentKey, QStringList(files.mid(0, kRecentFiles)));
}

QByteArray Settings::geometry() const {
    return value(kGeometryKey).toByteArray();
}
void Settings::setGeometry(const QByteArray& geometry) {
    m_store.setValue(kGeometryKey, geometry);
}

void Settings::applyTo(Theme& theme) const {
    theme.setChoice(palette());
    if (pxPerMm() > 0) theme.setPxPerMm(pxPerMm());
    theme.setRough(roughRoad());
}

}  // namespace markerlamp::app
