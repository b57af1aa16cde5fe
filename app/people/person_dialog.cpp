// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/people/person_dialog.h"

#include "app/people/record_forms.h"
#include "app/people/record_source.h"
#include "app/printing/print_jobs.h"
#include "app/settings/people_settings_dialog.h"
#include "app/shell/session.h"
#include "app/support/block_tabs.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"
#include "app/track/result_dialog.h"
#include "core/base/files.h"

#include <QDialogButtonBox>
#include <QDir>
#include <QFileDialog>
#include <QMessageBox>
#include <QUuid>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

namespace {

/// The record of this id; one of the trainee without an id where there is none.
template <class Record>
Record recordOf(const std::vector<Record>& records, const QString& id, const std::string& trainee) {
    const auto found = std::ranges::find(records, ss(id), &Record::id);
    Record record;
    if (found != records.end()) record = *found;
    record.trainee = trainee;
    return record;
}

template <class Record>
Record struckOf(const Record& before) {
    Record record = before;
    record.replaces = before.id;
    record.id = ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
    record.at = nowIso();
    record.struck = true;
    return record;
}

core::Result<bool> changed(const core::Result<db::Added>& added) {
    if (!added) return core::fail(added.error());
    return true;
}

}  // namespace

PersonDialog::PersonDialog(const Theme& theme, Session& session, forms::Paper paper, QString trainee,
                           QWidget* parent)
    : QDialog(parent),
      m_theme(theme),
      m_session(session),
      m_paper(paper),
      m_key(std::move(trainee)),
      m_name(new Text(theme, 20, true)),
      m_ahead(new Text(theme, 15, true)),
      m_blocks(new BlockTabs(theme)) {
    resizeToScreen(*this, {qRound(theme.s(1000)), qRound(theme.s(560))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    setWindowTitle(tr("Papers, hours and tests"));
    m_name->setWordWrap(true);
    m_ahead->setWordWrap(true);
    column->addWidget(m_name);
    column->addWidget(m_ahead);
    column->addWidget(m_blocks, 1);
    const auto plain = [this](auto member) {
        return [this, member](const QString& id) { return (this->*member)(id); };
    };
    m_hours = addList(Hours, {tr("Clock hours"),
                              hoursColumns(),
                              {120, 170, 70, 190, 0},
                              tr("add hours"),
                              tr("correct"),
                              tr("take out"),
                              plain(&PersonDialog::editHours),
                              plain(&PersonDialog::strikeHours)});
    m_tests = addList(Tests, {tr("Booked tests"),
                              bookingColumns(),
                              {104, 56, 84, 0, 230, 130},
                              tr("book a test"),
                              tr("change"),
                              tr("cancel"),
                              plain(&PersonDialog::editBooking),
                              plain(&PersonDialog::cancelBooking)});
    m_results = addList(Results, {tr("Official results"),
                                  officialColumns(),
                                  {120, 200, 50, 110, 0},
                                  tr("record a result"),
                                  {},
                                  tr("take out"),
                                  [this](const QString&) { return addResult(); },
                                  plain(&PersonDialog::strikeResult)});
    m_away = addList(Away, {tr("Away"),
                            awayColumns(),
                            {130, 130, 0},
                            tr("left the program"),
                            tr("correct"),
                            tr("take out"),
                            plain(&PersonDialog::editAway),
                            plain(&PersonDialog::strikeAway)});
    addRecord();
    auto* buttons = new QDialogButtonBox;
    buttons->addButton(tr("&Close"), QDialogButtonBox::RejectRole);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    column->addWidget(buttons);
    load();
}

QPushButton* PersonDialog::link(const QString& words, const std::function<void()>& act) {
    auto* button = makeLink(m_theme, words);
    QFont small = m_theme.font(13);
    small.setUnderline(true);
    button->setFont(small);
    button->setAutoDefault(false);
    connect(button, &QPushButton::clicked, this, act);
    return button;
}

RowsModel* PersonDialog::addList(Block block, const List& list) {
    auto* model = new RowsModel(list.columns, this);
    auto* table = new TableView(m_theme, list.words);
    table->setModel(model);
    table->setWidths(list.widths);
    const auto onRow = [this, table](const Step& step) {
        return [this, table, step] {
            if (!table->currentId().isEmpty()) run(step, table->currentId());
        };
    };
    std::vector<QWidget*> ofRow{link(list.outWords, onRow(list.takeOut))};
    if (!list.editWords.isEmpty()) {
        ofRow.push_back(link(list.editWords, onRow(list.edit)));
        connect(table, &TableView::opened, this, onRow(list.edit));
    }
    std::vector<QWidget*> links = ofRow;
    links.push_back(link(list.newWords, [this, edit = list.edit] { run(edit, QString()); }));
    auto* part = new QWidget;
    auto* column = new QVBoxLayout(part);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(6)));
    column->addWidget(table, 1);
    auto* foot = m_feet[block] = new Text(m_theme, 15);
    foot->setWordWrap(true);
    column->addWidget(foot);
    m_blocks->add(list.words, part, links);
    m_blocks->setRemark(block, tr("newest first"));
    const auto enable = [table, ofRow] {
        for (QWidget* each : ofRow) each->setEnabled(!table->currentId().isEmpty());
    };
    connect(table->selectionModel(), &QItemSelectionModel::currentRowChanged, this, enable);
    connect(model, &QAbstractItemModel::modelReset, this, enable);
    enable();
    return model;
}

