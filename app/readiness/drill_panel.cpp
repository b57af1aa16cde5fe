// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/drill_panel.h"

#include "app/readiness/drill_dialog.h"
#include "app/readiness/readiness_words.h"
#include "app/settings/settings.h"
#include "app/support/display.h"
#include "app/support/rows_model.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"

#include <QClipboard>
#include <QGuiApplication>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QScrollArea>
#include <QSpinBox>
#include <QVBoxLayout>

#include <cmath>

namespace markerlamp::app {

namespace {

constexpr int kLeastMinutes = 5;
constexpr int kMostMinutes = 180;
constexpr int kUsualMinutes = 25;
const QString kMinutesKey = QStringLiteral("drill/minutes");

QString minutesWords(double minutes) {
    return DrillPanel::tr("%1 min").arg(numberText(std::round(minutes * 10) / 10));
}

}  // namespace

QString drillAsText(const DrillView& view) {
    QStringList lines{planWords(view.plan)};
    for (std::size_t i = 0; i < view.lines.size(); ++i) {
        const core::DrillLine& line = view.lines[i];
        QString text = DrillPanel::tr("%1. %2: %3 (%4)", "number, zone, what to do, minutes")
                           .arg(i + 1)
                           .arg(qs(line.title), qs(line.text), minutesWords(line.minutes));
        if (!line.caution.empty()) text += DrillPanel::tr(" Caution: %1").arg(qs(line.caution));
        lines << text;
    }
    return lines.join(QLatin1Char('\n'));
}

DrillPanel::DrillPanel(const Theme& theme, Settings& settings, ReadinessDesk& desk, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_settings(settings),
      m_desk(desk),
      m_work(new DrillWork(this)),
      m_minutes(new QSpinBox),
      m_words(new Text(theme, 13)),
      m_rows(new RowsModel({{tr("zone")}, {tr("time"), true}, {tr("brings"), true}}, this)),
      m_table(new TableView(theme, tr("Next drill"))),
      m_detail(new Text(theme, 13)) {
    setAccessibleName(tr("Next drill"));
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, qRound(theme.s(6)), 0, 0);
    column->setSpacing(qRound(theme.s(4)));
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(theme.s(10)));
    m_minutes->setRange(kLeastMinutes, kMostMinutes);
    m_minutes->setSingleStep(5);
    m_minutes->setSuffix(tr(" min"));
    m_minutes->setAccessibleName(tr("Minutes that are left"));
    m_minutes->setToolTip(tr("Minutes that are left for the drill"));
    m_minutes->setKeyboardTracking(false);
    m_minutes->setProperty("small", true);
    m_minutes->setValue(
        qBound(kLeastMinutes, settings.value(kMinutesKey, kUsualMinutes).toInt(), kMostMinutes));
    row->addWidget(m_minutes);
    m_words->setWordWrap(true);
    row->addWidget(m_words, 1);
    column->addLayout(row);
    m_table->setModel(m_rows);
    m_table->setWidths({0, 84, 140});
    m_table->horizontalHeader()->hide();
    m_table->setMinimumHeight(qRound(theme.s(53)));
    column->addWidget(m_table, 1);
    m_detail->setWordWrap(true);
    m_detail->setTextFormat(Qt::RichText);
    m_detailArea = scrollingPage(m_detail);
    m_detailArea->setMinimumHeight(qRound(theme.s(36)));
    m_detailArea->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_detailArea->setFocusPolicy(Qt::StrongFocus);  // it may need scrolling
    m_detailArea->setProperty("flat", true);
    m_detailArea->setAccessibleName(tr("What to do in this zone, with its cautions"));
    column->addWidget(m_detailArea, 1);
    // They share what is free; what they would like to have must not make the page scroll.
    for (QWidget* one : {static_cast<QWidget*>(m_table), static_cast<QWidget*>(m_detailArea)})
        one->setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Ignored);
    column->addStretch(0);
    connect(m_table->selectionModel(), &QItemSelectionModel::currentChanged, this, &DrillPanel::showDetail);
    makeControls();
    connect(m_minutes, &QSpinBox::valueChanged, this, [this](int value) {
        m_settings.setValue(kMinutesKey, value);
        m_byHand = false;
        ask();
    });
    connect(m_work, &DrillWork::done, this, &DrillPanel::take);
    connect(m_table, &TableView::opened, this, &DrillPanel::edit);
    connect(&desk, &ReadinessDesk::changed, this, [this](const QString& trainee) {
        if (trainee == m_trainee) ask();
    });
    connect(&theme, &Theme::changed, this, &DrillPanel::fill);
}

void DrillPanel::makeControls() {
    const auto link = [this](const QString& words, const QString& name, auto slot) {
        QPushButton* made = makeSmallLink(m_theme, words, name);
        connect(made, &QPushButton::clicked, this, slot);
        return made;
    };
    m_edit = link(tr("edit"), tr("Edit the drill"), [this] { edit(); });
    m_copy = link(tr("copy"), tr("Copy the drill as text"), [this] {
        const int count = copy();
        emit said(tr("%n line(s) of the drill copied", nullptr, count));
    });
    m_print =
        link(tr("print"), tr("Print the progress sheet with this drill"), [this] { emit printRequested(); });
    m_start = link(tr("start"), tr("Start an attempt with the zones of this drill"), [this] { start(); });
}

