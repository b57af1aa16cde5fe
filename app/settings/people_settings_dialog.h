#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a program has decided about dates that run out, the training record and keeping.

#include "app/trainees/people_dialogs.h"
#include "core/people/people_settings.h"

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace markerlamp::app {

class PeopleSettingsDialog final : public FormDialog {
    Q_OBJECT

public:
    using Facts = std::vector<std::pair<std::string, std::string>>;

    /// facts: those of the program; others than these settings are left alone.
    PeopleSettingsDialog(const Theme& theme, const Facts& facts, QWidget* parent);
    /// Every setting as it is in the form.
    [[nodiscard]] Facts facts() const;

protected:
    core::Result<void> check() override;

private:
    void addNumber(const std::string& key, const QString& label, const QString& after);
    void addLine(const std::string& key, const QString& label, const QString& placeholder = {});
    void fill(const Facts& facts);

    std::map<std::string, QLineEdit*> m_edits;
    std::map<std::string, QString> m_labels;
    QCheckBox* m_holidays;
};

/// Asks and stores; true when something was changed.
bool editPeopleSettings(const Theme& theme, Session& session, QWidget* parent);

}  // namespace markerlamp::app
