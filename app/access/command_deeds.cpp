// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/access/command_deeds.h"

namespace markerlamp::app {

const std::map<QString, core::Deed>& commandDeeds() {
    using core::Deed;
    static const std::map<QString, Deed> table = [] {
        std::map<QString, Deed> all;
        const auto add = [&all](Deed deed, std::initializer_list<const char*> names) {
            for (const char* name : names) all.emplace(QLatin1String(name), deed);
        };
        add(Deed::Exchange, {"file.import", "file.export"});
        add(Deed::ManageCopies, {"file.copies"});
        add(Deed::ManageAccounts, {"file.sign-in"});
        add(Deed::ChangePeople, {"edit.add", "edit.edit", "program.instructors", "program.buses"});
        add(Deed::ChangeSettings, {"program.title", "program.readiness", "program.limits", "program.dates"});
        add(Deed::KeepRecords, {"program.result"});
        add(Deed::Erase, {"program.keeping"});
        add(Deed::SeeProgram, {"view.program", "view.agreement", "view.track", "view.trail"});
        add(Deed::ChangeRubrics, {"program.edition", "edition.edit", "edition.file", "edition.zone",
                                  "edition.up", "edition.down", "edition.retire", "edition.check",
                                  "edition.preview", "edition.publish", "edition.leave", "edition.drop"});
        return all;
    }();
    return table;
}

}  // namespace markerlamp::app
