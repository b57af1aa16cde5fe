#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Signing in as window and command line do it, without a widget: passphrases in one spelling, the clock of
// this computer, waits in words.

#include "core/access/accounts.h"
#include "core/base/result.h"
#include "db/program_file.h"

#include <QCoreApplication>
#include <QString>

#include <functional>

namespace markerlamp::app {

struct Recovered {
    core::Acting acting;
    QString code;  ///< the next one
};

class Gate {
    Q_DECLARE_TR_FUNCTIONS(Gate)

public:
    using Clock = std::function<qint64()>;  ///< milliseconds since 1970

    explicit Gate(db::ProgramFile& file, Clock clock = systemClock());

    /// The file acts as them afterwards.
    core::Result<core::Acting> signIn(const QString& name, const QString& passphrase);
    core::Result<Recovered> recover(const QString& code, const QString& name, const QString& passphrase,
                                    const QString& again);
    /// Until the next try; empty: none.
    [[nodiscard]] QString waitWords();

    [[nodiscard]] static Clock systemClock();
    /// The same letters are the same bytes however a keyboard makes them (Unicode NFKC).
    [[nodiscard]] static std::string spelled(const QString& passphrase);
    [[nodiscard]] static core::Result<std::string> twice(const QString& passphrase, const QString& again);
    [[nodiscard]] static QString waitWords(qint64 milliseconds);

private:
    db::ProgramFile& m_file;
    Clock m_clock;
};

/// "instructor", "coordinator".
[[nodiscard]] QString roleWord(core::Role role);

}  // namespace markerlamp::app
