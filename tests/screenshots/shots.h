#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Pictures of pages and dialogs of one window, under one prefix.

#include "app/agreement/agreement_page.h"
#include "app/shell/main_window.h"
#include "app/track/track_page.h"
#include "forms/sheets/sheets.h"

#include <QAction>
#include <QApplication>
#include <QDialog>
#include <QDir>
#include <QTest>
#include <QTimer>

#include <cstdio>
#include <functional>

namespace markerlamp::testing {

using PageId = app::MainWindow::PageId;

class Shots {
public:
    Shots(app::MainWindow& window, QDir dir, QString prefix)
        : m_window(window), m_dir(std::move(dir)), m_prefix(std::move(prefix)) {}

    void grab(QWidget& widget, const QString& name) {
        QTest::qWait(30);
        const QString path = m_dir.filePath(m_prefix + name + QStringLiteral(".png"));
        if (!widget.grab().save(path)) std::fprintf(stderr, "cannot write %s\n", qPrintable(path));
        ++m_count;
    }
    void page(PageId id, const QString& name) {
        m_window.showPage(id);
        grab(m_window, name);
    }
    /// Once pairs and strictness have been worked out.
    void agreementPage(const QString& name) {
        m_window.showPage(PageId::Agreement);
        const auto* agreement = m_window.findChild<app::AgreementPage*>();
        if (!QTest::qWaitFor([agreement] { return !agreement->isReading(); }, 600000))
            std::fprintf(stderr, "the agreement was not ready in time\n");
        page(PageId::Agreement, name);
    }
    /// Once the track record has been worked out.
    void trackPage(const QString& name) {
        m_window.showPage(PageId::Track);
        const auto* track = m_window.findChild<app::TrackPage*>();
        if (!QTest::qWaitFor([track] { return !track->isReading(); }, 600000))
            std::fprintf(stderr, "the track record was not ready in time\n");
        page(PageId::Track, name);
    }
    void pdf(const forms::Sheet& sheet, const QString& name) {
        const QString path = m_dir.filePath(m_prefix + name + QStringLiteral(".pdf"));
        if (!forms::writePdf(sheet, path)) std::fprintf(stderr, "cannot write %s\n", qPrintable(path));
    }
    /// Triggers a command that opens a dialog, grabs it, and leaves it by Esc.
    void dialog(const QString& command, const QString& name) {
        modal([this, command] { m_window.action(command)->trigger(); }, name);
    }
    void modal(const std::function<void()>& act, const QString& name) {
        within(act, [this, name](QWidget& dialog) { grab(dialog, name); });
    }
    /// Does something that opens a dialog, hands that one to look() and closes it.
    void within(const std::function<void()>& act, const std::function<void(QWidget&)>& look) {
        const QWidget* before = QApplication::activeModalWidget();
        QTimer::singleShot(80, &m_window, [before, look] {
            QWidget* modal = QApplication::activeModalWidget();
            if (modal == nullptr || modal == before) return;
            QApplication::setActiveWindow(modal);
            look(*modal);
            modal->close();
        });
        act();
        QTest::qWait(150);
    }
    [[nodiscard]] int count() const { return m_count; }

private:
    app::MainWindow& m_window;
    QDir m_dir;
    QString m_prefix;
    int m_count = 0;
};

}  // namespace markerlamp::testing
