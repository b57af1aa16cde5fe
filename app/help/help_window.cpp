// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/help/help_window.h"
#include "app/support/small_screens.h"

#include <QDialogButtonBox>
#include <QFile>
#include <QHBoxLayout>
#include <QListWidget>
#include <QPushButton>
#include <QTextBrowser>
#include <QTextDocument>
#include <QVBoxLayout>

namespace markerlamp::app {

QString helpText(const QString& id) {
    QFile file(QStringLiteral(":/help/%1.md").arg(id));
    return file.open(QIODevice::ReadOnly) ? QString::fromUtf8(file.readAll()) : QString();
}

std::vector<HelpPage> helpPages() {
    std::vector<HelpPage> pages;
    for (const char* id :
         {"first-attempt", "scoring-keys",  "brake-minute", "debrief",      "readiness", "drill",
          "printing",      "people",        "importing",    "exports",      "copies",    "sign-in",
          "trail",         "rubric-editor", "numbers",      "track-record", "program",   "second-scoring",
          "agreement",     "promises",      "cautions"}) {
        const QString page = QLatin1String(id);
        const QString first = helpText(page).section(QLatin1Char('\n'), 0, 0);
        pages.push_back({page, first.mid(2)});
    }
    return pages;
}

HelpWindow::HelpWindow(const Theme& theme, QWidget* parent)
    : QDialog(parent), m_theme(theme), m_list(new QListWidget), m_text(new QTextBrowser) {
    setWindowTitle(tr("Markerlamp help"));
    resizeToScreen(*this, {qRound(theme.s(940)), qRound(theme.s(640))});
    auto* column = new QVBoxLayout(this);
    auto* row = new QHBoxLayout;
    m_list->setAccessibleName(tr("Help pages"));
    m_list->setFixedWidth(qRound(theme.s(310)));
    m_list->setFont(theme.font(15));
    m_list->setSpacing(qRound(theme.s(3)));
    for (const HelpPage& page : helpPages()) {
        auto* item = new QListWidgetItem(page.title, m_list);
        item->setData(Qt::UserRole, page.id);
    }
    m_text->setAccessibleName(tr("Help text"));
    m_text->setFont(theme.font(15));
    m_text->document()->setDocumentMargin(theme.s(14));
    m_text->setOpenLinks(false);
    row->addWidget(m_list);
    row->addWidget(m_text, 1);
    column->addLayout(row, 1);
    auto* buttons = new QDialogButtonBox;
    buttons->addButton(tr("&Close"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(m_list, &QListWidget::currentItemChanged, this, [this](QListWidgetItem* item) {
        if (item == nullptr) return;
        m_text->setMarkdown(helpText(item->data(Qt::UserRole).toString()));
        m_text->moveCursor(QTextCursor::Start);
    });
    connect(m_text, &QTextBrowser::anchorClicked, this,
            [this](const QUrl& link) { showPage(link.fileName().section(QLatin1Char('.'), 0, 0)); });
    m_list->setCurrentRow(0);
    m_list->setFocus();
}

void HelpWindow::showPage(const QString& id) {
    for (int row = 0; row < m_list->count(); ++row)
        if (m_list->item(row)->data(Qt::UserRole).toString() == id) m_list->setCurrentRow(row);
}

}  // namespace markerlamp::app