void PersonDialog::addRecord() {
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, qRound(m_theme.s(8)), 0, 0);
    column->setSpacing(qRound(m_theme.s(6)));
    m_reports = new Text(m_theme, 15);
    m_reports->setWordWrap(true);
    column->addWidget(m_reports);
    auto* line = new QHBoxLayout;
    m_licence = new Text(m_theme, 13, false, Ink::Muted);
    m_licence->setAccessibleName(tr("License or permit"));
    m_show = link(QString(), [this] { showLicence(!m_licenceShown); });
    line->addWidget(m_licence);
    line->addWidget(m_show);
    line->addWidget(link(tr("change the number"),
                         [this] { run([this](const QString&) { return editLicence(); }, QString()); }));
    line->addStretch(1);
    column->addLayout(line);
    m_checks = new RowsModel(checkColumns(), this);
    m_checkTable = new TableView(m_theme, tr("What the training record asks about"));
    m_checkTable->setModel(m_checks);
    m_checkTable->setWidths({520, 0});
    connect(m_checkTable, &TableView::opened, this, [this](const QModelIndex&) {
        run([this](const QString& item) { return writeDown(item); }, m_checkTable->currentId());
    });
    column->addWidget(m_checkTable, 1);
    auto* elsewhere = new Text(m_theme, 13, false, Ink::Muted, forms::reportElsewhereText());
    elsewhere->setWordWrap(true);
    column->addWidget(elsewhere);
    const int block = m_blocks->add(
        tr("Training record"), page,
        {link(tr("save as table"), [this] { saveRecord(); }), link(tr("print"), [this] { printRecord(); }),
         link(tr("change what it says"),
              [this] { run([this](const QString&) { return editCourse(); }, QString()); })});
    m_blocks->setRemark(block, tr("Enter fills in a line"));
}

void PersonDialog::showBlock(Block block) {
    m_blocks->show(block);
}

void PersonDialog::load() {
    const auto failed = [this](const core::Error& error) {
        QMessageBox::warning(this, tr("Not read"), errorText(error));
    };
    auto person = personOf(m_session.file(), ss(m_key));
    if (!person) return failed(person.error());
    const auto settings = peopleSettingsOf(m_session.file());
    if (!settings) return failed(settings.error());
    auto instructors = m_session.file().instructors();
    if (!instructors) return failed(instructors.error());
    m_person = std::move(*person);
    m_settings = *settings;
    m_instructors = std::move(*instructors);
    const core::Trainee& trainee = m_person.trainee;
    m_name->setText(qs(trainee.name.empty() ? trainee.key : trainee.name));
    const QStringList ahead = aheadTexts(m_person, QDate::currentDate(), m_settings);
    m_ahead->setText(ahead.isEmpty() ? tr("No date runs out soon.") : factLine(ahead));
    m_hours->setRows(hoursRows(m_person, namesOf(m_instructors)));
    m_tests->setRows(bookingRows(m_person));
    m_results->setRows(officialRows(m_person));
    m_away->setRows(awayRows(m_person));
    const QString sum = hoursSummary(core::sumOf(m_person.hours));
    setFoot(Hours, sum.isEmpty() ? tr("No hours on file.") : sum);
    setFoot(Tests, m_person.bookings.empty() ? tr("No test was booked yet.") : QString());
    const QString segments = segmentsSummary(m_person.results);
    setFoot(Results, segments.left(1).toUpper() + segments.mid(1));
    setFoot(Away, m_person.absences.empty() ? tr("Never away.") : QString());
    fillRecord();
    for (TableView* table : findChildren<TableView*>()) table->selectRowAt(0);
}

