#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// All that is on file about one trainee besides attempts: hours, booked tests, results, times away, and the
// training record. Corrections take the place of what was there; nothing is overwritten.

#include "app/people/person_views.h"
#include "app/settings/settings.h"
#include "app/support/text_widgets.h"

#include <QDialog>

#include <array>
#include <functional>

namespace markerlamp::app {

class BlockTabs;
class Session;
class TableView;

class PersonDialog final : public QDialog {
    Q_OBJECT

public:
    enum Block { Hours, Tests, Results, Away, Record };

    PersonDialog(const Theme& theme, Session& session, forms::Paper paper, QString trainee, QWidget* parent);
    void showBlock(Block block);

private:
    using Step = std::function<core::Result<bool>(const QString& id)>;

    /// A block with a table and its links.
    struct List {
        QString words;
        std::vector<Column> columns;
        std::vector<int> widths;
        QString newWords, editWords, outWords;  ///< no editWords: what is there can only be taken out
        Step edit;                              ///< takes the id of the row, or nothing for a new one
        Step takeOut;
    };
    RowsModel* addList(Block block, const List& list);
    /// What stands under the table of a block.
    void setFoot(Block block, const QString& words);
    void addRecord();
    QPushButton* link(const QString& words, const std::function<void()>& act);
    void load();
    void fillRecord();
    /// Where an item of the training record is written down.
    core::Result<bool> writeDown(const QString& item);
    /// Runs a step that may change the file; says what went wrong.
    void run(const Step& step, const QString& id);

    core::Result<bool> editHours(const QString& id);
    core::Result<bool> strikeHours(const QString& id);
    core::Result<bool> editBooking(const QString& id);
    core::Result<bool> cancelBooking(const QString& id);
    core::Result<bool> addResult();
    core::Result<bool> strikeResult(const QString& id);
    core::Result<bool> editAway(const QString& id);
    core::Result<bool> strikeAway(const QString& id);
    core::Result<bool> editCourse();
    core::Result<bool> editLicence();
    void showLicence(bool shown);
    void printRecord();
    void saveRecord();

    const Theme& m_theme;
    Session& m_session;
    forms::Paper m_paper;
    QString m_key;
    core::PersonFile m_person;
    core::PeopleSettings m_settings;
    std::vector<core::Instructor> m_instructors;
    bool m_licenceShown = false;
    Text* m_name;
    Text* m_ahead;
    BlockTabs* m_blocks;
    RowsModel *m_hours = nullptr, *m_tests = nullptr, *m_results = nullptr, *m_away = nullptr,
              *m_checks = nullptr;
    std::array<Text*, 4> m_feet{};
    TableView* m_checkTable = nullptr;
    Text *m_licence = nullptr, *m_reports = nullptr;
    QPushButton* m_show = nullptr;
};

/// Opens it over the file with this block in front; nothing for a key that is not on file.
void showPerson(const Theme& theme, Session& session, forms::Paper paper, const QString& trainee,
                QWidget* parent, PersonDialog::Block block = PersonDialog::Hours);

}  // namespace markerlamp::app
