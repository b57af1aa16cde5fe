#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Splits the arguments of a command: options, options with a value, and the rest. Unknown options are wrong
// usage.

#include <QMap>
#include <QString>
#include <QStringList>

#include <optional>

namespace markerlamp::app {

class Arguments {
public:
    /// @param flags  options without a value ("--json"); --help is always known
    /// @param values options with one ("--to"); both "--to X" and "--to=X" are taken
    Arguments(const QStringList& arguments, const QStringList& flags, const QStringList& values);

    [[nodiscard]] const QString& problem() const { return m_problem; }  ///< empty: usable
    [[nodiscard]] bool has(const QString& flag) const { return m_flags.contains(flag); }
    [[nodiscard]] std::optional<QString> value(const QString& option) const;
    [[nodiscard]] const QStringList& rest() const { return m_rest; }

private:
    QString m_problem;
    QStringList m_flags;
    QMap<QString, QString> m_values;
    QStringList m_rest;
};

/// Prints the command's help on standard output; returns kDone.
int printHelp(const char* help);
/// Prints what is wrong and the help on standard error; returns kWrongUsage.
int wrongUsage(const QString& command, const QString& problem, const char* help);

}  // namespace markerlamp::app