void PersonDialog::setFoot(Block block, const QString& words) {
    m_feet[block]->setText(words);
    m_feet[block]->setVisible(!words.isEmpty());
}

void PersonDialog::fillRecord() {
    const core::TrainingRecord record = core::trainingRecord(m_person, m_settings);
    m_checks->setRows(checkRows(record));
    QStringList lines;
    for (const core::ReportDue& report : record.reports)
        lines << tr("Report, %1: %2")
                     .arg(forms::coversText(report.part == core::ReportDue::Part::Theory
                                                ? core::Covers::Theory
                                                : core::Covers::Wheel),
                          reportText(report));
    const int missing = static_cast<int>(record.missing().size());
    lines << (missing == 0 ? tr("Nothing is missing.") : tr("%n thing(s) missing.", nullptr, missing));
    m_reports->setText(factLine(lines));
    showLicence(m_licenceShown);
}

core::Result<bool> PersonDialog::writeDown(const QString& item) {
    using Item = core::RecordItem;
    const core::TrainingRecord record = core::trainingRecord(m_person, m_settings);
    const auto check = std::ranges::find_if(
        record.checks, [&](const core::RecordCheck& one) { return core::toWord(one.item) == ss(item); });
    if (check == record.checks.end()) return false;
    switch (check->item) {
        case Item::Name:
        case Item::Theory:
            if (auto good = m_session.file().may(core::Deed::ChangePeople); !good)
                return core::fail(good.error());
            return !editTrainee(m_theme, m_session, m_key, this).isEmpty();
        case Item::LicenceNumber:
        case Item::LicenceState:
            return editLicence();
        case Item::ProviderName:
        case Item::ProviderNumber:
            if (auto good = m_session.file().may(core::Deed::ChangeSettings); !good)
                return core::fail(good.error());
            return editPeopleSettings(m_theme, m_session, this);
        case Item::RangeHours:
        case Item::RoadHours:
            showBlock(Hours);
            return false;
        default:
            return editCourse();
    }
}

void PersonDialog::showLicence(bool shown) {
    const core::Licence& licence = m_person.licence;
    m_licenceShown = shown && !licence.empty();
    QString words = tr("License or permit number: not on file");
    if (m_licenceShown)
        words = tr("License or permit number: %1 %2").arg(qs(licence.state), qs(licence.number));
    else if (!licence.empty())
        words = tr("License or permit number: on file, hidden");
    m_licence->setText(words);
    m_show->setText(m_licenceShown ? tr("hide the number") : tr("show the number"));
    m_show->setEnabled(!licence.empty());
}

void PersonDialog::run(const Step& step, const QString& id) {
    const auto done = step(id);
    if (!done) {
        QMessageBox::warning(this, tr("Not stored"), errorText(done.error()));
        return;
    }
    if (!*done) return;
    m_session.notePeopleChanged();
    load();
}

core::Result<bool> PersonDialog::editHours(const QString& id) {
    core::ClockHours hours = recordOf(m_person.hours, id, ss(m_key));
    // Most are with the instructor of the last time.
    if (id.isEmpty() && !m_person.hours.empty()) hours.instructor = m_person.hours.back().instructor;
    std::vector<core::Instructor> instructors = m_instructors;
    std::erase_if(instructors, [this](const core::Instructor& one) {
        return !core::isOwn(m_session.file().acting(), one.key);
    });
    if (id.isEmpty() && !core::isOwn(m_session.file().acting(), hours.instructor)) hours.instructor.clear();
    HoursDialog dialog(m_theme, hours, instructors, QDate::currentDate(), this);
    if (dialog.exec() != QDialog::Accepted) return false;
    return changed(m_session.file().addClockHours(dialog.hours()));
}

core::Result<bool> PersonDialog::strikeHours(const QString& id) {
    ReasonDialog dialog(m_theme, tr("Take the hours out"),
                        tr("The entry stays in the file and counts no more."), this);
    if (dialog.exec() != QDialog::Accepted) return false;
    core::ClockHours struck = struckOf(recordOf(m_person.hours, id, ss(m_key)));
    struck.note = ss(dialog.reason());
    return changed(m_session.file().addClockHours(struck));
}

