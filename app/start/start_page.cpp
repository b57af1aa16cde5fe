// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/start/start_page.h"

#include "app/settings/settings.h"
#include "app/start/resume_card.h"
#include "app/start/scope_column.h"
#include "app/start/start_widgets.h"
#include "app/support/display.h"
#include "app/support/text_widgets.h"

#include <QApplication>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLineEdit>
#include <QScrollArea>
#include <QSignalBlocker>
#include <QStandardItemModel>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

/// Design pixels under which the three columns stand below one another.
constexpr double kThreeColumns = 1000;
/// Under this height the page's name gives way to the form.
constexpr double kHead = 480;

}  // namespace

struct StartPage::Widgets {
    QVBoxLayout* page = nullptr;
    QWidget* head = nullptr;
    Text* title = nullptr;
    QBoxLayout* columns = nullptr;
    ResumeCard* resume = nullptr;
    QLineEdit* find = nullptr;
    TraineeList* trainees = nullptr;
    QStandardItemModel* rows = nullptr;
    bool filling = false;
    ChoiceBox* bus = nullptr;
    Text* equipmentCount = nullptr;
    QScrollArea* equipment = nullptr;
    QGridLayout* equipmentGrid = nullptr;
    std::shared_ptr<const core::Rubric> equipmentOf;
    std::vector<TickBox*> ticks;  ///< in the rubric's order
    ChoiceBox* rubric = nullptr;
    Text* rule = nullptr;
    Text* limits = nullptr;
    ChoiceBox* instructor = nullptr;
    ScopeColumn* scope = nullptr;
    FitText* sentence = nullptr;
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
    connect(&m_theme, &Theme::changed, this, &StartPage::applyTheme);
    applyTheme();
}

StartPage::~StartPage() = default;

void StartPage::build() {
    const auto px = [this](double v) { return qRound(m_theme.s(v)); };
    m_w->page = new QVBoxLayout(this);
    m_w->page->setSpacing(0);

    m_w->head = new QWidget;
    auto* head = new QHBoxLayout(m_w->head);
    head->setContentsMargins(0, 0, 0, px(8));
    m_w->title = new Text(m_theme, 25, true, Ink::Full, tr("Start an attempt"));
    head->addWidget(m_w->title);
    head->addStretch();
    auto* key = new Text(m_theme, 15, false, Ink::Muted, QStringLiteral("Ctrl+N"));
    key->setAccessibleDescription(tr("Key that opens this page"));
    head->addWidget(key);
    m_w->page->addWidget(m_w->head);

    auto* body = new QWidget;
    auto* bodyLayout = new QVBoxLayout(body);
    bodyLayout->setContentsMargins(0, 0, 0, 0);
    bodyLayout->setSpacing(px(20));
    m_w->resume = new ResumeCard(m_theme);
    bodyLayout->addWidget(m_w->resume);
    m_w->columns = new QHBoxLayout;
    m_w->columns->setSpacing(px(24));
    m_w->columns->addWidget(makeTrainees(), 1);
    m_w->columns->addWidget(makeBus(), 1);
    m_w->scope = new ScopeColumn(m_theme, m_settings, *m_form);
    m_w->columns->addWidget(m_w->scope, 1);
    bodyLayout->addLayout(m_w->columns, 1);
    auto* scroll = new QScrollArea;
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setFocusPolicy(Qt::NoFocus);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    scroll->setMinimumSize(px(280), px(80));
    scroll->setWidget(body);
    m_w->page->addWidget(scroll, 1);
    m_w->page->addWidget(makeFoot());

    connect(m_w->resume, &ResumeCard::resumeRequested, this, &StartPage::resumeRequested);
    connect(m_w->resume, &ResumeCard::finishRequested, this, &StartPage::finishRequested);
    connect(m_w->resume, &ResumeCard::setAsideRequested, this, &StartPage::setAsideRequested);
    connect(m_w->scope, &ScopeColumn::changed, this, &StartPage::refresh);
}

QWidget* StartPage::makeFoot() {
    const auto px = [this](double v) { return qRound(m_theme.s(v)); };
    auto* foot = new QWidget;
    auto* layout = new QVBoxLayout(foot);
    layout->setContentsMargins(0, px(12), 0, 0);
    layout->setSpacing(px(10));
    layout->addWidget(new HairLine(m_theme));
    auto* row = new QHBoxLayout;
    row->setSpacing(px(8));
    m_w->sentence = new FitText(m_theme, {18, 15, 13});
    m_w->sentence->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    row->addWidget(m_w->sentence, 1);
    auto* cancel = new KeyButton(m_theme, tr("Cancel"), tr("Esc"));
    cancel->setLarge();
    connect(cancel, &QPushButton::clicked, this, &StartPage::cancelled);
    row->addWidget(cancel);
    m_w->start = new KeyButton(m_theme, tr("Start"), tr("Ctrl+Enter"), true);
    m_w->start->setLarge(true);
    connect(m_w->start, &QPushButton::clicked, this, &StartPage::start);
    row->addWidget(m_w->start);
    layout->addLayout(row);
    return foot;
}

