#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Do instructors score alike? Left the pair in front, differences only; right counts, coefficients,
// strictness and the steps that are read differently.

#include "app/agreement/agreement_model.h"
#include "app/shell/page.h"
#include "app/support/text_widgets.h"

#include <array>

class QLineEdit;
class QStackedWidget;

namespace markerlamp::app {

class BlockTabs;
class ChoiceBox;
class CoefficientView;
class DifferenceDelegate;
class ReadingProgress;
class RowsModel;
class Session;
class StrictnessView;
class TableView;

class AgreementPage final : public Page {
    Q_OBJECT

public:
    AgreementPage(const Theme& theme, Session& session, QWidget* parent = nullptr);
    ~AgreementPage() override;

    void aboutToShow() override;
    [[nodiscard]] bool canPerform(PageCommand command) const override;
    void perform(PageCommand command) override;
    [[nodiscard]] bool isReading() const;
    [[nodiscard]] AgreementModel& model() { return *m_model; }
    /// Brings the pair of this second scoring to the front, once it is read.
    void showPair(const QString& secondScoring);
    /// Stores what was chosen as the third record; said() tells what became of it.
    core::Result<void> settleBy(const std::string& instructor);

signals:
    void secondScoringRequested();

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    QWidget* makeHead();
    QWidget* makeContent();
    QWidget* makeLeft();
    QWidget* makeChoices();
    QWidget* makeRight();
    QWidget* makeStrictness();
    void startReading();
    void take(const AgreementReader::Reading& reading);
    void readingEnded(bool complete);
    void fill();
    void fillHead();
    void fillDifferences();
    void fillState();
    void fillAgreement();
    void fillStrictness();
    void showStep();
    void choose(core::Choice choice);
    void settle();
    void showDataTable();
    [[nodiscard]] std::string step() const;

    const Theme& m_theme;
    Session& m_session;
    AgreementReader* m_reader;
    ReadingProgress* m_progress;
    AgreementModel* m_model;
    QString m_wanted;  ///< second scoring to be shown once it is read
    bool m_stale = true;
    bool m_stopped = false;  ///< the strictness was not worked out to its end
    bool m_filling = false;
    QString m_notKept;  ///< why the last choice is not in the file
    QStackedWidget* m_stack = nullptr;
    EmptyState *m_empty = nullptr, *m_reading = nullptr;
    Text *m_title = nullptr, *m_facts = nullptr, *m_waiting = nullptr;
    ChoiceBox* m_pairs = nullptr;
    KeyButton *m_names = nullptr, *m_settle = nullptr;
    BlockHead* m_differencesHead = nullptr;
    RowsModel* m_differences = nullptr;
    TableView* m_differencesTable = nullptr;
    DifferenceDelegate* m_delegate = nullptr;
    Text* m_stepWords = nullptr;
    std::array<KeyButton*, 4> m_choices{};
    QLineEdit* m_reason = nullptr;
    BlockTabs* m_upper = nullptr;
    int m_pairBlock = 0, m_allBlock = 0;
    CoefficientView *m_ofPair = nullptr, *m_ofAll = nullptr;
    Text *m_pairFoot = nullptr, *m_allFoot = nullptr;
    BlockTabs* m_lower = nullptr;
    int m_strictnessBlock = 0, m_disputedBlock = 0;
    StrictnessView* m_strictness = nullptr;
    Text *m_luck = nullptr, *m_one = nullptr;
    RowsModel* m_disputed = nullptr;
    TableView* m_disputedTable = nullptr;
};

}  // namespace markerlamp::app
