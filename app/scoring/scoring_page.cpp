// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/scoring_page.h"

#include "app/scoring/attempt_clock.h"
#include "app/scoring/board_part.h"
#include "app/scoring/brake_minute.h"
#include "app/scoring/compact_part.h"
#include "app/scoring/cover_part.h"
#include "app/scoring/dock_part.h"
#include "app/scoring/event_sink.h"
#include "app/scoring/find_part.h"
#include "app/scoring/header_part.h"
#include "app/scoring/key_map.h"
#include "app/scoring/keypad_part.h"
#include "app/scoring/listening_part.h"
#include "app/scoring/note_part.h"
#include "app/scoring/number_field.h"
#include "app/scoring/plan_part.h"
#include "app/scoring/ribbon_part.h"
#include "app/scoring/settle_model.h"
#include "app/scoring/settle_part.h"
#include "app/scoring/strip_part.h"
#include "app/settings/settings.h"
#include "app/support/display.h"

#include <QPainter>
#include <QTimer>

#include <algorithm>

namespace markerlamp::app {

namespace {

constexpr double kRoughFactor = 1.2;  // targets of 18 and 24 mm instead of 15 and 20
constexpr double kPalmMillimetres = 8;
constexpr int kTickMilliseconds = 100;

}  // namespace

ScoringPage::ScoringPage(Theme& theme, Settings& settings, ScoringServices services, QWidget* parent)
    : Page(parent),
      m_theme(theme),
      m_settings(settings),
      m_services(std::move(services)),
      m_clock(m_services.clock != nullptr ? *m_services.clock : AttemptClock::system()),
      m_keys(std::make_unique<KeyMap>()),
      m_guard(std::make_unique<ContactGuard>([this] { return m_clock.steadySeconds(); })),
      m_ticker(new QTimer(this)) {
    // Not by a press: a touch on the number keys must leave the field its keys.
    setFocusPolicy(Qt::TabFocus);
    setAccessibleName(tr("Scoring"));
    makeParts();
    bindParts();
    m_ticker->setInterval(kTickMilliseconds);
    connect(m_ticker, &QTimer::timeout, this, &ScoringPage::tick);
    connect(&m_theme, &Theme::changed, this, &ScoringPage::layOut);
    connect(&m_settings, &Settings::changed, this, &ScoringPage::applySettings);
    connect(m_keys.get(), &KeyMap::changed, this, &ScoringPage::refresh);
    applySettings();
}

ScoringPage::~ScoringPage() {
    m_keys->disconnect(this);
}

void ScoringPage::makeParts() {
    const PartKit kit{m_theme, *m_guard, *m_keys};
    m_header = new HeaderPart(kit, this);
    m_strip = new StripPart(kit, this);
    m_plan = new PlanPart(kit, this);
    m_listening = new ListeningPart(kit, this);
    m_board = new BoardPart(kit, this);
    m_dock = new DockPart(kit, this);
    m_ribbon = new RibbonPart(kit, this);
    m_keypad = new KeypadPart(kit, this);
    m_compact = new CompactPart(kit, this);
    m_settlePart = new SettlePart(kit, this);
    m_note = new NotePart(kit, this);
    m_find = new FindPart(kit, this);
    m_cover = new CoverPart(kit, this);
    m_note->hide();
    m_find->hide();
    m_cover->hide();
}

void ScoringPage::bindParts() {
    connect(m_header, &Surface::pressed, this, [this](int id) {
        takeKeys();
        if (id == HeaderPart::Pause) m_model->pauseOrGoOn();
        if (id == HeaderPart::Cover) toggleCover();
        if (id == HeaderPart::Finish) settlePressed();
    });
    connect(m_strip, &Surface::pressed, this, [this](int id) {
        takeKeys();
        switch (id) {
            case StripPart::Prompt:
                m_model->armPrompt();
                break;
            case StripPart::Note:
                openNote(false);
                break;
            case StripPart::Slide:
                m_model->slide(1);
                break;
            case StripPart::Said:
                record(core::Outcome::SaidOnly);
                break;
            default:
                m_model->flipPoint(id);
                break;
        }
    });
    connect(m_plan, &Surface::pressed, this, [this](int zone) {
        takeKeys();
        m_zonesOpen = false;
        m_model->goToZone(zone);
        setFocus(Qt::OtherFocusReason);
    });
    connect(m_listening, &Surface::pressed, this, [this] {
        m_model->goTo(m_minute->step());
        if (!readingsShown()) toggleReadings();
    });
    connect(m_board, &Surface::pressed, this, [this](int id, int area) {
        takeKeys();
        if (id == BoardPart::ZoneHead)
            openZones();
        else if (id == BoardPart::PageBefore)
            turnPage(-1);
        else if (id == BoardPart::PageAfter)
            turnPage(1);
        else if (id >= BoardPart::StartStop)
            m_minute->startOrStop(id - BoardPart::StartStop);
        else
            tile(id, area);
    });
    connect(m_board, &BoardPart::readingTyped, this,
            [this](int step, double value) { m_model->reading(step, value); });
    connect(m_board, &BoardPart::beforeTyped, this,
            [this](int step, double value) { m_minute->setBefore(step, value); });
    connect(m_board, &BoardPart::afterTyped, this,
            [this](int step, double value) { m_minute->setAfter(step, value); });
    connect(m_board, &BoardPart::refused, this, &ScoringPage::tell);
    connect(
        m_board, &BoardPart::fieldsChanged, this,
        [this] {
            m_keypad->setAwake(m_board->activeField() != nullptr);
            if (m_layout.compact && m_model) layOut();
        },
        Qt::QueuedConnection);
    connect(m_dock, &Surface::pressed, this, [this](int id) { pad(id); });
    connect(m_keypad, &Surface::pressed, this, [this](int id) {
        NumberField* field = m_board->activeField();
        if (field == nullptr) return;
        if (id == KeypadPart::Less || id == KeypadPart::More)
            field->step(id == KeypadPart::More ? 1 : -1);
        else
            field->type(QString::number(id));
    });
    connect(m_compact, &Surface::pressed, this, [this](int id, int area) {
        takeKeys();
        switch (id) {
            case CompactPart::NextStep:
                tile(m_model->marker(), area);
                break;
            case CompactPart::Said:
                record(core::Outcome::SaidOnly);
                break;
            case CompactPart::Prompt:
                m_model->armPrompt();
                break;
            case CompactPart::Note:
                openNote(false);
                break;
            case CompactPart::Slide:
                m_model->slide(1);
                break;
            case CompactPart::Zones:
                openZones();
                break;
            case CompactPart::Brakes:
                toggleReadings();
                break;
            default:
                m_model->flipPoint(id);
                break;
        }
    });
    connect(m_settlePart, &Surface::pressed, this, [this](int id) {
        if (id == SettlePart::PageBefore || id == SettlePart::PageAfter) {
            m_settle->move(id == SettlePart::PageAfter ? m_settlePart->rowsOnPage()
                                                       : -m_settlePart->rowsOnPage());
            return;
        }
        const int row = id / SettlePart::kPerRow;
        switch (id % SettlePart::kPerRow) {
            case SettlePart::Omit:
                m_settle->set(row, core::Outcome::Omitted);
                break;
            case SettlePart::Unsee:
                m_settle->set(row, core::Outcome::NotObserved);
                break;
            case SettlePart::Unreach:
                m_settle->set(row, core::Outcome::NotReached);
                break;
            default:
                m_settle->setCurrent(row);
                m_settlePart->chooseZone(id % SettlePart::kPerRow == SettlePart::ZoneName);
                break;
        }
    });
    connect(m_find, &FindPart::chosen, this, [this](int step) {
        closeOverlays();
        m_model->goTo(step);
    });
    connect(m_find, &FindPart::left, this, &ScoringPage::closeOverlays);
    connect(m_note, &NotePart::left, this, &ScoringPage::closeOverlays);
    connect(m_note, &NotePart::noted, this, [this](const QString& text, bool whole) {
        m_model->note(text, whole ? -1 : m_model->justScored());
    });
    connect(m_note, &NotePart::defectNoted, this,
            [this](const QString& text) { m_model->fault(text, m_model->justScored()); });
    connect(m_note, &NotePart::wrongNoted, this, [this](const QString& text) { m_model->wrong(text); });
    connect(m_cover, &Surface::pressed, this, [this] { toggleCover(); });
}

void ScoringPage::takeKeys() {
    NumberField* field = m_board->activeField();
    if (field == nullptr) return;
    field->keep();
    setFocus(Qt::OtherFocusReason);
}

// --- attempts ---

core::Result<void> ScoringPage::open(core::Result<std::unique_ptr<ScoringModel>> model) {
    if (!model) return core::fail(model.error());
    suspend();
    close();
    m_model = std::move(*model);
    m_minute = std::make_unique<BrakeMinute>(*m_model, m_clock);
    const core::AttemptHeader& header = m_model->header();
    const QString trainee =
        m_services.traineeName ? m_services.traineeName(header.trainee) : qs(header.trainee);
    const QString bus = m_services.busTitle ? m_services.busTitle(header.bus) : qs(header.bus);
    m_header->setNames(trainee, bus);
    m_compact->setNames(trainee, bus);
    m_header->setModel(m_model.get());
    m_strip->setModel(m_model.get());
    m_plan->setModel(m_model.get());
    m_listening->setModel(m_model.get(), m_minute.get());
    m_board->setModel(m_model.get(), m_minute.get());
    m_dock->setModel(m_model.get());
    m_ribbon->setModel(m_model.get());
    m_compact->setModel(m_model.get());
    m_cover->setModel(m_model.get());
    connect(m_model.get(), &ScoringModel::changed, this, &ScoringPage::refresh);
    connect(m_model.get(), &ScoringModel::acted, this, &ScoringPage::tell);
    connect(m_model.get(), &ScoringModel::refused, this, &ScoringPage::tell);
    connect(m_model.get(), &ScoringModel::storageChanged, this, &ScoringPage::refreshClock);
    connect(m_minute.get(), &BrakeMinute::changed, this, &ScoringPage::refresh);
    connect(m_minute.get(), &BrakeMinute::said, this, &ScoringPage::tell);
    connect(m_minute.get(), &BrakeMinute::minuteOver, this, [this](int step) {
        if (readingsShown() && m_view == View::Scoring) m_board->focusAfter(step);
    });
    m_ticker->start();
    layOut();
    setFocus(Qt::OtherFocusReason);
    return {};
}

void ScoringPage::close() {
    m_ticker->stop();
    m_keys->save(m_settings.store());
    m_view = View::Scoring;
    m_readings = Readings::Auto;
    m_covered = m_zonesOpen = false;
    m_note->hide();
    m_find->hide();
    m_settlePart->setModels(nullptr, nullptr);
    m_header->setSettling({});
    m_settle.reset();
    for (Surface* part : findChildren<Surface*>()) part->contentChanged();
    m_header->setModel(nullptr);
    m_strip->setModel(nullptr);
    m_plan->setModel(nullptr);
    m_listening->setModel(nullptr, nullptr);
    m_board->setModel(nullptr, nullptr);
    m_dock->setModel(nullptr);
    m_ribbon->setModel(nullptr);
    m_compact->setModel(nullptr);
    m_cover->setModel(nullptr);
    m_minute.reset();
    m_model.reset();
    m_lastWords.clear();
    m_shownSecond = -1;
}

core::Result<void> ScoringPage::start(std::shared_ptr<const core::Rubric> rubric,
                                      core::AttemptHeader header) {
    if (auto done =
            open(ScoringModel::start(std::move(rubric), std::move(header), *m_services.sink, m_clock));
        !done)
        return done;
    tell(tr("The clock runs. %1 is next.").arg(m_model->title(m_model->marker())));
    return {};
}

core::Result<void> ScoringPage::resume(const QString& attemptId) {
    // Two recorders of one attempt would number their events alike.
    if (m_model && this->attemptId() == attemptId) {
        if (m_model->paused()) m_model->pauseOrGoOn();
        return {};
    }
    auto attempt = m_services.attempt(attemptId);
    if (!attempt) return core::fail(attempt.error());
    auto rubric = m_services.rubric(attempt->header.rubric, attempt->header.edition);
    if (!rubric) return core::fail(rubric.error());
    if (auto done = open(ScoringModel::resume(*rubric, std::move(*attempt), *m_services.sink, m_clock));
        !done)
        return done;
    tell(tr("Going on; the time since the last press is a pause."));
    return {};
}

core::Result<void> ScoringPage::settle(const QString& attemptId) {
    if (m_model && this->attemptId() == attemptId) {
        if (m_view != View::Settle) settlePressed();
        return {};
    }
    auto attempt = m_services.attempt(attemptId);
    if (!attempt) return core::fail(attempt.error());
    auto rubric = m_services.rubric(attempt->header.rubric, attempt->header.edition);
    if (!rubric) return core::fail(rubric.error());
    if (auto done =
            open(ScoringModel::resume(*rubric, std::move(*attempt), *m_services.sink, m_clock, false));
        !done)
        return done;
    settlePressed();
    return {};
}

QString ScoringPage::attemptId() const {
    return m_model ? m_model->attemptId() : QString();
}

void ScoringPage::suspend() {
    if (!m_model) return;
    m_board->keepFields();
    m_minute->stop();
    m_model->pause();
    m_keys->save(m_settings.store());
}

void ScoringPage::aboutToShow() {
    layOut();
    setFocus(Qt::OtherFocusReason);
}

// --- places ---

double ScoringPage::scale() const {
    return m_theme.scale() * (m_theme.rough() ? kRoughFactor : 1);
}

bool ScoringPage::readingsShown() const {
    if (!m_model || m_model->zones().empty()) return false;
    const int zone = m_model->currentZone();
    if (m_readings != Readings::Auto && m_readingsZone == zone) return m_readings == Readings::Open;
    if (m_layout.compact) return false;
    const auto& z = m_model->zones()[static_cast<std::size_t>(zone)];
    for (int i = z.first; i < z.first + z.count; ++i)
        if (BrakeMinute::isMinute(m_model->step(i))) return true;
    return false;
}

void ScoringPage::applySettings() {
    m_keys->load(m_settings.store());
    m_keys->setSingleKeys(m_settings.singleKeys());
    layOut();
}

void ScoringPage::layOut() {
    const double factor = scale();
    const bool wasCompact = m_layout.compact;
    const QSizeF size(width() / factor, height() / factor);
    ScoringLayoutWish wish;
    wish.dockLeft = m_settings.dockLeft();
    wish.dense = m_settings.denseTiles();
    wish.planRows = m_plan->rows();
    // What was laid out before anybody saw it, at whatever size, does not count.
    wish.compactNow = wasCompact && m_laidOutShown;
    m_laidOutShown = isVisible();
    m_layout = layOutScoring(size, wish);
    const bool readings = readingsShown();
    if (readings && !m_layout.compact) {
        wish.keypad = true;
        m_layout = layOutScoring(size, wish);
    }
    const ScoringLayout& l = m_layout;
    const double f = factor * l.shrink;
    const bool mirrored = layoutDirection() == Qt::RightToLeft;
    const auto put = [&](Surface* part, const QRectF& place, bool shown) {
        const double left = qRound(place.left() * f);
        const double top = qRound(place.top() * f);
        QRect rect(static_cast<int>(left), static_cast<int>(top),
                   qRound(place.right() * f) - static_cast<int>(left),
                   qRound(place.bottom() * f) - static_cast<int>(top));
        if (mirrored) rect.moveLeft(width() - rect.right() - 1);
        part->setFactor(f);
        part->setGeometry(rect);
        part->setVisible(shown);
    };
    const bool active = m_model != nullptr;
    const bool settling = active && m_view == View::Settle;
    const bool scoring = active && !settling;
    const bool full = scoring && !l.compact;
    const bool planOver = scoring && (l.compact || l.planPopup) && m_zonesOpen;
    BoardRoom room;
    room.width = l.board.width();
    room.rows = l.rows;
    room.columns = l.columns;
    room.tileHeight = l.tileHeight;
    room.readings = readings;
    m_board->setRoom(room);
    m_strip->setRoom(l.beadsOnly, l.saidInStrip);
    m_dock->setLineAtRight((l.dock.left() < l.content.left()) != mirrored);
    m_dock->setPads(settling        ? DockPart::Pads::Settle
                    : l.compact     ? DockPart::Pads::Compact
                    : l.saidInStrip ? DockPart::Pads::ScoringWithoutSaid
                                    : DockPart::Pads::Scoring);
    const bool typing = m_board->activeField() != nullptr;
    put(m_header, l.header, (active && !l.compact) || (planOver && l.compact));
    put(m_strip, l.strip, full && m_note->isHidden());
    const QRectF planPlace =
        l.compact || l.planPopup
            ? l.plan
            : QRectF(l.planHead.left(), l.planHead.top(), l.plan.width(), l.plan.bottom() - l.planHead.top());
    put(m_plan, planPlace, planOver || (full && !l.planPopup));
    put(m_listening, l.listeningCard, full && l.listening);
    put(m_board,
        QRectF(l.boardHead.left() - BoardPart::kMargin, l.boardHead.top(),
               l.boardHead.width() + 2 * BoardPart::kMargin,
               l.board.bottom() - l.boardHead.top() + BoardPart::kMargin),
        full || (scoring && readings));
    put(m_dock, l.dock, active);
    put(m_ribbon, l.ribbonRect, full && l.ribbon && !readings);
    put(m_keypad, l.keypad, scoring && readings && (!l.compact || typing));
    put(m_compact, l.content, scoring && l.compact);
    put(m_settlePart, l.settle, settling);
    // A narrow strip has no room for field and buttons beside each other.
    QRectF notePlace = l.strip;
    if (notePlace.width() < NotePart::kStackedBelow) notePlace.setHeight(NotePart::kStackedHeight);
    put(m_note, notePlace, scoring && !m_note->isHidden());
    const QRectF overBoard(l.boardHead.left(), l.boardHead.top(), l.boardHead.width(),
                           (l.compact ? l.content.bottom() - 8 : l.board.bottom()) - l.boardHead.top());
    // The outline of a must-pass tile stands outside the board's edge and is covered with it.
    const double outside = l.compact ? 0 : BoardPart::kMargin;
    put(m_find, overBoard.adjusted(-outside, 0, outside, outside), scoring && !m_find->isHidden());
    put(m_cover, l.content, scoring && m_covered);
    m_compact->setBrakesOpen(readings);
    for (Surface* over :
         {static_cast<Surface*>(m_board), static_cast<Surface*>(m_keypad), static_cast<Surface*>(m_plan),
          static_cast<Surface*>(m_header), static_cast<Surface*>(m_note), static_cast<Surface*>(m_find),
          static_cast<Surface*>(m_cover)})
        over->raise();
    // A palm may rest on the outer edge of the dock.
    const double palm = kPalmMillimetres * m_theme.pxPerMm();
    const QRect dock = m_dock->geometry();
    const bool dockAtLeft = dock.center().x() < width() / 2;
    const QPoint onWindow = mapTo(window(), QPoint(0, 0));
    m_guard->setPalmBand(
        QRectF(onWindow.x() + (dockAtLeft ? 0 : width() - palm), onWindow.y(), palm, height()));
    refresh();
    if (wasCompact != l.compact) emit compactChanged(l.compact);
}

void ScoringPage::resizeEvent(QResizeEvent* event) {
    Page::resizeEvent(event);
    layOut();
}

void ScoringPage::changeEvent(QEvent* event) {
    Page::changeEvent(event);
    if (event->type() == QEvent::LayoutDirectionChange) layOut();
}

void ScoringPage::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    painter.fillRect(rect(), m_theme.roles().ground);
}