QWidget* StartPage::makeTrainees() {
    auto* column = new QWidget;
    auto* layout = new QVBoxLayout(column);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(qRound(m_theme.s(8)));
    layout->addWidget(new NumberedHead(m_theme, 1, tr("Trainee")));
    m_w->find = new QLineEdit;
    m_w->find->setPlaceholderText(tr("Find by name or key"));
    m_w->find->setAccessibleName(tr("Find a trainee by name or key"));
    m_w->find->setClearButtonEnabled(true);
    layout->addSpacing(qRound(m_theme.s(4)));
    layout->addWidget(m_w->find);
    m_w->rows = new QStandardItemModel(this);
    m_w->trainees = new TraineeList(m_theme);
    m_w->trainees->setModel(m_w->rows);
    m_w->trainees->setAccessibleName(tr("Trainees"));
    layout->addWidget(m_w->trainees, 1);
    connect(m_w->find, &QLineEdit::textChanged, this, &StartPage::fillTrainees);
    connect(m_w->trainees->selectionModel(), &QItemSelectionModel::selectionChanged, this, [this] {
        const QModelIndexList chosen = m_w->trainees->selectionModel()->selectedIndexes();
        if (m_w->filling || chosen.isEmpty()) return;
        m_form->setTrainee(ss(chosen.first().data(TraineeDelegate::Key).toString()));
        refresh();
    });
    return column;
}

QWidget* StartPage::makeBus() {
    const auto px = [this](double v) { return qRound(m_theme.s(v)); };
    auto* column = new QWidget;
    auto* layout = new QVBoxLayout(column);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(px(4));
    layout->addWidget(new NumberedHead(m_theme, 2, tr("Bus and rubric")));
    layout->addSpacing(px(4));
    const auto field = [&](const QString& caption, ChoiceBox*& box) {
        auto* label = new Text(m_theme, 15, false, Ink::Muted, caption);
        box = new ChoiceBox(m_theme, caption, 18);
        label->setBuddy(box);
        layout->addWidget(label);
        layout->addWidget(box);
    };
    field(tr("Bus"), m_w->bus);
    layout->addSpacing(px(4));
    auto* caption = new QHBoxLayout;
    caption->addWidget(new Text(m_theme, 15, false, Ink::Muted, tr("Equipment on this bus today")));
    caption->addStretch();
    m_w->equipmentCount = new Text(m_theme, 15, false, Ink::Muted);
    caption->addWidget(m_w->equipmentCount);
    layout->addLayout(caption);
    m_w->equipment = new QScrollArea;
    m_w->equipment->setWidgetResizable(true);
    m_w->equipment->setFrameShape(QFrame::NoFrame);
    m_w->equipment->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    m_w->equipment->setAccessibleName(tr("Equipment on this bus today"));
    m_w->equipment->setFocusPolicy(Qt::NoFocus);
    auto* grid = new QWidget;
    m_w->equipmentGrid = new QGridLayout(grid);
    m_w->equipmentGrid->setContentsMargins(0, 0, 0, 0);
    m_w->equipmentGrid->setSpacing(0);
    m_w->equipmentGrid->setAlignment(Qt::AlignTop);
    m_w->equipment->setWidget(grid);
    layout->addWidget(m_w->equipment, 1);
    layout->addSpacing(px(4));
    field(tr("Rubric"), m_w->rubric);
    m_w->rule = new Text(m_theme, 15);
    m_w->limits = new Text(m_theme, 15, false, Ink::Muted);
    for (Text* line : {m_w->rule, m_w->limits}) {
        line->setElided();
        layout->addWidget(line);
    }
    field(tr("Instructor"), m_w->instructor);

    connect(m_w->bus, &QComboBox::currentIndexChanged, this, [this](int row) {
        if (row < 0) return;
        m_form->setBus(ss(m_w->bus->itemData(row).toString()));
        refresh();
    });
    connect(m_w->rubric, &QComboBox::currentIndexChanged, this, [this](int row) {
        if (row < 0) return;
        const auto& rubric = m_form->data().rubrics[static_cast<std::size_t>(row)];
        m_form->setRubric(rubric->id, rubric->edition);
        refresh();
    });
    connect(m_w->instructor, &QComboBox::currentIndexChanged, this, [this](int row) {
        if (row < 0) return;
        m_form->setInstructor(ss(m_w->instructor->itemData(row).toString()));
        refresh();
    });
    return column;
}

