// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/effect_block.h"

#include "app/rubrics/effect_chart.h"
#include "app/rubrics/effect_reader.h"
#include "app/support/display.h"

#include <QCheckBox>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QLocale>
#include <QProgressBar>
#include <QTimer>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

/// After the last change; typing does not start a trial with each letter.
constexpr int kQuietMilliseconds = 700;

}  // namespace

EffectBlock::EffectBlock(const Theme& theme, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_reader(new EffectReader(this)),
      m_wait(new QTimer(this)),
      m_head(new BlockHead(theme, tr("What the edition would do"))),
      m_chart(new EffectChart(theme)),
      m_list(makeLink(theme, tr("List them"))),
      m_countNew(new QCheckBox(tr("Count what is new as omitted"))),
      m_bar(new QProgressBar),
      m_stop(makeLink(theme, tr("Stop"))) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(theme.s(2)));
    column->addWidget(m_head);
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(theme.s(16)));
    row->addWidget(m_chart, 520);
    auto* words = new QVBoxLayout;
    words->setSpacing(qRound(theme.s(2)));
    auto* counts = new QGridLayout;
    counts->setHorizontalSpacing(qRound(theme.s(12)));
    counts->setVerticalSpacing(0);
    counts->setColumnStretch(1, 1);
    const auto addRow = [&](int number, Text*& count, Text*& text) {
        count = new Text(theme, 18, true);
        count->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
        count->setMinimumWidth(qRound(theme.s(56)));
        text = new Text(theme, 13);
        text->setElided();
        counts->addWidget(count, number, 0);
        counts->addWidget(text, number, 1);
    };
    addRow(0, m_count, m_countWords);
    addRow(1, m_changed, m_changedWords);
    addRow(2, m_mean, m_meanWords);
    words->addLayout(counts);
    m_remark = new Text(theme, 13, false, Ink::Muted);
    m_remark->setElided();
    words->addWidget(m_remark);
    QFont small = theme.font(13);
    m_countNew->setFont(small);
    small.setUnderline(true);
    m_list->setFont(small);
    m_stop->setFont(small);
    m_list->setAccessibleName(tr("List the attempts whose result would change, and the differences"));
    m_bar->setRange(0, 1000);
    m_bar->setTextVisible(false);
    m_bar->setAccessibleName(tr("How far the trial scoring is"));
    m_bar->setFixedHeight(qRound(theme.s(8)));
    auto* foot = new QHBoxLayout;
    foot->setSpacing(qRound(theme.s(12)));
    foot->addWidget(m_list);
    foot->addWidget(m_countNew);
    foot->addWidget(m_bar, 1);
    foot->addWidget(m_stop);
    foot->addStretch(1);
    words->addLayout(foot);
    words->addStretch(1);
    row->addLayout(words, 456);
    column->addLayout(row, 1);

    m_wait->setSingleShot(true);
    m_wait->setInterval(kQuietMilliseconds);
    connect(m_wait, &QTimer::timeout, this, &EffectBlock::start);
    connect(m_reader, &EffectReader::progressed, m_bar, &QProgressBar::setValue);
    connect(m_reader, &EffectReader::read, this, &EffectBlock::show);
    connect(m_reader, &EffectReader::failed, this, [this](const core::Error& error) {
        m_trouble = errorText(error, 1);
        showState();
    });
    connect(m_reader, &EffectReader::stopped, this, &EffectBlock::showState);
    connect(m_list, &QPushButton::clicked, this, &EffectBlock::listRequested);
    connect(m_stop, &QPushButton::clicked, this, &EffectBlock::toggleRun);
    connect(m_countNew, &QCheckBox::toggled, this, &EffectBlock::refresh);
    showState();
}

EffectBlock::~EffectBlock() = default;

void EffectBlock::setDraft(Draft* draft, const QString& path) {
    m_reader->stop();
    m_draft = draft;
    m_path = path;
    m_effect.reset();
    refresh();
}

void EffectBlock::refresh() {
    m_old = true;
    m_stopped = false;
    m_trouble.clear();
    m_reader->stop();
    if (m_draft != nullptr && !m_held) m_wait->start();
    showState();
}

