#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Asks for the passphrase of a package; accepts only the one that opens it.

#include "app/trainees/people_dialogs.h"

namespace markerlamp::app {

class PackageDialog final : public FormDialog {
    Q_OBJECT

public:
    PackageDialog(const Theme& theme, QString path, QWidget* parent);
    [[nodiscard]] QString passphrase() const;

protected:
    core::Result<void> check() override;

private:
    QString m_path;
    QLineEdit* m_passphrase;
};

/// Whether the file is called as packages are.
[[nodiscard]] bool isPackage(const QString& path);

}  // namespace markerlamp::app
