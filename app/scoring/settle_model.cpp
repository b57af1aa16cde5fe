// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/settle_model.h"

#include "app/scoring/scoring_model.h"

#include <QTime>

#include <algorithm>

namespace markerlamp::app {

using core::Outcome;
using Why = core::SettleProposal::Why;

SettleModel::SettleModel(ScoringModel& model, std::vector<std::string> besidesPlan)
    : m_model(model), m_besidesPlan(std::move(besidesPlan)), m_t(model.attemptSeconds()) {
    // An attempt whose clock stands ends where it stands, however much later somebody settles it.
    const auto& events = model.recorder().attempt().events;
    if (model.paused() && !events.empty()) m_t = events.back().t;
    propose();
}

bool SettleModel::isBesidesPlan(const std::string& step) const {
    return std::find(m_besidesPlan.begin(), m_besidesPlan.end(), step) != m_besidesPlan.end();
}

void SettleModel::propose() {
    // A zone that nobody came to means that the attempt stopped early: that is no fault of the trainee.
    bool neverEntered = false;
    for (int z = 0; z < static_cast<int>(m_model.zones().size()); ++z)
        neverEntered = neverEntered || m_model.scoredIn(z) == 0;
    const auto proposals = m_model.recorder().proposeSettling(neverEntered);
    const auto time = [&](double t) {
        return m_model.wallTimeAt(t).time().toString(QStringLiteral("HH:mm"));
    };
    double pauseFrom = 0;
    double pauseTo = 0;
    const auto pauseAround = [&](int step) {
        const auto zone = static_cast<std::size_t>(m_model.zoneOf(step));
        const auto& z = m_model.zones()[zone];
        double before = 0;
        double after = m_t;
        for (int i = z.first; i < z.first + z.count; ++i) {
            if (!m_model.marks(i).engaged()) continue;
            const double seconds = m_model.marks(i).firstSeconds;
            if (i < step) before = seconds;
            if (i > step) {
                after = seconds;
                break;
            }
        }
        pauseFrom = pauseTo = before;
        for (const core::Event& event : m_model.recorder().attempt().events) {
            if (event.t < before || event.t > after) continue;
            if (event.kind == core::EventKind::Pause) pauseFrom = event.t;
            if (event.kind == core::EventKind::Resume) pauseTo = event.t;
        }
    };
    int lastZone = -1;
    for (const core::SettleProposal& proposal : proposals) {
        const int step = m_model.indexOf(proposal.step);
        const int zone = m_model.zoneOf(step);
        const bool whole = proposal.why == Why::ZoneNeverEntered;
        if (whole && zone == lastZone && m_rows.back().whole) {
            m_rows.back().steps.push_back(step);
            continue;
        }
        Row row;
        row.zone = zone;
        row.steps = {step};
        row.outcome = proposal.outcome;
        row.firstOfZone = zone != lastZone;
        row.whole = whole;
        switch (proposal.why) {
            case Why::ZoneNeverEntered:
                row.why = tr("zone never entered, stopped at %1").arg(time(m_t));
                break;
            case Why::InsidePause:
                pauseAround(step);
                row.why = tr("in the pause from %1 to %2").arg(time(pauseFrom), time(pauseTo));
                break;
            case Why::NeighbourWithin3s: {
                const int neighbour = m_model.indexOf(proposal.neighbour);
                row.why = tr("slid? %1 was scored within 3 s of its neighbour").arg(neighbour + 1);
                break;
            }
            case Why::LeftOut: {
                const auto& z = m_model.zones()[static_cast<std::size_t>(zone)];
                const bool before = step > z.first && !m_model.marks(step - 1).open();
                const bool after = step + 1 < z.first + z.count && !m_model.marks(step + 1).open();
                if (before && after)
                    row.why = tr("passed over, %1 and %2 are scored").arg(step).arg(step + 2);
                else if (m_model.darkBehindIn(zone) == 0)
                    row.why = tr("the last of the zone, never scored");
                else
                    row.why = tr("passed over in this zone");
                break;
            }
        }
        // A drill passes over these on purpose: left out would count against the trainee.
        if (proposal.outcome == Outcome::Omitted && isBesidesPlan(proposal.step)) {
            row.outcome = Outcome::NotObserved;
            row.why = tr("beside the plan of this drill: no evidence");
        }
        lastZone = zone;
        m_rows.push_back(std::move(row));
    }
    for (std::size_t i = 0; i < m_rows.size(); ++i)
        m_rows[i].firstOfZone = i == 0 || m_rows[i - 1].zone != m_rows[i].zone;
    m_current = 0;
}

void SettleModel::setCurrent(int row) {
    if (m_rows.empty()) return;
    m_current = std::clamp(row, 0, static_cast<int>(m_rows.size()) - 1);
    emit said(words(m_current));
    emit changed();
}

void SettleModel::move(int by) {
    setCurrent(m_current + by);
}

void SettleModel::set(int row, Outcome outcome) {
    if (row < 0 || row >= static_cast<int>(m_rows.size())) return;
    m_undo.push_back(m_rows);
    m_undoIsPress.push_back(false);
    m_rows[static_cast<std::size_t>(row)].outcome = outcome;
    m_current = row;
    emit said(words(row));
    emit changed();
}

void SettleModel::setZone(int zone, Outcome outcome) {
    m_undo.push_back(m_rows);
    m_undoIsPress.push_back(false);
    for (Row& row : m_rows)
        if (row.zone == zone) row.outcome = outcome;
    emit said(tr("%1: %2").arg(m_model.zones()[static_cast<std::size_t>(zone)].title, outcomeWord(outcome)));
    emit changed();
}

void SettleModel::didIt(int row) {
    if (row < 0 || row >= static_cast<int>(m_rows.size())) return;
    const Row chosen = m_rows[static_cast<std::size_t>(row)];
    if (chosen.whole) {
        emit said(tr("Go back to score a whole zone; here single steps can be set to done."));
        return;
    }
    m_undo.push_back(m_rows);
    m_undoIsPress.push_back(true);
    m_model.settleOutcomeBoth(chosen.steps.front());
    m_rows.erase(m_rows.begin() + row);
    for (std::size_t i = 0; i < m_rows.size(); ++i)
        m_rows[i].firstOfZone = i == 0 || m_rows[i - 1].zone != m_rows[i].zone;
    m_current = std::clamp(m_current, 0, std::max(0, static_cast<int>(m_rows.size()) - 1));
    emit said(m_model.describe(chosen.steps.front()));
    emit changed();
}

bool SettleModel::undo() {
    if (m_undo.empty()) return false;
    if (m_undoIsPress.back()) m_model.undo();
    m_rows = std::move(m_undo.back());
    m_undo.pop_back();
    m_undoIsPress.pop_back();
    m_current = std::clamp(m_current, 0, std::max(0, static_cast<int>(m_rows.size()) - 1));
    emit changed();
    return true;
}

int SettleModel::count(Outcome outcome) const {
    int count = 0;
    for (const Row& row : m_rows)
        if (row.outcome == outcome) count += static_cast<int>(row.steps.size());
    return count;
}

int SettleModel::darkSteps() const {
    int count = 0;
    for (const Row& row : m_rows) count += static_cast<int>(row.steps.size());
    return count;
}

bool SettleModel::accept() {
    std::vector<core::SettleProposal> settled;
    for (const Row& row : m_rows)
        for (const int step : row.steps) {
            core::SettleProposal proposal;
            proposal.step = m_model.step(step).id;
            proposal.outcome = row.outcome;
            settled.push_back(proposal);
        }
    return m_model.finish(settled, m_t);
}

QString SettleModel::outcomeWord(Outcome outcome) {
    switch (outcome) {
        case Outcome::Omitted:
            return tr("Omitted");
        case Outcome::NotObserved:
            return tr("Not observed");
        case Outcome::NotReached:
            return tr("Not reached");
        default:
            return tr("Done");
    }
}

QString SettleModel::words(int row) const {
    if (row < 0 || row >= static_cast<int>(m_rows.size())) return {};
    const Row& r = m_rows[static_cast<std::size_t>(row)];
    if (r.whole)
        return tr("%1, all %n step(s): %2, %3", nullptr, static_cast<int>(r.steps.size()))
            .arg(m_model.zones()[static_cast<std::size_t>(r.zone)].title, outcomeWord(r.outcome), r.why);
    const int step = r.steps.front();
    return tr("%1 %2: %3, %4").arg(step + 1).arg(m_model.title(step), outcomeWord(r.outcome), r.why);
}

}  // namespace markerlamp::app
