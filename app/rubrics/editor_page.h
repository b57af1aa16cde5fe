#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The next edition of a rubric in the making: tree, form of the step at hand, limits, order rules, and below
// what the edition would do. The draft keeps itself in the program file; an edition comes of it when it is
// put in use.

#include "app/rubrics/draft.h"
#include "app/rubrics/draft_keeping.h"
#include "app/settings/settings.h"
#include "app/shell/page.h"
#include "app/support/rows_model.h"
#include "app/support/text_widgets.h"
#include "core/base/result.h"

#include <QDateTime>
#include <QStackedWidget>

#include <memory>

class QLineEdit;
class QTimer;

namespace markerlamp::app {

class EffectBlock;
class RuleDrawing;
class Session;
class StepForm;
class StepTree;
class TableView;
class WholeForm;
class ZoneForm;

class EditorPage final : public Page {
    Q_OBJECT

public:
    EditorPage(Theme& theme, Settings& settings, Session& session, QWidget* parent = nullptr);
    /// Keeps what is not kept yet.
    ~EditorPage() override;

    /// Goes on with the draft of this rubric, or begins one from the edition.
    core::Result<void> open(const QString& rubric, int edition);
    /// Begins one that looks like this; a draft that is there is replaced.
    core::Result<void> openWith(core::Rubric rubric, int base);
    [[nodiscard]] bool isOpen() const { return m_draft != nullptr; }
    [[nodiscard]] Draft* draft() { return m_draft.get(); }
    [[nodiscard]] EffectBlock& effect() { return *m_effect; }
    /// Keeps the draft now.
    void keep();
    /// Keeps the draft and closes it; the way to it stays.
    void leave();
    /// Puts the edition in the file without a question.
    core::Result<void> publish();

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;
    [[nodiscard]] QString commandWords(PageCommand command) const override;

signals:
    /// Closed; edition: that was put in use, 0 for none.
    void left(QString rubric, int edition);

protected:
    void hideEvent(QHideEvent* event) override;

private:
    enum class Block { Tree, Points, Limits, Order, Whole };

    // editor_page.cpp: what is there, and what is shown
    QWidget* makeHead();
    QWidget* makeLeft();
    QWidget* makeRight();
    core::Result<void> begin(core::Rubric rubric, int base);
    void close(int published);
    void noteChanged(const DraftSpot& spot);
    void refresh();
    void showFacts();
    void fillLimits();
    void showHere();
    void showCheck();
    void renumber();
    [[nodiscard]] DraftSpot here() const;

    // editor_commands.cpp leads to what is in editor_actions.cpp
    [[nodiscard]] Block block() const;
    void add();
    void edit();
    void retire();
    void move(int by);
    void addStep();
    void addZone();
    void editLimit(const QString& id);
    void editRule(const QString& id);
    void find();
    void nextProblem();
    void goTo(const core::DraftPlace& place);
    void previewScoring();
    void previewStudySheet();
    void askToPublish();
    void askToDrop();
    void showTables();
    [[nodiscard]] bool soundOrSaid();

    Theme& m_theme;
    Settings& m_settings;
    Session& m_session;
    std::unique_ptr<Draft> m_draft;
    bool m_filling = false;
    bool m_unkept = false;
    QDateTime m_keptAt;
    std::size_t m_problem = 0;  ///< the one that is led to next
    int m_wrongBefore = 0;      ///< things that were wrong at the last check
    QTimer* m_keepTimer;
    QTimer* m_checkTimer;
    Text *m_title = nullptr, *m_facts = nullptr;
    KeyButton *m_publish = nullptr, *m_check = nullptr, *m_scoring = nullptr, *m_study = nullptr;
    BlockHead* m_treeHead = nullptr;
    QLineEdit* m_find = nullptr;
    StepTree* m_tree = nullptr;
    QStackedWidget* m_forms = nullptr;
    WholeForm* m_whole = nullptr;
    ZoneForm* m_zone = nullptr;
    StepForm* m_step = nullptr;
    BlockHead* m_limitsHead = nullptr;
    RowsModel* m_limits = nullptr;
    TableView* m_limitsTable = nullptr;
    BlockHead* m_orderHead = nullptr;
    RuleDrawing* m_order = nullptr;
    Text* m_wrong = nullptr;
    EffectBlock* m_effect = nullptr;
};

}  // namespace markerlamp::app
