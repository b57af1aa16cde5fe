// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/access/gate.h"

#include "app/support/display.h"

#include <QDateTime>

namespace markerlamp::app {

Gate::Gate(db::ProgramFile& file, Clock clock) : m_file(file), m_clock(std::move(clock)) {}

Gate::Clock Gate::systemClock() {
    return [] { return QDateTime::currentMSecsSinceEpoch(); };
}

std::string Gate::spelled(const QString& passphrase) {
    return ss(passphrase.normalized(QString::NormalizationForm_KC));
}

core::Result<std::string> Gate::twice(const QString& passphrase, const QString& again) {
    if (passphrase != again)
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("the two passphrases differ; type the same one twice")));
    std::string text = spelled(passphrase);
    if (auto good = core::checkPassphrase(text); !good) return core::fail(good.error());
    return text;
}

core::Result<core::Acting> Gate::signIn(const QString& name, const QString& passphrase) {
    auto acting = m_file.signIn(ss(name.trimmed()), spelled(passphrase), m_clock());
    if (acting) m_file.actAs(*acting);
    return acting;
}

core::Result<Recovered> Gate::recover(const QString& code, const QString& name, const QString& passphrase,
                                      const QString& again) {
    const auto text = twice(passphrase, again);
    if (!text) return core::fail(text.error());
    const auto next = m_file.recover(ss(code), ss(name.trimmed()), *text, m_clock());
    if (!next) return core::fail(next.error());
    auto acting = signIn(name, passphrase);
    if (!acting) return core::fail(acting.error());
    return Recovered{std::move(*acting), qs(*next)};
}

QString Gate::waitWords() {
    const auto wait = m_file.signInWait(m_clock());
    if (!wait) return errorText(wait.error(), 1);
    return waitWords(*wait);
}

QString Gate::waitWords(qint64 milliseconds) {
    if (milliseconds <= 0) return {};
    const int seconds = static_cast<int>((milliseconds + 999) / 1000);
    if (seconds < 60) return tr("Too many tries failed: wait %n second(s).", nullptr, seconds);
    return tr("Too many tries failed: wait %1:%2 minutes.")
        .arg(seconds / 60)
        .arg(seconds % 60, 2, 10, QLatin1Char('0'));
}

QString roleWord(core::Role role) {
    switch (role) {
        case core::Role::Instructor:
            return Gate::tr("instructor");
        case core::Role::Coordinator:
            return Gate::tr("coordinator");
        case core::Role::Anybody:
            break;
    }
    return Gate::tr("anybody");
}

}  // namespace markerlamp::app
