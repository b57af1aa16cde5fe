// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/names.h"

#include "app/support/display.h"

#include <QCoreApplication>
#include <QRegularExpression>

namespace markerlamp::app {

namespace {

core::Bus busOf(db::ProgramFile& file, const std::string& key) {
    if (const auto all = file.buses())
        for (const core::Bus& one : *all)
            if (one.key == key) return one;
    core::Bus unknown;
    unknown.key = key;
    return unknown;
}

}  // namespace

QString instructorName(db::ProgramFile& file, const std::string& key) {
    if (const auto all = file.instructors())
        for (const core::Instructor& one : *all)
            if (one.key == key && !one.name.empty()) return qs(one.name);
    return qs(key);
}

QString busName(const core::Bus& bus) {
    // A title that holds the unit number as a word is a name ("Bus 14"); any other tells about the bus.
    static const QRegularExpression notWord(QStringLiteral("[^\\w-]+"));
    const QString key = qs(bus.key);
    QString title = qs(bus.title);
    if (title != key && title.split(notWord).contains(key)) return title;
    return QCoreApplication::translate("markerlamp::app::Names", "Bus %1").arg(key);
}

QString busName(db::ProgramFile& file, const std::string& key) {
    return busName(busOf(file, key));
}

QString busTitle(db::ProgramFile& file, const std::string& key) {
    return qs(busOf(file, key).title);
}

}  // namespace markerlamp::app
