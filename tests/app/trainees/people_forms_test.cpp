// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/trainees/people_forms.h"

#include <gtest/gtest.h>

#include <QDate>
#include <QLocale>

namespace markerlamp::app {
namespace {

class DateFields : public ::testing::Test {
protected:
    ~DateFields() override { QLocale::setDefault(m_before); }
    static std::string read(const char* text) {
        return dateFrom(QStringLiteral("Date"), QString::fromLatin1(text), true).value_or("none");
    }
    QLocale m_before;
};

TEST_F(DateFields, TakeAYearOfTwoDigitsForOneOfThisCentury) {
    QLocale::setDefault(QLocale(QLocale::English, QLocale::UnitedStates));
    EXPECT_EQ(read("12/3/26"), "2026-12-03") << "month first, as the desktop writes it";
    EXPECT_EQ(read("2026-12-03"), "2026-12-03");
    EXPECT_EQ(read("1999-12-31"), "1999-12-31");
    EXPECT_EQ(read("3 December"), "none");
    EXPECT_EQ(read("2026-02-30"), "none");
}

TEST_F(DateFields, SayWhatWouldBeRight) {
    QLocale::setDefault(QLocale::c());
    const auto refused = dateFrom(QStringLiteral("Date"), QStringLiteral("12/3/26"), true);
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().message.find("YYYY-MM-DD"), std::string::npos);
    EXPECT_NE(refused.error().message.find(QDate::currentDate().toString(Qt::ISODate).toStdString()),
              std::string::npos);
}

}  // namespace
}  // namespace markerlamp::app
