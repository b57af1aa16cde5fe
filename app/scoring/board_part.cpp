// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/board_part.h"

#include "app/scoring/brake_minute.h"
#include "app/scoring/key_map.h"
#include "app/scoring/number_field.h"
#include "app/scoring/scoring_model.h"
#include "app/scoring/tile_painting.h"
#include "app/support/display.h"

#include <algorithm>

namespace markerlamp::app {

BoardPart::BoardPart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Steps"), parent), m_theme(kit.theme), m_keys(kit.keys) {}

void BoardPart::setModel(const ScoringModel* model, const BrakeMinute* minute) {
    m_model = model;
    m_minute = minute;
    m_page = 0;
    for (const auto& [key, made] : m_fields) delete made;
    m_fields.clear();
    m_slots.clear();
}

void BoardPart::setRoom(const BoardRoom& room) {
    m_room = room;
}

void BoardPart::refresh() {
    if (m_model == nullptr || m_model->zones().empty()) return;
    const auto& zone = m_model->zones()[static_cast<std::size_t>(m_model->currentZone())];
    m_slots = boardSlots(*m_model->recorder().rubric().zone(zone.id), m_model->header(), m_room);
    m_page = std::clamp(m_page, 0, pages() - 1);
    const int shown = m_model->marker() >= 0 ? m_model->marker() : m_model->justScored();
    if (const BoardSlot* slot = shown >= 0 ? slotOf(shown) : nullptr) m_page = slot->page;
    setAccessibleName(tr("Steps of %1").arg(zone.title));
    placeFields();
    contentChanged();
}

int BoardPart::indexOf(const BoardSlot& slot) const {
    return slot.onBus ? m_model->indexOf(slot.step->id) : -1;
}

const BoardSlot* BoardPart::slotOf(int index) const {
    const std::string& id = m_model->step(index).id;
    const auto found =
        std::ranges::find_if(m_slots, [&](const BoardSlot& slot) { return slot.step->id == id; });
    return found == m_slots.end() ? nullptr : &*found;
}

bool BoardPart::showsMinute(int step) const {
    const BoardSlot* slot = step >= 0 && step < m_model->stepCount() ? slotOf(step) : nullptr;
    return slot != nullptr && slot->kind == BoardSlot::Kind::Minute && slot->page == m_page;
}

int BoardPart::stepOnPage(int by) const {
    const int wanted = m_page + by;
    int first = -1;
    for (const BoardSlot& slot : m_slots) {
        const int index = indexOf(slot);
        if (slot.page != wanted || index < 0) continue;
        if (m_model->marks(index).open()) return index;
        if (first < 0) first = index;
    }
    return first;
}

QRectF BoardPart::place(const BoardSlot& slot) const {
    return look().rect(slot.rect.translated(kMargin, kHead));
}

// --- fields ---

NumberField* BoardPart::field(int index, Field which) {
    NumberField*& made = m_fields[{index, which}];
    if (made != nullptr) return made;
    made = new NumberField(m_theme, this);
    made->hide();
    const auto limit =
        core::readingLimit(m_model->recorder().rubric(), m_model->header(), m_model->step(index));
    const QString unit = limit ? qs(limit->unit) : QString();
    const QString title = m_model->title(index);
    made->setAccessibleName(which == Before  ? tr("%1: before the minute, %2").arg(title, unit)
                            : which == After ? tr("%1: after the minute, %2").arg(title, unit)
                                             : tr("%1: reading, %2").arg(title, unit));
    made->installEventFilter(this);
    connect(made, &NumberField::refused, this, &BoardPart::refused);
    connect(made, &NumberField::left, this, [this] {
        if (parentWidget() != nullptr) parentWidget()->setFocus(Qt::OtherFocusReason);
    });
    connect(made, &NumberField::typed, this, [this, index, which](double value) {
        if (which == Before)
            emit beforeTyped(index, value);
        else if (which == After)
            emit afterTyped(index, value);
        else
            emit readingTyped(index, value);
    });
    return made;
}

bool BoardPart::eventFilter(QObject* object, QEvent* event) {
    if (event->type() == QEvent::FocusIn || event->type() == QEvent::FocusOut) emit fieldsChanged();
    return Surface::eventFilter(object, event);
}

void BoardPart::placeFields() {
    std::map<NumberField*, bool> wanted;
    for (const BoardSlot& slot : m_slots) {
        const int index = indexOf(slot);
        if (slot.page != m_page || index < 0 || slot.kind == BoardSlot::Kind::Tile) continue;
        const QRectF r = place(slot);
        const bool narrow = r.width() < s(780);
        const auto put = [&](Field which, QRectF where, std::optional<double> number, bool due) {
            NumberField* made = field(index, which);
            wanted[made] = true;
            made->setFactor(look().factor());
            made->setDue(due);
            made->setNumber(number);
            made->setGeometry(seen(where));
        };
        if (slot.kind == BoardSlot::Kind::Reading) {
            const double x =
                narrow ? capsuleLeft(look(), r, m_model->sign(index)) - r.left() - s(88) : s(408);
            put(Reading, QRectF(r.left() + x, r.center().y() - s(22), s(76), s(44)),
                m_model->marks(index).reading, true);
            continue;
        }
        const bool runs = m_minute->running() && m_minute->step() == index;
        const double y = r.top() + s(86);
        std::optional<double> after;
        if (const auto& all = m_minute->runs(index); !all.empty() && !runs) after = all.back().after;
        put(Before, QRectF(r.left() + s(60), y, s(92), s(46)), m_minute->before(index), true);
        put(After, QRectF(narrow ? r.right() - s(108) : r.left() + s(536), y, s(92), s(46)), after,
            m_minute->waitsForAfter(index) || after.has_value());
    }
    for (const auto& [key, made] : m_fields) made->setVisible(wanted.count(made) > 0);
}

NumberField* BoardPart::activeField() const {
    for (const auto& [key, made] : m_fields)
        if (made->hasFocus()) return made;
    return nullptr;
}

void BoardPart::focusAfter(int step) {
    if (slotOf(step) == nullptr) return;
    NumberField* made = field(step, After);
    made->setDue(true);
    if (made->isVisible()) made->setFocus(Qt::OtherFocusReason);
}

void BoardPart::focusField(int step) {
    const BoardSlot* slot = step >= 0 ? slotOf(step) : nullptr;
    if (slot == nullptr || slot->kind == BoardSlot::Kind::Tile) return;
    NumberField* made = field(step, slot->kind == BoardSlot::Kind::Minute ? Before : Reading);
    if (made->isVisible()) made->setFocus(Qt::OtherFocusReason);
}

void BoardPart::keepFields() {
    if (NumberField* active = activeField()) active->keep();
}

// --- targets ---

BoardPart::Areas BoardPart::areasOf(const BoardSlot& slot) const {
    const QRectF r = place(slot);
    const int index = indexOf(slot);
    const double capsule = r.right() - s(16) - capsuleLeft(look(), r, m_model->sign(index));
    // 15 mm at each end; a wide capsule takes a little more.
    return {r.left() + s(66), r.right() - std::max(s(66), capsule + s(24))};
}

int BoardPart::partAt(int id, const QPointF& position) const {
    if (m_model == nullptr || id >= m_model->stepCount()) return Middle;
    const BoardSlot* slot = slotOf(id);
    if (slot == nullptr) return Middle;
    const Areas areas = areasOf(*slot);
    if (position.x() < areas.shownRight) return ShownEnd;
    if (position.x() >= areas.saidLeft) return SaidEnd;
    return Middle;
}

QRectF BoardPart::minuteButton(const BoardSlot& slot) const {
    const QRectF r = place(slot);
    const bool narrow = r.width() < s(560);
    return QRectF(r.left() + qRound(s(narrow ? 160 : 168)), r.top() + qRound(s(66)),
                  qRound(s(narrow ? 84 : 112)), qRound(s(68)));
}

std::vector<Surface::Target> BoardPart::pageButtons() const {
    if (pages() < 2) return {};
    const double right = kMargin + m_room.width;
    Target before;
    before.id = PageBefore;
    const double each = m_room.width < 600 ? 66 : 116;
    before.rect = look().rect(right - 2 * each - 8, 0, each, 36);
    before.name = tr("Before");
    before.description = tr("page %1 of %2").arg(m_page + 1).arg(pages());
    before.key = m_keys.caption(KeyAction::PageUp);
    before.enabled = m_page > 0;
    Target after = before;
    after.id = PageAfter;
    after.rect = look().rect(right - each, 0, each, 36);
    after.name = tr("More");
    after.key = m_keys.caption(KeyAction::PageDown);
    after.enabled = m_page + 1 < pages();
    return {before, after};
}

std::vector<Surface::Target> BoardPart::targets() const {
    std::vector<Target> all;
    if (m_model == nullptr) return all;
    for (const BoardSlot& slot : m_slots) {
        const int index = indexOf(slot);
        if (slot.page != m_page || index < 0) continue;
        if (slot.kind == BoardSlot::Kind::Minute) {
            // The button lies on the slot; it must be hit before it.
            Target button;
            button.id = StartStop + index;
            button.rect = minuteButton(slot);
            button.name = m_minute->running() && m_minute->step() == index ? tr("Stop the minute")
                                                                           : tr("Start the minute");
            button.description = m_model->title(index);
            button.key = m_keys.caption(KeyAction::Brake);
            all.push_back(button);
        }
        Target tile;
        tile.id = index;
        tile.rect = place(slot);
        if (slot.kind == BoardSlot::Kind::Minute) tile.rect.setHeight(s(m_room.tileHeight) - s(10));
        tile.name = tr("%1 %2", "number and title of a step").arg(index + 1).arg(m_model->title(index));
        QStringList words{m_model->describe(index).section(QStringLiteral(": "), 1)};
        if (index == m_model->marker()) words << tr("at the marker");
        if (m_model->step(index).mustPass) words << tr("must pass");
        if (!m_model->step(index).caution.empty()) words << qs(m_model->step(index).caution);
        tile.description = words.join(QStringLiteral("; "));
        tile.checked = index == m_model->marker();
        tile.parts = {tr("Shown"), tr("Said")};
        all.push_back(std::move(tile));
    }
    for (Target& button : pageButtons()) all.push_back(std::move(button));
    if (!m_model->zones().empty()) {
        const auto& zone = m_model->zones()[static_cast<std::size_t>(m_model->currentZone())];
        Target head;
        head.id = ZoneHead;
        head.rect = look().rect(kMargin, 0, 200, 36);
        head.name = zone.title;
        head.description = tr("%1 of %2").arg(m_model->scoredIn(m_model->currentZone())).arg(zone.count);
        head.key = m_keys.zoneCaption(zone.keyIndex);
        all.push_back(std::move(head));
    }
    return all;
}

// --- painting ---

void BoardPart::paintHead(QPainter& p) const {
    const forms::Roles& roles = look().roles();
    const auto& zone = m_model->zones()[static_cast<std::size_t>(m_model->currentZone())];
    const double left = s(kMargin);
    double right = s(kMargin + m_room.width);
    const QString key = m_keys.zoneCaption(zone.keyIndex);
    double x = left;
    if (!key.isEmpty()) {
        look().inverse(p, look().rect(kMargin, 0, 36, 36), key, look().font(25, true));
        x += s(48);
    }
    const auto buttons = pageButtons();
    for (const Target& button : buttons)
        paintWideButton(p, look(), button.rect, button.name, button.key, {false, !button.enabled});
    if (!buttons.empty()) right = buttons.front().rect.left() - s(12);

    const int marker = m_model->marker();
    const std::string caution = marker >= 0 ? m_model->step(marker).caution : std::string();
    const double titleWidth = Look::width(zone.title, look().font(25, true));
    if (!caution.empty()) {
        const QString word = tr("Caution");
        const double wordWidth = Look::width(word, look().font(18, true)) + s(20);
        const double wordsWidth = wordWidth + s(16);
        const auto fit = [&](double from) {
            const double room = right - from - wordsWidth;
            Fitted text = fitText(look(), qs(caution), room, 1, {18});
            return text.elided ? fitText(look(), qs(caution), room, 2, {15, 13}) : text;
        };
        double from = x;
        Fitted text;
        if (right - x > s(440)) {
            const double titleRoom = std::min(titleWidth + 1, (right - x) * 0.4);
            const double beside = x + titleRoom + s(16);
            from = std::max(beside, std::min(left + s(284), right - s(330)));
            text = fit(from);
            if (text.elided) text = fit(from = beside);
            if (!text.elided)
                look().text(p, x, s(18), zone.title, look().font(25, true), roles.ink, titleRoom);
        }
        // The danger matters more than the name of the place.
        if (text.lines.isEmpty() || text.elided) text = fit(from = x);
        const QRectF box(std::round(from), 0, std::round(right - from), qRound(s(36)));
        look().box(p, box, roles.ground, roles.ink, 2);
        look().inverse(p, QRectF(box.left(), box.top(), std::round(wordWidth), box.height()), word,
                       look().font(18, true));
        const double textX = box.left() + wordWidth + s(10);
        drawFitted(p, look(), text, textX, box.center().y(), s(16), roles.ink);
        return;
    }
    QString counts = tr("%1 of %2").arg(m_model->scoredIn(m_model->currentZone())).arg(zone.count);
    const int mustPass = m_model->mustPassIn(m_model->currentZone());
    if (mustPass > 0) counts += QStringLiteral("   ") + tr("%n must pass", nullptr, mustPass);
    const double countsWidth = Look::width(counts, look().font(18));
    if (countsWidth + s(200) < right - x) {
        look().right(p, right, s(18), counts, look().font(18), roles.muted);
        right -= countsWidth + s(12);
    }
    look().text(p, x, s(18), zone.title, look().font(25, true), roles.ink, right - x);
}

void BoardPart::paintSlot(QPainter& p, const BoardSlot& slot) const {
    const int index = indexOf(slot);
    TileContent tile;
    tile.title = qs(slot.step->title);
    tile.dense = m_room.columns > 2;
    const QRectF r = place(slot);
    if (index < 0) {
        paintTile(p, look(), r, tile);
        return;
    }
    tile.number = index + 1;
    tile.sign = m_model->sign(index);
    tile.scored = !m_model->marks(index).open();
    tile.marker = index == m_model->marker();
    tile.justScored = index == m_model->justScored();
    const double line = s(m_room.tileHeight);
    switch (slot.kind) {
        case BoardSlot::Kind::Tile:
            paintTile(p, look(), r, tile);
            break;
        case BoardSlot::Kind::Reading: {
            const bool narrow = r.width() < s(780);
            paintTileFrame(p, look(), r, tile, line);
            paintTileLine(p, look(), r, tile, line,
                          narrow ? capsuleLeft(look(), r, tile.sign) - s(100) : r.left() + s(310));
            if (!narrow) paintReading(p, slot, index);
            break;
        }
        case BoardSlot::Kind::Minute: {
            const bool narrow = r.width() < s(780);
            paintTileFrame(p, look(), r, tile, line);
            paintTileLine(p, look(), r, tile, s(60),
                          narrow ? capsuleLeft(look(), r, tile.sign) - s(12) : r.left() + s(320));
            paintMinute(p, slot, index);
            break;
        }
    }
}

namespace {

QString sourceOf(const ScoringModel& model, const core::Limit& limit) {
    return model.header().limits.count(limit.id) > 0 ? BoardPart::tr("figure of this bus") : qs(limit.source);
}

}  // namespace

void BoardPart::paintReading(QPainter& p, const BoardSlot& slot, int index) const {
    const forms::Roles& roles = look().roles();
    const QRectF r = place(slot);
    const auto limit = core::readingLimit(m_model->recorder().rubric(), m_model->header(), *slot.step);
    const double yc = r.center().y();
    look().right(p, r.left() + s(400), yc, qs(slot.step->reading->quantity), look().font(18), roles.muted);
    look().text(p, r.left() + s(492), yc, qs(limit->unit), look().font(18), roles.muted, s(48));
    const double x = r.left() + s(544);
    const double room = capsuleLeft(look(), r, m_model->sign(index)) - s(12) - x;
    const auto& reading = m_model->marks(index).reading;
    const QString words = limitWords(*limit);
    if (reading) {
        paintVerdict(p, look(), x, yc - s(14), verdictOf(*reading, *limit, slot.step->reading->tolerance),
                     room);
        look().text(p, x, yc + s(13), tr("%1, %2", "limit, source").arg(words, sourceOf(*m_model, *limit)),
                    look().font(15), roles.muted, room);
        return;
    }
    const Fitted fitted = fitText(look(), words, room, 1, {20, 18, 15});
    drawFitted(p, look(), fitted, x, yc - s(14), 0, roles.ink);
    look().text(p, x, yc + s(13), sourceOf(*m_model, *limit), look().font(15), roles.muted, room);
}

void BoardPart::paintMinute(QPainter& p, const BoardSlot& slot, int index) const {
    const forms::Roles& roles = look().roles();
    const QRectF r = place(slot);
    const bool narrow = r.width() < s(780);
    const auto limit = core::readingLimit(m_model->recorder().rubric(), m_model->header(), *slot.step);
    const QString unit = qs(limit->unit);
    const double tolerance = slot.step->reading->tolerance;
    if (!narrow) {
        const double x = r.left() + s(328);
        const double room = capsuleLeft(look(), r, m_model->sign(index)) - s(12) - x;
        QString words = tr("limit %1 in 1 min").arg(limitWords(*limit));
        if (tolerance > 0) words += tr(", read to %1 %2").arg(numberText(tolerance), unit);
        drawFitted(p, look(), fitText(look(), words, room, 1, {18, 15}), x, r.top() + s(21), 0, roles.ink);
        look().text(p, x, r.top() + s(43), sourceOf(*m_model, *limit), look().font(15), roles.muted, room);
    }
    look().fill(p, QRectF(r.left() + s(48), std::round(r.top() + s(58)), r.width() - s(52), look().stroke(1)),
                roles.hair);
    look().text(p, r.left() + s(60), r.top() + s(75), tr("before, %1").arg(unit), look().font(15),
                roles.muted, s(104));

    const bool running = m_minute->running() && m_minute->step() == index;
    const QRectF button = minuteButton(slot);
    look().box(p, button, roles.panel, roles.line, 2);
    look().centred(p, button.center().x(), button.top() + s(25), running ? tr("Stop") : tr("Start"),
                   look().font(25, true), roles.ink);
    look().centred(p, button.center().x(), button.top() + s(51), m_keys.caption(KeyAction::Brake),
                   look().mono(18), roles.muted);

    const bool mine = m_minute->step() == index;
    const double seconds = mine ? m_minute->seconds() : 0;
    const double clockX = button.right() + s(r.width() < s(560) ? 8 : 16);
    const double clockRoom = (narrow ? r.right() - s(120) : r.left() + s(520)) - clockX;
    const QString clock = mine ? m_minute->clockText() : QStringLiteral("0:00");
    const double clockPx = clockRoom < s(90) ? 30 : clockRoom < s(130) ? 37 : 56;
    look().text(p, clockX, r.top() + s(90), clock, look().font(clockPx, true), roles.ink);
    const double ofX = clockX + Look::width(clock, look().font(clockPx, true)) + s(14);
    if (ofX + s(80) < clockX + clockRoom)
        look().text(p, ofX, r.top() + s(98), tr("/ 1:00"), look().font(25), roles.muted);
    const double barWidth = std::min(s(216), clockRoom);
    const QRectF bar(std::round(clockX), std::round(r.top() + s(120)), std::round(barWidth), qRound(s(12)));
    look().box(p, bar, roles.ground, roles.muted, 1, 0);
    look().fill(p, QRectF(bar.left(), bar.top(), bar.width() * seconds / BrakeMinute::kMinute, bar.height()),
                roles.ink);
    for (int piece = 1; piece < 6; ++piece)
        look().fill(p,
                    QRectF(std::round(bar.left() + bar.width() * piece / 6), bar.top(), look().stroke(1),
                           bar.height()),
                    bar.width() * piece / 6 < bar.width() * seconds / BrakeMinute::kMinute ? roles.ground
                                                                                           : roles.muted);

    const double afterX = narrow ? r.right() - s(108) : r.left() + s(536);
    look().text(p, afterX, r.top() + s(75), tr("after, %1").arg(unit), look().font(15), roles.muted, s(100));
    if (!narrow) paintRuns(p, QRectF(r.left() + s(648), r.top() + s(62), r.width() - s(664), s(78)), index);
}

void BoardPart::paintRuns(QPainter& p, const QRectF& room, int index) const {
    const forms::Roles& roles = look().roles();
    const auto& runs = m_minute->runs(index);
    const bool running = m_minute->running() && m_minute->step() == index;
    const int count = static_cast<int>(runs.size());
    if (count == 0) {
        if (running)
            look().text(p, room.left(), room.top() + s(13), tr("run 1: waiting"), look().font(15),
                        roles.muted, room.width());
        return;
    }
    // The last run that was judged, and the one after it.
    int judged = count - 1;
    while (judged > 0 && !m_minute->runVerdict(index, judged)) --judged;
    look().text(p, room.left(), room.top() + s(13), m_minute->runText(index, judged), look().font(15),
                roles.muted, room.width());
    if (const auto verdict = m_minute->runVerdict(index, judged))
        paintVerdict(p, look(), room.left(), room.top() + s(39), *verdict, room.width());
    QString last;
    if (running)
        last = tr("run %1: waiting").arg(count + 1);
    else if (judged != count - 1)
        last = m_minute->runText(index, count - 1);
    look().text(p, room.left(), room.top() + s(65), last, look().font(15), roles.muted, room.width());
}

void BoardPart::paintContent(QPainter& p) {
    if (m_model == nullptr || m_slots.empty()) return;
    look().fill(p, rect(), look().roles().ground);
    paintHead(p);
    for (const BoardSlot& slot : m_slots)
        if (slot.page == m_page) paintSlot(p, slot);
}

}  // namespace markerlamp::app
