// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The scoring page's keys, pads and buttons.

#include "app/scoring/attempt_clock.h"
#include "app/scoring/board_part.h"
#include "app/scoring/brake_minute.h"
#include "app/scoring/dock_part.h"
#include "app/scoring/find_part.h"
#include "app/scoring/header_part.h"
#include "app/scoring/key_map.h"
#include "app/scoring/note_part.h"
#include "app/scoring/number_field.h"
#include "app/scoring/scoring_page.h"
#include "app/scoring/settle_model.h"
#include "app/scoring/settle_part.h"

#include <QKeyEvent>

namespace markerlamp::app {

using core::Outcome;

// --- keys ---

bool ScoringPage::event(QEvent* event) {
    // While an attempt runs its keys come first: a menu must not take what somebody mapped here.
    if (event->type() == QEvent::ShortcutOverride && m_model) {
        auto* key = static_cast<QKeyEvent*>(event);
        if (m_keys->meaning(*key) || m_view == View::Settle) {
            const bool alone = (key->modifiers() & (Qt::ControlModifier | Qt::AltModifier)) == Qt::NoModifier;
            if (m_keys->meaning(*key) || alone) {
                event->accept();
                return true;
            }
        }
    }
    return Page::event(event);
}

void ScoringPage::keyPressEvent(QKeyEvent* event) {
    if (!m_model) {
        Page::keyPressEvent(event);
        return;
    }
    const auto meaning = m_keys->meaning(*event);
    const bool enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    if (m_view == View::Scoring && !meaning && !enter) {
        Page::keyPressEvent(event);
        return;
    }
    event->accept();
    if (!m_keys->accepts(*event, m_clock.steadySeconds())) return;
    if (m_view == View::Settle) {
        if (!runSettleKey(*event)) event->ignore();
        return;
    }
    if (meaning) {
        if (!runKey(meaning->first, meaning->second)) event->ignore();
    } else if (m_model->marker() >= 0) {
        m_board->focusField(m_model->marker());
    }
}

bool ScoringPage::runKey(KeyAction action, int number) {
    switch (action) {
        case KeyAction::Both:
            record(Outcome::Both);
            break;
        case KeyAction::Partly:
            record(Outcome::Partly);
            break;
        case KeyAction::Shown:
            record(Outcome::ShownOnly);
            break;
        case KeyAction::Said:
            record(Outcome::SaidOnly);
            break;
        case KeyAction::Omitted:
            record(Outcome::Omitted);
            break;
        case KeyAction::NotObserved:
            record(Outcome::NotObserved);
            break;
        case KeyAction::Wrong:
            m_model->wrong();
            break;
        case KeyAction::ArmPrompt:
            m_model->armPrompt();
            break;
        case KeyAction::PromptLast:
            m_model->promptLast();
            break;
        case KeyAction::Note:
            openNote(false);
            break;
        case KeyAction::Fault:
            openNote(true);
            break;
        case KeyAction::SlideDown:
            m_model->slide(1);
            break;
        case KeyAction::SlideUp:
            m_model->slide(-1);
            break;
        case KeyAction::Undo:
        case KeyAction::UndoChord:
            m_model->undo();
            break;
        case KeyAction::Redo:
            m_model->redo();
            break;
        case KeyAction::Find:
        case KeyAction::FindChord:
            openFind();
            break;
        case KeyAction::Brake:
            brakePressed();
            break;
        case KeyAction::Pause:
            m_model->pauseOrGoOn();
            break;
        case KeyAction::Cover:
            toggleCover();
            break;
        case KeyAction::Finish:
            settlePressed();
            break;
        case KeyAction::MarkerUp:
            m_model->moveMarker(-1);
            break;
        case KeyAction::MarkerDown:
            m_model->moveMarker(1);
            break;
        case KeyAction::PageUp:
            turnPage(-1);
            break;
        case KeyAction::PageDown:
            turnPage(1);
            break;
        case KeyAction::FirstDark:
            m_model->firstDark();
            break;
        case KeyAction::Zone:
            m_zonesOpen = false;
            if (const int zone = m_model->zoneByKey(number); zone >= 0)
                m_model->goToZone(zone);
            else
                tell(tr("No zone of this attempt lies there."));
            break;
        case KeyAction::Point:
            m_model->flipPoint(number);
            break;
        case KeyAction::Back:
            if (closeOverlays()) break;
            if (!readingsShown()) return false;  // whatever the page stands in may be left by it
            toggleReadings();
            break;
    }
    return true;
}

bool ScoringPage::runSettleKey(const QKeyEvent& event) {
    if (event.modifiers() == Qt::NoModifier || event.modifiers() == Qt::KeypadModifier) {
        switch (event.key()) {
            case Qt::Key_Up:
                m_settle->move(-1);
                return true;
            case Qt::Key_Down:
                m_settle->move(1);
                return true;
            case Qt::Key_PageUp:
                m_settle->move(-m_settlePart->rowsOnPage());
                return true;
            case Qt::Key_PageDown:
                m_settle->move(m_settlePart->rowsOnPage());
                return true;
            case Qt::Key_Left:
            case Qt::Key_Right:
                m_settlePart->chooseZone((event.key() == Qt::Key_Left) ==
                                         (layoutDirection() == Qt::LeftToRight));
                return true;
            case Qt::Key_Return:
            case Qt::Key_Enter:
                acceptSettle();
                return true;
            case Qt::Key_Escape:
                leaveSettle();
                return true;
            case Qt::Key_R:
                settleChange(Outcome::NotReached);
                return true;
            case Qt::Key_Space:
                m_settle->didIt(m_settle->current());
                return true;
            default:
                break;
        }
    }
    const auto meaning = m_keys->meaning(event);
    if (!meaning) return false;
    switch (meaning->first) {
        case KeyAction::Omitted:
            settleChange(Outcome::Omitted);
            return true;
        case KeyAction::NotObserved:
            settleChange(Outcome::NotObserved);
            return true;
        case KeyAction::Undo:
        case KeyAction::UndoChord:
            pad(DockPart::Undo);
            return true;
        case KeyAction::Finish:
            acceptSettle();
            return true;
        default:
            return false;
    }
}

// --- pads and tiles ---

void ScoringPage::pad(int id) {
    takeKeys();
    switch (id) {
        case DockPart::Both:
            record(Outcome::Both);
            break;
        case DockPart::Partly:
            record(Outcome::Partly);
            break;
        case DockPart::Shown:
            record(Outcome::ShownOnly);
            break;
        case DockPart::Said:
            record(Outcome::SaidOnly);
            break;
        case DockPart::NotObserved:
            if (m_view == View::Settle)
                settleChange(Outcome::NotObserved);
            else
                record(Outcome::NotObserved);
            break;
        case DockPart::Omitted:
            settleChange(Outcome::Omitted);
            break;
        case DockPart::NotReached:
            settleChange(Outcome::NotReached);
            break;
        case DockPart::AcceptAll:
            acceptSettle();
            break;
        case DockPart::Back:
            leaveSettle();
            break;
        default:
            if (m_view != View::Settle)
                m_model->undo();
            else if (!m_settle->undo())
                tell(tr("Nothing changed here yet; Back returns to the board."));
            break;
    }
}

void ScoringPage::record(Outcome outcome) {
    m_zonesOpen = false;
    m_model->outcome(outcome);
}

void ScoringPage::tile(int step, int area) {
    if (step < 0) return;
    switch (area) {
        case BoardPart::ShownEnd:
            m_model->showOn(step);
            break;
        case BoardPart::SaidEnd:
            m_model->sayOn(step);
            break;
        default:
            m_model->outcomeOn(step, Outcome::Both);
            break;
    }
}

void ScoringPage::turnPage(int by) {
    const int step = m_board->stepOnPage(by);
    if (step >= 0)
        m_model->goTo(step);
    else
        tell(by > 0 ? tr("There are no more tiles in this zone.")
                    : tr("These are the first tiles of this zone."));
}

// --- readings ---

void ScoringPage::brakePressed() {
    if (m_minute->running()) {
        m_minute->stop();
        return;
    }
    if (!readingsShown()) {
        toggleReadings();
        return;
    }
    // The minute of the step at the marker, else the next one of this zone that has no reading.
    int chosen = -1;
    const auto& zone = m_model->zones()[static_cast<std::size_t>(m_model->currentZone())];
    for (int i = zone.first; i < zone.first + zone.count; ++i) {
        if (!BrakeMinute::isMinute(m_model->step(i))) continue;
        if (i == m_model->marker()) {
            chosen = i;
            break;
        }
        if (chosen < 0 && !m_model->marks(i).reading) chosen = i;
    }
    if (chosen < 0) {
        tell(tr("No step of this zone is timed for a minute; Esc closes the readings."));
        return;
    }
    m_minute->startOrStop(chosen);
}

void ScoringPage::toggleReadings() {
    const bool show = !readingsShown();
    if (show) {
        const auto& zone = m_model->zones()[static_cast<std::size_t>(m_model->currentZone())];
        bool here = false;
        for (int i = zone.first; i < zone.first + zone.count; ++i)
            here = here || m_model->step(i).reading.has_value();
        if (!here) {
            int target = m_minute->firstMinuteStep();
            for (int i = 0; i < m_model->stepCount() && target < 0; ++i)
                if (m_model->step(i).reading) target = i;
            if (target < 0) {
                tell(tr("No step of this attempt has a reading."));
                return;
            }
            // The walk through a zone begins at its first dark step, the level ground and the chocks.
            m_model->goToZone(m_model->zoneOf(target));
        }
    }
    m_readings = show ? Readings::Open : Readings::Closed;
    m_readingsZone = m_model->currentZone();
    m_board->keepFields();
    layOut();
    setFocus(Qt::OtherFocusReason);
    tell(show ? tr("Readings: %1 starts and stops the minute, Enter types a figure, Esc closes.")
                    .arg(m_keys->caption(KeyAction::Brake))
              : tr("Readings closed"));
}

// --- settle pass ---

void ScoringPage::settlePressed() {
    m_board->keepFields();
    closeOverlays();
    m_covered = false;
    m_minute->stop();
    m_settle = std::make_unique<SettleModel>(
        *m_model, m_services.besidesPlan ? m_services.besidesPlan(attemptId()) : std::vector<std::string>());
    connect(m_settle.get(), &SettleModel::changed, this, &ScoringPage::refresh);
    connect(m_settle.get(), &SettleModel::said, this, &ScoringPage::tell);
    m_settlePart->setModels(m_model.get(), m_settle.get());
    m_view = View::Settle;
    m_header->setSettling(
        tr("ended %1")
            .arg(m_model->wallTimeAt(m_settle->endSeconds()).time().toString(QStringLiteral("HH:mm:ss"))));
    layOut();
    setFocus(Qt::OtherFocusReason);
    if (m_settle->rows().empty())
        tell(tr("Nothing is dark. Accept ends the attempt and opens the debrief."));
    else
        tell(tr("%1. Accepting opens the debrief.").arg(m_settle->words(m_settle->current())));
}

void ScoringPage::leaveSettle() {
    m_view = View::Scoring;
    m_settlePart->setModels(nullptr, nullptr);
    m_header->setSettling({});
    m_settle.reset();
    layOut();
    setFocus(Qt::OtherFocusReason);
    tell(m_model->paused() ? tr("Back to scoring; the clock still stands.")
                           : tr("Back to scoring; the attempt goes on."));
}

void ScoringPage::settleChange(Outcome outcome) {
    const auto& rows = m_settle->rows();
    if (rows.empty()) return;
    const int row = m_settle->current();
    if (m_settlePart->zoneChosen())
        m_settle->setZone(rows[static_cast<std::size_t>(row)].zone, outcome);
    else
        m_settle->set(row, outcome);
}

void ScoringPage::acceptSettle() {
    if (!m_settle->accept()) return;
    const QString id = attemptId();
    close();
    layOut();
    emit finished(id);
}

// --- what lies over the page ---

void ScoringPage::openFind() {
    closeOverlays();
    layOut();
    m_find->open(m_model.get());
    layOut();
}

void ScoringPage::openNote(bool defect) {
    closeOverlays();
    const int step = m_model->justScored();
    const QString name =
        step < 0 ? QString()
                 : tr("%1 %2", "number and title of a step").arg(step + 1).arg(m_model->title(step));
    if (defect && step < 0) {
        tell(tr("A real defect belongs to a step; score the step first."));
        return;
    }
    m_note->open(name, defect);
    layOut();
}

void ScoringPage::openZones() {
    if (!m_layout.compact && !m_layout.planPopup) {
        m_model->goToZone(m_model->currentZone());
        return;
    }
    const bool open = !m_zonesOpen;
    closeOverlays();
    m_zonesOpen = open;
    layOut();
}

bool ScoringPage::closeOverlays() {
    const bool any = !m_note->isHidden() || !m_find->isHidden() || m_zonesOpen;
    m_note->hide();
    m_find->hide();
    m_zonesOpen = false;
    if (!any) return false;
    layOut();
    setFocus(Qt::OtherFocusReason);
    return true;
}

void ScoringPage::toggleCover() {
    m_covered = !m_covered;
    layOut();
    tell(m_covered ? tr("The marks are covered; keys go on scoring.") : tr("The marks are shown."));
}

// --- commands of the window ---

bool ScoringPage::canPerform(PageCommand command) const {
    if (!m_model) return false;
    switch (command) {
        case PageCommand::Undo:
            return m_view == View::Settle || m_model->canUndo();
        case PageCommand::Redo:
            return m_view == View::Scoring && m_model->canRedo();
        case PageCommand::Find:
        case PageCommand::Pause:
        case PageCommand::CoverSheet:
            return m_view == View::Scoring;
        case PageCommand::Finish:
            return true;
        default:
            return false;
    }
}

void ScoringPage::perform(PageCommand command) {
    if (!m_model) return;
    switch (command) {
        case PageCommand::Undo:
            pad(DockPart::Undo);
            break;
        case PageCommand::Redo:
            m_model->redo();
            break;
        case PageCommand::Find:
            openFind();
            break;
        case PageCommand::Pause:
            m_model->pauseOrGoOn();
            break;
        case PageCommand::CoverSheet:
            toggleCover();
            break;
        case PageCommand::Finish:
            if (m_view == View::Settle)
                acceptSettle();
            else
                settlePressed();
            break;
        default:
            break;
    }
}

}  // namespace markerlamp::app
