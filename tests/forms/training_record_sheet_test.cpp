// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/training_record_sheet.h"

#include "sheet_support.h"

namespace {

using namespace markerlamp;
using namespace markerlamp::forms;
using namespace markerlamp::forms::testing;

core::PersonFile person(int entries) {
    core::PersonFile file;
    file.trainee.key = "t-1";
    file.trainee.name = "Ada Example";
    file.trainee.theoryPercent = 92.5;
    file.trainee.theoryDate = "2026-07-01";
    file.licence = {"t-1", "S 778-99", "OH"};
    file.course.trainee = "t-1";
    file.course.rangeDone = "2026-11-20";
    file.course.roadDone = "2026-11-25";
    file.course.proficientOn = "2026-11-25";
    file.course.proficientBy = "i-1";
    for (int i = 0; i < entries; ++i)
        file.hours.push_back(
            {"h" + std::to_string(i), "t-1", "2026-11-20",
             i % 2 == 0 ? core::HoursKind::Range : core::HoursKind::PublicRoad, 75, "i-1",
             i % 5 == 0 ? "rain, the whole way; went twice over the crossing in the dark" : "",
             "2026-11-20T16:00:00-05:00", "", false});
    file.results = {{"r-1", "t-1", "2026-11-26", "inspection", false, ""},
                    {"r-2", "t-1", "2026-11-28", "inspection", true, ""}};
    return file;
}

TrainingRecordInput inputOf(const core::PersonFile& file, Paper paper = Paper::Letter) {
    core::PeopleSettings settings;
    settings.providerName = "Invented district, driver training";
    settings.providerPlace = "Pinewater, Ohio";
    settings.providerNumber = "00-1234";
    TrainingRecordInput input;
    input.record = core::trainingRecord(file, settings);
    input.programTitle = QStringLiteral("Invented program");
    input.instructors = {{"i-1", QStringLiteral("Kim Teacher")}};
    input.version = QStringLiteral("0.1.0");
    input.printed = QDateTime(QDate(2026, 11, 28), QTime(7, 5));
    input.paper = paper;
    return input;
}

TEST(TrainingRecordSheet, SaysWhatACertificationHoldsAndWhatIsMissing) {
    const PdfFolder folder;
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const Sheet sheet = trainingRecordSheet(inputOf(person(10), paper));
        expectTidy(sheet);
        EXPECT_TRUE(letters(textOf(sheet, 0)).contains(letters(QStringLiteral("For the training provider"))))
            << "signed on the first page, whatever the log takes";
        // 49 CFR 380.717(a)-(e).
        for (const char* words :
             {"Ada Example", "S 778-99", "OH", "B P S", "theory and behind the wheel",
              "Invented district, driver training, Pinewater, Ohio", "00-1234",
              "12:30 hours (range 6:15, public road 6:15)", "1 Jul 2026, result 92.5 %",
              "25 Nov 2026, by Kim Teacher", "due by the end of 30 Nov 2026", "due by the end of 6 Jul 2026",
              "vehicle inspection", "not passed", "Kim Teacher", "Copy of permit or license on file",
              "made elsewhere", "official rules decide"})
            EXPECT_TRUE(saysSo(sheet, words)) << words;
        EXPECT_FALSE(saysSo(sheet, "Provider of the theory training")) << "not asked of who teaches theory";
        ASSERT_TRUE(
            writePdf(sheet, folder.path(QStringLiteral("record-%1.pdf").arg(static_cast<int>(paper)))));
    }
}

TEST(TrainingRecordSheet, GoesOnOverPagesWithALongLog) {
    const PdfFolder folder;
    const Sheet sheet = trainingRecordSheet(inputOf(person(120)));
    expectTidy(sheet);
    EXPECT_GT(sheet.pages(), 2);
    for (int page = 1; page < sheet.pages(); ++page)
        EXPECT_TRUE(
            letters(textOf(sheet, page)).contains(letters(QStringLiteral("Training record, continued"))));
    EXPECT_TRUE(saysSo(sheet, "Clock hours, continued"));
    EXPECT_TRUE(saysSo(sheet, "150:00 hours (range 75:00, public road 75:00)"));
    EXPECT_TRUE(saysSo(sheet, "range 75:00, public road 75:00")) << "the sum under the log";
    EXPECT_TRUE(saysSo(sheet, "150:00"));
    EXPECT_EQ(textOf(sheet).count(QStringLiteral("1:15")), 120) << "no entry is dropped";
    ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("record-long.pdf"))));
}

TEST(TrainingRecordSheet, IsPlainAboutAPersonWithNothingOnFile) {
    core::PersonFile nobody;
    nobody.trainee.key = nobody.course.trainee = "t-9";
    TrainingRecordInput input = inputOf(nobody);
    const Sheet sheet = trainingRecordSheet(input);
    expectTidy(sheet);
    EXPECT_TRUE(saysSo(sheet, "not on file"));
    EXPECT_TRUE(saysSo(sheet, "due once completed"));
    for (const core::RecordItem item : input.record.missing())
        EXPECT_TRUE(saysSo(sheet, recordItemText(item).toStdString())) << core::toWord(item);
}

TEST(TrainingRecordSheet, SaysThatNothingIsMissing) {
    core::PersonFile file = person(4);
    file.course.permitSeen = file.course.selfCertified = file.course.theoryReported = "2026-07-02";
    file.course.wheelReported = "2026-11-27";
    const Sheet sheet = trainingRecordSheet(inputOf(file));
    EXPECT_TRUE(saysSo(sheet, "Nothing of what this record asks about"));
    EXPECT_TRUE(saysSo(sheet, "sent 27 Nov 2026"));
}

TEST(TrainingRecordSheet, HoldsLongNamesOfAnotherProgram) {
    core::PersonFile file = person(3);
    file.trainee.name = "Maximiliana Constantia von und zu Hohenzollern-Sigmaringen the Younger of Pinewater";
    file.course.covers = core::Covers::Wheel;
    file.course.theoryProvider =
        "Evening school of the united invented community colleges of the three counties";
    TrainingRecordInput input = inputOf(file);
    input.record.providerName = std::string(180, 'n') + " school";
    const Sheet sheet = trainingRecordSheet(input);
    expectTidy(sheet);
    EXPECT_TRUE(saysSo(sheet, file.course.theoryProvider));
}

}  // namespace
