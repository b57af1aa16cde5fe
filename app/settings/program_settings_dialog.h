#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a program asks for before it calls a trainee ready, and the words it uses. Kept in the program file,
// so that it travels with it. What is wrong stands beside its field.

#include "app/trainees/people_dialogs.h"
#include "core/readiness/readiness_settings.h"

#include <map>
#include <string>
#include <utility>
#include <vector>

class QCheckBox;
class QComboBox;
class QHBoxLayout;

namespace markerlamp::app {

class ProgramSettingsDialog final : public FormDialog {
    Q_OBJECT

public:
    using Facts = std::vector<std::pair<std::string, std::string>>;

    /// facts: of the program; what they do not say is at its usual value.
    ProgramSettingsDialog(const Theme& theme, const Facts& facts, QWidget* parent);
    /// Every setting as it stands in the fields.
    [[nodiscard]] Facts facts() const;
    /// Puts the usual values into the fields; nothing is kept by it.
    void useUsual();

protected:
    core::Result<void> check() override;

private:
    /// A row of the form under one label, with room for what is wrong in it.
    struct Line {
        QHBoxLayout* row = nullptr;
        Text* problem = nullptr;
    };
    Line addLine(const QString& label);
    void addCheck(const Line& line, const std::string& key, const QString& words);
    void addEdit(const Line& line, const std::string& key, const QString& name, int width,
                 const QString& after = {});
    void addPermitRule(const Line& line, const std::string& key);
    void addGates();
    void addWords();
    void fill(const Facts& facts);

    std::map<std::string, QCheckBox*> m_checks;
    std::map<std::string, QLineEdit*> m_edits;
    std::map<std::string, QComboBox*> m_choices;
    std::map<std::string, Text*> m_problems;  ///< by key: the room of its line
};

class Session;
/// Asks and stores; true when something was changed.
bool editProgramSettings(const Theme& theme, Session& session, QWidget* parent);

/// Stores those facts that are to be other than they are, or than usual where the file says nothing; all of
/// them or none. True when something was changed, which is announced then.
core::Result<bool> keepProgramFacts(Session& session, const ProgramSettingsDialog::Facts& usual,
                                    const ProgramSettingsDialog::Facts& wanted);

}  // namespace markerlamp::app
