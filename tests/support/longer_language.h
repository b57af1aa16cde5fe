#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include <QCoreApplication>
#include <QTranslator>

namespace markerlamp::testing {

/// A language that takes a third more room: every text of the program grows by 35 %.
class LongerLanguage : public QTranslator {
public:
    LongerLanguage() { QCoreApplication::installTranslator(this); }
    ~LongerLanguage() override { QCoreApplication::removeTranslator(this); }
    [[nodiscard]] bool isEmpty() const override { return false; }
    QString translate(const char*, const char* source, const char*, int) const override {
        return longer(QString::fromUtf8(source));
    }
    static QString longer(QString text) {
        const auto more = (text.size() * 35 + 99) / 100;
        for (qsizetype i = 0; i < more; ++i) text += i % 6 == 0 ? QLatin1Char(' ') : QLatin1Char('o');
        return text;
    }
};

}  // namespace markerlamp::testing
