// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/report_dialogs.h"
#include "app/support/small_screens.h"

#include "app/help/help_window.h"
#include "app/support/clipboard.h"
#include "app/support/display.h"
#include "app/support/rows_model.h"
#include "app/support/table_view.h"
#include "app/support/text_widgets.h"

#include <QDialogButtonBox>
#include <QDir>
#include <QPushButton>
#include <QStandardPaths>
#include <QTabWidget>
#include <QTextBrowser>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

namespace {

QDialogButtonBox* closeBox(QDialog* dialog) {
    auto* buttons = new QDialogButtonBox;
    buttons->addButton(QDialog::tr("&Close"), QDialogButtonBox::RejectRole)->setDefault(true);
    QObject::connect(buttons, &QDialogButtonBox::rejected, dialog, &QDialog::reject);
    return buttons;
}

QString outcomeWords(db::ImportReport::Outcome outcome) {
    switch (outcome) {
        case db::ImportReport::Outcome::Added:
            return ImportDialog::tr("added");
        case db::ImportReport::Outcome::AlreadyThere:
            return ImportDialog::tr("already there");
        case db::ImportReport::Outcome::Changed:
            return ImportDialog::tr("changed");
        case db::ImportReport::Outcome::Refused:
            return ImportDialog::tr("refused");
    }
    return {};
}

constexpr int kMostLines = 200;

/// What there is to read about one document: its problems, or which entries a table changed.
QString detailOf(const db::ImportReport::Item& item) {
    if (item.changes.empty()) return errorText(item.error, kMostLines);
    QStringList entries;
    for (const auto& change : item.changes) entries << qs(db::toText(change));
    return ImportDialog::tr("Changed:") + QLatin1Char('\n') + firstLines(entries, kMostLines);
}

}  // namespace

ImportDialog::ImportDialog(const Theme& theme, const db::ImportReport& report, const QString& summary,
                           QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("Import"));
    resizeToScreen(*this, {qRound(theme.s(860)), qRound(theme.s(520))});
    auto* column = new QVBoxLayout(this);
    column->addWidget(new Text(theme, 18, true, Ink::Full, summary));
    if (!report.allAccepted()) {
        auto* words = new Text(theme, 15, false, Ink::Full,
                               tr("What was refused changed nothing. Choose a line to read every problem."));
        words->setWordWrap(true);
        column->addWidget(words);
    }
    auto* model = new RowsModel({{tr("result")}, {tr("kind")}, {tr("id or rows")}, {tr("file")}}, this);
    std::vector<Row> rows;
    std::vector<const db::ImportReport::Item*> items;
    for (const auto& item : report.items) items.push_back(&item);
    // Refusals first: they are what needs doing. Then what took the place of something else.
    std::stable_sort(items.begin(), items.end(), [](const auto* one, const auto* other) {
        const auto rank = [](const auto* item) {
            return item->outcome == db::ImportReport::Outcome::Refused ? 0 : item->changes.empty() ? 2 : 1;
        };
        return rank(one) < rank(other);
    });
    for (const auto* item : items)
        rows.push_back(
            {detailOf(*item),
             {boldCell(outcomeWords(item->outcome), item->outcome == db::ImportReport::Outcome::Refused),
              longCell(qs(item->kind)), longCell(qs(item->id)), longCell(qs(item->file))}});
    model->setRows(std::move(rows));
    auto* table = new TableView(theme, tr("Documents"));
    table->setModel(model);
    table->setWidths({110, 100, 200, 0});
    column->addWidget(table, 3);
    auto* detail = new QTextBrowser;
    detail->setAccessibleName(
        tr("Problems of the chosen document, entries it changed, and who is to be completed"));
    detail->setTabChangesFocus(true);
    detail->setFont(theme.font(13));
    QStringList toComplete;
    for (const std::string& who : report.toComplete) toComplete << qs(who);
    const QString standing =
        toComplete.isEmpty() ? QString() : tr("To be completed: %1").arg(toComplete.join(tr(", ")));
    const auto show = [table, detail, standing] {
        const QString ofDocument = table->currentId();
        detail->setPlainText(ofDocument.isEmpty() ? standing : ofDocument);
    };
    connect(table->selectionModel(), &QItemSelectionModel::currentChanged, this, show);
    table->selectRowAt(0);
    show();
    column->addWidget(detail, 2);
    column->addWidget(closeBox(this));
    table->setFocus();
}

