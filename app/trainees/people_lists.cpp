// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The lists of instructors and buses, and the trainee form, over an open file.

#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/trainees/people_dialogs.h"

#include <QMessageBox>

#include <algorithm>
#include <map>

namespace markerlamp::app {

namespace {

void warn(QWidget* parent, const core::Error& error) {
    QMessageBox::warning(parent, ListDialog::tr("Not stored"), errorText(error));
}

template <class T>
QStringList keysBut(const std::vector<T>& all, const QString& own) {
    QStringList keys;
    for (const T& one : all)
        if (qs(one.key) != own) keys << qs(one.key);
    return keys;
}

template <class T>
T byKey(const std::vector<T>& all, const QString& key) {
    for (const T& one : all)
        if (qs(one.key) == key) return one;
    return {};
}

QString stateWord(bool toComplete) {
    return toComplete ? ListDialog::tr("to be completed") : QString();
}

/// Equipment tags and limits of all rubrics, each once, newest edition first.
void gatherRubrics(Session& session, std::vector<std::pair<std::string, std::string>>& tags,
                   std::vector<core::Limit>& limits) {
    const auto infos = session.file().rubrics();
    if (!infos) return;
    for (const db::RubricInfo& info : *infos) {
        const auto rubric = session.file().rubric(info.id, info.edition);
        if (!rubric) continue;
        for (const auto& tag : (*rubric)->equipment)
            if (std::none_of(tags.begin(), tags.end(), [&](const auto& t) { return t.first == tag.first; }))
                tags.push_back(tag);
        for (const core::Limit& limit : (*rubric)->limits)
            if (std::none_of(limits.begin(), limits.end(), [&](const auto& l) { return l.id == limit.id; }))
                limits.push_back(limit);
    }
}

}  // namespace

void showInstructors(const Theme& theme, Session& session, QWidget* parent) {
    const auto rows = [&session] {
        std::vector<Row> list;
        if (const auto all = session.file().instructors())
            for (const core::Instructor& one : *all)
                list.push_back(
                    {qs(one.key),
                     {longCell(qs(one.name)), Cell{qs(one.key)}, boldCell(stateWord(one.toComplete))}});
        return list;
    };
    const auto edit = [&theme, &session](const QString& key, QWidget* over) -> QString {
        const auto all = session.file().instructors();
        if (!all) return warn(over, all.error()), QString();
        InstructorDialog dialog(theme, byKey(*all, key), keysBut(*all, key), over);
        if (dialog.exec() != QDialog::Accepted) return {};
        if (auto done = session.file().saveInstructor(dialog.instructor()); !done)
            return warn(over, done.error()), QString();
        session.notePeopleChanged();
        return qs(dialog.instructor().key);
    };
    ListDialog dialog(theme, ListDialog::tr("Instructors"),
                      ListDialog::tr("Who scores attempts. Every attempt names its instructor by the key."),
                      {{ListDialog::tr("name")}, {ListDialog::tr("key")}, {ListDialog::tr("state")}},
                      {0, 160, 180}, rows, edit, parent);
    dialog.exec();
}

void showBuses(const Theme& theme, Session& session, QWidget* parent) {
    const auto rows = [&session] {
        std::vector<Row> list;
        std::vector<std::pair<std::string, std::string>> words;
        std::vector<core::Limit> limits;
        gatherRubrics(session, words, limits);
        const std::map<std::string, std::string> titles(words.begin(), words.end());
        if (const auto all = session.file().buses())
            for (const core::Bus& one : *all) {
                QStringList tags;
                for (const std::string& tag : one.equipment) {
                    const auto title = titles.find(tag);
                    tags << qs(title == titles.end() ? tag : title->second);
                }
                list.push_back(
                    {qs(one.key),
                     {Cell{qs(one.key)}, longCell(qs(one.title)), longCell(tags.join(ListDialog::tr(", "))),
                      Cell{one.limits.empty() ? QString() : QString::number(one.limits.size())},
                      boldCell(stateWord(one.toComplete))}});
            }
        return list;
    };
    const auto edit = [&theme, &session](const QString& key, QWidget* over) -> QString {
        const auto all = session.file().buses();
        if (!all) return warn(over, all.error()), QString();
        std::vector<std::pair<std::string, std::string>> tags;
        std::vector<core::Limit> limits;
        gatherRubrics(session, tags, limits);
        BusDialog dialog(theme, byKey(*all, key), keysBut(*all, key), tags, limits, over);
        if (dialog.exec() != QDialog::Accepted) return {};
        if (auto done = session.file().saveBus(dialog.bus()); !done)
            return warn(over, done.error()), QString();
        session.notePeopleChanged();
        return qs(dialog.bus().key);
    };
    ListDialog dialog(
        theme, ListDialog::tr("Buses"),
        ListDialog::tr("The equipment of a bus decides which steps an attempt on it asks for; the figures of "
                       "its maker may take the place of the rubric's limits."),
        {{ListDialog::tr("unit")},
         {ListDialog::tr("name")},
         {ListDialog::tr("equipment")},
         {ListDialog::tr("own limits"), true},
         {ListDialog::tr("state")}},
        {64, 200, 0, 84, 120}, rows, edit, parent);
    dialog.exec();
}

QString editTrainee(const Theme& theme, Session& session, const QString& key, QWidget* parent) {
    const auto all = session.file().trainees();
    if (!all) return warn(parent, all.error()), QString();
    TraineeDialog dialog(theme, byKey(*all, key), keysBut(*all, key), parent);
    if (dialog.exec() != QDialog::Accepted) return {};
    if (auto done = session.file().saveTrainee(dialog.trainee()); !done)
        return warn(parent, done.error()), QString();
    session.notePeopleChanged();
    return qs(dialog.trainee().key);
}

}  // namespace markerlamp::app
