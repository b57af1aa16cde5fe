// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/access/recovery_dialog.h"

#include "app/printing/print_jobs.h"
#include "app/shell/session.h"
#include "app/support/text_widgets.h"
#include "forms/sheets/recovery_sheet.h"

#include <QCoreApplication>
#include <QDialogButtonBox>
#include <QFileInfo>
#include <QLineEdit>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

forms::Sheet sheetFor(const Session& session, forms::Paper paper, const QString& code) {
    return forms::recoverySheet({session.title(), QFileInfo(session.path()).fileName(), code,
                                 QCoreApplication::applicationVersion(), QDateTime::currentDateTime(),
                                 paper});
}

}  // namespace

RecoveryDialog::RecoveryDialog(const Theme& theme, const Session& session, forms::Paper paper,
                               const QString& code, QWidget* parent)
    : QDialog(parent), m_sheet(sheetFor(session, paper, code)), m_code(new QLineEdit(code)) {
    setWindowTitle(tr("Recovery code"));
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(12)));
    auto* words =
        new Text(theme, 15, false, Ink::Full,
                 tr("Print this page now: the code is shown this once and kept nowhere. Lock the page "
                    "away, never with the laptop. It gives a coordinator a new passphrase when none "
                    "is known any more; an earlier code is good for nothing now."));
    words->setWordWrap(true);
    column->addWidget(words);
    m_code->setReadOnly(true);
    m_code->setAccessibleName(tr("Recovery code"));
    m_code->setFont(theme.font(20, true));
    m_code->setAlignment(Qt::AlignHCenter);
    m_code->setMinimumWidth(QFontMetrics(m_code->font()).horizontalAdvance(code) + qRound(theme.s(40)));
    column->addWidget(m_code);
    auto* buttons = new QDialogButtonBox;
    auto* print = buttons->addButton(tr("&Print..."), QDialogButtonBox::ActionRole);
    auto* preview = buttons->addButton(tr("Pre&view..."), QDialogButtonBox::ActionRole);
    auto* close = buttons->addButton(tr("&Done"), QDialogButtonBox::RejectRole);
    print->setProperty("primary", true);
    print->setDefault(true);
    close->setAutoDefault(false);
    preview->setAutoDefault(false);
    column->addWidget(buttons);
    const QString name = pdfName(QStringLiteral("recovery-code"), {});
    connect(print, &QPushButton::clicked, this, [this, name] {
        if (const QString done = printSheet(m_sheet, name, this); !done.isEmpty()) m_outcome = done;
    });
    connect(preview, &QPushButton::clicked, this, [this, &theme, name] {
        SheetPreview pages(theme, m_sheet, name, this);
        pages.exec();
        if (!pages.outcome().isEmpty()) m_outcome = pages.outcome();
    });
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    print->setFocus();
}

QString RecoveryDialog::code() const {
    return m_code->text();
}

}  // namespace markerlamp::app
