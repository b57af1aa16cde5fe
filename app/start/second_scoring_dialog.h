#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which attempt is scored a second time, and by whom: one on file, chosen or typed by its code, or one that
// is being scored on another workstation right now, by its code alone.

#include "app/support/text_widgets.h"
#include "core/attempt/attempt.h"
#include "core/people/people.h"
#include "db/program_file.h"

#include <QDialog>
#include <QString>

#include <optional>
#include <string>
#include <vector>

class QComboBox;
class QLineEdit;

namespace markerlamp::app {

class RowsModel;
class TableView;

/// An attempt that can be scored again.
struct FirstChoice {
    std::string id;
    QString code, trainee, date, bus, scorer;
    std::string instructor;
};
/// Closed first scorings, newest first.
[[nodiscard]] std::vector<FirstChoice> firstChoices(const std::vector<db::AttemptInfo>& infos,
                                                    const std::vector<core::Trainee>& trainees,
                                                    const std::vector<core::Instructor>& instructors);
/// Of those whose code begins with, or whose words contain, what was typed.
[[nodiscard]] std::vector<FirstChoice> findChoices(const std::vector<FirstChoice>& all, const QString& typed);

/// The second scoring's header: everything of the first but id, instructor and start. Refuses the first's own
/// instructor: it would be no other eye.
[[nodiscard]] core::Result<core::AttemptHeader> secondHeader(const core::AttemptHeader& first,
                                                             const std::string& instructor,
                                                             const std::string& started);

class SecondScoringDialog final : public QDialog {
    Q_OBJECT

public:
    SecondScoringDialog(const Theme& theme, std::vector<FirstChoice> choices,
                        const std::vector<core::Instructor>& instructors, const QString& firstId,
                        QWidget* parent);

    /// Id of the attempt on file; empty when only a code is known.
    [[nodiscard]] std::string first() const;
    [[nodiscard]] QString code() const;  ///< of the attempt
    [[nodiscard]] std::string instructor() const;

private:
    void fill();
    void refresh();
    [[nodiscard]] const FirstChoice* chosen() const;

    std::vector<FirstChoice> m_choices;
    QLineEdit* m_typed;
    RowsModel* m_rows;
    TableView* m_table;
    QComboBox* m_by;
    Text* m_hint;
    QPushButton* m_start = nullptr;
};

}  // namespace markerlamp::app