void StartPage::applyTheme() {
    m_w->find->setFont(m_theme.font(15));
    m_w->trainees->setMinimumHeight(qRound(m_theme.s(52 * 3 + 4)));
    m_w->equipmentOf.reset();
    fillEquipment();
    arrange();
    refresh();
}

void StartPage::arrange() {
    const auto px = [this](double v) { return qRound(m_theme.s(v)); };
    const bool narrow = width() < m_theme.s(kThreeColumns);
    m_w->page->setContentsMargins(px(narrow ? 12 : 24), px(10), px(narrow ? 12 : 24), px(8));
    m_w->columns->setDirection(narrow ? QBoxLayout::TopToBottom : QBoxLayout::LeftToRight);
    m_w->head->setVisible(height() >= m_theme.s(kHead));
    m_w->resume->setNarrow(narrow);
    m_w->equipment->setMinimumHeight(px(36 * (narrow ? 4.5 : 2)));
}

void StartPage::resizeEvent(QResizeEvent* event) {
    Page::resizeEvent(event);
    arrange();
}

void StartPage::aboutToShow() {
    auto loaded = m_loader();
    if (!loaded) {
        emit said(errorText(loaded.error()));
        return;
    }
    m_form->setData(std::move(*loaded));
    m_w->scope->reloadKeys();
    m_w->resume->setAttempts(*m_form);
    m_w->start->setProperty("primary", m_w->resume->isEmpty());  // one filled button a page
    m_w->start->update();
    m_w->find->clear();
    fillTrainees();
    fillBus();
    refresh();
    if (m_w->resume->isEmpty())
        m_w->trainees->setFocus();
    else
        m_w->resume->resumeButton()->setFocus();
}

void StartPage::chooseTrainee(const QString& key) {
    m_form->setTrainee(ss(key));
    m_w->find->clear();
    fillTrainees();
    refresh();
}

bool StartPage::chooseZones(const std::string& rubric, int edition, const std::vector<std::string>& zones) {
    m_form->setRubric(rubric, edition);
    const auto chosen = m_form->rubric();
    if (!chosen || chosen->id != rubric || chosen->edition != edition) return false;
    m_form->setAllZones(false);
    for (const std::string& zone : zones) m_form->setZone(zone, true);
    refresh();
    return true;
}

void StartPage::secondScoringOf(const QString& code, const std::string& instructor) {
    m_form->setSecondOf(ss(code));
    if (!instructor.empty()) m_form->setInstructor(instructor);
    m_w->title->setText(code.isEmpty() ? tr("Start an attempt") : tr("Second scoring of %1").arg(code));
    refresh();
}

void StartPage::fillTrainees() {
    m_w->filling = true;
    m_w->rows->clear();
    int current = -1;
    for (const int row : m_form->findTrainees(m_w->find->text())) {
        const StartTrainee& entry = m_form->data().trainees[static_cast<std::size_t>(row)];
        auto* item = new QStandardItem(StartForm::traineeName(entry.trainee));
        const QString below = m_form->attemptsWords(entry);
        const QString right = m_form->permitWords(entry.trainee);
        item->setData(qs(entry.trainee.key), TraineeDelegate::Key);
        item->setData(below, TraineeDelegate::Below);
        item->setData(right, TraineeDelegate::Right);
        item->setData(m_form->permitPresses(entry.trainee), TraineeDelegate::RightBold);
        item->setData(QStringList{item->text(), below, right}.join(QStringLiteral(", ")),
                      Qt::AccessibleTextRole);
        if (entry.trainee.key == m_form->trainee()) current = m_w->rows->rowCount();
        m_w->rows->appendRow(item);
    }
    m_w->filling = false;
    m_w->trainees->setEmptyWords(m_form->data().trainees.empty()
                                     ? tr("No trainee is in the file: add one, or import a list.")
                                     : tr("No trainee has these words in name or key."));
    if (m_w->rows->rowCount() == 1 && !m_w->find->text().isEmpty()) current = 0;  // found
    QItemSelectionModel* selection = m_w->trainees->selectionModel();
    // A view always has a current row, for assistive technology; only a selected one is chosen.
    if (current >= 0)
        selection->setCurrentIndex(m_w->rows->index(current, 0), QItemSelectionModel::ClearAndSelect);
    else if (m_w->rows->rowCount() > 0)
        selection->setCurrentIndex(m_w->rows->index(0, 0), QItemSelectionModel::NoUpdate);
    m_w->trainees->doItemsLayout();
    if (m_w->trainees->currentIndex().isValid()) m_w->trainees->scrollTo(m_w->trainees->currentIndex());
}

