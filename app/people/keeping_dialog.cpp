// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/people/keeping_dialog.h"

#include "app/people/record_source.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"

#include <QDialogButtonBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QMessageBox>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

EraseDialog::EraseDialog(const Theme& theme, const QString& name, const QString& key, const QDate& from,
                         QWidget* parent)
    : FormDialog(theme, tr("Erase a person"), tr("&Erase for good"), parent), m_key(key) {
    QString words = tr(
        "Name, papers, license number, hours, bookings, notes and every other word about this person leave "
        "the file. The copies that this program made go, and one without the person is made. The marks "
        "stay under a random code. There is no way back.");
    if (from.isValid())
        words +=
            QLatin1String("\n\n") + tr("The records are to be kept until %1. Erase before that only where "
                                       "another rule asks for it.")
                                        .arg(longDate(from));
    words += QLatin1String("\n\n") + tr("What was exported, printed or copied by hand is not found by it.");
    auto* who = new Text(theme, 18, true, Ink::Full, name);
    auto* text = new Text(theme, 15, false, Ink::Full, words);
    for (Text* one : {who, text}) {
        one->setWordWrap(true);
        form()->addRow(one);
    }
    m_typed = addField(tr("&Key of the person"), QString(), tr("type %1").arg(key));
    m_typed->setFocus();
    QPushButton* erase = makeDangerous();
    erase->setEnabled(false);
    connect(m_typed, &QLineEdit::textChanged, this,
            [this, erase] { erase->setEnabled(m_typed->text().trimmed() == m_key); });
}

core::Result<void> EraseDialog::check() {
    if (m_typed->text().trimmed() == m_key) return {};
    return core::fail(core::ErrorKind::Refused,
                      ss(tr("Key of the person: type %1 to erase this person").arg(m_key)));
}

KeepingDialog::KeepingDialog(const Theme& theme, Session& session, QWidget* parent)
    : QDialog(parent),
      m_theme(theme),
      m_session(session),
      m_words(new Text(theme, 15)),
      m_model(new RowsModel(keepColumns(), this)),
      m_table(new TableView(theme, tr("Who may be erased when"))) {
    setWindowTitle(tr("Keeping and erasing"));
    resizeToScreen(*this, {qRound(theme.s(860)), qRound(theme.s(520))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    m_words->setWordWrap(true);
    column->addWidget(m_words);
    m_table->setModel(m_model);
    m_table->setWidths({260, 120, 150, 0});
    column->addWidget(m_table, 1);
    auto* buttons = new QDialogButtonBox;
    m_erase = buttons->addButton(tr("&Erase..."), QDialogButtonBox::ActionRole);
    m_erase->setAutoDefault(false);
    buttons->addButton(tr("&Close"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(m_erase, &QPushButton::clicked, this, &KeepingDialog::eraseCurrent);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    fill();
    m_table->setFocus();
}

void KeepingDialog::fill() {
    const auto settings = peopleSettingsOf(m_session.file());
    const auto trainees = m_session.file().trainees();
    auto keep = keepRowsOf(m_session.file(), ss(QDate::currentDate().toString(Qt::ISODate)));
    if (!settings || !trainees || !keep) {
        m_words->setText(errorText(!settings   ? settings.error()
                                   : !trainees ? trainees.error()
                                               : keep.error()));
        m_erase->setEnabled(false);
        return;
    }
    m_keep = std::move(*keep);
    m_words->setText(
        tr("Records are kept for %n year(s) from the newest one of a person. The program's settings "
           "say how long; where a law asks for longer, it decides.",
           nullptr, settings->keepYears));
    m_model->setRows(keepRows(m_keep, *trainees));
    m_table->selectRowAt(0);
    m_erase->setEnabled(!m_keep.empty());
}

void KeepingDialog::eraseCurrent() {
    const QString key = m_table->currentId();
    const auto row = std::ranges::find(m_keep, ss(key), &core::KeepRow::trainee);
    if (row == m_keep.end()) return;
    const auto trainee = m_session.file().trainee(ss(key));
    const QString name = trainee && *trainee ? qs((*trainee)->name) : key;
    EraseDialog sure(m_theme, name, key, row->may ? QDate() : isoDate(row->from), this);
    if (sure.exec() != QDialog::Accepted) return;
    m_session.flush();
    const auto erased = m_session.file().eraseTrainee(ss(key));
    if (!erased) {
        QMessageBox::warning(this, tr("Not wholly erased"), errorText(erased.error()));
    } else {
        m_outcome = tr("Erased; %n attempt(s) kept without a name", nullptr, erased->attempts);
        if (!erased->unreached.empty())
            QMessageBox::warning(
                this, tr("Copies that cannot be reached"),
                tr("The person is erased here, but copies in %1 cannot be reached now. They go "
                   "as soon as that place is reached again.")
                    .arg(QString::fromLocal8Bit(erased->unreached.c_str())));
    }
    m_session.notePeopleChanged();
    fill();
}

}  // namespace markerlamp::app
