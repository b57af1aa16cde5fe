#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The next drill of one trainee: minutes, what to do in which zone with what it is expected to bring, before
// and after in words, and the cautions.

#include "app/readiness/drill_work.h"
#include "app/readiness/readiness_desk.h"
#include "app/support/text_widgets.h"

#include <QWidget>

#include <functional>
#include <optional>

class QScrollArea;
class QSpinBox;

namespace markerlamp::app {

class RowsModel;
class Settings;
class TableView;

/// An attempt over the zones of a plan.
struct DrillAttempt {
    QString trainee;
    std::string rubric;
    int edition = 0;
    std::vector<std::string> zones;
    std::vector<std::string> besides;  ///< steps of those zones that the plan leaves out
};

class DrillPanel final : public QWidget {
    Q_OBJECT

public:
    DrillPanel(const Theme& theme, Settings& settings, ReadinessDesk& desk, QWidget* parent = nullptr);

    void showTrainee(const QString& key);
    [[nodiscard]] const std::shared_ptr<const DrillView>& view() const { return m_view; }
    [[nodiscard]] int minutes() const;
    [[nodiscard]] QString remark() const;
    /// Controls for the head over the panel, in their order.
    [[nodiscard]] std::vector<QWidget*> controls() const;
    /// A plan was changed by hand.
    [[nodiscard]] bool byHand() const { return m_byHand; }

    void edit();
    /// Lines as text for the clipboard; returns how many.
    int copy() const;

signals:
    void printRequested();
    void startRequested(markerlamp::app::DrillAttempt attempt);
    void said(QString message);
    /// It shows something else; see remark().
    void filled();

private:
    void makeControls();
    void ask();
    void take(std::shared_ptr<const DrillView> view);
    void fill();
    void showDetail();
    void start();
    [[nodiscard]] QString nothingWords() const;

    const Theme& m_theme;
    Settings& m_settings;
    ReadinessDesk& m_desk;
    QString m_trainee;
    DrillWork* m_work;
    std::shared_ptr<const DrillView> m_view;
    std::shared_ptr<const core::DrillPlanner> m_planner;
    bool m_byHand = false;
    QSpinBox* m_minutes;
    Text* m_words;
    RowsModel* m_rows;
    TableView* m_table;
    Text* m_detail;  ///< of the chosen line: what to do there, and its caution
    QScrollArea* m_detailArea;
    QPushButton *m_edit = nullptr, *m_copy = nullptr, *m_print = nullptr, *m_start = nullptr;
};

/// One line a part, for the clipboard and for messages.
[[nodiscard]] QString drillAsText(const DrillView& view);

}  // namespace markerlamp::app

Q_DECLARE_METATYPE(markerlamp::app::DrillAttempt)
