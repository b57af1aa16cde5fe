#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The debrief of one attempt: what happened, what to say next time, where, in which order, what else was
// missed; amend, print, and the view for the trainee's own eyes.

#include "app/debrief/debrief_presenter.h"
#include "app/readiness/drill_panel.h"
#include "app/shell/page.h"
#include "app/support/text_widgets.h"

class QStackedWidget;

namespace markerlamp::app {

class BlockTabs;
class OrderView;
class PlanView;
class ReadinessBlocks;
class ResultStrip;
class RowsModel;
class SayNextList;
class Session;
class TableView;
class TraineeView;

class DebriefPage final : public Page {
    Q_OBJECT

public:
    DebriefPage(const Theme& theme, Settings& settings, Session& session, ReadinessDesk& desk,
                QWidget* parent = nullptr);

    /// Shows this attempt; an empty id: the newest finished one of the file.
    void showAttempt(const QString& id);
    /// Brings the marks of one step of this attempt to the eye.
    void showMarks(const QString& id, const QString& step);
    [[nodiscard]] QString attempt() const { return m_debrief.attempt; }
    [[nodiscard]] const Debrief& debrief() const { return m_debrief; }
    [[nodiscard]] bool traineeView() const;
    [[nodiscard]] ReadinessBlocks& readiness() const { return *m_blocks; }

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;

signals:
    void startRequested();
    void signingRequested(QString attempt);
    void printRequested(QString attempt, bool preview);
    /// The sheet with readiness and the drill as it is on the page.
    void drillPrintRequested(QString attempt);
    void drillRequested(markerlamp::app::DrillAttempt attempt);
    /// The debrief of one of this trainee's attempts is in front.
    void traineeShown(QString key);

protected:
    void keyPressEvent(QKeyEvent* event) override;

private:
    QWidget* makePage();
    QWidget* makeLeft();
    QWidget* makeRight();
    void connectBlocks();
    void showStep();
    void load(const QString& id);
    void fill();
    void sayWhose();
    void showHead();
    void fillTables();
    void setTraineeView(bool on);
    void amend();

    const Theme& m_theme;
    Session& m_session;
    Debrief m_debrief;
    bool m_stale = true;
    QString m_step;  ///< whose marks are asked for
    ReadinessBlocks* m_blocks;
    BlockTabs* m_lower = nullptr;
    BlockTabs* m_lowerRight = nullptr;
    int m_notesBlock = 0;
    int m_missedBlock = 0;
    QStackedWidget* m_stack;
    EmptyState* m_empty;
    EmptyState* m_hidden;  ///< another instructor is still scoring it
    Text* m_name = nullptr;
    Text* m_facts = nullptr;
    Text* m_amended = nullptr;
    ResultStrip* m_strip = nullptr;
    QStackedWidget* m_body = nullptr;
    QWidget* m_scroll = nullptr;
    BlockHead* m_sayHead = nullptr;
    SayNextList* m_say = nullptr;
    RowsModel* m_notes = nullptr;
    TableView* m_notesTable = nullptr;
    BlockHead* m_planHead = nullptr;
    PlanView* m_plan = nullptr;
    BlockHead* m_orderHead = nullptr;
    OrderView* m_order = nullptr;
    Text* m_orderWords = nullptr;
    RowsModel* m_missed = nullptr;
    TableView* m_missedTable = nullptr;
    TraineeView* m_traineeView = nullptr;
    KeyButton* m_viewButton = nullptr;
    KeyButton* m_amendButton = nullptr;
    KeyButton* m_printButton = nullptr;
};

}  // namespace markerlamp::app
