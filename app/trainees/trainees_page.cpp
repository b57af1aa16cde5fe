// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/trainees/trainees_page.h"
#include "app/support/small_screens.h"

#include "app/people/person_views.h"
#include "app/people/record_source.h"
#include "app/shell/session.h"
#include "app/support/blind.h"
#include "app/support/clipboard.h"
#include "app/support/display.h"
#include "app/support/table_view.h"
#include "app/trainees/people_dialogs.h"

#include <QHBoxLayout>
#include <QHeaderView>
#include <QLineEdit>
#include <QSortFilterProxyModel>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <map>

namespace markerlamp::app {

namespace {

Cell endCell(const std::string& iso, const QDate& today, int aheadDays) {
    const QDate end = isoDate(iso);
    if (!end.isValid()) return {.text = QStringLiteral("-"), .sort = QDate(9999, 1, 1), .muted = true};
    const auto days = today.daysTo(end);
    return {.text = endsText(end, today), .sort = end, .bold = days <= aheadDays};
}

/// What else runs out or is due; permit and medical card have columns of their own.
QStringList todoOf(const core::PersonFile& person, const QDate& today, const core::PeopleSettings& settings) {
    const std::string day = ss(today.toString(Qt::ISODate));
    if (core::isAway(person.absences, day)) return {TraineesPage::tr("away")};
    QStringList words;
    for (const core::DateAhead& ahead : core::datesAhead(person, day, settings))
        if (ahead.kind != core::DateKind::Medical && (ahead.kind != core::DateKind::Permit || ahead.assumed))
            words << aheadText(ahead, person, today);
    return words;
}

/// Lets through whose name, key or group holds the words; the other columns are figures and dates.
class PeopleFilter final : public QSortFilterProxyModel {
public:
    using QSortFilterProxyModel::QSortFilterProxyModel;
    void setWords(const QString& words) {
        m_words = words;
        invalidateFilter();
    }

protected:
    bool filterAcceptsRow(int row, const QModelIndex& parent) const override {
        const QModelIndex name = sourceModel()->index(row, 0, parent);
        for (const QString& text : {name.data().toString(), name.data(RowsModel::IdRole).toString(),
                                    name.siblingAtColumn(1).data().toString()})
            if (text.contains(m_words, Qt::CaseInsensitive)) return true;
        return false;
    }

private:
    QString m_words;
};

}  // namespace

std::vector<Row> traineeRows(const std::vector<core::PersonFile>& people,
                             const std::vector<db::AttemptInfo>& attempts, const QDate& today,
                             const core::PeopleSettings& settings) {
    struct Seen {
        int count = 0;
        int open = 0;
        const db::AttemptInfo* last = nullptr;
    };
    std::map<std::string, Seen> seen;
    const std::set<std::string> hidden = hiddenFrom(attempts);
    for (const db::AttemptInfo& info : attempts) {
        Seen& one = seen[info.trainee];
        if (info.state == db::AttemptState::Open) ++one.open;
        if (info.state != db::AttemptState::Ended || !info.of.empty() || hidden.contains(info.id)) continue;
        ++one.count;
        if (one.last == nullptr || startedAt(info.started) > startedAt(one.last->started)) one.last = &info;
    }
    std::vector<Row> rows;
    for (const core::PersonFile& person : people) {
        const core::Trainee& trainee = person.trainee;
        if (core::isErased(trainee)) continue;
        const Seen& one = seen[trainee.key];
        Row row{qs(trainee.key), {}};
        const QString name = qs(trainee.name.empty() ? trainee.key : trainee.name);
        row.cells.push_back({.text = name, .sort = name.toLower(), .tip = name, .bold = false});
        row.cells.push_back(mutedCell(qs(trainee.group)));
        row.cells.push_back(sortedCell(QString::number(one.count), one.count));
        if (one.last != nullptr) {
            const QDateTime at = startedAt(one.last->started);
            row.cells.push_back(sortedCell(longDate(at.date()), at));
            QString result = percentText(one.last->percent);
            if (one.last->partial) result += TraineesPage::tr(", part");
            row.cells.push_back({.text = result,
                                 .sort = one.last->percent,
                                 .tip = TraineesPage::tr("%1; %2").arg(result, resultWord(one.last->result)),
                                 .bold = one.last->result == core::AttemptResult::Pass});
        } else {
            row.cells.push_back({.text = TraineesPage::tr("none yet"),
                                 .sort = QDateTime(QDate(1900, 1, 1), QTime()),
                                 .muted = true});
            row.cells.push_back({.text = QString(), .sort = -1.0});
        }
        row.cells.push_back(endCell(trainee.permitExpires, today, settings.permitAheadDays));
        row.cells.push_back(endCell(trainee.medicalExpires, today, settings.medicalAheadDays));
        QStringList state;
        if (trainee.toComplete) state << TraineesPage::tr("to be completed");
        if (one.open > 0) state << TraineesPage::tr("attempt unfinished");
        state << todoOf(person, today, settings);
        const QString todo = state.join(TraineesPage::tr("; "));
        row.cells.push_back({.text = todo, .tip = todo, .bold = true});
        rows.push_back(std::move(row));
    }
    std::stable_sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) {
        return QString::localeAwareCompare(a.cells[0].text, b.cells[0].text) < 0;
    });
    return rows;
}

