#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Who changed what and when: read, filtered, printed.

#include "app/settings/settings.h"
#include "app/shell/page.h"
#include "app/support/text_widgets.h"
#include "app/trail/trail_view.h"
#include "forms/sheets/sheets.h"

class QComboBox;
class QLineEdit;
class QStackedWidget;

namespace markerlamp::app {

class ReadingProgress;
class Session;
class TableView;

class TrailPage final : public Page {
    Q_OBJECT

public:
    TrailPage(const Theme& theme, const Settings& settings, Session& session, QWidget* parent = nullptr);
    ~TrailPage() override;

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;
    [[nodiscard]] bool isReading() const;
    [[nodiscard]] const TrailView& view() const { return m_view; }
    /// What the filter lets through, on paper.
    [[nodiscard]] forms::Sheet sheet() const;

private:
    QWidget* makeHead();
    QWidget* makeFilter();
    QWidget* makeLists();
    void startReading();
    void take(const TrailReader::Reading& reading);
    void fill();
    void filter();
    void showEntry();
    void fillEntry();
    void print(bool look);

    const Theme& m_theme;
    const Settings& m_settings;
    Session& m_session;
    TrailReader* m_reader;
    TrailView m_view;
    bool m_stale = true;
    bool m_failed = false;  ///< which the head says
    ReadingProgress* m_progress;
    Text *m_standing = nullptr, *m_flaws = nullptr, *m_entryHead = nullptr, *m_seal = nullptr;
    KeyButton *m_check = nullptr, *m_print = nullptr;
    QLineEdit* m_find = nullptr;
    QComboBox *m_topic = nullptr, *m_by = nullptr, *m_days = nullptr;
    QStackedWidget* m_stack = nullptr;
    RowsModel *m_rows = nullptr, *m_fields = nullptr;
    TableView *m_table = nullptr, *m_fieldTable = nullptr;
    BlockHead* m_tableHead = nullptr;
};

}  // namespace markerlamp::app
