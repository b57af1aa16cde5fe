// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/exports/package_dialog.h"

#include "app/support/display.h"
#include "db/package/package.h"

#include <QFile>
#include <QFileInfo>
#include <QLineEdit>

namespace markerlamp::app {

PackageDialog::PackageDialog(const Theme& theme, QString path, QWidget* parent)
    : FormDialog(theme, tr("Open the package %1").arg(QFileInfo(path).fileName()), tr("&Open"), parent),
      m_path(std::move(path)),
      m_passphrase(addField(tr("&Passphrase"), {}, tr("from who made the package"))) {
    m_passphrase->setEchoMode(QLineEdit::Password);
}

QString PackageDialog::passphrase() const {
    return m_passphrase->text();
}

core::Result<void> PackageDialog::check() {
    const auto opened = db::SealReader::open(QFile::encodeName(m_path).toStdString(), ss(passphrase()));
    if (!opened) return core::fail(opened.error());
    return {};
}

bool isPackage(const QString& path) {
    return path.endsWith(qs(std::string(db::kPackageEnding)));
}

}  // namespace markerlamp::app
