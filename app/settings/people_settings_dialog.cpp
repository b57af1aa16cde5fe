// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/settings/people_settings_dialog.h"

#include "app/settings/program_settings_dialog.h"
#include "app/shell/session.h"
#include "app/support/display.h"

#include <QCheckBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>

namespace markerlamp::app {

namespace {

constexpr const char* kHolidays = "program.record.federal_holidays";

}  // namespace

PeopleSettingsDialog::PeopleSettingsDialog(const Theme& theme, const Facts& facts, QWidget* parent)
    : FormDialog(theme, tr("Dates and records"), tr("&Keep the settings"), parent),
      m_holidays(new QCheckBox(tr("federal holidays are no &business days"))) {
    const QString ahead = tr("days before it ends");
    addNumber("program.dates.permit_ahead_days", tr("Show a &permit"), ahead);
    addNumber("program.dates.permit_months", tr("Without a last day it runs"),
              tr("months from its issue (one year: 49 CFR 383.25)"));
    addNumber("program.dates.medical_ahead_days", tr("Show a &medical card"), ahead);
    addNumber("program.dates.theory_months", tr("A &theory result grows old after"), tr("months; 0: never"));
    addNumber("program.dates.theory_ahead_days", tr("Show it"), tr("days before that"));
    addNumber("program.dates.test_ahead_days", tr("Show a booked t&est"), tr("days ahead"));
    addLine("program.record.provider_name", tr("Training pro&vider"));
    addLine("program.record.provider_number", tr("Provider's &number in the registry"));
    addLine("program.record.provider_place", tr("P&lace of the provider"));
    addLine("program.record.licence_class", tr("Usual license cl&ass"));
    addLine("program.record.endorsements", tr("Usual en&dorsements"));
    addNumber("program.record.report_business_days", tr("The &report goes within"),
              tr("business days (two: 49 CFR 380.717)"));
    form()->addRow(QString(), m_holidays);
    addLine("program.record.days_off", tr("Further days &off"), tr("such as 2026-12-24 2026-12-31"));
    addNumber("program.keep.years", tr("Keep records for"), tr("&years (three: 49 CFR 380.725)"));
    auto* usual = makeLink(theme, tr("&usual values"));
    connect(usual, &QPushButton::clicked, this, [this] { fill(core::factsFromPeopleSettings({})); });
    form()->addRow(QString(), usual);
    Facts all = core::factsFromPeopleSettings({});
    fill(all);
    fill(facts);
    m_edits.at("program.dates.permit_ahead_days")->setFocus();
}

void PeopleSettingsDialog::addNumber(const std::string& key, const QString& label, const QString& after) {
    auto* place = new QWidget;
    auto* row = new QHBoxLayout(place);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(qRound(theme().s(8)));
    auto* edit = new QLineEdit;
    edit->setMaxLength(4);
    edit->setFixedWidth(qRound(theme().s(64)));
    const QString name =
        QString(label).remove(QLatin1Char('&')) + QLatin1Char(' ') + QString(after).remove(QLatin1Char('&'));
    edit->setAccessibleName(name);
    row->addWidget(edit);
    auto* words = new QLabel(after);
    words->setBuddy(edit);
    row->addWidget(words);
    row->addStretch(1);
    auto* before = new QLabel(label);
    before->setBuddy(edit);
    form()->addRow(before, place);
    m_edits[key] = edit;
    m_labels[key] = name;
}

void PeopleSettingsDialog::addLine(const std::string& key, const QString& label, const QString& placeholder) {
    m_edits[key] = addField(label, QString(), placeholder);
    m_labels[key] = QString(label).remove(QLatin1Char('&'));
}

void PeopleSettingsDialog::fill(const Facts& facts) {
    for (const auto& [key, value] : facts) {
        if (key == kHolidays) m_holidays->setChecked(value != "no");
        if (const auto edit = m_edits.find(key); edit != m_edits.end()) {
            edit->second->setText(qs(value));
            edit->second->setCursorPosition(0);  // a long name is read from its beginning
        }
    }
}

PeopleSettingsDialog::Facts PeopleSettingsDialog::facts() const {
    Facts all = core::factsFromPeopleSettings({});
    for (auto& [key, value] : all) {
        if (key == kHolidays) value = m_holidays->isChecked() ? "yes" : "no";
        if (const auto edit = m_edits.find(key); edit != m_edits.end())
            value = ss(edit->second->text().trimmed());
    }
    return all;
}

core::Result<void> PeopleSettingsDialog::check() {
    const auto settings = core::peopleSettingsFromFacts(facts());
    if (settings) return {};
    const core::Problem& first = settings.error().problems.front();
    if (const auto edit = m_edits.find(first.path); edit != m_edits.end()) edit->second->setFocus();
    const auto label = m_labels.find(first.path);
    return core::fail(core::ErrorKind::Refused,
                      ss(tr("%1: %2; %3")
                             .arg(label == m_labels.end() ? qs(first.path) : label->second, qs(first.message),
                                  qs(first.remedy))));
}

bool editPeopleSettings(const Theme& theme, Session& session, QWidget* parent) {
    const auto failed = [parent](const core::Error& error) {
        QMessageBox::warning(parent, PeopleSettingsDialog::tr("Not kept"), errorText(error));
        return false;
    };
    const auto stored = session.file().facts();
    if (!stored) return failed(stored.error());
    PeopleSettingsDialog dialog(theme, *stored, parent);
    if (dialog.exec() != QDialog::Accepted) return false;
    const auto kept = keepProgramFacts(session, core::factsFromPeopleSettings({}), dialog.facts());
    if (!kept) return failed(kept.error());
    return *kept;
}

}  // namespace markerlamp::app
