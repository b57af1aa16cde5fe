// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/start/resume_card.h"

#include "app/start/start_widgets.h"

#include <QHBoxLayout>
#include <QPainter>
#include <QVBoxLayout>

namespace markerlamp::app {

ResumeCard::ResumeCard(const Theme& theme, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_row(new QHBoxLayout(this)),
      m_why(new Text(theme, 15, false, Ink::Muted)),
      m_what(new FitText(theme, {25, 20, 18, 15})),
      m_next(makeLink(theme, {})),
      m_resume(new KeyButton(theme, tr("Resume"), tr("Enter"), true)),
      m_finish(new KeyButton(theme, tr("Finish as it stands"))),
      m_aside(new KeyButton(theme, tr("Set aside"))) {
    const auto px = [&theme](double v) { return qRound(theme.s(v)); };
    m_row->setContentsMargins(px(24), px(8), px(16), px(8));
    m_row->setSpacing(px(8));
    auto* words = new QVBoxLayout;
    words->setSpacing(px(2));
    auto* first = new QHBoxLayout;
    m_why->setElided();
    first->addWidget(m_why, 1);
    first->addWidget(m_next);
    words->addLayout(first);
    words->addWidget(m_what);
    auto* kept = new Text(theme, 15, false, Ink::Muted,
                          tr("Every scored step is kept. The time since then counts as a pause."));
    kept->setElided();
    words->addWidget(kept);
    m_row->addLayout(words, 1);
    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(px(8));
    m_resume->setLarge(true);
    m_finish->setLarge();
    m_aside->setLarge();
    for (KeyButton* button : {m_resume, m_finish, m_aside}) buttons->addWidget(button);
    buttons->addStretch();
    m_row->addLayout(buttons);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);

    connect(m_next, &QPushButton::clicked, this, [this] { showAt((m_index + 1) % m_ids.size()); });
    connect(m_resume, &QPushButton::clicked, this, [this] { emit resumeRequested(m_ids.at(m_index)); });
    connect(m_finish, &QPushButton::clicked, this, [this] { emit finishRequested(m_ids.at(m_index)); });
    connect(m_aside, &QPushButton::clicked, this, [this] { emit setAsideRequested(m_ids.at(m_index)); });
    connect(&theme, &Theme::changed, this, qOverload<>(&QWidget::update));
    hide();
}

void ResumeCard::setAttempts(const StartForm& form) {
    m_ids.clear();
    m_words.clear();
    m_whys.clear();
    for (const UnfinishedAttempt& attempt : form.data().unfinished) {
        m_ids << attempt.id;
        m_words << form.unfinishedWords(attempt);
        m_whys << (attempt.crashed ? tr("Not finished: the program stopped while the clock ran")
                                   : tr("Not finished: the clock stood still"));
    }
    setVisible(!m_ids.isEmpty());
    if (!m_ids.isEmpty()) showAt(0);
}

void ResumeCard::showAt(qsizetype index) {
    m_index = index;
    m_why->setText(m_whys.at(index));
    m_what->setText(m_words.at(index));
    m_next->setVisible(m_ids.size() > 1);
    m_next->setText(tr("%1 of %2, show the next").arg(index + 1).arg(m_ids.size()));
    for (KeyButton* button : {m_resume, m_finish, m_aside})
        button->setAccessibleDescription(m_words.at(index));
}

void ResumeCard::setNarrow(bool narrow) {
    m_row->setDirection(narrow ? QBoxLayout::TopToBottom : QBoxLayout::LeftToRight);
}

void ResumeCard::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    painter.fillRect(rect(), roles.panel);
    const double bar = m_theme.s(6);
    painter.fillRect(QRectF(layoutDirection() == Qt::RightToLeft ? width() - bar : 0, 0, bar, height()),
                     roles.ink);
    paintOutline(painter, rect(), roles.ink, m_theme.s(2), m_theme.s(4));
}

}  // namespace markerlamp::app
