#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A page of the window: lays out, shows, forwards. Decisions sit in its presenter or model. The window's
// menus hold one action per command; the page in front says which of them it can do, and does them.

#include <QWidget>

namespace markerlamp::app {

/// Commands that mean something else on each page. Those of the whole window are not here.
enum class PageCommand {
    Undo,
    Redo,
    Find,
    CopyTable,
    CopyImage,
    DataTable,
    PrintSheet,
    PreviewSheet,
    NoteSigning,
    PrintStudySheet,
    TraineeView,
    Amend,
    Pause,
    CoverSheet,
    Finish,
    Add,
    Edit,
    NewEdition,
    EditEdition,
    EditionFromFile,
    AddZone,
    MoveUp,
    MoveDown,
    Retire,
    NextProblem,
    PreviewScoring,
    Publish,
    LeaveDraft,
    DropDraft,
};

class Page : public QWidget {
    Q_OBJECT

public:
    using QWidget::QWidget;

    /// Called each time the page comes to the front.
    virtual void aboutToShow() {}
    [[nodiscard]] virtual bool canPerform(PageCommand command) const {
        Q_UNUSED(command)
        return false;
    }
    /// Only called while canPerform() holds.
    virtual void perform(PageCommand command) { Q_UNUSED(command) }
    /// What the command would do here, for its menu entry ("reword Rims" behind Undo); empty: no more than
    /// its name.
    [[nodiscard]] virtual QString commandWords(PageCommand command) const {
        Q_UNUSED(command)
        return {};
    }

signals:
    /// Left side of the status bar: the last action, in words.
    void said(QString message);
    /// canPerform() may answer otherwise now.
    void commandsChanged();
};

}  // namespace markerlamp::app
