#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How far a reading in the background is: words, a bar, a button that stops it or goes on. There only while
// it runs, or after it was stopped.

#include "app/support/text_widgets.h"

class QProgressBar;

namespace markerlamp::app {

class FileReading;

class ReadingProgress final : public QWidget {
    Q_OBJECT

public:
    struct Words {
        QString name;     ///< what assistive technology calls the bar
        QString running;  ///< what is being done
        QString stopped;  ///< what is not known because it was stopped
    };
    ReadingProgress(const Theme& theme, FileReading& reading, Words words, QWidget* parent = nullptr);
    /// The reading begins.
    void begin();

signals:
    void goOnRequested();

private:
    void end(bool complete);

    FileReading& m_reading;
    Words m_words;
    Text* m_text;
    QProgressBar* m_bar;
    KeyButton* m_button;
};

}  // namespace markerlamp::app