void EffectBlock::hold(bool on) {
    if (m_held == on) return;
    m_held = on;
    if (on) {
        m_wait->stop();
        m_reader->stop();
    } else if (m_draft != nullptr && m_old && !m_stopped) {
        m_wait->start();
    }
}

const core::EditionEffect* EffectBlock::effect() const {
    return m_effect && !m_old ? &*m_effect : nullptr;
}

core::NewThings EffectBlock::newThings() const {
    return m_countNew->isChecked() ? core::NewThings::CountAsOmitted : core::NewThings::TakeNoPart;
}

void EffectBlock::start() {
    if (m_draft == nullptr || m_held || !m_draft->isSound()) {
        showState();
        return;
    }
    m_bar->setValue(0);
    m_reader->start(m_path, m_draft->rubricPtr(), newThings());
    showState();
}

void EffectBlock::toggleRun() {
    m_stopped = m_reader->isRunning();
    if (m_stopped)
        m_reader->stop();
    else
        start();
    showState();
}

void EffectBlock::show(const core::EditionEffect& effect, double seconds) {
    if (m_draft == nullptr || m_reader->draft() != m_draft->rubricPtr()) return;
    m_effect = effect;
    m_old = false;
    const core::Rubric& rubric = m_draft->rubric();
    m_chart->setEffect(effect, m_draft->base() ? m_draft->base()->pass.percent : rubric.pass.percent,
                       rubric.pass.percent, effectInWords(effect));
    const core::EditionEffect::Change change = effect.change();
    m_count->setText(QString::number(effect.results.size()));
    m_countWords->setText(tr("stored attempts, scored again as a trial; their results stay"));
    m_changed->setText(QString::number(effect.changed()));
    m_changedWords->setText(tr("change result (solid); no longer pass: %1, now pass: %2")
                                .arg(effect.noLongerPass())
                                .arg(effect.nowPass()));
    m_mean->setText(signedText(change.mean));
    m_meanWords->setText(
        tr("points on average (from %1 to %2)").arg(signedText(change.least), signedText(change.most)));
    m_remark->setText(trialRemarks(effect, m_draft->difference(), newThings()));
    showState();
    m_head->setRight(tr("trial scoring, %1 s").arg(QLocale().toString(seconds, 'f', 1)));
    emit effectKnown();
}

void EffectBlock::showState() {
    const bool running = m_reader->isRunning();
    const bool known = effect() != nullptr;
    if (m_draft != nullptr)
        m_head->setRemark(m_draft->base() ? differenceInWords(m_draft->difference())
                                          : tr("the first edition of a new rubric"));
    m_bar->setVisible(running);
    m_stop->setVisible(running || m_stopped);
    m_stop->setText(running ? tr("Stop") : tr("Go on"));
    m_list->setVisible(known);
    for (Text* text : {m_count, m_countWords, m_changed, m_mean, m_meanWords, m_remark})
        text->setVisible(known);
    m_chart->setVisible(known && !m_effect->results.empty());
    if (known) {
        m_changed->setVisible(true);
        if (m_effect->results.empty()) {
            for (Text* text : {m_count, m_countWords, m_changed, m_mean, m_meanWords})
                text->setVisible(false);
            m_remark->setVisible(true);
            m_remark->setText(effectInWords(*m_effect));
        }
        m_changedWords->setVisible(!m_effect->results.empty());
        return;
    }
    m_head->setRight({});
    m_changedWords->setVisible(true);
    m_changedWords->setText(effectWords());
}

QString EffectBlock::effectInFull() const {
    const core::EditionEffect* known = effect();
    if (known == nullptr) return effectWords();
    return QStringList{effectInWords(*known), trialRemarks(*known, m_draft->difference(), newThings())}
        .join(QLatin1Char(' '))
        .trimmed();
}

QString EffectBlock::effectWords() const {
    if (const core::EditionEffect* known = effect()) return effectInWords(*known);
    if (!m_trouble.isEmpty()) return m_trouble;
    if (m_draft != nullptr && !m_draft->isSound())
        return tr("Worked out once nothing is wrong with the draft.");
    if (m_stopped) return tr("Stopped: the effect on stored attempts is not known.");
    return tr("Scoring the stored attempts again as a trial...");
}

}  // namespace markerlamp::app
