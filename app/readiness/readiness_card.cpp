// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/readiness_card.h"

#include "app/readiness/readiness_words.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/names.h"
#include "app/support/sign_widgets.h"
#include "app/support/small_screens.h"
#include "forms/signs/readiness_sign.h"

#include <QHBoxLayout>
#include <QPainter>
#include <QPointer>
#include <QProgressBar>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

namespace {

using State = ReadinessStanding::State;

constexpr std::size_t kReasons = 4;
/// Gates that are met stand in one line where single lines would make the card too high.
constexpr int kGateLines = 6;
/// What the pages give to it at 1366x768.
constexpr double kHeight = 172;

bool hasReasons(const core::Readiness& readiness) {
    return !readiness.forecast.holding.empty() && !readiness.forecast.tooLittle;
}

}  // namespace

ReadinessShape::ReadinessShape(const Theme& theme, core::ReadinessWord word, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_word(word) {
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
}

QSize ReadinessShape::sizeHint() const {
    return {qCeil(m_theme.s(26)), qCeil(m_theme.s(26))};
}

void ReadinessShape::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const double z = m_theme.s(24);
    forms::Roles roles = m_theme.roles();
    roles.ground = roles.panel;
    forms::paintReadiness(painter, QRectF((width() - z) / 2, (height() - z) / 2, z, z), m_word, roles,
                          m_theme.scale());
}

OfTenLine::OfTenLine(const Theme& theme, const core::Forecast& forecast, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_known(!forecast.tooLittle),
      m_chance(forecast.chance),
      m_low(forecast.low),
      m_high(forecast.high) {
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    setAccessibleName(m_known ? tr("Number line: %1 would pass").arg(inTenWords(m_chance))
                              : tr("Number line without a mark: too little data"));
    setToolTip(m_known
                   ? tr("Of ten trainees with these marks, so many would pass; the bar is the 90 % interval")
                   : QString());
}

QSize OfTenLine::sizeHint() const {
    return {qCeil(m_theme.s(190)), qCeil(forms::ofTenHeight(m_theme.font(13), m_theme.scale()) + 2)};
}

void OfTenLine::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const forms::OfTen value{m_chance, m_low, m_high};
    forms::paintOfTen(painter, QRectF(rect()).adjusted(0, 1, 0, -1), m_known ? &value : nullptr,
                      tr("in 10", "after the number 10 at the end of the line"), m_theme.font(13),
                      m_theme.roles(), m_theme.scale());
}

ReadinessCard::ReadinessCard(const Theme& theme, ReadinessDesk& desk, Width width, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_desk(desk), m_width(width) {
    setAccessibleName(tr("Readiness"));
    auto* frame = new QVBoxLayout(this);
    frame->setContentsMargins(0, 0, 0, 0);
    auto* inside = new QWidget;
    m_content = new QVBoxLayout(inside);
    const int side = qRound(theme.s(12));
    m_content->setContentsMargins(side, qRound(theme.s(4)), side, qRound(theme.s(4)));
    m_content->setSpacing(qRound(theme.s(4)));
    m_scroll = scrollingPage(inside);
    m_scroll->setProperty("clear", true);  // the panel's ground shows through
    m_scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_scroll->viewport()->setAutoFillBackground(false);
    inside->setAutoFillBackground(false);
    frame->addWidget(m_scroll);
    connect(&desk, &ReadinessDesk::changed, this, [this](const QString& trainee) {
        if (trainee == m_trainee) fill();
    });
    connect(&desk, &ReadinessDesk::progressed, this, [this](const QString& trainee, double share) {
        if (trainee != m_trainee) return;
        if (m_bar != nullptr) m_bar->setValue(qRound(100 * share));
        emit filled();
    });
    connect(&theme, &Theme::changed, this, &ReadinessCard::fill);
}

void ReadinessCard::showTrainee(const QString& key) {
    m_trainee = key;
    m_desk.ask(key);
    fill();
}

void ReadinessCard::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    painter.fillRect(rect(), roles.panel);
    if (roles.panel == roles.ground) {  // Sun has one ground only
        painter.setPen(QPen(roles.line, roles.minStroke));
        painter.drawRect(QRectF(rect()).adjusted(1, 1, -1, -1));
    }
}

QSize ReadinessCard::sizeHint() const {
    return {qRound(m_theme.s(420)), qRound(m_theme.s(kHeight))};
}

QString ReadinessCard::remark() const {
    const ReadinessStanding& standing = m_desk.of(m_trainee);
    switch (standing.state) {
        case State::Held:
            return tr("waits until scoring is over");
        case State::Waiting:
            return standing.known ? tr("from before the last change; being worked out anew") : QString();
        case State::Computing:
            return standing.known ? tr("from before the last change; %1 of the new figures")
                                        .arg(percentText(100 * standing.progress))
                                  : QString();
        case State::Stopped:
            return standing.known ? tr("from before the last change; stopped") : QString();
        case State::Failed:
            return standing.known ? tr("from before the last change; the new figures failed") : QString();
        case State::Known:
            return tr("full test now, bar: 90 % interval, as of %1 %2", "date, time")
                .arg(shortDate(standing.at.date()), standing.at.time().toString(QStringLiteral("HH:mm")));
        case State::Idle:
            break;
    }
    return {};
}