KeysDialog::KeysDialog(const Theme& theme, const QList<QAction*>& commands, QWidget* parent)
    : QDialog(parent) {
    setWindowTitle(tr("Keys"));
    resizeToScreen(*this, {qRound(theme.s(820)), qRound(theme.s(620))});
    auto* column = new QVBoxLayout(this);
    auto* tabs = new QTabWidget;
    tabs->setAccessibleName(tr("Keys"));
    tabs->tabBar()->setAccessibleName(tr("Keys"));
    auto* model = new RowsModel({{tr("command")}, {tr("key")}, {tr("what it does")}}, this);
    std::vector<Row> rows;
    for (const QAction* action : commands) {
        QString text = action->text().remove(QLatin1Char('&'));
        text.remove(QLatin1String("..."));
        // Keyboards and the buttons say Enter.
        QString key = action->shortcut().toString(QKeySequence::NativeText);
        key.replace(QLatin1String("Return"), tr("Enter", "the key"));
        rows.push_back({action->objectName(), {Cell{text}, boldCell(key), longCell(action->statusTip())}});
    }
    model->setRows(std::move(rows));
    auto* table = new TableView(theme, tr("Keys of the window"));
    table->setModel(model);
    table->setWidths({220, 170, 0});
    table->selectRowAt(0);
    tabs->addTab(table, tr("&Window"));
    auto* scoring = new QTextBrowser;
    scoring->setAccessibleName(tr("Keys while scoring"));
    scoring->setTabChangesFocus(true);
    scoring->setFont(theme.font(15));
    scoring->setMarkdown(helpText(QStringLiteral("scoring-keys")));
    tabs->addTab(scoring, tr("&Scoring"));
    column->addWidget(tabs, 1);
    column->addWidget(closeBox(this));
    table->setFocus();
}

AboutDialog::AboutDialog(const Theme& theme, const QString& file, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("About Markerlamp"));
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    column->setContentsMargins(qRound(theme.s(24)), qRound(theme.s(20)), qRound(theme.s(24)),
                               qRound(theme.s(16)));
    column->addWidget(
        new Text(theme, 25, true, Ink::Full, tr("Markerlamp %1").arg(QStringLiteral(MARKERLAMP_VERSION))));
    const QString folder = QStandardPaths::writableLocation(QStandardPaths::AppDataLocation);
    const QStringList lines{
        tr("A workstation for the people who train school-bus drivers in the vehicle inspection."),
        tr("Training support only: the official test, the state's manual, the vehicle maker's limits and the "
           "program's own safety rules decide."),
        tr("Free software under the GNU General Public License, version 3 or later, without any warranty. "
           "Type: "
           "B612, under the SIL Open Font License. Storage: SQLite, public domain."),
        tr("Data folder: %1").arg(QDir::toNativeSeparators(folder)),
        file.isEmpty() ? QString() : tr("Open file: %1").arg(QDir::toNativeSeparators(file))};
    for (const QString& line : lines) {
        if (line.isEmpty()) continue;
        auto* text = new Text(theme, 15, false, Ink::Full, line);
        text->setWordWrap(true);
        text->setMinimumWidth(qRound(theme.s(560)));
        text->setTextInteractionFlags(Qt::TextSelectableByMouse);
        column->addWidget(text);
    }
    column->addWidget(closeBox(this));
}

}  // namespace markerlamp::app
