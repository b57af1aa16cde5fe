// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/reading_progress.h"

#include "app/support/file_reader.h"

#include <QHBoxLayout>
#include <QProgressBar>

namespace markerlamp::app {

ReadingProgress::ReadingProgress(const Theme& theme, FileReading& reading, Words words, QWidget* parent)
    : QWidget(parent),
      m_reading(reading),
      m_words(std::move(words)),
      m_text(new Text(theme, 13, false, Ink::Muted)),
      m_bar(new QProgressBar),
      m_button(new KeyButton(theme, tr("Stop"))) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(qRound(theme.s(12)));
    m_bar->setRange(0, 1000);
    m_bar->setTextVisible(false);
    m_bar->setAccessibleName(m_words.name);
    m_bar->setFixedHeight(qRound(theme.s(8)));
    row->addWidget(m_text);
    row->addWidget(m_bar, 1);
    row->addWidget(m_button);
    connect(m_button, &QPushButton::clicked, this, [this] {
        if (m_reading.isRunning())
            m_reading.stop();
        else
            emit goOnRequested();
    });
    connect(&reading, &FileReading::progressed, m_bar, &QProgressBar::setValue);
    connect(&reading, &FileReading::finished, this, &ReadingProgress::end);
    hide();
}

void ReadingProgress::begin() {
    m_bar->setValue(0);
    m_bar->show();
    m_button->setText(tr("Stop"));
    m_text->setText(m_words.running);
    show();
}

void ReadingProgress::end(bool complete) {
    if (m_reading.isRunning()) return;  // begun anew
    setVisible(!complete);
    m_bar->hide();
    m_text->setText(m_words.stopped);
    m_button->setText(tr("Go on"));
}

}  // namespace markerlamp::app