void StartPage::fillBus() {
    const QSignalBlocker blockBus(m_w->bus), blockRubric(m_w->rubric), blockInstructor(m_w->instructor);
    m_w->bus->clear();
    for (const core::Bus& bus : m_form->data().buses)
        m_w->bus->addItem(StartForm::busWords(bus), qs(bus.key));
    m_w->rubric->clear();
    for (const auto& rubric : m_form->data().rubrics)
        m_w->rubric->addItem(tr("%1, edition %2").arg(qs(rubric->title)).arg(rubric->edition));
    m_w->instructor->clear();
    for (const core::Instructor& instructor : m_form->data().instructors)
        m_w->instructor->addItem(m_form->instructorWords(instructor), qs(instructor.key));
}

void StartPage::fillEquipment() {
    if (m_w->equipmentOf != m_form->rubric()) {
        m_w->equipmentOf = m_form->rubric();
        clearLayout(m_w->equipmentGrid);
        m_w->ticks.clear();
        if (m_w->equipmentOf)
            for (const auto& [tag, title] : m_w->equipmentOf->equipment) {
                auto* box = new TickBox(m_theme, qs(title));
                connect(box, &TickBox::clicked, this, [this, tag = tag](bool on) {
                    m_form->setEquipment(tag, on);
                    refresh();
                });
                const int at = static_cast<int>(m_w->ticks.size());
                m_w->equipmentGrid->addWidget(box, at / 2, at % 2);
                m_w->ticks.push_back(box);
                box->show();
            }
        // Known here; layouts would find it out one pass late, and the rows would be seen squeezed.
        const int rows = (static_cast<int>(m_w->ticks.size()) + 1) / 2;
        m_w->equipment->widget()->setMinimumHeight(rows * qRound(m_theme.s(36)));
    }
    for (std::size_t i = 0; i < m_w->ticks.size(); ++i)
        m_w->ticks[i]->setChecked(m_form->hasEquipment(m_w->equipmentOf->equipment[i].first));
    m_w->equipmentCount->setText(m_form->equipmentWords());
}

void StartPage::refresh() {
    {
        const QSignalBlocker blockBus(m_w->bus), blockRubric(m_w->rubric), blockInstructor(m_w->instructor);
        m_w->bus->setCurrentIndex(m_w->bus->findData(qs(m_form->bus())));
        m_w->instructor->setCurrentIndex(m_w->instructor->findData(qs(m_form->instructor())));
        const auto& rubrics = m_form->data().rubrics;
        const auto found = std::find(rubrics.begin(), rubrics.end(), m_form->rubric());
        m_w->rubric->setCurrentIndex(found == rubrics.end() ? -1 : static_cast<int>(found - rubrics.begin()));
    }
    fillEquipment();
    m_w->scope->refresh();
    m_w->rule->setText(m_form->ruleWords());
    m_w->limits->setText(m_form->limitWords());
    m_w->sentence->setText(m_form->sentence());
    m_w->start->setEnabled(m_form->ready());
    if (!m_form->trainee().empty()) emit traineeChosen(qs(m_form->trainee()));
}

void StartPage::start() {
    if (!m_form->ready()) {
        emit said(m_form->missing());
        return;
    }
    emit startRequested(m_form->header(nowIso()));
}

void StartPage::takeEnter() {
    QWidget* focus = QApplication::focusWidget();
    if (focus == m_w->find && !m_w->find->text().isEmpty()) {
        if (m_w->rows->rowCount() > 0) {
            if (m_w->trainees->selectionModel()->selectedIndexes().isEmpty())
                m_w->trainees->setCurrentIndex(m_w->rows->index(0, 0));
            m_w->trainees->setFocus();
        }
        return;
    }
    // The button that shows the focus acts, before the one that Enter stands for.
    if (auto* button = qobject_cast<QPushButton*>(focus); button != nullptr && isAncestorOf(button))
        button->click();
    else if (!m_w->resume->isEmpty())
        m_w->resume->resumeButton()->click();
}

void StartPage::keyPressEvent(QKeyEvent* event) {
    const bool enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    const Qt::KeyboardModifiers modifiers = event->modifiers() & ~Qt::KeypadModifier;
    if (enter && modifiers == Qt::ControlModifier) {
        if (!event->isAutoRepeat()) start();
    } else if (enter && modifiers == Qt::NoModifier) {
        if (!event->isAutoRepeat()) takeEnter();
    } else if (event->key() == Qt::Key_Escape && m_w->find->hasFocus() && !m_w->find->text().isEmpty()) {
        m_w->find->clear();
    } else if (event->key() == Qt::Key_Escape) {
        emit cancelled();
    } else {
        Page::keyPressEvent(event);
    }
}

}  // namespace markerlamp::app