void ReadinessCard::fill() {
    m_bar = nullptr;
    clearLayout(m_content);
    const ReadinessStanding& standing = m_desk.of(m_trainee);
    if (standing.known)
        fillKnown(standing);
    else
        fillWaiting(standing);
    emit filled();
}

void ReadinessCard::fillWaiting(const ReadinessStanding& standing) {
    auto* column = new QVBoxLayout;
    column->setSpacing(qRound(m_theme.s(8)));
    QString words;
    QString button;
    switch (standing.state) {
        case State::Computing:
        case State::Waiting:
            words =
                tr("Reading all marks and working out the chance of passing. Everything else can be used "
                   "meanwhile.");
            button = tr("Stop");
            break;
        case State::Held:
            words = tr("Worked out when scoring is over: nothing may slow down the presses.");
            break;
        case State::Failed:
            words = tr("It cannot be worked out: %1").arg(errorText(standing.error, 3));
            button = tr("Try again");
            break;
        default:
            words = tr("Not worked out yet.");
            button = tr("Work it out");
    }
    addText(column, words);
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(m_theme.s(12)));
    if (standing.state == State::Computing || standing.state == State::Waiting) {
        m_bar = new QProgressBar;
        m_bar->setRange(0, 100);
        m_bar->setValue(qRound(100 * standing.progress));
        m_bar->setAccessibleName(tr("Readiness, progress"));
        m_bar->setMaximumWidth(qRound(m_theme.s(280)));
        row->addWidget(m_bar, 1);
    }
    if (!button.isEmpty()) {
        QPushButton* link = makeLink(m_theme, button);
        const bool stops = standing.state == State::Computing || standing.state == State::Waiting;
        connect(link, &QPushButton::clicked, this, [this, stops] {
            if (stops)
                m_desk.stop();
            else
                m_desk.ask(m_trainee);
        });
        row->addWidget(link);
    }
    row->addStretch(1);
    column->addLayout(row);
    column->addStretch(1);
    m_content->addLayout(column, 1);
    setAccessibleDescription(words);
}

void ReadinessCard::fillKnown(const ReadinessStanding& standing) {
    const core::Readiness& readiness = standing.answer.readiness;
    auto* columns = new QHBoxLayout;
    columns->setSpacing(qRound(m_theme.s(m_width == Width::Wide ? 20 : 14)));
    const auto column = [&](int stretch) {
        auto* made = new QVBoxLayout;
        made->setSpacing(qRound(m_theme.s(1)));
        columns->addLayout(made, stretch);
        return made;
    };
    QVBoxLayout* word = column(m_width == Width::Wide ? 250 : 210);
    QVBoxLayout* gates = column(m_width == Width::Wide ? 350 : 310);
    addWord(word, readiness);
    addGates(gates, readiness);
    std::vector<QVBoxLayout*> all{word, gates};
    if (hasReasons(readiness)) {
        all.push_back(column(m_width == Width::Wide ? 190 : 160));
        addHolding(all.back(), readiness);
    }
    for (QVBoxLayout* one : all) one->addStretch(1);
    m_content->addLayout(columns);
    if (!readiness.change.empty()) addText(m_content, qs(readiness.change));
    m_content->addStretch(1);
    setAccessibleDescription(readinessSentence(readiness, m_desk.settings()) + QLatin1Char(' ') +
                             qs(readiness.change));
}

void ReadinessCard::addWord(QVBoxLayout* column, const core::Readiness& readiness) {
    const core::ReadinessSettings settings = m_desk.settings();
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(m_theme.s(8)));
    row->addWidget(new ReadinessShape(m_theme, readiness.word));
    auto* word = new Text(m_theme, m_width == Width::Wide ? 25 : 22, true, Ink::Full,
                          qs(core::shownWord(readiness.word, settings)));
    row->addWidget(word);
    row->addStretch(1);
    column->addLayout(row);
    if (readiness.override_) {
        const QString by = instructorName(m_desk.session().file(), readiness.override_->by);
        addText(column, overrideWords(*readiness.override_, by, readiness.computed, settings), true);
    }
    auto* sentence = addText(column, qs(core::chanceInWords(readiness.forecast)));
    sentence->setAccessibleName(sentence->text());
    column->addSpacing(qRound(m_theme.s(2)));
    column->addWidget(new OfTenLine(m_theme, readiness.forecast));
}

Text* ReadinessCard::addText(QVBoxLayout* column, const QString& words, bool bold, bool muted) {
    auto* text = new Text(m_theme, 13, bold, muted ? Ink::Muted : Ink::Full, words);
    text->setWordWrap(true);
    column->addWidget(text);
    return text;
}

