#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Plans a drill in the background: choosing the best blocks asks the model many times. Only the newest
// question is answered.

#include "core/drill/drill_plan.h"

#include <QObject>
#include <QThreadPool>

#include <memory>
#include <vector>

namespace markerlamp::app {

/// A plan as a page shows it.
struct DrillView {
    std::shared_ptr<const core::DrillPlanner> planner;
    core::DrillPlan plan;
    std::vector<core::DrillLine> lines;  ///< one a zone
    std::vector<double> gains;           ///< of each line: what the plan would lose without it
    std::vector<double> points;
};

/// What a chosen plan comes to, with each line's share. Slow; see DrillWork.
[[nodiscard]] DrillView viewOf(std::shared_ptr<const core::DrillPlanner> planner, core::DrillPlan plan);

class DrillWork final : public QObject {
    Q_OBJECT

public:
    explicit DrillWork(QObject* parent = nullptr);
    ~DrillWork() override;

    /// The best plan within the minutes.
    void plan(std::shared_ptr<const core::DrillPlanner> planner, double minutes);
    /// What these blocks are worth.
    void worth(std::shared_ptr<const core::DrillPlanner> planner, std::vector<int> blocks);
    [[nodiscard]] bool busy() const { return m_answered != m_asked; }

signals:
    void done(std::shared_ptr<const markerlamp::app::DrillView> view);

private:
    template <class Make>
    void run(Make make);

    quint64 m_asked = 0;
    quint64 m_answered = 0;
    QThreadPool m_pool;
};

}  // namespace markerlamp::app
