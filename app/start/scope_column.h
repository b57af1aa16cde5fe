#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// "What to score": the whole, a section, or zones picked on the plan, with the steps that this bus has.

#include "app/scoring/key_map.h"
#include "app/start/start_data.h"
#include "app/support/theme.h"

#include <QWidget>

class QButtonGroup;
class QGridLayout;
class QRadioButton;

namespace markerlamp::app {

class ChoiceBox;
class KeyButton;
class Settings;
class Text;
class ZoneBox;

class ScopeColumn final : public QWidget {
    Q_OBJECT

public:
    ScopeColumn(const Theme& theme, Settings& settings, StartForm& form, QWidget* parent = nullptr);

    /// Follows the form. Rows are made anew only for another rubric, so that the focus stays.
    void refresh();
    /// The keys of the zones may have changed.
    void reloadKeys();

signals:
    /// The form was changed here.
    void changed();

protected:
    void keyPressEvent(QKeyEvent* event) override;

private:
    struct Choice {
        QRadioButton* button = nullptr;
        Text* right = nullptr;
        std::string section;  ///< of a section's own row
        StartForm::Scope scope = StartForm::Scope::Whole;
    };

    void rebuild();
    void addChoice(const QString& words, StartForm::Scope scope, const std::string& section, QWidget* right);
    void addZones();
    [[nodiscard]] QString steps(const std::vector<std::string>& zones) const;

    const Theme& m_theme;
    Settings& m_settings;
    StartForm& m_form;
    KeyMap m_keys;
    std::shared_ptr<const core::Rubric> m_built;
    QButtonGroup* m_group;
    QGridLayout* m_choiceGrid;
    QWidget* m_plan;
    QGridLayout* m_zoneGrid;
    std::vector<Choice> m_choices;
    std::vector<ZoneBox*> m_boxes;  ///< in rubric order
    std::vector<int> m_zoneKeys;    ///< key of each box; kZoneKeys and more: none
    ChoiceBox* m_sections = nullptr;
    KeyButton* m_all = nullptr;
    KeyButton* m_none = nullptr;
};

}  // namespace markerlamp::app
