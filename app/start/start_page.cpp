// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/start/start_page.h"

#include "app/scoring/key_map.h"
#include "app/settings/settings.h"
#include "app/start/start_widgets.h"
#include "app/support/display.h"
#include "app/support/text_widgets.h"
#include "forms/sheets/plan_layout.h"

#include <QButtonGroup>
#include <QCheckBox>
#include <QComboBox>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QListView>
#include <QRadioButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QSignalBlocker>
#include <QStandardItemModel>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

/// So many sections have a row each; more are in a box.
constexpr std::size_t kSectionRows = 3;
/// Narrower than this a column is not readable.
constexpr double kLeastColumn = 330;

}  // namespace

struct StartPage::Widgets {
    QVBoxLayout* resume = nullptr;
    KeyButton* resumeButton = nullptr;
    QLineEdit* find = nullptr;
    QListView* trainees = nullptr;
    QStandardItemModel* rows = nullptr;
    QComboBox* bus = nullptr;
    QWidget* equipment = nullptr;
    QGridLayout* equipmentGrid = nullptr;
    QComboBox* rubric = nullptr;
    Text* rule = nullptr;
    Text* limits = nullptr;
    QComboBox* instructor = nullptr;
    QVBoxLayout* scopes = nullptr;
    QButtonGroup* scopeGroup = nullptr;
    QRadioButton* zonesRadio = nullptr;
    QGridLayout* zones = nullptr;
    std::vector<ZoneBox*> boxes;  ///< in rubric order
    Text* sentence = nullptr;
    KeyButton* start = nullptr;
};

