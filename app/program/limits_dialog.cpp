// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/program/limits_dialog.h"

#include "app/shell/session.h"
#include "app/support/display.h"
#include "db/program_file.h"

#include <QLineEdit>
#include <QMessageBox>

namespace markerlamp::app {

LimitsDialog::LimitsDialog(const Theme& theme, const core::AttentionSettings& settings, QWidget* parent)
    : FormDialog(theme, tr("Limits of who needs action"), tr("&Keep the limits"), parent),
      m_settings(settings) {
    const QStringList labels{tr("Stalled: &days without an attempt"),
                             tr("Stalled: &whole attempts without a gain"),
                             tr("A &gain: more percentage points than"), tr("A &test is near: days ahead"),
                             tr("A &sheet is late: days unsigned")};
    int at = 0;
    for (const auto& [key, value] : core::factsFromAttentionSettings(settings))
        m_fields.emplace_back(key, addField(labels.value(at++), qs(value)));
}

core::Result<void> LimitsDialog::check() {
    std::vector<std::pair<std::string, std::string>> facts;
    for (const auto& [key, field] : m_fields) facts.emplace_back(key, ss(field->text().trimmed()));
    auto settings = core::attentionSettingsFromFacts(facts);
    if (!settings) return core::fail(settings.error());
    m_settings = *settings;
    return {};
}

bool editAttentionLimits(const Theme& theme, Session& session, QWidget* parent) {
    core::AttentionSettings now;
    const auto facts = session.file().facts();
    if (facts)
        if (auto known = core::attentionSettingsFromFacts(*facts)) now = *known;
    LimitsDialog dialog(theme, now, parent);
    if (dialog.exec() != QDialog::Accepted || dialog.settings() == now) return false;
    const auto kept = session.file().transaction([&]() -> core::Result<void> {
        for (const auto& [key, value] : core::factsFromAttentionSettings(dialog.settings()))
            if (auto done = session.file().setFact(key, value); !done) return done;
        return {};
    });
    if (!kept) {
        QMessageBox::warning(parent, LimitsDialog::tr("Not kept"), errorText(kept.error()));
        return false;
    }
    session.notePeopleChanged();
    return true;
}

}  // namespace markerlamp::app
