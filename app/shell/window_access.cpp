// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Signing in to a file that has accounts, the lock, and what the window lets whom do.

#include "app/access/accounts_dialog.h"
#include "app/access/command_deeds.h"
#include "app/access/cover.h"
#include "app/access/idle_watch.h"
#include "app/access/recovery_dialog.h"
#include "app/access/window_lock.h"
#include "app/readiness/readiness_desk.h"
#include "app/scoring/scoring_page.h"
#include "app/shell/main_window.h"
#include "app/shell/page_bar.h"
#include "app/shell/session.h"
#include "app/support/display.h"

#include <QAction>
#include <QFileInfo>
#include <QMenuBar>
#include <QResizeEvent>
#include <QStatusBar>
#include <QTimer>

#include <algorithm>
#include <array>

namespace markerlamp::app {

namespace {

// What can be done without having signed in. While somebody's pages lie beneath, less.
constexpr std::array kAtTheDoor{"file.new",   "file.open",    "file.demo", "file.bring-back",
                                "file.close", "file.quit",    "help.help", "help.cautions",
                                "help.about", "view.palette", "view.full"};
constexpr std::array kWhileLocked{"file.quit", "view.palette", "view.full"};

template <std::size_t count>
bool isAmong(const std::array<const char*, count>& names, const QString& name) {
    return std::ranges::any_of(names, [&](const char* one) { return name == QLatin1String(one); });
}

}  // namespace

void MainWindow::makeCover() {
    m_cover = new Cover(m_theme, this);
    m_lock = std::make_unique<WindowLock>(*this);
    m_idle = std::make_unique<IdleWatch>();
    connect(m_idle.get(), &IdleWatch::idle, this, &MainWindow::lock);
    connect(m_cover, &Cover::passed, this, &MainWindow::comeIn);
    connect(m_cover, &Cover::closeRequested, this, &MainWindow::closeFile);
    connect(m_cover, &Cover::recovered, this, [this](const core::Acting& acting, const QString& code) {
        comeIn(acting);
        QTimer::singleShot(0, this, [this, code] { showRecoveryCode(code); });
    });
}

bool MainWindow::isCovered() const {
    return m_session != nullptr && m_cover->isVisibleTo(this);
}

bool MainWindow::isLocked() const {
    return m_lock->isLocked();
}

void MainWindow::askWho() {
    m_inside.reset();
    m_cover->ask(m_session->file(), Cover::Reason::Opening, {}, QFileInfo(m_session->path()).fileName(),
                 true);
    updateTitle();
    updateCommands();
}

void MainWindow::lock() {
    if (!m_session || isCovered() || !mayLock()) return;
    m_inside = m_session->file().acting();
    m_focus = focusWidget();
    m_lock->lock();
    m_idle->setMinutes(0);  // the keys that unlock it come late
    const bool attempt = attemptRuns();
    // Only they can go on with it; for everybody else the name is nobody's business.
    m_cover->ask(m_session->file(), Cover::Reason::Locked, {},
                 attempt
                     ? tr("An attempt is in progress and goes on. Only who began it can unlock the window.")
                     : tr("Another person may sign in too; what is not kept in an open dialog is dropped "
                          "then."),
                 !attempt);
    updateTitle();
    updateCommands();
}

bool MainWindow::mayLock() const {
    return m_session != nullptr && m_session->file().acting().role != core::Role::Anybody;
}

bool MainWindow::attemptRuns() const {
    return m_scoring != nullptr && m_scoring->isActive();
}

void MainWindow::comeIn(const core::Acting& acting) {
    const bool locked = m_lock->isLocked();
    if (locked && acting == *m_inside) {
        uncover();
        if (m_focus != nullptr) m_focus->setFocus(Qt::OtherFocusReason);
        m_lock->unlock();
        updateCommands();
        return;
    }
    if (locked && attemptRuns()) {
        m_session->file().actAs(*m_inside);
        m_cover->ask(
            m_session->file(), Cover::Reason::Locked, {},
            tr("Not unlocked: an attempt is in progress, and only who began it can go on. The attempt "
               "goes on meanwhile."),
            false);
        return;
    }
    if (!locked) {
        uncover();
        enter();
        return;
    }
    // Somebody else: what the one before left open goes first, once its dialogs have let go of it.
    m_lock->rejectDialogs();
    QTimer::singleShot(0, this, &MainWindow::changeOver);
}

void MainWindow::changeOver() {
    if (!m_session) return;
    if (m_lock->hasDialogs()) {  // one that answered to another
        m_lock->rejectDialogs();
        QTimer::singleShot(0, this, &MainWindow::changeOver);
        return;
    }
    m_lock->unlock();
    closePages();
    uncover();
    enter();
}

void MainWindow::uncover() {
    m_cover->leave();
    m_inside.reset();
    m_idle->setMinutes(0);
    watchIdle();
    updateTitle();
    updateCommands();
}

void MainWindow::watchIdle() {
    int minutes = 0;
    if (mayLock()) {
        const auto fact = m_session->file().fact(core::kIdleMinutesFact);
        minutes = core::idleMinutesOf(fact ? *fact : std::nullopt);
    }
    m_idle->setMinutes(minutes);
}

void MainWindow::signOut() {
    if (!m_session || !mayLock()) return;
    closePages();
    m_session->file().actAs({});
    m_idle->setMinutes(0);
    askWho();
}

void MainWindow::showAccounts() {
    if (!m_session || !allowed(core::Deed::ManageAccounts)) return;
    const core::Acting before = m_session->file().acting();
    {
        AccountsDialog dialog(m_theme, *m_session, m_settings.paper(), this);
        dialog.exec();
        if (!dialog.outcome().isEmpty()) say(dialog.outcome());
    }
    accountsChanged(before);
}

void MainWindow::accountsChanged(const core::Acting& before) {
    if (!m_session) return;
    const core::Acting now = m_session->file().acting();
    const auto accounts = m_session->file().accounts();
    const auto own = accounts ? std::ranges::find(*accounts, now.name, &core::Account::name)
                              : decltype(accounts->begin()){};
    if (accounts && now.role != core::Role::Anybody) {
        // Who took the role or the account away from themselves is not who they were.
        if (own == accounts->end() || own->role != now.role || own->instructor != now.instructor) {
            signOut();
            return;
        }
    }
    watchIdle();
    updateCommands();
    if (before == now) return;
    // Lists show what the one who is signed in may see.
    m_session->notePeopleChanged();
    m_session->noteAttemptChanged({});
}

void MainWindow::showRecoveryCode(const QString& code) {
    if (!m_session) return;
    RecoveryDialog dialog(m_theme, *m_session, m_settings.paper(), code, this);
    dialog.exec();
    if (!dialog.outcome().isEmpty()) say(dialog.outcome());
}

bool MainWindow::allowed(core::Deed deed) {
    const auto may = m_session ? m_session->file().may(deed) : core::Result<void>();
    if (!may) say(errorText(may.error(), 1));
    return may.has_value();
}

void MainWindow::reopenCommands() {
    for (const auto& [name, action] : m_actions) {
        if (!action->property("shut").toBool()) continue;
        action->setProperty("shut", false);
        action->setEnabled(true);
    }
}

void MainWindow::guardCommands() {
    const bool covered = isCovered();
    for (const auto& [name, action] : m_actions) {
        if (covered) {
            const bool open = isLocked() ? isAmong(kWhileLocked, name) : isAmong(kAtTheDoor, name);
            if (action->isEnabled() && !open) action->setProperty("shut", true);
            action->setEnabled(open);
            continue;
        }
        const auto deed = commandDeeds().find(name);
        if (deed == commandDeeds().end()) continue;
        const auto may = m_session ? m_session->file().may(deed->second) : core::Result<void>();
        const QString usual = action->property("tip").toString();
        if (!may) action->setEnabled(false);
        action->setStatusTip(may ? usual : errorText(may.error(), 1));
        action->setToolTip(action->statusTip());
    }
    if (!covered)
        for (const char* name : {"file.lock", "file.sign-out", "file.passphrase"})
            m_actions.at(QLatin1String(name))->setEnabled(mayLock());
}

void MainWindow::resizeEvent(QResizeEvent* event) {
    QMainWindow::resizeEvent(event);
    m_cover->setGeometry(rect());
}

}  // namespace markerlamp::app
