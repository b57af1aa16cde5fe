// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/settings/program_settings_dialog.h"

#include "app/shell/session.h"
#include "app/support/display.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

using Facts = ProgramSettingsDialog::Facts;

std::string gate(const char* name) {
    return std::string("program.gate.") + name;
}
std::string word(const char* name) {
    return std::string("program.word.") + name;
}

std::optional<std::string> valueOf(const Facts& facts, const std::string& key) {
    for (const auto& [known, value] : facts)
        if (known == key) return value;
    return std::nullopt;
}

/// The facts where they say something, else the usual values.
Facts withUsual(const Facts& facts) {
    Facts all = core::factsFromSettings({});
    for (auto& [key, value] : all) value = valueOf(facts, key).value_or(value);
    return all;
}

}  // namespace

ProgramSettingsDialog::ProgramSettingsDialog(const Theme& theme, const Facts& facts, QWidget* parent)
    : FormDialog(theme, tr("Readiness: gates and words"), tr("&Keep the settings"), parent) {
    addGates();
    addWords();
    auto* usual = makeLink(theme, tr("&usual values"));
    connect(usual, &QPushButton::clicked, this, &ProgramSettingsDialog::useUsual);
    auto* foot = new QHBoxLayout;
    foot->addWidget(usual);
    foot->addStretch(1);
    form()->addRow(QString(), foot);
    fill(withUsual(facts));
    m_checks.at(gate("must_pass"))->setFocus();
}

ProgramSettingsDialog::Line ProgramSettingsDialog::addLine(const QString& label) {
    auto* place = new QWidget;
    auto* column = new QVBoxLayout(place);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(theme().s(2)));
    Line line{new QHBoxLayout, new Text(theme(), 13, true)};
    line.row->setSpacing(qRound(theme().s(8)));
    line.problem->setWordWrap(true);
    line.problem->hide();
    column->addLayout(line.row);
    column->addWidget(line.problem);
    form()->addRow(label, place);
    return line;
}

void ProgramSettingsDialog::addCheck(const Line& line, const std::string& key, const QString& words) {
    auto* box = new QCheckBox(words);
    line.row->addWidget(box);
    m_checks[key] = box;
    m_problems[key] = line.problem;
}

void ProgramSettingsDialog::addEdit(const Line& line, const std::string& key, const QString& name, int width,
                                    const QString& after) {
    auto* edit = new QLineEdit;
    edit->setAccessibleName(name);
    edit->setMaxLength(80);
    edit->setFixedWidth(qRound(theme().s(width)));
    line.row->addWidget(edit);
    if (!after.isEmpty()) line.row->addWidget(new QLabel(after));
    m_edits[key] = edit;
    m_problems[key] = line.problem;
}

void ProgramSettingsDialog::addPermitRule(const Line& line, const std::string& key) {
    auto* choice = new QComboBox;
    choice->setAccessibleName(tr("How the days of the permit count"));
    choice->addItem(tr("the day after the last of them"), QStringLiteral("issue-plus-days-and-one"));
    choice->addItem(tr("on the last of them"), QStringLiteral("issue-plus-days"));
    line.row->addWidget(new QLabel(tr("test at the earliest")));
    line.row->addWidget(choice);
    line.row->addStretch(1);
    m_choices[key] = choice;
    m_problems[key] = line.problem;
}

void ProgramSettingsDialog::addGates() {
    constexpr int kNumber = 64;
    Line line = addLine(tr("Gates"));
    addCheck(line, gate("must_pass"), tr("&must-pass steps and rules kept in the last"));
    addEdit(line, gate("must_pass_attempts"), tr("Attempts without a must-pass miss"), kNumber,
            tr("attempts"));
    line.row->addStretch(1);
    line = addLine({});
    addCheck(line, gate("full_attempt"), tr("an &attempt over all zones in the last"));
    addEdit(line, gate("full_attempt_days"), tr("Days for an attempt over all zones"), kNumber, tr("days"));
    line.row->addStretch(1);
    line = addLine({});
    addCheck(line, gate("permit"), tr("learner &permit held for"));
    addEdit(line, gate("permit_days"), tr("Days the permit must be held"), kNumber, tr("days"));
    line.row->addWidget(new QLabel(tr("and still valid for")));
    addEdit(line, gate("permit_left_days"), tr("Days the permit must still run"), kNumber, tr("days"));
    line.row->addStretch(1);
    addPermitRule(addLine({}), gate("permit_day_rule"));
    line = addLine({});
    addCheck(line, gate("medical"), tr("me&dical card not run out"));
    line.row->addStretch(1);
    line = addLine({});
    addCheck(line, gate("theory"), tr("&theory result on file, at least"));
    addEdit(line, gate("theory_percent"), tr("Theory result, percent"), kNumber, tr("percent"));
    line.row->addStretch(1);
}

