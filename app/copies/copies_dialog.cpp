// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/copies/copies_dialog.h"

#include "app/shell/session.h"
#include "app/support/busy.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"

#include <QDialogButtonBox>
#include <QDir>
#include <QFileDialog>
#include <QFormLayout>
#include <QItemSelectionModel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPushButton>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

RestoreDialog::RestoreDialog(const Theme& theme, const db::CopyFile& copy, const CopyLook& look,
                             QWidget* parent)
    : FormDialog(theme, tr("Restore a copy"), tr("&Restore"), parent) {
    auto* text = new Text(theme, 15, false, Ink::Full, restoreQuestion(copy, look));
    text->setWordWrap(true);
    form()->addRow(text);
}

CopySealDialog::CopySealDialog(const Theme& theme, bool sealed, QWidget* parent)
    : FormDialog(theme, tr("Seal the copies in the second place"), tr("&Set"), parent), m_sealed(sealed) {
    QString words =
        tr("A stick or a share gets lost more easily than this machine. Sealed copies can only be opened "
           "with the "
           "passphrase, or by this program file, which keeps the key. Write it down and keep it elsewhere: "
           "with a "
           "passphrase that is lost the copies are lost. Plain copies there go once a sealed one is there.");
    if (sealed)
        words +=
            QLatin1Char(' ') + tr("They are sealed now; leave both fields empty to make plain ones again.");
    auto* text = new Text(theme, 15, false, Ink::Full, words);
    text->setWordWrap(true);
    form()->addRow(text);
    m_first = addField(tr("&Passphrase"), {}, tr("four words or more"));
    m_again = addField(tr("&Again"), {});
    for (QLineEdit* field : {m_first, m_again}) field->setEchoMode(QLineEdit::Password);
    m_first->setFocus();
}

QString CopySealDialog::passphrase() const {
    return m_first->text();
}

core::Result<void> CopySealDialog::check() {
    if (m_first->text() != m_again->text())
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("Again: the two are not the same; type it once more")));
    if (m_sealed && m_first->text().isEmpty()) return {};
    return db::checkSealPassphrase(ss(m_first->text()));
}

