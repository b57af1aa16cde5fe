#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The next edition of a rubric while it is being written: its changes can be undone one by one, each has a
// name in words, and it always knows what is wrong with it. Knows nothing of widgets or files.

#include "core/rubric/edition_difference.h"
#include "core/rubric/rubric_edit.h"

#include <QObject>
#include <QString>
#include <QUndoStack>

#include <functional>
#include <memory>
#include <vector>

namespace markerlamp::app {

/// Which part of the rubric is meant; empty: the rubric as a whole.
struct DraftSpot {
    QString zone, step, point;
    bool operator==(const DraftSpot&) const = default;
};

class Draft final : public QObject {
    Q_OBJECT

public:
    using RubricPtr = std::shared_ptr<const core::Rubric>;

    /// @param editions all that are on file under this id, oldest first; may be none
    /// @param base     edition that it is compared with: that number, or the newest one
    Draft(core::Rubric rubric, std::vector<RubricPtr> editions, int base, QObject* parent = nullptr);

    [[nodiscard]] const core::Rubric& rubric() const { return *m_rubric; }
    [[nodiscard]] RubricPtr rubricPtr() const { return m_rubric; }
    /// nullptr: the file has no edition of this rubric yet.
    [[nodiscard]] RubricPtr base() const { return m_base; }
    [[nodiscard]] QUndoStack& stack() { return m_stack; }
    [[nodiscard]] const core::UsedIds& used() const { return m_used; }

    /// What is wrong now; worked out when asked for.
    [[nodiscard]] const core::DraftCheck& check() const;
    [[nodiscard]] bool isSound() const { return check().problems.empty(); }
    /// Against the base; none without one.
    [[nodiscard]] std::vector<core::EditionChange> difference() const;
    /// "new" for what the base does not have, else empty.
    [[nodiscard]] bool isNewStep(const QString& step) const;
    /// Edition numbers move on when another one comes into the file; no step of undo.
    void setEdition(int edition);

    /// Makes one change, named in words, unless it changes nothing. Changes in a row with the same `merge`
    /// are one step of undo until seal() is called.
    bool change(const QString& words, const DraftSpot& spot, const std::function<void(core::Rubric&)>& edit,
                const QString& merge = {});
    void seal() { ++m_sealed; }

    // Changes by name. Adding returns the id; `after`: the one behind which it comes, empty: at the end.
    QString addZone(const QString& title, const QString& after);
    QString addStep(const QString& zone, const QString& title, const QString& after);
    QString addPoint(const QString& step, const core::Point& point, const QString& after);
    void changePoint(const QString& step, const core::Point& point);
    bool move(const DraftSpot& spot, int by);
    /// What went along, in words; empty when nothing was retired.
    QString retire(const DraftSpot& spot);
    QString addLimit(const core::Limit& limit);
    void changeLimit(const core::Limit& limit);
    /// Refused while a step uses it.
    core::Result<void> retireLimit(const QString& limit);
    QString addRule(core::OrderRule rule);
    void changeRule(const core::OrderRule& rule);
    void retireRule(const QString& rule);

    [[nodiscard]] QString titleOfStep(const QString& step) const;
    [[nodiscard]] QString titleOfZone(const QString& zone) const;
    /// Of a rule's entry: a step, or all steps of a zone.
    [[nodiscard]] QString titleOfEntry(const std::string& entry) const;
    /// "a before b (rule x) before a"; empty without a circle.
    [[nodiscard]] QString circleInWords() const;

signals:
    /// Also by undo and redo; spot: what the change was about.
    void changed(const DraftSpot& spot);

private:
    class Change;
    void put(RubricPtr rubric, const DraftSpot& spot);

    RubricPtr m_rubric;
    int m_edition;
    RubricPtr m_base;
    core::UsedIds m_used;
    QUndoStack m_stack;
    int m_sealed = 0;
    mutable std::optional<core::DraftCheck> m_check;
};

}  // namespace markerlamp::app