// --- what is shown ---

void ScoringPage::refresh() {
    const bool running = m_model && !m_model->paused() && m_view == View::Scoring;
    if (m_services.keepAwake) m_services.keepAwake(running);
    if (!m_model) return;
    // Another zone may want its readings shown, or no longer.
    if (m_board->readings() != readingsShown()) {
        layOut();
        return;
    }
    m_board->refresh();
    m_listening->setMinuteElsewhere(m_minute->running() && !m_board->showsMinute(m_minute->step()));
    m_ribbon->refresh();
    m_dock->setCanUndo(m_view == View::Settle && m_settle != nullptr);
    for (Surface* part :
         {static_cast<Surface*>(m_header), static_cast<Surface*>(m_strip), static_cast<Surface*>(m_plan),
          static_cast<Surface*>(m_listening), static_cast<Surface*>(m_dock), static_cast<Surface*>(m_compact),
          static_cast<Surface*>(m_settlePart)})
        part->contentChanged();
    const bool planWanted = (m_layout.compact || m_layout.planPopup) ? m_zonesOpen : true;
    if (m_view == View::Scoring && m_plan->isHidden() == planWanted) {
        layOut();
        return;
    }
    emit commandsChanged();
}

QString ScoringPage::savedWords() const {
    if (!m_model->troubleText().isEmpty()) return tr("not saved");
    if (!m_model->allStored()) return tr("saving");
    return m_model->lastStored().isValid()
               ? tr("saved %1").arg(m_model->lastStored().time().toString(QStringLiteral("HH:mm:ss")))
               : QString();
}

void ScoringPage::refreshClock() {
    if (!m_model) return;
    m_compact->setWords(m_lastWords, savedWords());
    m_header->update();
    if (m_compact->isVisible()) m_compact->update();
    if (m_covered) m_cover->update();
}

void ScoringPage::tick() {
    if (!m_model) return;
    m_minute->tick();
    const auto second = static_cast<qint64>(m_model->runningSeconds());
    if (second == m_shownSecond) return;
    m_shownSecond = second;
    refreshClock();
}

void ScoringPage::tell(const QString& words) {
    m_lastWords = words;
    refreshClock();
    emit said(words);
}

}  // namespace markerlamp::app