CopiesDialog::CopiesDialog(const Theme& theme, Session& session, CopyKeeper& keeper, QWidget* parent)
    : QDialog(parent),
      m_theme(theme),
      m_session(session),
      m_keeper(keeper),
      m_words(new Text(theme, 15)),
      m_model(new RowsModel(copyColumns(), this)),
      m_table(new TableView(theme, tr("Copies of the program file"))),
      m_lines(new Text(theme, 13, false, Ink::Muted)),
      m_place(new Text(theme, 15)) {
    setWindowTitle(tr("Copies"));
    resizeToScreen(*this, {qRound(theme.s(1180)), qRound(theme.s(560))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    m_words->setWordWrap(true);
    m_words->setText(tr(
        "The program makes a copy at the start, at the end of a training day, before an import and before a "
        "change of form. The last 10 stay, one a day for 14 days, one a week for 8 weeks, then one a "
        "month."));
    column->addWidget(m_words);
    m_table->setModel(m_model);
    m_table->setWidths({164, 180, 124, 76, 80, 180, 190, 0});
    column->addWidget(m_table, 1);
    m_lines->setWordWrap(true);
    m_lines->setAccessibleName(tr("About the copy"));
    column->addWidget(m_lines);
    auto* second = new QHBoxLayout;
    m_place->setElided();
    second->addWidget(m_place, 1);
    auto* choose = new QPushButton(tr("&Second place..."));
    m_noPlace = new QPushButton(tr("&No second place"));
    m_seal = new QPushButton(tr("S&eal..."));
    for (QPushButton* button : {choose, m_seal, m_noPlace}) {
        button->setAutoDefault(false);
        second->addWidget(button);
    }
    column->addLayout(second);
    auto* buttons = new QDialogButtonBox;
    m_now = buttons->addButton(tr("Copy no&w"), QDialogButtonBox::ActionRole);
    m_restoreButton = buttons->addButton(tr("&Restore..."), QDialogButtonBox::ActionRole);
    for (QPushButton* button : {m_now, m_restoreButton}) button->setAutoDefault(false);
    buttons->addButton(tr("&Close"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(m_now, &QPushButton::clicked, this, &CopiesDialog::copyNow);
    connect(m_restoreButton, &QPushButton::clicked, this, &CopiesDialog::restoreCurrent);
    connect(choose, &QPushButton::clicked, this, &CopiesDialog::choosePlace);
    connect(m_seal, &QPushButton::clicked, this, &CopiesDialog::chooseSeal);
    connect(m_noPlace, &QPushButton::clicked, this, [this] { setPlace({}); });
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(m_table->selectionModel(), &QItemSelectionModel::currentRowChanged, this,
            &CopiesDialog::showCurrent);
    connect(&m_reader, &CopyReader::looked, this, &CopiesDialog::take);
    fill();
    if (m_copies.empty())
        m_now->setFocus();
    else
        m_table->setFocus();
}

void CopiesDialog::fill() {
    m_reader.stop();
    const QString before = m_table->currentId();
    const auto second = db::secondFolderOf(m_session.file());
    m_copies = db::copiesOf(fsPath(m_session.path()), second ? *second : std::filesystem::path());
    m_looks.clear();
    m_model->setRows(copyRows(m_copies, m_looks));
    // An empty table has nowhere to show that it has the focus.
    m_table->setEnabled(!m_copies.empty());
    m_table->selectRowAt(std::max(0, m_model->rowOf(before)));
    showPlace();
    showCurrent();
    QStringList paths;
    for (const db::CopyFile& copy : m_copies) paths << pathText(copy.path);
    m_session.flush();  // what is compared is what was pressed
    m_reader.start(m_session.path(), paths);
}

void CopiesDialog::take(const CopyLook& look) {
    m_looks.insert_or_assign(look.path, look);
    const QString before = m_table->currentId();
    m_model->setRows(copyRows(m_copies, m_looks));
    m_table->selectRowAt(std::max(0, m_model->rowOf(before)));
    showCurrent();
}

const db::CopyFile* CopiesDialog::current() const {
    const QString id = m_table->currentId();
    const auto found =
        std::ranges::find_if(m_copies, [&](const db::CopyFile& copy) { return pathText(copy.path) == id; });
    return found == m_copies.end() ? nullptr : &*found;
}

std::optional<CopyLook> CopiesDialog::currentLook() const {
    const auto found = m_looks.find(m_table->currentId());
    return found == m_looks.end() ? std::nullopt : std::optional(found->second);
}

void CopiesDialog::showCurrent() {
    const db::CopyFile* copy = current();
    const auto look = currentLook();
    m_lines->setText(copy == nullptr ? tr("There is no copy yet.") : copyLines(*copy, look));
    m_restoreButton->setEnabled(copy != nullptr && look && look->good());
}

void CopiesDialog::showPlace() {
    const auto place = db::secondPlaceOf(m_session.file());
    const bool set = place && !place->empty();
    std::error_code ec;
    QString words = tr("No second place: when this disk breaks, the copies break with it.");
    if (!place) words = errorText(place.error(), 0);
    if (set) {
        const QString shown = QDir::toNativeSeparators(pathText(*place));
        const auto seal = db::secondSealOf(m_session.file());
        words = std::filesystem::is_directory(*place, ec)
                    ? (seal && *seal ? tr("Second place, sealed: %1") : tr("Second place: %1")).arg(shown)
                    : tr("Second place: %1, which cannot be reached now").arg(shown);
    }
    m_place->setText(words);
    m_noPlace->setEnabled(set);
    m_seal->setEnabled(set);
}

void CopiesDialog::copyNow() {
    m_reader.stop();
    m_session.flush();
    const auto kept = whileBusy([this] { return m_keeper.keep(core::CopyReason::ByHand, false); });
    m_outcome = keptText(kept);
    if (!kept || kept->second)
        QMessageBox::warning(this, kept ? tr("No copy in the second place") : tr("No copy"), m_outcome);
    fill();
    m_table->selectRowAt(0);
}

void CopiesDialog::restoreCurrent() {
    const db::CopyFile* copy = current();
    const auto look = currentLook();
    if (copy == nullptr || !look || !look->good()) return;
    RestoreDialog sure(m_theme, *copy, *look, this);
    if (sure.exec() != QDialog::Accepted) return;
    m_restore = look->path;
    m_reader.stop();
    accept();
}

void CopiesDialog::choosePlace() {
    const QString folder = QFileDialog::getExistingDirectory(
        this, tr("A folder on another disk, a stick or a share of the network"), QDir::homePath());
    if (!folder.isEmpty()) setPlace(folder);
}

void CopiesDialog::chooseSeal() {
    const auto seal = db::secondSealOf(m_session.file());
    CopySealDialog dialog(m_theme, seal && *seal, this);
    if (dialog.exec() == QDialog::Accepted) setSeal(dialog.passphrase());
}

void CopiesDialog::setSeal(const QString& passphrase) {
    core::Result<void> set;
    const auto kept = whileBusy([&]() -> core::Result<db::CopyKept> {
        m_reader.stop();
        set = db::setSecondSeal(m_session.file(), ss(passphrase));
        if (!set) return core::fail(set.error());
        return m_keeper.keep(core::CopyReason::ByHand, true);
    });
    if (!kept || kept->second)
        QMessageBox::warning(this, set ? tr("No copy in the second place") : tr("Not sealed"),
                             keptText(kept));
    if (set)
        m_outcome = passphrase.isEmpty() ? tr("Copies in the second place are plain from now on")
                                         : tr("Copies in the second place are sealed from now on");
    fill();
}

void CopiesDialog::setPlace(const QString& folder) {
    if (auto done = db::setSecondPlace(m_session.file(), fsPath(folder)); !done) {
        QMessageBox::warning(this, tr("Not set"), errorText(done.error()));
        return;
    }
    m_outcome = folder.isEmpty() ? tr("No second place any more; copies that lie there stay there")
                                 : tr("Second place set; the newest copy is brought there");
    if (!folder.isEmpty()) {
        m_reader.stop();
        if (const auto kept = m_keeper.keep(core::CopyReason::ByHand, true); !kept || kept->second)
            QMessageBox::warning(this, tr("No copy in the second place"), keptText(kept));
    }
    fill();
}

}  // namespace markerlamp::app
