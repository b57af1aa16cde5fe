#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The limits of who needs action: facts of the program file.

#include "app/trainees/people_dialogs.h"
#include "core/program/attention.h"

class QLineEdit;

namespace markerlamp::app {

class LimitsDialog final : public FormDialog {
    Q_OBJECT

public:
    LimitsDialog(const Theme& theme, const core::AttentionSettings& settings, QWidget* parent);
    /// What was typed, once the dialog was accepted.
    [[nodiscard]] const core::AttentionSettings& settings() const { return m_settings; }

protected:
    core::Result<void> check() override;

private:
    core::AttentionSettings m_settings;
    std::vector<std::pair<std::string, QLineEdit*>> m_fields;  ///< by key of the fact
};

/// Asks and stores; true when something was changed.
bool editAttentionLimits(const Theme& theme, Session& session, QWidget* parent);

}  // namespace markerlamp::app
