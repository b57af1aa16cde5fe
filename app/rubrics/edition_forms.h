#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Small forms of the rubric editor: a point, a reading, a limit, a tag of equipment, a section. Each gives
// back a value; nothing is changed here.

#include "app/trainees/people_dialogs.h"
#include "core/rubric/rubric.h"

#include <optional>
#include <set>

class QCheckBox;
class QComboBox;
class QLabel;

namespace markerlamp::app {

/// Either a limit of the rubric, or bounds of its own with a unit.
class BoundsFields final : public QObject {
    Q_OBJECT

public:
    /// none: words for "no number at all"; empty: there must be one. limits nullptr: own bounds only.
    BoundsFields(QFormLayout& form, const core::Rubric* rubric, const QString& none, QObject* parent);
    void set(const std::string& limit, std::optional<double> low, std::optional<double> high,
             const std::string& unit);
    void setNone();
    [[nodiscard]] bool isNone() const;
    [[nodiscard]] std::string limit() const;  ///< empty: own bounds
    [[nodiscard]] std::optional<double> low() const { return m_lowValue; }
    [[nodiscard]] std::optional<double> high() const { return m_highValue; }
    [[nodiscard]] std::string unit() const;
    /// Reads what was typed.
    void check(std::vector<core::Problem>& problems);

private:
    void enable();

    QComboBox* m_choice = nullptr;
    QLineEdit *m_low, *m_high, *m_unit;
    std::optional<double> m_lowValue, m_highValue;
};

class PointDialog final : public FormDialog {
    Q_OBJECT

public:
    /// point nullptr: a new one.
    PointDialog(const Theme& theme, const core::Rubric& rubric, const core::Point* point, QWidget* parent);
    [[nodiscard]] const core::Point& point() const { return m_point; }

protected:
    core::Result<void> check() override;

private:
    core::Point m_point;
    QLineEdit *m_text, *m_tolerance;
    QPlainTextEdit* m_like;
    BoundsFields* m_bounds;
};

class ReadingDialog final : public FormDialog {
    Q_OBJECT

public:
    ReadingDialog(const Theme& theme, const core::Rubric& rubric,
                  const std::optional<core::ReadingRule>& reading, QWidget* parent);
    /// nullopt: nothing is measured.
    [[nodiscard]] const std::optional<core::ReadingRule>& reading() const { return m_reading; }

protected:
    core::Result<void> check() override;

private:
    std::optional<core::ReadingRule> m_reading;
    QLineEdit *m_quantity, *m_source, *m_tolerance;
    QCheckBox *m_exclusive, *m_required;
    BoundsFields* m_bounds;
};

class LimitDialog final : public FormDialog {
    Q_OBJECT

public:
    /// limit nullptr: a new one, with an id that is not among `taken`.
    LimitDialog(const Theme& theme, const core::Limit* limit, std::set<std::string> taken, QWidget* parent);
    [[nodiscard]] const core::Limit& limit() const { return m_limit; }

protected:
    core::Result<void> check() override;

private:
    core::Limit m_limit;
    bool m_isNew;
    std::set<std::string> m_taken;
    QLineEdit *m_id, *m_source;
    QCheckBox* m_exclusive;
    BoundsFields* m_bounds;
};

class EquipmentDialog final : public FormDialog {
    Q_OBJECT

public:
    /// tag empty: a new one.
    EquipmentDialog(const Theme& theme, const QString& tag, const QString& title, std::set<std::string> taken,
                    QWidget* parent);
    [[nodiscard]] std::pair<std::string, std::string> equipment() const;

protected:
    core::Result<void> check() override;

private:
    bool m_isNew;
    std::set<std::string> m_taken;
    QLineEdit *m_tag, *m_title;
};

class SectionDialog final : public FormDialog {
    Q_OBJECT

public:
    /// section nullptr: a new one.
    SectionDialog(const Theme& theme, const core::Rubric& rubric, const core::Section* section,
                  std::set<std::string> taken, QWidget* parent);
    [[nodiscard]] const core::Section& section() const { return m_section; }

protected:
    core::Result<void> check() override;

private:
    core::Section m_section;
    bool m_isNew;
    std::set<std::string> m_taken;
    QLineEdit *m_id, *m_title, *m_share;
    std::vector<std::pair<std::string, QCheckBox*>> m_zones;
};

}  // namespace markerlamp::app
