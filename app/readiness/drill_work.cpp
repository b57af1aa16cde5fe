// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/drill_work.h"

namespace markerlamp::app {

DrillView viewOf(std::shared_ptr<const core::DrillPlanner> planner, core::DrillPlan plan) {
    DrillView view;
    view.lines = core::linesOf(plan, *planner);
    for (const core::DrillLine& line : view.lines) {
        std::vector<int> others;
        for (const core::DrillPart& part : plan.parts)
            if (planner->blocks()[static_cast<std::size_t>(part.block)].zone != line.zone)
                others.push_back(part.block);
        const core::DrillPlan without = planner->worth(others);
        view.gains.push_back(plan.after - without.after);
        view.points.push_back(plan.scoreAfter - without.scoreAfter);
    }
    view.planner = std::move(planner);
    view.plan = std::move(plan);
    return view;
}

DrillWork::DrillWork(QObject* parent) : QObject(parent) {
    m_pool.setMaxThreadCount(1);
    m_pool.setThreadPriority(QThread::LowPriority);
}

DrillWork::~DrillWork() {
    m_pool.clear();
    m_pool.waitForDone();
}

template <class Make>
void DrillWork::run(Make make) {
    m_pool.clear();  // questions that nobody waits for any more
    m_pool.start([this, number = ++m_asked, make = std::move(make)] {
        auto view = std::make_shared<const DrillView>(make());
        QMetaObject::invokeMethod(
            this,
            [this, number, view = std::move(view)] {
                m_answered = number;
                if (number == m_asked) emit done(view);
            },
            Qt::QueuedConnection);
    });
}

void DrillWork::plan(std::shared_ptr<const core::DrillPlanner> planner, double minutes) {
    run([planner = std::move(planner), minutes] { return viewOf(planner, planner->plan(minutes)); });
}

void DrillWork::worth(std::shared_ptr<const core::DrillPlanner> planner, std::vector<int> blocks) {
    run([planner = std::move(planner), blocks = std::move(blocks)] {
        return viewOf(planner, planner->worth(blocks));
    });
}

}  // namespace markerlamp::app