void ProgramSettingsDialog::addWords() {
    constexpr int kNumber = 64, kWords = 220;
    Line line = addLine(tr("Ready"));
    line.row->addWidget(new QLabel(tr("chance at least")));
    addEdit(line, word("ready_at"), tr("Ready: least chance, 0 to 1"), kNumber);
    line.row->addWidget(new QLabel(tr("and its low end at least")));
    addEdit(line, word("ready_low"), tr("Ready: least low end, 0 to 1"), kNumber, tr("(0 to 1)"));
    line.row->addStretch(1);
    line = addLine(tr("Close"));
    line.row->addWidget(new QLabel(tr("chance at least")));
    addEdit(line, word("close_at"), tr("Close: least chance, 0 to 1"), kNumber, tr("(0 to 1)"));
    line.row->addStretch(1);
    line = addLine(tr("Too little data"));
    line.row->addWidget(new QLabel(tr("with fewer than")));
    addEdit(line, word("fewest_attempts"), tr("Fewest attempts for a forecast"), kNumber, tr("attempts"));
    line.row->addStretch(1);
    const std::vector<std::tuple<const char*, QString, QString>> words{
        {"ready", tr("Call it"), tr("Wording for ready")},
        {"close", QString(), tr("Wording for close")},
        {"not_yet", QString(), tr("Wording for not yet")},
        {"too_little", QString(), tr("Wording for too little data")}};
    for (const auto& [key, label, name] : words) {
        line = addLine(label);
        addEdit(line, word(key), name, kWords, name.section(QLatin1Char(' '), 1));
        line.row->addStretch(1);
    }
}

void ProgramSettingsDialog::fill(const Facts& facts) {
    for (const auto& [key, value] : facts) {
        if (const auto check = m_checks.find(key); check != m_checks.end())
            check->second->setChecked(value != "no");
        if (const auto edit = m_edits.find(key); edit != m_edits.end()) edit->second->setText(qs(value));
        if (const auto choice = m_choices.find(key); choice != m_choices.end())
            choice->second->setCurrentIndex(std::max(0, choice->second->findData(qs(value))));
    }
}

void ProgramSettingsDialog::useUsual() {
    fill(core::factsFromSettings({}));
}

Facts ProgramSettingsDialog::facts() const {
    Facts all = core::factsFromSettings({});
    for (auto& [key, value] : all) {
        if (const auto check = m_checks.find(key); check != m_checks.end())
            value = check->second->isChecked() ? "yes" : "no";
        if (const auto edit = m_edits.find(key); edit != m_edits.end())
            value = ss(edit->second->text().trimmed());
        if (const auto choice = m_choices.find(key); choice != m_choices.end())
            value = ss(choice->second->currentData().toString());
    }
    return all;
}

core::Result<void> ProgramSettingsDialog::check() {
    for (const auto& [key, problem] : m_problems) {
        problem->clear();
        problem->hide();
    }
    const auto settings = core::settingsFromFacts(facts());
    if (settings) return {};
    QLineEdit* first = nullptr;
    for (const core::Problem& problem : settings.error().problems) {
        const auto place = m_problems.find(problem.path);
        if (place == m_problems.end()) continue;
        const QString said = place->second->text();
        const QString words =
            tr("%1: %2", "what is wrong: what would be right").arg(qs(problem.message), qs(problem.remedy));
        place->second->setText(said.isEmpty() ? words : said + QLatin1Char('\n') + words);
        place->second->show();
        const auto edit = m_edits.find(problem.path);
        if (edit == m_edits.end()) continue;
        edit->second->setAccessibleDescription(words);
        if (first == nullptr) first = edit->second;
    }
    if (first != nullptr) first->setFocus();
    return core::fail(core::ErrorKind::Refused, ss(tr("%n field(s) need another value.", nullptr,
                                                      static_cast<int>(settings.error().problems.size()))));
}

bool editProgramSettings(const Theme& theme, Session& session, QWidget* parent) {
    const auto failed = [parent](const core::Error& error) {
        QMessageBox::warning(parent, ProgramSettingsDialog::tr("Not kept"), errorText(error));
        return false;
    };
    const auto stored = session.file().facts();
    if (!stored) return failed(stored.error());
    ProgramSettingsDialog dialog(theme, *stored, parent);
    if (dialog.exec() != QDialog::Accepted) return false;
    const auto kept = keepProgramFacts(session, core::factsFromSettings({}), dialog.facts());
    if (!kept) return failed(kept.error());
    return *kept;
}

core::Result<bool> keepProgramFacts(Session& session, const Facts& usual, const Facts& wanted) {
    const auto stored = session.file().facts();
    if (!stored) return core::fail(stored.error());
    bool changed = false;
    const auto done = session.file().transaction([&]() -> core::Result<void> {
        for (const auto& [key, value] : wanted) {
            const auto before = valueOf(*stored, key);
            if ((before ? *before : valueOf(usual, key).value_or(std::string())) == value) continue;
            changed = true;
            if (auto kept = session.file().setFact(key, value); !kept) return kept;
        }
        return {};
    });
    if (!done) return core::fail(done.error());
    if (changed) session.notePeopleChanged();
    return changed;
}

}  // namespace markerlamp::app
