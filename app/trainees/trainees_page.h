#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// All trainees of the program: find, add, edit, import, open.

#include "app/shell/page.h"
#include "app/support/rows_model.h"
#include "app/support/text_widgets.h"

#include <QDate>

class QLineEdit;
class QSortFilterProxyModel;
class QStackedWidget;

namespace markerlamp::core {
struct PersonFile;
struct PeopleSettings;
}  // namespace markerlamp::core
namespace markerlamp::db {
struct AttemptInfo;
}

namespace markerlamp::app {

class Session;
class TableView;

/// One row a trainee who was not erased, by name, with the dates that run out. attempts: newest first.
[[nodiscard]] std::vector<Row> traineeRows(const std::vector<core::PersonFile>& people,
                                           const std::vector<db::AttemptInfo>& attempts, const QDate& today,
                                           const core::PeopleSettings& settings);

class TraineesPage final : public Page {
    Q_OBJECT

public:
    TraineesPage(const Theme& theme, Session& session, QWidget* parent = nullptr);

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;
    /// Key of the selected trainee; empty without one.
    [[nodiscard]] QString current() const;

signals:
    void opened(QString key);
    void importRequested();

private:
    QWidget* makePage();
    void fill(const QString& select);
    void addOrEdit(const QString& key);

    const Theme& m_theme;
    Session& m_session;
    bool m_stale = true;
    QStackedWidget* m_stack;
    Text* m_remark = nullptr;
    QLineEdit* m_find = nullptr;
    RowsModel* m_model = nullptr;
    QSortFilterProxyModel* m_proxy = nullptr;
    TableView* m_table = nullptr;
    Text* m_note = nullptr;
};

}  // namespace markerlamp::app
