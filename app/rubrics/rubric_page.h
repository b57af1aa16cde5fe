#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The rubrics of the file, to be read: zones and steps, one step in full, limits with their sources, order
// rules with their reasons, sections, editions. None is changed here; a limit set makes a new edition.

#include "app/rubrics/rubric_text.h"
#include "app/shell/page.h"
#include "app/support/rows_model.h"
#include "app/support/text_widgets.h"

#include <memory>

class QComboBox;
class QLineEdit;
class QStackedWidget;
class QTextBrowser;

namespace markerlamp::app {

class Session;
class StepTree;
class TableView;

class RubricPage final : public Page {
    Q_OBJECT

public:
    RubricPage(const Theme& theme, Session& session, QWidget* parent = nullptr);

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;
    [[nodiscard]] std::shared_ptr<const core::Rubric> rubric() const { return m_rubric; }
    /// Id of the zone that is selected or holds the selected step.
    [[nodiscard]] QString currentZone() const;
    /// Shows this edition the next time, or at once.
    void choose(const QString& rubric, int edition);

signals:
    void importRequested();
    void blankSheetRequested(QString rubric, int edition);
    void studySheetRequested(QString rubric, int edition, QString zone);
    /// The next edition is to be written, beginning from this one.
    void editRequested(QString rubric, int edition);
    /// The same, beginning from a rubric that is in no file.
    void draftRequested(const core::Rubric& rubric, int base);
    void fileRequested();

private:
    QWidget* makePage();
    void fillEditions();
    void load();
    void showDraft();
    void fillLimits();
    void showCurrent();
    void find();
    void makeEdition();
    void showDifference();
    /// Editions of the rubric in front with a lower number, newest first.
    [[nodiscard]] std::vector<std::shared_ptr<const core::Rubric>> earlier() const;
    [[nodiscard]] RubricTextStyle textStyle() const;

    const Theme& m_theme;
    Session& m_session;
    std::shared_ptr<const core::Rubric> m_rubric;
    bool m_stale = true;
    QStringList m_wanted;  ///< rubric and edition to show once they are listed
    KeyButton* m_edit = nullptr;
    QStackedWidget* m_stack;
    Text* m_title = nullptr;
    QComboBox* m_editions = nullptr;
    BlockHead* m_treeHead = nullptr;
    QLineEdit* m_find = nullptr;
    StepTree* m_tree = nullptr;
    BlockHead* m_stepHead = nullptr;
    QTextBrowser* m_step = nullptr;
    BlockHead* m_limitsHead = nullptr;
    RowsModel* m_limits = nullptr;
    TableView* m_limitsTable = nullptr;
    QTextBrowser* m_rules = nullptr;
};

}  // namespace markerlamp::app