TraineesPage::TraineesPage(const Theme& theme, Session& session, QWidget* parent)
    : Page(parent), m_theme(theme), m_session(session), m_stack(new QStackedWidget) {
    setAccessibleName(tr("Trainees"));
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(m_stack);
    auto* empty = new EmptyState(theme, tr("No trainees yet"),
                                 tr("Add the people you train, one by one or from a list with a name and a "
                                    "permit date."));
    connect(empty->setButton(tr("Add a trainee"), tr("Ins")), &QPushButton::clicked, this,
            [this] { addOrEdit({}); });
    connect(empty->addLink(tr("import a CSV file")), &QPushButton::clicked, this,
            &TraineesPage::importRequested);
    empty->setFoot(
        tr("The built-in rubrics carry example limits: set those of your state and your buses "
           "before you rely on them."));
    m_stack->addWidget(empty);
    m_stack->addWidget(scrollingPage(makePage()));
    const auto stale = [this] {
        m_stale = true;
        if (isVisible()) aboutToShow();
    };
    connect(&session, &Session::peopleChanged, this, stale);
    connect(&session, &Session::attemptChanged, this, stale);
}

QWidget* TraineesPage::makePage() {
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    const int side = qRound(m_theme.s(16));
    column->setContentsMargins(side, qRound(m_theme.s(10)), side, qRound(m_theme.s(8)));
    column->setSpacing(qRound(m_theme.s(10)));
    auto* head = new QHBoxLayout;
    head->setSpacing(qRound(m_theme.s(8)));
    head->addWidget(new Text(m_theme, 25, true, Ink::Full, tr("Trainees")), 0, Qt::AlignBottom);
    m_remark = new Text(m_theme, 13, false, Ink::Muted);
    m_remark->setElided();
    head->addWidget(m_remark, 1, Qt::AlignBottom);
    m_find = new QLineEdit;
    m_find->setPlaceholderText(tr("Find by name, key or group (Ctrl+F)"));
    m_find->setAccessibleName(tr("Find a trainee"));
    m_find->setClearButtonEnabled(false);
    m_find->setMinimumWidth(qRound(m_theme.s(120)));
    m_find->setMaximumWidth(qRound(m_theme.s(300)));
    head->addWidget(m_find, 1);
    auto* import = new KeyButton(m_theme, tr("Import"), tr("Ctrl+I"));
    auto* edit = new KeyButton(m_theme, tr("Edit"), tr("F2"));
    auto* add = new KeyButton(m_theme, tr("Add a trainee"), tr("Ins"), true);
    connect(import, &QPushButton::clicked, this, &TraineesPage::importRequested);
    connect(edit, &QPushButton::clicked, this, [this] { addOrEdit(current()); });
    connect(add, &QPushButton::clicked, this, [this] { addOrEdit({}); });
    for (KeyButton* button : {import, edit, add}) head->addWidget(button);
    column->addLayout(head);

    m_model = new RowsModel({{tr("name")},
                             {tr("group")},
                             {tr("attempts"), true},
                             {tr("last attempt")},
                             {tr("satisfied"), true},
                             {tr("permit")},
                             {tr("medical card")},
                             {tr("to do")}},
                            this);
    auto* filter = new PeopleFilter(this);
    m_proxy = filter;
    m_proxy->setSourceModel(m_model);
    m_proxy->setSortRole(RowsModel::SortRole);
    m_table = new TableView(m_theme, tr("Trainees"));
    m_table->setModel(m_proxy);
    m_table->setRowHeight(30);
    m_table->setWidths({230, 120, 90, 124, 104, 230, 230, 0});
    m_table->horizontalHeader()->setSectionsClickable(true);
    m_table->setSortingEnabled(true);
    m_table->sortByColumn(0, Qt::AscendingOrder);
    connect(m_table, &TableView::opened, this,
            [this](const QModelIndex& index) { emit opened(index.data(RowsModel::IdRole).toString()); });
    connect(m_find, &QLineEdit::textChanged, this, [this, filter](const QString& text) {
        filter->setWords(text.trimmed());
        m_table->selectRowAt(0);
        emit commandsChanged();
    });
    connect(m_find, &QLineEdit::returnPressed, this, [this] {
        if (!current().isEmpty()) emit opened(current());
    });
    column->addWidget(m_table, 1);
    m_note = new Text(
        m_theme, 13, false, Ink::Muted,
        tr("Enter opens the trainee. Bold: the last attempt met the pass rule, must-pass steps and all; "
           "a date that runs out soon or is past. Part: not every zone was asked for."));
    column->addWidget(m_note);
    return page;
}

