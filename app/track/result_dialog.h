#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the official test said, put on file. A result never changes afterwards.

#include "app/trainees/people_dialogs.h"
#include "core/readiness/readiness_records.h"

#include <QDate>

class QComboBox;
class QRadioButton;

namespace markerlamp::app {

class ResultDialog final : public FormDialog {
    Q_OBJECT

public:
    /// trainee: chosen at first; empty: nobody yet.
    ResultDialog(const Theme& theme, const std::vector<core::Trainee>& trainees,
                 std::vector<core::FrozenForecast> forecasts, const QString& trainee, const QDate& today,
                 QWidget* parent);
    [[nodiscard]] const core::TestResult& result() const { return m_result; }

protected:
    core::Result<void> check() override;

private:
    [[nodiscard]] QString chosen() const;
    [[nodiscard]] QDate day() const;  ///< invalid: no date is given
    [[nodiscard]] std::string segment() const;
    /// Tells what the result will be held against.
    void showForecast();

    std::vector<core::FrozenForecast> m_forecasts;
    QDate m_today;
    core::TestResult m_result;
    QComboBox *m_trainee, *m_segment;
    QLineEdit* m_date;
    QRadioButton *m_passed, *m_failed;
    QPlainTextEdit* m_note;
    Text* m_against;
};

/// Asks and stores; true when a result was recorded.
bool recordResult(const Theme& theme, Session& session, const QString& trainee, QWidget* parent);

}  // namespace markerlamp::app
