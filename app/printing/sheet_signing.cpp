// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/printing/sheet_signing.h"

#include "app/shell/session.h"
#include "app/support/display.h"

#include <QCoreApplication>
#include <QUuid>

namespace markerlamp::app {

namespace {

struct SheetText {
    Q_DECLARE_TR_FUNCTIONS(SheetText)
};

core::Result<void> note(Session& session, const QStringList& attempts, core::SheetEvent what) {
    auto done = session.file().transaction([&]() -> core::Result<void> {
        for (const QString& attempt : attempts) {
            const std::string id = ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
            const auto added = session.file().addSheetRecord({id, ss(attempt), what, nowIso()});
            if (!added) return core::fail(added.error());
        }
        return {};
    });
    // Of several, pages only need to know that there was something.
    if (done && !attempts.isEmpty()) session.noteSheetChanged(attempts.size() == 1 ? attempts[0] : QString());
    return done;
}

}  // namespace

core::Result<core::SheetStanding> sheetOf(Session& session, const QString& attempt) {
    auto records = session.file().sheetRecords(ss(attempt));
    if (!records) return core::fail(records.error());
    const auto standings = core::sheetStandings(std::move(*records));
    return standings.empty() ? core::SheetStanding() : standings.begin()->second;
}

core::Result<void> noteSheetsMade(Session& session, const QStringList& attempts) {
    return note(session, attempts, core::SheetEvent::Made);
}

core::Result<QString> noteSigning(Session& session, const QString& attempt) {
    const auto standing = sheetOf(session, attempt);
    if (!standing) return core::fail(standing.error());
    const bool back = !standing->signedAt.empty();
    const auto noted =
        note(session, {attempt}, back ? core::SheetEvent::TakenBack : core::SheetEvent::Signed);
    if (!noted) return core::fail(noted.error());
    return back ? SheetText::tr("Taken back: the sheet counts as not signed")
                : SheetText::tr("Noted: both have signed the sheet. The same command takes it back");
}

QString sheetWords(const core::SheetStanding& standing) {
    if (!standing.signedAt.empty())
        return SheetText::tr("sheet signed %1").arg(longDate(startedAt(standing.signedAt).date()));
    if (!standing.made.empty())
        return SheetText::tr("sheet of %1 not signed yet").arg(longDate(startedAt(standing.made).date()));
    return {};
}

}  // namespace markerlamp::app
