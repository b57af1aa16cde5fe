#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The settle pass: what becomes of the steps that are still dark when the attempt ends. Each has a proposal
// with its reason; the instructor changes what is wrong and accepts all.

#include "core/attempt/recorder.h"

#include <QObject>
#include <QString>

#include <string>
#include <vector>

namespace markerlamp::app {

class ScoringModel;

class SettleModel final : public QObject {
    Q_OBJECT

public:
    struct Row {
        int zone = 0;
        std::vector<int> steps;  ///< one, or all of a zone that was never entered
        core::Outcome outcome = core::Outcome::Omitted;
        QString why;
        bool firstOfZone = false;
        [[nodiscard]] bool wholeZone() const { return whole; }
        bool whole = false;
    };

    /// Proposals as of now; the attempt ends at this moment when they are accepted.
    /// @param besidesPlan steps that the attempt's drill left out: not done is no evidence about them
    explicit SettleModel(ScoringModel& model, std::vector<std::string> besidesPlan = {});

    [[nodiscard]] const std::vector<Row>& rows() const { return m_rows; }
    [[nodiscard]] int current() const { return m_current; }
    void setCurrent(int row);
    void move(int by);
    void set(int row, core::Outcome outcome);
    void setZone(int zone, core::Outcome outcome);
    /// The trainee did it after all: scored as both, the row goes.
    void didIt(int row);
    /// Takes back the last change made here; false: nothing left.
    bool undo();
    [[nodiscard]] int count(core::Outcome outcome) const;
    [[nodiscard]] int darkSteps() const;
    /// All accepted: settles and ends. Row by row in rubric order.
    bool accept();
    [[nodiscard]] double endSeconds() const { return m_t; }
    [[nodiscard]] static QString outcomeWord(core::Outcome outcome);
    [[nodiscard]] QString words(int row) const;  ///< "48 Axle and hub seal: proposal omitted"

signals:
    void changed();
    void said(QString words);

private:
    void propose();
    [[nodiscard]] bool isBesidesPlan(const std::string& step) const;

    ScoringModel& m_model;
    std::vector<std::string> m_besidesPlan;
    double m_t = 0;
    std::vector<Row> m_rows;
    int m_current = 0;
    std::vector<std::vector<Row>> m_undo;
    std::vector<bool> m_undoIsPress;  ///< the change also was a press of the attempt
};

}  // namespace markerlamp::app
