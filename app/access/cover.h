#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What lies over the whole window until somebody has signed in, and while it is locked. Shows nobody's
// records and no name that it was not given.

#include "app/access/gate.h"
#include "app/support/text_widgets.h"

#include <QTimer>
#include <QWidget>

#include <initializer_list>
#include <optional>
#include <utility>

class QFormLayout;
class QLineEdit;
class QStackedWidget;

namespace markerlamp::app {

class Cover final : public QWidget {
    Q_OBJECT

public:
    enum class Reason { Opening, Locked };

    explicit Cover(const Theme& theme, QWidget* parent);

    /// Comes up. remark: what goes on beneath it, in words; mayRecover: whether the recovery code is taken.
    void ask(db::ProgramFile& file, Reason reason, const QString& name, const QString& remark,
             bool mayRecover);
    /// Goes away and forgets what was typed.
    void leave();
    void setRemark(const QString& remark);
    /// Of this computer unless a test says otherwise.
    void setClock(Gate::Clock clock) { m_clock = std::move(clock); }

signals:
    /// Somebody is who they say. The file acts as they do.
    void passed(core::Acting acting);
    /// A coordinator with the recovery code has a new passphrase; the next code is to be shown once.
    void recovered(core::Acting acting, QString code);
    void closeRequested();

private:
    [[nodiscard]] QFormLayout* fields(std::initializer_list<std::pair<QString, QLineEdit*>> all) const;
    QWidget* makeSignIn();
    QWidget* makeRecovery();
    void showSignIn(bool back);
    void trySignIn();
    void tryRecovery();
    void showWait();
    void forget();

    const Theme& m_theme;
    Gate::Clock m_clock = Gate::systemClock();
    std::optional<Gate> m_gate;
    QTimer m_tick;
    QStackedWidget* m_forms;
    Text *m_title, *m_remark, *m_problem, *m_recoveryProblem;
    QLineEdit *m_name, *m_passphrase;
    QLineEdit *m_code, *m_who, *m_new, *m_again;
    KeyButton *m_enter, *m_renew;
    QPushButton *m_recover, *m_close;
};

}  // namespace markerlamp::app