core::Result<bool> PersonDialog::editBooking(const QString& id) {
    if (auto good = m_session.file().may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    BookingDialog dialog(m_theme, recordOf(m_person.bookings, id, ss(m_key)), this);
    if (dialog.exec() != QDialog::Accepted) return false;
    return changed(m_session.file().addBookedTest(dialog.test()));
}

core::Result<bool> PersonDialog::cancelBooking(const QString& id) {
    if (auto good = m_session.file().may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    core::BookedTest test = recordOf(m_person.bookings, id, ss(m_key));
    if (test.state != core::BookingState::Booked)
        return core::fail(core::ErrorKind::Refused, ss(tr("only a test that is booked can be cancelled")));
    test.replaces = test.id;
    test.id = ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
    test.at = nowIso();
    test.state = core::BookingState::Cancelled;
    return changed(m_session.file().addBookedTest(test));
}

core::Result<bool> PersonDialog::addResult() {
    if (auto good = m_session.file().may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    // Tells the file's other readers itself.
    if (recordResult(m_theme, m_session, m_key, this)) load();
    return false;
}

core::Result<bool> PersonDialog::strikeResult(const QString& id) {
    if (auto good = m_session.file().may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    ReasonDialog dialog(m_theme, tr("Take the result out"),
                        tr("The result stays in the file and counts no more, neither here nor in the track "
                           "record. Take out only what was recorded by mistake."),
                        this);
    if (dialog.exec() != QDialog::Accepted) return false;
    return changed(m_session.file().addStruckResult({ss(QUuid::createUuid().toString(QUuid::WithoutBraces)),
                                                     ss(m_key), ss(id), ss(dialog.reason()), nowIso()}));
}

core::Result<bool> PersonDialog::editAway(const QString& id) {
    AwayDialog dialog(m_theme, recordOf(m_person.absences, id, ss(m_key)), this);
    if (dialog.exec() != QDialog::Accepted) return false;
    return changed(m_session.file().addAbsence(dialog.absence()));
}

core::Result<bool> PersonDialog::strikeAway(const QString& id) {
    ReasonDialog dialog(m_theme, tr("Take the time away out"),
                        tr("The entry stays in the file and counts no more."), this);
    if (dialog.exec() != QDialog::Accepted) return false;
    core::Absence struck = struckOf(recordOf(m_person.absences, id, ss(m_key)));
    struck.reason = ss(dialog.reason());
    return changed(m_session.file().addAbsence(struck));
}

core::Result<bool> PersonDialog::editCourse() {
    if (auto good = m_session.file().may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    CourseDialog dialog(m_theme, m_person.course, m_instructors, this);
    if (dialog.exec() != QDialog::Accepted) return false;
    if (auto done = m_session.file().saveCourse(dialog.course()); !done) return core::fail(done.error());
    return true;
}

core::Result<bool> PersonDialog::editLicence() {
    if (auto good = m_session.file().may(core::Deed::KeepRecords); !good) return core::fail(good.error());
    LicenceDialog dialog(m_theme, m_person.licence, this);
    if (dialog.exec() != QDialog::Accepted) return false;
    if (auto done = m_session.file().saveLicence(dialog.licence()); !done) return core::fail(done.error());
    return true;
}

void PersonDialog::printRecord() {
    auto input = trainingRecordInput(m_session.file(), ss(m_key));
    if (!input) {
        QMessageBox::warning(this, tr("Not printed"), errorText(input.error()));
        return;
    }
    input->version = QStringLiteral(MARKERLAMP_VERSION);
    input->printed = QDateTime::currentDateTime();
    input->paper = m_paper;
    SheetPreview preview(m_theme, forms::trainingRecordSheet(*input),
                         pdfName(QStringLiteral("training-record"), {m_key}), this);
    preview.exec();
}

void PersonDialog::saveRecord() {
    const QString path = QFileDialog::getSaveFileName(
        this, tr("Save the training record as a table"),
        QDir(documentsFolder()).filePath(QStringLiteral("training-record-%1.csv").arg(m_key)),
        tr("Tables (*.csv)"));
    if (path.isEmpty()) return;
    const std::string csv = core::writeTrainingRecordsCsv({core::trainingRecord(m_person, m_settings)});
    if (auto done = core::replaceFile(QFile::encodeName(path).toStdString(), csv); !done)
        QMessageBox::warning(this, tr("Not saved"), errorText(done.error()));
}

void showPerson(const Theme& theme, Session& session, forms::Paper paper, const QString& trainee,
                QWidget* parent, PersonDialog::Block block) {
    const auto known = session.file().trainee(ss(trainee));
    if (!known || !*known) return;
    PersonDialog dialog(theme, session, paper, trainee, parent);
    dialog.showBlock(block);
    dialog.exec();
}

}  // namespace markerlamp::app
