// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which commands of the window the rubric editor knows, and where each leads.

#include "app/rubrics/editor_page.h"
#include "app/support/clipboard.h"

#include <QLineEdit>
#include <QUndoStack>

namespace markerlamp::app {

bool EditorPage::canPerform(PageCommand command) const {
    if (m_draft == nullptr) return false;
    switch (command) {
        case PageCommand::Undo:
            return m_draft->stack().canUndo();
        case PageCommand::Redo:
            return m_draft->stack().canRedo();
        case PageCommand::Publish:
        case PageCommand::PreviewScoring:
        case PageCommand::PrintStudySheet:
        case PageCommand::NextProblem:
        case PageCommand::Find:
        case PageCommand::Add:
        case PageCommand::AddZone:
        case PageCommand::Edit:
        case PageCommand::MoveUp:
        case PageCommand::MoveDown:
        case PageCommand::Retire:
        case PageCommand::LeaveDraft:
        case PageCommand::DropDraft:
        case PageCommand::DataTable:
        case PageCommand::CopyTable:
            return true;
        default:
            return false;
    }
}

QString EditorPage::commandWords(PageCommand command) const {
    if (m_draft == nullptr) return {};
    if (command == PageCommand::Undo) return m_draft->stack().undoText();
    if (command == PageCommand::Redo) return m_draft->stack().redoText();
    return {};
}

void EditorPage::perform(PageCommand command) {
    if (m_draft == nullptr) return;
    QUndoStack& stack = m_draft->stack();
    switch (command) {
        case PageCommand::Undo: {
            const QString words = stack.undoText();
            m_draft->seal();
            stack.undo();
            emit said(tr("Taken back: %1").arg(words));
            break;
        }
        case PageCommand::Redo: {
            const QString words = stack.redoText();
            stack.redo();
            emit said(tr("Done again: %1").arg(words));
            break;
        }
        case PageCommand::Find:
            m_find->setFocus(Qt::ShortcutFocusReason);
            m_find->selectAll();
            break;
        case PageCommand::Add:
            add();
            break;
        case PageCommand::AddZone:
            addZone();
            break;
        case PageCommand::Edit:
            edit();
            break;
        case PageCommand::MoveUp:
            move(-1);
            break;
        case PageCommand::MoveDown:
            move(1);
            break;
        case PageCommand::Retire:
            retire();
            break;
        case PageCommand::NextProblem:
            nextProblem();
            break;
        case PageCommand::PreviewScoring:
            previewScoring();
            break;
        case PageCommand::PrintStudySheet:
            previewStudySheet();
            break;
        case PageCommand::Publish:
            askToPublish();
            break;
        case PageCommand::LeaveDraft:
            leave();
            break;
        case PageCommand::DropDraft:
            askToDrop();
            break;
        case PageCommand::DataTable:
            showTables();
            break;
        case PageCommand::CopyTable:
            emit said(tr("%n row(s) copied", nullptr, copyTable(*m_limits)));
            break;
        default:
            break;
    }
}

}  // namespace markerlamp::app