std::vector<QWidget*> DrillPanel::controls() const {
    return {m_edit, m_copy, m_print, m_start};
}

int DrillPanel::minutes() const {
    return m_minutes->value();
}

void DrillPanel::showTrainee(const QString& key) {
    if (key != m_trainee) {
        m_view.reset();
        m_planner.reset();
        m_byHand = false;
    }
    m_trainee = key;
    ask();
}

void DrillPanel::ask() {
    const ReadinessStanding& standing = m_desk.of(m_trainee);
    const auto& planner = standing.answer.planner;
    if (planner != m_planner) {
        // Blocks have numbers of their own in another planner: what was chosen by hand does not carry over.
        m_byHand = false;
        m_view.reset();
    }
    const bool again =
        !m_byHand && planner &&
        (planner != m_planner || !m_view || m_view->plan.parts.empty() || sender() == m_minutes);
    m_planner = planner;
    if (again) m_work->plan(planner, minutes());
    fill();
}

void DrillPanel::take(std::shared_ptr<const DrillView> view) {
    if (view->planner != m_planner) return;
    m_view = std::move(view);
    fill();
}

QString DrillPanel::remark() const {
    if (!m_view) return {};
    return m_byHand ? tr("changed by hand") : QString();
}

QString DrillPanel::nothingWords() const {
    const ReadinessStanding& standing = m_desk.of(m_trainee);
    if (standing.state == ReadinessStanding::State::Failed)
        return tr("No drill: %1").arg(errorText(standing.error, 1));
    if (standing.known && !standing.plannerLeftOut && !standing.answer.planner)
        return tr("There is nothing to plan from yet.");
    return tr("Planned when readiness is worked out.");
}

void DrillPanel::fill() {
    std::vector<Row> rows;
    if (m_view) {
        for (std::size_t i = 0; i < m_view->lines.size(); ++i) {
            const core::DrillLine& line = m_view->lines[i];
            rows.push_back({qs(line.zone),
                            {longCell(qs(line.title)), sortedCell(minutesWords(line.minutes), line.minutes),
                             mutedCell(gainWords(m_view->gains[i], m_view->points[i], m_view->plan.aim))}});
        }
        m_words->setText(planWords(m_view->plan));
    } else {
        m_words->setText(m_planner ? tr("Choosing what brings most...") : nothingWords());
    }
    const bool any = !rows.empty();
    m_table->setVisible(any);
    m_rows->setRows(std::move(rows));
    m_table->selectRowAt(0);
    m_detailArea->setVisible(any);
    showDetail();
    m_minutes->setEnabled(m_planner != nullptr);
    m_edit->setEnabled(m_view != nullptr);
    for (QPushButton* button : {m_copy, m_print, m_start}) button->setEnabled(any);
    emit filled();
}

void DrillPanel::showDetail() {
    const int row = m_table->currentIndex().row();
    if (!m_view || row < 0 || row >= static_cast<int>(m_view->lines.size())) {
        m_detail->clear();
        return;
    }
    const core::DrillLine& line = m_view->lines[static_cast<std::size_t>(row)];
    QString words;
    // Before what to do: nobody has to scroll for it.
    if (!line.caution.empty())
        words = QStringLiteral("<b>%1</b><br>").arg(tr("Caution: %1").arg(qs(line.caution)).toHtmlEscaped());
    words += tr("%1: %2.", "zone, what to do").arg(qs(line.title), qs(line.text)).toHtmlEscaped();
    m_detail->setText(words);
}

int DrillPanel::copy() const {
    if (!m_view) return 0;
    QGuiApplication::clipboard()->setText(drillAsText(*m_view));
    return static_cast<int>(m_view->lines.size());
}

void DrillPanel::edit() {
    if (!m_view) return;
    DrillDialog dialog(m_theme, m_view, minutes(), this);
    if (dialog.exec() != QDialog::Accepted || !dialog.view() || dialog.view()->planner != m_planner) return;
    m_view = dialog.view();
    m_byHand = true;
    fill();
    emit said(tr("Drill changed: %1").arg(planWords(m_view->plan)));
}

void DrillPanel::start() {
    if (!m_view || m_view->plan.parts.empty()) return;
    DrillAttempt attempt;
    attempt.trainee = m_trainee;
    if (const auto& rubric = m_view->planner->draws().scope.rubric) {
        attempt.rubric = rubric->id;
        attempt.edition = rubric->edition;
    }
    attempt.zones = m_view->planner->zonesOf(m_view->plan);
    attempt.besides = m_view->planner->besides(m_view->plan);
    emit startRequested(attempt);
}

}  // namespace markerlamp::app