QString TraineesPage::current() const {
    return m_table->currentId();
}

void TraineesPage::aboutToShow() {
    if (m_stale) fill(current());
    if (m_stack->currentIndex() == 1) m_table->setFocus();
}

void TraineesPage::fill(const QString& select) {
    m_stale = false;
    const auto people = m_session.file().personFiles();
    const auto attempts = m_session.file().attempts();
    const auto settings = peopleSettingsOf(m_session.file());
    if (!people || !attempts || !settings) {
        emit said(errorText(!people ? people.error() : !attempts ? attempts.error() : settings.error(), 1));
        return;
    }
    m_model->setRows(traineeRows(*people, *attempts, QDate::currentDate(), *settings));
    const int count = m_model->rowCount();
    m_remark->setText(tr("%n in %1", nullptr, count).arg(m_session.title()));
    const int row = m_model->rowOf(select);
    const QModelIndex place = row >= 0 ? m_proxy->mapFromSource(m_model->index(row, 0)) : QModelIndex();
    m_table->selectRowAt(place.isValid() ? place.row() : 0);
    m_stack->setCurrentIndex(count == 0 ? 0 : 1);
    emit commandsChanged();
}

void TraineesPage::addOrEdit(const QString& key) {
    const QString kept = editTrainee(m_theme, m_session, key, this);
    if (kept.isEmpty()) return;
    fill(kept);
    emit said(key.isEmpty() ? tr("Trainee added") : tr("Trainee changed"));
}

bool TraineesPage::canPerform(PageCommand command) const {
    switch (command) {
        case PageCommand::Add:
            return true;
        case PageCommand::Find:
        case PageCommand::CopyTable:
            return m_stack->currentIndex() == 1;
        case PageCommand::Edit:
            return m_stack->currentIndex() == 1 && !current().isEmpty();
        default:
            return false;
    }
}

void TraineesPage::perform(PageCommand command) {
    switch (command) {
        case PageCommand::Add:
            addOrEdit({});
            break;
        case PageCommand::Edit:
            addOrEdit(current());
            break;
        case PageCommand::Find:
            m_find->setFocus(Qt::ShortcutFocusReason);
            m_find->selectAll();
            break;
        case PageCommand::CopyTable:
            emit said(tr("%n row(s) copied", nullptr, copyTable(*m_proxy)));
            break;
        default:
            break;
    }
}

}  // namespace markerlamp::app
