// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/copies/copy_keeper.h"

#include "app/support/folders.h"

#include <QtConcurrentRun>

#include <utility>

namespace markerlamp::app {

core::CopyReason reasonAtOpening(const QString& program, const QDateTime& now) {
    const auto copies = db::copiesOf(fsPath(program));
    const bool earlier =
        !copies.empty() && QDateTime::fromMSecsSinceEpoch(copies.front().name.ms).date() < now.date();
    return earlier ? core::CopyReason::Day : core::CopyReason::Start;
}

CopyKeeper::CopyKeeper(QString program, QObject* parent) : QObject(parent), m_program(std::move(program)) {
    connect(&m_watcher, &QFutureWatcherBase::finished, this, [this] {
        const auto kept = m_watcher.result();
        // A copy that was made as it should is no news.
        if (!kept || kept->second) emit said(keptText(kept));
    });
}

CopyKeeper::~CopyKeeper() {
    m_watcher.disconnect(this);
    m_watcher.waitForFinished();
}

void CopyKeeper::begin() {
    m_begun = true;
    m_watcher.setFuture(QtConcurrent::run([program = m_program] {
        return db::keepCopy(fsPath(program),
                            {reasonAtOpening(program, QDateTime::currentDateTime()), 0, true});
    }));
}

void CopyKeeper::end() {
    // What cannot be copied now is said when the file is opened next.
    if (m_begun) (void)keep(core::CopyReason::Day, true);
}

core::Result<db::CopyKept> CopyKeeper::keep(core::CopyReason reason, bool onlyIfChanged) {
    m_watcher.waitForFinished();
    return db::keepCopy(fsPath(m_program), {reason, 0, onlyIfChanged});
}

}  // namespace markerlamp::app