StartPage::StartPage(Theme& theme, Settings& settings, Loader loader, QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_settings(settings),
      m_loader(std::move(loader)),
      m_form(std::make_unique<StartForm>()),
      m_w(std::make_unique<Widgets>()) {
    build();
    connect(&m_theme, &Theme::changed, this, [this] {
        fillResume();
        fillScope();
        refresh();
    });
}

StartPage::~StartPage() = default;

void StartPage::build() {
    const int margin = qRound(m_theme.s(24));
    auto* layout = new QVBoxLayout(this);
    layout->setContentsMargins(margin, qRound(m_theme.s(12)), margin, qRound(m_theme.s(8)));
    layout->setSpacing(qRound(m_theme.s(8)));

    auto* head = new QHBoxLayout;
    head->addWidget(new Text(m_theme, 25, true, Ink::Full, tr("Start an attempt")));
    head->addStretch();
    head->addWidget(new Text(m_theme, 15, false, Ink::Muted, QStringLiteral("Ctrl+N")));
    layout->addLayout(head);
    m_w->resume = new QVBoxLayout;
    m_w->resume->setSpacing(qRound(m_theme.s(8)));
    layout->addLayout(m_w->resume);
    // On a small or doubled screen the form scrolls; what starts the attempt stays in reach.
    auto* area = new QScrollArea;
    area->setFrameShape(QFrame::NoFrame);
    area->setWidgetResizable(true);
    area->setFocusPolicy(Qt::NoFocus);
    auto* form = new QWidget;
    auto* inside = new QVBoxLayout(form);
    inside->setContentsMargins(0, 0, 0, 0);
    inside->setSpacing(qRound(m_theme.s(8)));
    auto* columns = new QHBoxLayout;
    columns->setSpacing(margin);
    for (QWidget* column : {makeTrainees(), makeBus(), makeScope()}) {
        column->setMinimumWidth(qRound(m_theme.s(kLeastColumn)));
        columns->addWidget(column, 1);
    }
    inside->addLayout(columns, 1);
    area->setWidget(form);
    layout->addWidget(area, 1);

    auto* foot = new QHBoxLayout;
    m_w->sentence = new Text(m_theme, 15, true);
    m_w->sentence->setElided();
    foot->addWidget(m_w->sentence, 1);
    auto* cancel = new KeyButton(m_theme, tr("Cancel"), tr("Esc"));
    connect(cancel, &QPushButton::clicked, this, &StartPage::cancelled);
    foot->addWidget(cancel);
    m_w->start = new KeyButton(m_theme, tr("Start"), tr("Ctrl+Enter"), true);
    m_w->start->setMinimumWidth(qRound(m_theme.s(200)));
    connect(m_w->start, &QPushButton::clicked, this, &StartPage::start);
    foot->addWidget(m_w->start);
    layout->addLayout(foot);
}

QWidget* StartPage::makeTrainees() {
    auto* column = new QWidget;
    auto* layout = new QVBoxLayout(column);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(new NumberedHead(m_theme, 1, tr("Trainee")));
    m_w->find = new QLineEdit;
    m_w->find->setPlaceholderText(tr("Find by name or key"));
    m_w->find->setAccessibleName(tr("Find a trainee by name or key"));
    m_w->find->setClearButtonEnabled(true);
    layout->addWidget(m_w->find);
    m_w->rows = new QStandardItemModel(this);
    m_w->trainees = new QListView;
    m_w->trainees->setModel(m_w->rows);
    m_w->trainees->setItemDelegate(new TraineeDelegate(m_theme, m_w->trainees));
    m_w->trainees->setEditTriggers(QAbstractItemView::NoEditTriggers);
    m_w->trainees->setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    m_w->trainees->setAccessibleName(tr("Trainees"));
    m_w->trainees->setMinimumHeight(qRound(m_theme.s(220)));
    layout->addWidget(m_w->trainees, 1);
    connect(m_w->find, &QLineEdit::textChanged, this, &StartPage::fill);
    connect(m_w->trainees->selectionModel(), &QItemSelectionModel::currentChanged, this,
            [this](const QModelIndex& now) {
                if (!now.isValid()) return;
                m_form->setTrainee(ss(now.data(TraineeDelegate::Key).toString()));
                refresh();
            });
    connect(m_w->trainees, &QListView::activated, this, &StartPage::start);
    return column;
}

QWidget* StartPage::makeBus() {
    auto* column = new QWidget;
    auto* layout = new QVBoxLayout(column);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(qRound(m_theme.s(4)));
    layout->addWidget(new NumberedHead(m_theme, 2, tr("Bus and rubric")));
    const auto field = [&](const QString& caption, QComboBox*& box) {
        auto* label = new Text(m_theme, 15, false, Ink::Muted, caption);
        box = new QComboBox;
        box->setAccessibleName(caption);
        box->setMinimumContentsLength(10);
        box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
        label->setBuddy(box);
        layout->addWidget(label);
        layout->addWidget(box);
    };
    field(tr("Bus"), m_w->bus);
    layout->addWidget(new Text(m_theme, 15, false, Ink::Muted, tr("Equipment on this bus today")));
    auto* area = new QScrollArea;
    area->setWidgetResizable(true);
    area->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    area->setAccessibleName(tr("Equipment on this bus today"));
    area->setMinimumHeight(qRound(m_theme.s(96)));
    area->setFocusPolicy(Qt::NoFocus);
    m_w->equipment = new QWidget;
    m_w->equipmentGrid = new QGridLayout(m_w->equipment);
    m_w->equipmentGrid->setContentsMargins(qRound(m_theme.s(6)), qRound(m_theme.s(4)), qRound(m_theme.s(4)),
                                           qRound(m_theme.s(4)));
    m_w->equipmentGrid->setVerticalSpacing(qRound(m_theme.s(4)));
    area->setWidget(m_w->equipment);
    layout->addWidget(area, 1);
    field(tr("Rubric"), m_w->rubric);
    m_w->rule = new Text(m_theme, 13);
    m_w->limits = new Text(m_theme, 13, false, Ink::Muted);
    layout->addWidget(m_w->rule);
    layout->addWidget(m_w->limits);
    field(tr("Scored by"), m_w->instructor);

    connect(m_w->bus, &QComboBox::currentIndexChanged, this, [this](int row) {
        if (row < 0) return;
        m_form->setBus(ss(m_w->bus->itemData(row).toString()));
        fillBus();
        fillScope();
        refresh();
    });
    connect(m_w->rubric, &QComboBox::currentIndexChanged, this, [this](int row) {
        if (row < 0) return;
        const auto& rubric = m_form->data().rubrics[static_cast<std::size_t>(row)];
        m_form->setRubric(rubric->id, rubric->edition);
        fillBus();
        fillScope();
        refresh();
    });
    connect(m_w->instructor, &QComboBox::currentIndexChanged, this, [this](int row) {
        if (row < 0) return;
        m_form->setInstructor(ss(m_w->instructor->itemData(row).toString()));
        refresh();
    });
    return column;
}

QWidget* StartPage::makeScope() {
    auto* column = new QWidget;
    auto* layout = new QVBoxLayout(column);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->addWidget(new NumberedHead(m_theme, 3, tr("What to score")));
    m_w->scopes = new QVBoxLayout;
    m_w->scopes->setSpacing(qRound(m_theme.s(4)));
    layout->addLayout(m_w->scopes);
    m_w->zones = new QGridLayout;
    m_w->zones->setSpacing(qRound(m_theme.s(6)));
    layout->addLayout(m_w->zones);
    layout->addWidget(
        new Text(m_theme, 13, false, Ink::Muted, tr("Front of the bus at the left, its right side on top")));
    layout->addStretch();
    return column;
}

void StartPage::aboutToShow() {
    auto loaded = m_loader();
    if (!loaded) {
        emit said(errorText(loaded.error()));
        return;
    }
    const auto used = [this](const char* key) {
        return ss(m_settings.value(QStringLiteral("start/") + QLatin1String(key)).toString());
    };
    m_form->setData(std::move(*loaded),
                    {used("trainee"), used("instructor"), used("bus"), used("rubric"), used("scope")});
    fillResume();
    fill();
    fillBus();
    fillScope();
    refresh();
    if (m_w->resumeButton != nullptr)
        m_w->resumeButton->setFocus();
    else
        m_w->trainees->setFocus();
}

void StartPage::chooseTrainee(const QString& key) {
    m_form->setTrainee(ss(key));
    m_w->find->clear();
    fill();
    refresh();
}

void StartPage::fill() {
    const QDate today = QDate::currentDate();
    const QSignalBlocker blocker(m_w->trainees->selectionModel());
    m_w->rows->clear();
    int current = -1;
    for (const int row : m_form->findTrainees(m_w->find->text())) {
        const StartTrainee& entry = m_form->data().trainees[static_cast<std::size_t>(row)];
        auto* item =
            new QStandardItem(qs(entry.trainee.name.empty() ? entry.trainee.key : entry.trainee.name));
        item->setData(qs(entry.trainee.key), TraineeDelegate::Key);
        const QString below =
            entry.attempts == 0
                ? tr("none yet")
                : tr("%n attempt(s), last %1", nullptr, entry.attempts).arg(longDate(entry.last));
        item->setData(below, TraineeDelegate::Below);
        const QDate end = isoDate(entry.trainee.permitExpires);
        const qint64 days = today.daysTo(end);
        const QString right = !end.isValid() ? QString()
                              : days < 0     ? tr("permit ended")
                                             : tr("permit %n day(s)", nullptr, static_cast<int>(days));
        item->setData(right, TraineeDelegate::Right);
        item->setData(end.isValid() && days < 30, TraineeDelegate::RightBold);
        item->setData(item->text() + QStringLiteral(", ") + below +
                          (right.isEmpty() ? QString() : QStringLiteral(", ") + right),
                      Qt::AccessibleTextRole);
        if (entry.trainee.key == m_form->trainee()) current = m_w->rows->rowCount();
        m_w->rows->appendRow(item);
    }
    if (current < 0 && m_w->rows->rowCount() == 1) current = 0;
    if (current >= 0) {
        m_w->trainees->setCurrentIndex(m_w->rows->index(current, 0));
        m_w->trainees->scrollTo(m_w->rows->index(current, 0));
        m_form->setTrainee(ss(m_w->rows->index(current, 0).data(TraineeDelegate::Key).toString()));
    }
    refresh();
}

void StartPage::fillResume() {
    clearLayout(m_w->resume);
    m_w->resumeButton = nullptr;
    for (const UnfinishedAttempt& attempt : m_form->data().unfinished) {
        auto* card = new ResumeCard(m_theme);
        auto* row = new QHBoxLayout(card);
        row->setContentsMargins(qRound(m_theme.s(24)), qRound(m_theme.s(8)), qRound(m_theme.s(16)),
                                qRound(m_theme.s(8)));
        auto* words = new QVBoxLayout;
        words->setSpacing(qRound(m_theme.s(2)));
        words->addWidget(new Text(m_theme, 15, false, Ink::Muted,
                                  attempt.crashed
                                      ? tr("Not finished: the program stopped while the clock ran")
                                      : tr("Not finished: the clock stood still")));
        auto* what = new Text(m_theme, 20, true, Ink::Full,
                              tr("%1 on %2, stopped %3 after %4 of %n step(s)", nullptr, attempt.steps)
                                  .arg(attempt.traineeName, attempt.busTitle,
                                       attempt.stopped.toString(QStringLiteral("d MMM HH:mm")))
                                  .arg(attempt.scored));
        what->setElided();
        words->addWidget(what);
        words->addWidget(new Text(m_theme, 15, false, Ink::Muted,
                                  tr("Every scored step is kept. The time since then counts as a pause.")));
        row->addLayout(words, 1);
        const bool first = m_w->resumeButton == nullptr;
        auto* resume = new KeyButton(m_theme, tr("Resume"), first ? tr("Enter") : QString(), first);
        auto* finish = new KeyButton(m_theme, tr("Finish as it stands"));
        auto* aside = new KeyButton(m_theme, tr("Set aside"));
        for (KeyButton* button : {resume, finish, aside}) {
            button->setMinimumHeight(qRound(m_theme.s(44)));
            button->setAccessibleDescription(what->text());
            row->addWidget(button);
        }
        if (first) m_w->resumeButton = resume;
        connect(resume, &QPushButton::clicked, this, [this, id = attempt.id] { emit resumeRequested(id); });
        connect(finish, &QPushButton::clicked, this, [this, id = attempt.id] { emit finishRequested(id); });
        connect(aside, &QPushButton::clicked, this, [this, id = attempt.id] { emit setAsideRequested(id); });
        m_w->resume->addWidget(card);
        if (m_w->resume->count() == 2) break;  // older ones are in the trainee's list
    }
}

void StartPage::fillBus() {
    const QSignalBlocker blockBus(m_w->bus), blockRubric(m_w->rubric), blockInstructor(m_w->instructor);
    m_w->bus->clear();
    for (const core::Bus& bus : m_form->data().buses) {
        const QString key = qs(bus.key);
        m_w->bus->addItem(bus.title.empty() || bus.title == bus.key ? tr("Bus %1").arg(key)
                                                                    : tr("%1, %2").arg(key, qs(bus.title)),
                          key);
    }
    m_w->bus->setCurrentIndex(m_w->bus->findData(qs(m_form->bus())));
    m_w->rubric->clear();
    for (const auto& rubric : m_form->data().rubrics) {
        m_w->rubric->addItem(tr("%1, edition %2").arg(qs(rubric->title)).arg(rubric->edition));
        if (rubric == m_form->rubric()) m_w->rubric->setCurrentIndex(m_w->rubric->count() - 1);
    }
    m_w->instructor->clear();
    for (const core::Instructor& instructor : m_form->data().instructors)
        m_w->instructor->addItem(qs(instructor.name.empty() ? instructor.key : instructor.name),
                                 qs(instructor.key));
    m_w->instructor->setCurrentIndex(m_w->instructor->findData(qs(m_form->instructor())));

    clearLayout(m_w->equipmentGrid);
    const auto rubric = m_form->rubric();
    int at = 0;
    if (rubric)
        for (const auto& [tag, title] : rubric->equipment) {
            auto* box = new QCheckBox;
            const QString words = qs(title);
            box->setFont(m_theme.font(15));
            box->setText(QFontMetricsF(box->font()).elidedText(words, Qt::ElideRight, m_theme.s(160)));
            box->setToolTip(words);
            box->setAccessibleName(words);
            box->setChecked(m_form->hasEquipment(tag));
            connect(box, &QCheckBox::toggled, this, [this, tag = tag](bool on) {
                m_form->setEquipment(tag, on);
                fillScope();
                refresh();
            });
            m_w->equipmentGrid->addWidget(box, at / 2, at % 2);
            ++at;
        }
}

void StartPage::fillScope() {
    clearLayout(m_w->scopes);
    clearLayout(m_w->zones);
    m_w->boxes.clear();
    delete m_w->scopeGroup;
    m_w->scopeGroup = new QButtonGroup(this);
    m_w->zonesRadio = nullptr;
    const auto rubric = m_form->rubric();
    if (!rubric) return;
    const auto radio = [&](const QString& words, const QString& right, bool checked,
                           const std::function<void()>& chosen) {
        auto* row = new QHBoxLayout;
        auto* button = new QRadioButton(words);
        button->setFont(m_theme.font(18, checked));
        button->setChecked(checked);
        button->setAccessibleName(words + QStringLiteral(", ") + right);
        m_w->scopeGroup->addButton(button);
        connect(button, &QRadioButton::clicked, this, [this, chosen] {
            chosen();
            // Not at once: the button that was pressed goes away with the old rows.
            QMetaObject::invokeMethod(
                this,
                [this] {
                    fillScope();
                    refresh();
                },
                Qt::QueuedConnection);
        });
        row->addWidget(button, 1);
        row->addWidget(new Text(m_theme, 13, false, Ink::Muted, right));
        m_w->scopes->addLayout(row);
        return button;
    };
    std::vector<std::string> all;
    for (const core::Zone& zone : rubric->zones) all.push_back(zone.id);
    const auto steps = [this](const std::vector<std::string>& zones) {
        return tr("%n step(s)", nullptr, m_form->stepsIn(zones));
    };
    radio(tr("Whole inspection"), steps(all), m_form->scope() == StartForm::Scope::Whole,
          [this] { m_form->setWhole(); });
    std::vector<const core::Section*> sections;
    for (const core::Section& section : rubric->sections)
        if (section.zones.size() != all.size()) sections.push_back(&section);  // else it is the whole again
    if (sections.size() <= kSectionRows) {
        for (const core::Section* section : sections)
            radio(qs(section->title), tr("section, %1").arg(steps(section->zones)),
                  m_form->scope() == StartForm::Scope::Section && m_form->section() == section->id,
                  [this, id = section->id] { m_form->setSection(id); });
    } else {
        const bool chosen = m_form->scope() == StartForm::Scope::Section;
        radio(tr("A section a test may draw"), chosen ? steps(m_form->zones()) : QString(), chosen,
              [this, id = sections.front()->id] { m_form->setSection(id); });
        addSectionChoice(sections);
    }
    m_w->zonesRadio =
        radio(tr("Zones I pick"), steps(m_form->zones()), m_form->scope() == StartForm::Scope::Zones,
              [this] { m_form->setAllZones(false); });

    KeyMap keys;
    keys.load(m_settings.store());
    const std::vector<forms::PlanCell> cells = forms::planCells(*rubric);
    for (std::size_t i = 0; i < rubric->zones.size(); ++i) {
        const std::string id = rubric->zones[i].id;
        const int key = cells[i].row * forms::kPlanColumns + cells[i].column;
        auto* box = new ZoneBox(m_theme, key < KeyMap::kZoneKeys ? keys.zoneCaption(key) : QString(),
                                qs(rubric->zones[i].title));
        box->setChecked(m_form->hasZone(id));
        connect(box, &ZoneBox::clicked, this, [this, id](bool on) {
            m_form->setZone(id, on);
            const QSignalBlocker blocker(m_w->scopeGroup);
            if (m_w->zonesRadio != nullptr) m_w->zonesRadio->setChecked(true);
            refresh();
        });
        m_w->zones->addWidget(box, cells[i].row, cells[i].column);
        m_w->boxes.push_back(box);
    }
}

void StartPage::addSectionChoice(const std::vector<const core::Section*>& sections) {
    auto* box = new QComboBox;
    box->setAccessibleName(tr("Section"));
    box->setMinimumContentsLength(10);
    box->setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    for (const core::Section* section : sections) {
        box->addItem(tr("%1, %n step(s)", nullptr, m_form->stepsIn(section->zones)).arg(qs(section->title)),
                     qs(section->id));
        if (m_form->section() == section->id) box->setCurrentIndex(box->count() - 1);
    }
    connect(box, &QComboBox::activated, this, [this, box] {
        m_form->setSection(ss(box->currentData().toString()));
        QMetaObject::invokeMethod(
            this,
            [this] {
                fillScope();
                refresh();
            },
            Qt::QueuedConnection);
    });
    m_w->scopes->addWidget(box);
}

void StartPage::refresh() {
    if (const auto rubric = m_form->rubric()) {
        QStringList rule{tr("pass at %1 %").arg(numberText(rubric->pass.percent)),
                         tr("%n must pass", nullptr, m_form->mustPassIn(m_form->zones()))};
        if (rubric->pass.minutes) rule << tr("%n minute(s)", nullptr, qRound(*rubric->pass.minutes));
        m_w->rule->setText(rule.join(QStringLiteral(", ")));
        const int own = m_form->ownLimits();
        m_w->limits->setText(own == 0 ? tr("limits of the rubric")
                                      : tr("the bus's own figures replace %n limit(s)", nullptr, own));
        for (std::size_t i = 0; i < m_w->boxes.size() && i < rubric->zones.size(); ++i)
            m_w->boxes[i]->setChecked(m_form->hasZone(rubric->zones[i].id));
    }
    m_w->sentence->setText(m_form->sentence());
    m_w->start->setEnabled(m_form->ready());
}

void StartPage::start() {
    if (!m_form->ready()) {
        emit said(m_form->missing());
        return;
    }
    const LastUsed last = m_form->lastUsed();
    const auto keep = [this](const char* key, const std::string& value) {
        m_settings.setValue(QStringLiteral("start/") + QLatin1String(key), qs(value));
    };
    keep("trainee", last.trainee);
    keep("instructor", last.instructor);
    keep("bus", last.bus);
    keep("rubric", last.rubric);
    keep("scope", last.scope);
    emit startRequested(m_form->header(nowIso()));
}

void StartPage::keyPressEvent(QKeyEvent* event) {
    const bool enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    if (enter && (event->modifiers() & Qt::ControlModifier) != 0) {
        start();
    } else if (enter && m_w->resumeButton != nullptr) {
        m_w->resumeButton->click();
    } else if (event->key() == Qt::Key_Escape) {
        emit cancelled();
    } else {
        Page::keyPressEvent(event);
    }
}

}  // namespace markerlamp::app
