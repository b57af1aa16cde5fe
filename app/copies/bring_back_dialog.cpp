// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/copies/bring_back_dialog.h"

#include "app/copies/copies_view.h"
#include "app/support/busy.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "app/support/theme.h"
#include "db/copies/restore.h"

#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include <utility>

namespace markerlamp::app {

namespace {

constexpr QLatin1String kEnding(".markerlamp");
constexpr QLatin1String kCopies(".copies");

bool isThere(const QString& path) {
    return !path.isEmpty() && QFileInfo(path).isFile();
}

}  // namespace

BringBackDialog::BringBackDialog(const Theme& theme, QString openFile, QWidget* parent)
    : FormDialog(theme, tr("Bring back a copy"), tr("&Bring back"), parent), m_openFile(std::move(openFile)) {
    auto* words = new Text(theme, 15, false, Ink::Full,
                           tr("Takes a copy of a program, from beside its file, a stick or a share, and puts "
                              "it where the program "
                              "is to be. The copy is looked through first; a damaged one changes nothing."));
    words->setWordWrap(true);
    form()->addRow(words);
    m_copy = addPath(tr("C&opy"), tr("C&hoose..."), [this] { chooseCopy(); });
    m_copy->setPlaceholderText(tr("2026-03-02T061240Z-day.markerlamp, or the same .sealed"));
    m_passphrase = addField(tr("&Passphrase"), {}, tr("the one the copy was sealed with"));
    m_passphrase->setEchoMode(QLineEdit::Password);
    m_program = addPath(tr("&Into"), tr("Choo&se..."), [this] { chooseProgram(); });
    m_notice = new Text(theme, 13, false, Ink::Muted);
    m_notice->setAccessibleName(tr("What happens to a file that is there"));
    m_notice->setWordWrap(true);
    form()->addRow(m_notice);
    connect(m_copy, &QLineEdit::textChanged, this, &BringBackDialog::update);
    connect(m_program, &QLineEdit::textChanged, this, &BringBackDialog::update);
    connect(m_program, &QLineEdit::textEdited, this, [this] { m_ownPlace = true; });
    update();
    m_copy->setFocus();
}

QLineEdit* BringBackDialog::addPath(const QString& label, const QString& choose,
                                    const std::function<void()>& ask) {
    auto* field = new QLineEdit;
    field->setMinimumWidth(qRound(theme().s(420)));
    auto* button = new QPushButton(choose);
    button->setAutoDefault(false);
    connect(button, &QPushButton::clicked, this, ask);
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(theme().s(8)));
    row->addWidget(field, 1);
    row->addWidget(button);
    form()->addRow(label, row);
    // A label of a layout has no buddy by itself.
    if (auto* text = qobject_cast<QLabel*>(form()->labelForField(row))) text->setBuddy(field);
    QString plain = label;
    field->setAccessibleName(plain.remove(QLatin1Char('&')));
    button->setAccessibleName(tr("%1: choose a file").arg(field->accessibleName()));
    return field;
}

QString BringBackDialog::programOf(const QString& copy) {
    const QDir folder = QFileInfo(copy).absoluteDir();
    // NAME.markerlamp.copies beside the file; with a tail of its own in the second place.
    const qsizetype at = folder.dirName().indexOf(kEnding + kCopies);
    if (at > 0) {
        const QString name = folder.dirName().left(at + kEnding.size());
        const QString beside = QFileInfo(folder.absolutePath()).absoluteDir().filePath(name);
        return QFileInfo::exists(beside) ? beside : QDir(documentsFolder()).filePath(name);
    }
    return QDir(documentsFolder()).filePath(tr("training.markerlamp"));
}

void BringBackDialog::setCopy(const QString& copy) {
    m_copy->setText(QDir::toNativeSeparators(copy));
}

void BringBackDialog::setProgram(const QString& program) {
    m_ownPlace = true;
    m_program->setText(QDir::toNativeSeparators(program));
}

QString BringBackDialog::program() const {
    QString path = QDir::fromNativeSeparators(m_program->text().trimmed());
    if (!path.isEmpty() && QFileInfo(path).suffix().isEmpty()) path += kEnding;
    return path;
}

void BringBackDialog::chooseCopy() {
    const QString from =
        isThere(m_copy->text()) ? QFileInfo(m_copy->text()).absolutePath() : documentsFolder();
    const QString path = QFileDialog::getOpenFileName(
        this, tr("Choose a copy"), from, tr("Copies of a program (*.markerlamp *.sealed);;All files (*)"));
    if (!path.isEmpty()) setCopy(path);
}

void BringBackDialog::chooseProgram() {
    const QString path = QFileDialog::getSaveFileName(
        this, tr("Where the program is to be"), program().isEmpty() ? documentsFolder() : program(),
        tr("Markerlamp program (*.markerlamp)"), nullptr, QFileDialog::DontConfirmOverwrite);
    if (!path.isEmpty()) setProgram(path);
}

void BringBackDialog::update() {
    const QString copy = QDir::fromNativeSeparators(m_copy->text().trimmed());
    const bool there = isThere(copy);
    if (there && !m_ownPlace) m_program->setText(QDir::toNativeSeparators(programOf(copy)));
    m_passphrase->setEnabled(there && db::isSealed(fsPath(copy)));
    if (program().isEmpty())
        m_notice->clear();
    else
        m_notice->setText(isThere(program())
                              ? tr("A file of this name is there. It is put aside among its copies first, "
                                   "damaged or not, so that nothing of it is lost.")
                              : tr("Nothing is there yet: a new file is made."));
}

core::Result<void> BringBackDialog::check() {
    return whileBusy([this] { return restore(); });
}

core::Result<void> BringBackDialog::restore() {
    const QString copy = QDir::fromNativeSeparators(m_copy->text().trimmed());
    if (copy.isEmpty())
        return core::fail(core::ErrorKind::Refused, ss(tr("no copy is named; choose the file of one")));
    if (program().isEmpty())
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("no place is named; choose where the program is to be")));
    if (QFileInfo(copy) == QFileInfo(program()))
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("the copy cannot go into itself; choose another place")));
    if (!m_openFile.isEmpty() && QFileInfo(program()) == QFileInfo(m_openFile))
        return core::fail(
            core::ErrorKind::Refused,
            ss(tr("that program is open in this window; close it first, or restore one of its copies "
                  "with File > Backup copies")));
    const auto opened =
        db::OpenedCopy::open(fsPath(copy), fsPath(program()), [this](const std::filesystem::path& sealed) {
            return db::SealReader::open(sealed, ss(m_passphrase->text()));
        });
    if (!opened) return core::fail(opened.error());
    const auto restored = db::restoreProgram(opened->path(), fsPath(program()));
    if (!restored) return core::fail(restored.error());
    m_outcome = tr("Restored: %n attempt(s)", nullptr, restored->report.attempts);
    if (!restored->aside.empty()) m_outcome += tr(". The file as it was before lies among the copies");
    return {};
}

}  // namespace markerlamp::app