void ReadinessCard::addGates(QVBoxLayout* column, const core::Readiness& readiness) {
    if (readiness.gates.empty()) return;
    column->addWidget(new Text(m_theme, 13, true, Ink::Full, tr("Gates")));
    int before = 0;
    QStringList met;
    for (const core::Gate& gate : readiness.gates) {
        if (gate.state == core::GateState::Met)
            met << gateName(gate);
        else
            before += 2;  // a sentence, most of them of two lines
    }
    const bool each = before + met.size() <= kGateLines;
    for (const core::Gate& gate : readiness.gates)
        if (gate.state != core::GateState::Met || each) addGate(column, gate);
    if (each || met.isEmpty()) return;
    core::Gate together;
    together.state = core::GateState::Met;
    together.why = ss(tr("open: %1", "gates that are met").arg(met.join(tr(", "))));
    addGate(column, together);
}

void ReadinessCard::addGate(QVBoxLayout* column, const core::Gate& gate) {
    using core::GateState;
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(m_theme.s(8)));
    const auto lamp = gate.state == GateState::Met      ? forms::LampState::Lit
                      : gate.state == GateState::NotMet ? forms::LampState::Open
                                                        : forms::LampState::NotReached;
    auto* sign = new GateWidget(m_theme, lamp);
    const QString state = gate.state == GateState::Met      ? tr("open", "gate")
                          : gate.state == GateState::NotMet ? tr("shut", "gate")
                                                            : tr("not known", "gate");
    sign->setAccessibleName(state);
    sign->setToolTip(state);
    row->addWidget(sign, 0, Qt::AlignTop);
    const QString why = qs(gate.why);
    const QString words = gate.state == GateState::Met && !gate.id.empty() ? gateName(gate) : why;
    if (gate.state != GateState::Met && !gate.attempts.empty()) {
        // A wrapping link: the words of a shut gate are a sentence.
        QPushButton* link = makeSmallLink(m_theme, tr("marks"));
        link->setAccessibleName(tr("Marks of: %1").arg(why));
        const QString attempt = qs(gate.attempts.front());
        const QString step = gate.steps.empty() ? QString() : qs(gate.steps.front());
        connect(link, &QPushButton::clicked, this,
                [this, attempt, step] { emit marksRequested(attempt, step); });
        auto* text = new Text(m_theme, 13, gate.state == GateState::NotMet, Ink::Full, words);
        text->setWordWrap(true);
        row->addWidget(text, 1);
        row->addWidget(link, 0, Qt::AlignTop);
    } else {
        auto* text = new Text(m_theme, 13, gate.state == GateState::NotMet, Ink::Full, words);
        text->setWordWrap(true);
        text->setToolTip(why);
        row->addWidget(text, 1);
    }
    column->addLayout(row);
}

QPushButton* ReadinessCard::addLinkRow(QVBoxLayout* column, const QString& words, const QString& figure) {
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(m_theme.s(8)));
    QPushButton* link = makeSmallLink(m_theme, words);
    row->addWidget(link);
    row->addStretch(1);
    row->addWidget(new Text(m_theme, 13, false, Ink::Muted, figure));
    column->addLayout(row);
    return link;
}

QString ReadinessCard::stepOf(const core::Holding& holding, const QString& attempt) const {
    if (holding.kind == core::Holding::Kind::Step) return qs(holding.id);
    if (holding.kind != core::Holding::Kind::Zone) return {};
    // The first step of the zone that was not done by oneself in that attempt.
    const auto scored = m_desk.session().scored(attempt);
    if (!scored) return {};
    for (const core::StepScore& step : scored->card.steps)
        if (step.zone == holding.id && step.outcome != core::StepOutcome::Satisfied &&
            step.outcome != core::StepOutcome::Unseen && step.outcome != core::StepOutcome::Unreached)
            return qs(step.step);
    return {};
}

void ReadinessCard::addHolding(QVBoxLayout* column, const core::Readiness& readiness) {
    const auto& holding = readiness.forecast.holding;
    column->addWidget(new Text(m_theme, 13, true, Ink::Full, tr("Holding back, last 4")));
    for (std::size_t i = 0; i < std::min(holding.size(), kReasons); ++i) {
        const core::Holding& one = holding[i];
        QPushButton* link = addLinkRow(column, qs(one.title), holdingCounts(one));
        link->setToolTip(tr("Right by oneself in the last 4 attempts: %1").arg(holdingCounts(one)));
        link->setAccessibleName(tr("%1, %2: open the marks").arg(qs(one.title), holdingCounts(one)));
        link->setEnabled(!one.attempts.empty());
        if (one.attempts.empty()) continue;
        connect(link, &QPushButton::clicked, this, [this, one] {
            const QString attempt = qs(one.attempts.front());
            emit marksRequested(attempt, stepOf(one, attempt));
        });
    }
}

}  // namespace markerlamp::app
