// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/first_page.h"

#include "app/support/small_screens.h"

#include <QDir>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QVBoxLayout>

namespace markerlamp::app {

FirstPage::FirstPage(const Theme& theme, QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_recentHead(new BlockHead(theme, tr("Used lately"))),
      m_recent(new QVBoxLayout) {
    setAccessibleName(tr("Welcome"));
    auto* content = new QWidget;
    auto* column = new QVBoxLayout(content);
    column->setContentsMargins(0, qRound(theme.s(24)), 0, qRound(theme.s(24)));
    auto* welcome =
        new EmptyState(theme, tr("Welcome to Markerlamp"),
                       tr("Score practice vehicle inspections of school buses, see what to practice "
                          "next, and print the sheet that says so. A program file holds everything "
                          "of one training program."));
    connect(welcome->setButton(tr("Make a new program"), tr("Ctrl+Shift+N")), &QPushButton::clicked, this,
            &FirstPage::newRequested);
    connect(welcome->addLink(tr("open one")), &QPushButton::clicked, this, &FirstPage::openRequested);
    connect(welcome->addLink(tr("try the invented demo")), &QPushButton::clicked, this,
            &FirstPage::demoRequested);
    connect(welcome->addLink(tr("bring back a copy")), &QPushButton::clicked, this,
            &FirstPage::bringBackRequested);
    welcome->setFoot(
        tr("Training support only: the official test, your state's manual, the vehicle maker's "
           "limits and your program's own safety rules decide. F1 opens the help."));
    column->addWidget(welcome);
    auto* frame = new QHBoxLayout;
    frame->setContentsMargins(qRound(theme.s(48)), qRound(theme.s(24)), qRound(theme.s(48)), 0);
    auto* recent = new QVBoxLayout;
    m_recentHead->setMaximumWidth(qRound(theme.s(700)));
    recent->addWidget(m_recentHead);
    recent->addSpacing(qRound(theme.s(8)));
    m_recent->setSpacing(qRound(theme.s(4)));
    recent->addLayout(m_recent);
    frame->addLayout(recent, 1);
    column->addLayout(frame);
    column->addStretch(1);
    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->addWidget(scrollingPage(content));
}

void FirstPage::setRecentFiles(const QStringList& files) {
    clearLayout(m_recent);
    m_recentHead->setVisible(!files.isEmpty());
    for (const QString& path : files) {
        const QFileInfo info(path);
        QPushButton* link = makeLink(m_theme, info.completeBaseName());
        link->setToolTip(QDir::toNativeSeparators(path));
        link->setAccessibleDescription(QDir::toNativeSeparators(path));
        connect(link, &QPushButton::clicked, this, [this, path] { emit fileRequested(path); });
        auto* row = new QHBoxLayout;
        row->addWidget(link);
        auto* folder =
            new Text(m_theme, 13, false, Ink::Muted, QDir::toNativeSeparators(info.absolutePath()));
        folder->setElided();
        row->addWidget(folder, 1);
        m_recent->addLayout(row);
    }
}

}  // namespace markerlamp::app
