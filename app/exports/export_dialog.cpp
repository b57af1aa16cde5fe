// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/exports/export_dialog.h"

#include "app/printing/sheet_signing.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/small_screens.h"
#include "app/support/text_widgets.h"
#include "db/package/seal.h"

#include <QButtonGroup>
#include <QCheckBox>
#include <QComboBox>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QProgressBar>
#include <QPushButton>
#include <QRadioButton>
#include <QVBoxLayout>

#include <set>

namespace markerlamp::app {

namespace {

double dayNumber(const QDateTime& moment) {
    return static_cast<double>(moment.toMSecsSinceEpoch()) / 86'400'000.0;
}

QWidget* holder(QLayout* layout) {
    auto* widget = new QWidget;
    layout->setContentsMargins(0, 0, 0, 0);
    widget->setLayout(layout);
    return widget;
}

}  // namespace

struct ExportDialog::Choice {
    ExportWhat what;
    QString verb;
    QString words;
};

ExportDialog::ExportDialog(const Theme& theme, Session& session, forms::Paper paper, QString folder,
                           QWidget* parent)
    : QDialog(parent),
      m_theme(theme),
      m_session(session),
      m_paper(paper),
      m_folder(std::move(folder)),
      m_what(new QButtonGroup(this)) {
    setWindowTitle(tr("Export"));
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    auto* form = new QVBoxLayout;
    form->setSpacing(qRound(theme.s(6)));
    addChoices(form);
    form->addWidget(makeOptions());
    form->addWidget(makePlace());
    form->addStretch(1);
    m_form = holder(form);
    column->addWidget(scrollingPage(m_form), 1);
    column->addWidget(makeFoot());
    connect(m_what, &QButtonGroup::idToggled, this, [this](int, bool on) {
        if (on) showChoice();
    });
    connect(&m_job, &ExportJob::progressed, m_bar, &QProgressBar::setValue);
    connect(&m_job, &ExportJob::finished, this, &ExportDialog::finish);
    choose(ExportWhat::Spreadsheet);
    resizeToScreen(*this, {qRound(theme.s(720)), qRound(theme.s(700))});
}

ExportDialog::~ExportDialog() = default;

void ExportDialog::addChoices(QVBoxLayout* column) {
    const Choice choices[]{
        {ExportWhat::Spreadsheet, tr("&Spreadsheet (XLSX)"),
         tr("Roster, attempts, steps and weak zones, a sheet each, to sort and to count in.")},
        {ExportWhat::Tables, tr("&Tables (CSV)"),
         tr("The same four tables as text files, for other programs.")},
        {ExportWhat::Study, tr("St&udy without names"),
         tr("Keys in place of names, moved dates, no free text. People can still be recognized; README.txt "
            "says how.")},
        {ExportWhat::Sheets, tr("Sheets for a c&lass (PDF)"),
         tr("The progress sheet of the newest finished attempt of each trainee.")},
        {ExportWhat::Documents, tr("&Documents"),
         tr("Everything as text: a copy that can be imported again, the same to the byte.")},
        {ExportWhat::Package, tr("&Package for another workstation"),
         tr("The documents in one file that only its passphrase opens; Import takes it.")}};
    for (const Choice& choice : choices) {
        auto* button = new QRadioButton(choice.verb);
        button->setFont(m_theme.font(15));
        button->setAccessibleDescription(choice.words);
        m_what->addButton(button, static_cast<int>(choice.what));
        column->addWidget(button);
        auto* words = new Text(m_theme, 13, false, Ink::Muted, choice.words);
        words->setWordWrap(true);
        words->setContentsMargins(qRound(m_theme.s(34)), 0, 0, qRound(m_theme.s(4)));
        column->addWidget(words);
    }
}

QWidget* ExportDialog::makeOptions() {
    auto* study = new QHBoxLayout;
    m_keepSalt = new QCheckBox(tr("&Keep the salt, to join later exports, in"));
    m_salt = new QLineEdit;
    m_salt->setAccessibleName(tr("Salt file"));
    m_chooseSalt = new QPushButton(tr("C&hoose..."));
    m_chooseSalt->setAccessibleName(tr("Choose the salt file"));
    study->addWidget(m_keepSalt);
    study->addWidget(m_salt, 1);
    study->addWidget(m_chooseSalt);
    m_study = holder(study);

    auto* sheets = new QVBoxLayout;
    auto *who = new QHBoxLayout, *how = new QHBoxLayout;
    auto* label = new QLabel(tr("&For"));
    m_group = new QComboBox;
    m_group->setAccessibleName(tr("Whose sheets"));
    m_group->addItem(tr("everybody"));
    std::set<std::string> groups;
    if (const auto trainees = m_session.file().trainees())
        for (const core::Trainee& one : *trainees)
            if (!one.group.empty()) groups.insert(one.group);
    for (const std::string& group : groups) m_group->addItem(tr("group %1").arg(qs(group)), qs(group));
    label->setBuddy(m_group);
    m_oneFile = new QCheckBox(tr("&One PDF for all"));
    m_oneFile->setChecked(true);
    m_twoSided = new QCheckBox(tr("for t&wo-sided printing"));
    m_twoSided->setToolTip(tr("Each sheet begins on a leaf of its own"));
    m_readiness = new QCheckBox(tr("With &readiness"));
    m_readiness->setToolTip(tr("It may go home with the trainee: only where you want that"));
    who->addWidget(label);
    who->addWidget(m_group);
    who->addWidget(m_readiness);
    who->addStretch(1);
    how->addWidget(m_oneFile);
    how->addWidget(m_twoSided);
    how->addStretch(1);
    sheets->addLayout(who);
    sheets->addLayout(how);
    m_sheets = holder(sheets);

    auto* package = new QHBoxLayout;
    m_passphrase = new QLineEdit;
    m_again = new QLineEdit;
    auto* passphraseLabel = new QLabel(tr("P&assphrase"));
    auto* againLabel = new QLabel(tr("the sa&me again"));
    passphraseLabel->setBuddy(m_passphrase);
    againLabel->setBuddy(m_again);
    m_passphrase->setAccessibleName(tr("Passphrase of the package"));
    m_again->setAccessibleName(tr("The same passphrase again"));
    for (QLineEdit* field : {m_passphrase, m_again}) {
        field->setEchoMode(QLineEdit::Password);
        field->setMaxLength(1024);
    }
    package->addWidget(passphraseLabel);
    package->addWidget(m_passphrase, 1);
    package->addWidget(againLabel);
    package->addWidget(m_again, 1);
    m_package = holder(package);

    auto* both = new QVBoxLayout;
    both->addWidget(m_package);
    both->addWidget(m_study);
    both->addWidget(m_sheets);
    connect(m_keepSalt, &QCheckBox::toggled, this, &ExportDialog::showChoice);
    connect(m_oneFile, &QCheckBox::toggled, this, &ExportDialog::showChoice);
    connect(m_chooseSalt, &QPushButton::clicked, this, &ExportDialog::chooseSalt);
    return holder(both);
}

QWidget* ExportDialog::makePlace() {
    auto* column = new QVBoxLayout;
    m_placeLabel = new QLabel;
    m_place = new QLineEdit;
    m_place->setMaxLength(4000);
    m_placeLabel->setBuddy(m_place);
    auto* choose = new QPushButton(tr("&Browse..."));
    auto* row = new QHBoxLayout;
    row->addWidget(m_place, 1);
    row->addWidget(choose);
    column->addWidget(m_placeLabel);
    column->addLayout(row);
    m_caution = new Text(m_theme, 13);
    m_caution->setWordWrap(true);
    column->addWidget(m_caution);
    connect(choose, &QPushButton::clicked, this, &ExportDialog::choosePlace);
    return holder(column);
}

QWidget* ExportDialog::makeFoot() {
    auto* column = new QVBoxLayout;
    m_bar = new QProgressBar;
    m_bar->setRange(0, 1000);
    m_bar->setTextVisible(false);
    m_bar->setAccessibleName(tr("How far the export is"));
    m_said = new Text(m_theme, 13, true);
    m_said->setWordWrap(true);
    m_said->setTextInteractionFlags(Qt::TextSelectableByMouse | Qt::TextSelectableByKeyboard);
    m_said->setAccessibleName(tr("What became of it"));
    m_export = new QPushButton(tr("&Export"));
    m_export->setProperty("primary", true);
    m_export->setDefault(true);
    m_close = new QPushButton(tr("&Close"));
    auto* row = new QHBoxLayout;
    row->addStretch(1);
    row->addWidget(m_export);
    row->addWidget(m_close);
    column->addWidget(m_bar);
    column->addWidget(m_said);
    column->addLayout(row);
    m_bar->hide();
    m_said->hide();
    connect(m_export, &QPushButton::clicked, this, &ExportDialog::accept);
    connect(m_close, &QPushButton::clicked, this, &ExportDialog::reject);
    return holder(column);
}

void ExportDialog::choose(ExportWhat what) {
    QAbstractButton* button = m_what->button(static_cast<int>(what));
    button->setChecked(true);
    button->setFocus();
    showChoice();
}

ExportPlan ExportDialog::plan() const {
    ExportPlan plan;
    plan.what = static_cast<ExportWhat>(m_what->checkedId());
    plan.program = m_session.path();
    const QString place = m_place->text().trimmed();
    plan.out = place.isEmpty() ? place : QDir(m_folder).absoluteFilePath(place);
    if (plan.what == ExportWhat::Study && m_keepSalt->isChecked())
        plan.saltFile = QDir(m_folder).absoluteFilePath(m_salt->text().trimmed());
    if (plan.what == ExportWhat::Package) plan.passphrase = m_passphrase->text();
    if (m_group->currentIndex() > 0) plan.group = m_group->currentData().toString();
    plan.oneFile = m_oneFile->isChecked();
    plan.twoSided = plan.oneFile && m_twoSided->isChecked();
    plan.readiness = m_readiness->isChecked();
    plan.paper = m_paper;
    const QDateTime now = QDateTime::currentDateTime();
    plan.moment = {dayNumber(now), ss(now.date().toString(Qt::ISODate))};
    return plan;
}

QString ExportDialog::folder() const {
    const QString out = plan().out;
    return out.isEmpty() ? m_folder : QFileInfo(out).absolutePath();
}

void ExportDialog::showChoice() {
    const ExportPlan now = plan();
    m_study->setVisible(now.what == ExportWhat::Study);
    m_sheets->setVisible(now.what == ExportWhat::Sheets);
    m_package->setVisible(now.what == ExportWhat::Package);
    m_twoSided->setEnabled(m_oneFile->isChecked());
    m_salt->setEnabled(m_keepSalt->isChecked());
    m_chooseSalt->setEnabled(m_keepSalt->isChecked());
    if (m_keepSalt->isChecked() && m_salt->text().isEmpty())
        m_salt->setText(QDir::toNativeSeparators(
            QDir(m_folder).filePath(tr("%1.salt").arg(QFileInfo(now.program).completeBaseName()))));
    m_placeLabel->setText(now.toFile() ? tr("&Into the file") : tr("&Into a new folder"));
    m_place->setAccessibleName(now.toFile() ? tr("File to write") : tr("Folder to make"));
    m_caution->setText(
        now.what == ExportWhat::Study
            ? tr("Nobody is named in it, but who knows the program may know somebody by the marks: "
                 "read its README.txt before you pass it on.")
        : now.what == ExportWhat::Package
            ? tr("Nobody reads it without the passphrase, you neither when it is lost. Tell it on another "
                 "way "
                 "than the file.")
            : tr("It holds names and marks of people: keep it as you keep their records."));
    suggest();
}

void ExportDialog::suggest() {
    const QString typed = m_place->text().trimmed();
    if (!typed.isEmpty() && typed != m_suggested) return;
    m_suggested = QDir::toNativeSeparators(suggestedExport(plan(), m_folder));
    m_place->setText(m_suggested);
}

void ExportDialog::choosePlace() {
    const ExportPlan now = plan();
    QString path;
    if (now.toFile()) {
        path = QFileDialog::getSaveFileName(this, tr("Where the export goes"), now.out,
                                            now.what == ExportWhat::Spreadsheet ? tr("Spreadsheet (*.xlsx)")
                                            : now.what == ExportWhat::Package   ? tr("Packages (*.mlpack)")
                                                                                : tr("PDF (*.pdf)"));
    } else {
        const QString parent =
            QFileDialog::getExistingDirectory(this, tr("Where the new folder goes"), folder());
        if (!parent.isEmpty()) path = suggestedExport(now, parent);
    }
    if (!path.isEmpty()) m_place->setText(QDir::toNativeSeparators(path));
}

void ExportDialog::chooseSalt() {
    const QString path = QFileDialog::getSaveFileName(
        this, tr("The salt file: read, or made where it is not there"), m_salt->text(),
        tr("Salt (*.salt);;All files (*)"), nullptr, QFileDialog::DontConfirmOverwrite);
    if (!path.isEmpty()) m_salt->setText(QDir::toNativeSeparators(path));
}

std::pair<QString, QLineEdit*> ExportDialog::missing() const {
    const ExportPlan now = plan();
    if (now.out.isEmpty()) return {tr("Say where the export goes."), m_place};
    if (now.what == ExportWhat::Study && m_keepSalt->isChecked() && m_salt->text().trimmed().isEmpty())
        return {tr("Name the file for the salt, or do not keep it."), m_salt};
    if (now.what != ExportWhat::Package) return {};
    if (const auto sound = db::checkSealPassphrase(ss(now.passphrase)); !sound)
        return {errorText(sound.error()), m_passphrase};
    if (m_again->text() != now.passphrase)
        return {tr("The two passphrases differ; type the same again."), m_again};
    return {};
}

void ExportDialog::accept() {
    if (m_job.isRunning()) return;
    const ExportPlan now = plan();
    if (const auto [words, field] = missing(); field != nullptr) {
        m_said->setText(words);
        m_said->show();
        field->setFocus();
        return;
    }
    m_session.flush();
    m_said->setText(tr("Working..."));
    m_said->show();
    showRunning(true);
    m_job.start(now);
}

void ExportDialog::reject() {
    if (!m_job.isRunning()) {
        QDialog::reject();
        return;
    }
    m_said->setText(tr("Stopping..."));
    m_job.stop();
}

void ExportDialog::showRunning(bool running) {
    m_bar->setValue(0);
    m_bar->setVisible(running);
    m_form->setEnabled(!running);
    m_export->setEnabled(!running);
    m_close->setText(running ? tr("Sto&p") : tr("&Close"));
    (running ? m_close : m_export)->setFocus();
}

void ExportDialog::finish(const ExportOutcome& outcome) {
    showRunning(false);
    if (outcome.error) {
        m_said->setText(errorText(*outcome.error));
        m_place->setFocus();
        return;
    }
    if (outcome.stopped) {
        m_said->setText(tr("Stopped. Nothing was written."));
        return;
    }
    m_outcome = outcome.said;
    QStringList words = QStringList{outcome.said} + outcome.remarks;
    if (auto noted = noteSheetsMade(m_session, outcome.sheetsOf); !noted)
        words << errorText(noted.error(), 1);
    m_said->setText(words.join(QLatin1Char('\n')));
    m_close->setFocus();
    suggest();  // the name is taken now
    emit exported(m_outcome);
}

}  // namespace markerlamp::app
