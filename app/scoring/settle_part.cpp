// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/settle_part.h"

#include "app/scoring/key_map.h"
#include "app/scoring/scoring_model.h"

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

namespace {

constexpr double kRow = 64;
constexpr double kRowsTop = 124;
constexpr double kFoot = 30;

forms::LampState lampOf(core::Outcome outcome) {
    return outcome == core::Outcome::Omitted       ? forms::LampState::Omitted
           : outcome == core::Outcome::NotObserved ? forms::LampState::NotObserved
                                                   : forms::LampState::NotReached;
}

core::Outcome outcomeAt(int place) {
    return place == SettlePart::Omit    ? core::Outcome::Omitted
           : place == SettlePart::Unsee ? core::Outcome::NotObserved
                                        : core::Outcome::NotReached;
}

QString letterAt(int place) {
    return place == SettlePart::Omit    ? SettlePart::tr("O", "letter for omitted")
           : place == SettlePart::Unsee ? SettlePart::tr("U", "letter for not observed")
                                        : SettlePart::tr("R", "letter for not reached");
}

}  // namespace

SettlePart::SettlePart(const PartKit& kit, QWidget* parent)
    : Surface(kit.theme, kit.guard, tr("Settle pass"), parent), m_keys(kit.keys) {}

void SettlePart::setModels(const ScoringModel* model, SettleModel* settle) {
    m_model = model;
    m_settle = settle;
    m_zoneChosen = false;
    contentChanged();
}

void SettlePart::chooseZone(bool zone) {
    m_zoneChosen = zone;
    contentChanged();
}

SettlePart::Columns SettlePart::columns() const {
    const double w = width();
    Columns c{};
    c.wide = w >= s(1180);
    c.change = w - s(154);
    if (c.wide) {
        const double more = w - s(1230);
        c.step = s(208);
        c.name = s(268);
        c.lamp = s(552) + more * 0.5;
        c.nameRight = c.lamp - s(20);
        c.capsule = s(608) + more * 0.5;
        c.word = s(724) + more * 0.5;
        c.why = s(864) + more * 0.5;
    } else {
        c.step = s(56);
        c.name = s(112);
        c.lamp = c.change - s(52);
        c.nameRight = c.lamp - s(16);
        c.capsule = c.change;  // no room: the lamp alone tells the proposal
        c.word = c.why = c.name;
    }
    return c;
}

int SettlePart::rowsOnPage() const {
    return std::max(1, static_cast<int>((height() / look().factor() - kRowsTop - kFoot) / kRow));
}

int SettlePart::firstRow() const {
    return m_settle == nullptr ? 0 : m_settle->current() / rowsOnPage() * rowsOnPage();
}

QRectF SettlePart::rowRect(int row) const {
    return QRectF(s(8), s(kRowsTop + (row - firstRow()) * kRow), width() - s(14), s(kRow));
}

QRectF SettlePart::changeRect(int row, int place) const {
    const QRectF r = rowRect(row);
    return QRectF(std::round(columns().change + s(48) * (place - Omit)), std::round(r.center().y() - s(22)),
                  qRound(s(44)), qRound(s(44)));
}

std::vector<Surface::Target> SettlePart::pageButtons() const {
    const int rows = m_settle == nullptr ? 0 : static_cast<int>(m_settle->rows().size());
    if (rows <= rowsOnPage()) return {};
    const double w = width() / look().factor();
    const double y = kRowsTop + rowsOnPage() * kRow + 2;
    Target before;
    before.id = PageBefore;
    before.rect = look().rect(w - 214, y, 100, 28);
    before.name = tr("Before");
    before.enabled = firstRow() > 0;
    Target after = before;
    after.id = PageAfter;
    after.rect = look().rect(w - 106, y, 100, 28);
    after.name = tr("More");
    after.enabled = firstRow() + rowsOnPage() < rows;
    return {before, after};
}

std::vector<Surface::Target> SettlePart::targets() const {
    std::vector<Target> all;
    if (m_settle == nullptr) return all;
    const int last = std::min(static_cast<int>(m_settle->rows().size()), firstRow() + rowsOnPage());
    for (int row = firstRow(); row < last; ++row) {
        const auto& entry = m_settle->rows()[static_cast<std::size_t>(row)];
        for (int place = Omit; place <= Unreach; ++place) {
            Target target;
            target.id = row * kPerRow + place;
            target.rect = changeRect(row, place);
            target.name = tr("%1: %2", "step, outcome")
                              .arg(m_settle->words(row).section(QStringLiteral(": "), 0, 0),
                                   SettleModel::outcomeWord(outcomeAt(place)));
            target.role = QAccessible::RadioButton;
            target.checked = entry.outcome == outcomeAt(place);
            target.key = letterAt(place);
            all.push_back(std::move(target));
        }
        if (entry.firstOfZone || row == firstRow()) {
            Target zone;
            zone.id = row * kPerRow + ZoneName;
            zone.rect = rowRect(row);
            zone.rect.setRight(columns().step - s(4));
            zone.name =
                tr("All dark steps of %1").arg(m_model->zones()[static_cast<std::size_t>(entry.zone)].title);
            zone.checked = m_zoneChosen && row == m_settle->current();
            all.push_back(std::move(zone));
        }
        Target step;
        step.id = row * kPerRow + Row;
        step.rect = rowRect(row);
        step.rect.setLeft(columns().step);
        step.name = m_settle->words(row);
        step.role = QAccessible::ListItem;
        step.checked = row == m_settle->current();
        all.push_back(std::move(step));
    }
    for (Target& button : pageButtons()) all.push_back(std::move(button));
    return all;
}

void SettlePart::paintHead(QPainter& p) const {
    const forms::Roles& roles = look().roles();
    const QRectF strip = look().rect(8, 0, width() / look().factor() - 14, 84);
    look().box(p, strip, roles.ground, roles.ink, 2);
    const bool wide = columns().wide;
    look().text(p, s(24), s(32), tr("Settle pass"), look().font(wide ? 37 : 30, true), roles.ink);
    struct Count {
        forms::LampState lamp;
        int count;
        QString words;
    };
    const std::vector<Count> counts{
        {forms::LampState::Open, m_settle->darkSteps(), tr("dark steps")},
        {forms::LampState::Omitted, m_settle->count(core::Outcome::Omitted), tr("omitted")},
        {forms::LampState::NotObserved, m_settle->count(core::Outcome::NotObserved), tr("not observed")},
        {forms::LampState::NotReached, m_settle->count(core::Outcome::NotReached), tr("not reached")}};
    const double pitch = s(wide ? 144 : 80);
    const double first = strip.right() - (wide ? s(568) : 4 * pitch + s(2));
    double x = first;
    for (const Count& count : counts) {
        look().lamp(p, x, s(28), wide ? 28 : 20, count.lamp);
        look().text(p, x + s(wide ? 44 : 30), s(28), QString::number(count.count),
                    look().font(wide ? 25 : 20, true), roles.ink);
        const double room = pitch - s(8);
        const Fitted words = fitText(look(), count.words, room, wide ? 1 : 2, {18, 15, 13});
        drawFitted(p, look(), words, x, s(61), s(16), roles.muted);
        x += pitch;
    }
    if (first < s(300)) return paintColumnHeads(p);
    const Fitted about =
        fitText(look(), tr("Each dark step has a proposal. Change what is wrong, then accept all."),
                first - s(40), wide ? 2 : 3, {18, 15, 13});
    drawFitted(p, look(), about, s(24), s(wide ? 65 : 62), s(16), roles.muted);
    paintColumnHeads(p);
}

void SettlePart::paintColumnHeads(QPainter& p) const {
    const forms::Roles& roles = look().roles();
    const Columns c = columns();
    const auto head = [&](double at, const QString& words) {
        look().text(p, at, s(108), words, look().font(15), roles.muted);
    };
    if (c.wide) {
        head(s(16), tr("Zone"));
        head(c.step + s(8), tr("Step"));
        head(c.lamp, tr("Proposal"));
        head(c.why, tr("Why"));
    } else {
        head(s(16), tr("Zone, step, why"));
    }
    head(c.change, tr("Change"));
    look().fill(p, QRectF(s(8), s(kRowsTop), width() - s(14), look().stroke(1)), roles.line);
}

void SettlePart::paintRow(QPainter& p, int row) const {
    const forms::Roles& roles = look().roles();
    const auto& entry = m_settle->rows()[static_cast<std::size_t>(row)];
    const auto& zone = m_model->zones()[static_cast<std::size_t>(entry.zone)];
    const Columns c = columns();
    const QRectF r = rowRect(row);
    const double yc = r.center().y();
    const bool here = row == m_settle->current();
    if (row > firstRow()) {
        const double from = entry.firstOfZone ? r.left() : c.step;
        look().fill(p, QRectF(from, r.top(), r.right() - from, look().stroke(1)),
                    entry.firstOfZone ? roles.line : roles.hair);
    }
    if (entry.firstOfZone || row == firstRow()) {
        const QRectF block(std::round(s(12)), std::round(yc - s(18)), qRound(s(36)), qRound(s(36)));
        const QString key = m_keys.zoneCaption(zone.keyIndex);
        const bool chosen = here && m_zoneChosen;
        look().box(p, block, chosen ? roles.ink : roles.ground, roles.ink, 2);
        look().centred(p, block.center().x(), block.center().y(), key, look().font(25, true),
                       chosen ? roles.ground : roles.ink);
        if (c.wide) {
            const Fitted name = fitText(look(), zone.title, c.step - s(64), 2, {20, 18, 15});
            drawFitted(p, look(), name, s(60), yc, s(21), roles.ink);
        }
    }
    if (here) {
        const QRectF frame(c.step - s(4), r.top() + s(2), r.right() - c.step + s(4), r.height() - s(4));
        look().box(p, frame, roles.ground, roles.ink, 4);
        if (!entry.whole) look().fill(p, QRectF(frame.left(), frame.top(), s(50), frame.height()), roles.ink);
    }
    const int step = entry.steps.front();
    QString name = entry.whole ? tr("All %n step(s)", nullptr, static_cast<int>(entry.steps.size()))
                               : m_model->title(step);
    if (entry.whole && m_model->mustPassIn(entry.zone) > 0)
        name += tr(", %n must pass", nullptr, m_model->mustPassIn(entry.zone));
    if (entry.whole && !c.wide) name = zone.title + QStringLiteral(": ") + name;
    const double nameX = entry.whole ? c.step + s(8) : c.name;
    const double nameY = c.wide ? yc : yc - s(12);
    if (!entry.whole)
        look().right(p, c.name - s(c.wide ? 20 : 16), nameY, QString::number(step + 1), look().mono(18, here),
                     here ? roles.ground : roles.muted);
    const Fitted fitted = fitText(look(), name, c.nameRight - nameX, c.wide ? 2 : 1, {25, 22, 20, 18}, here);
    drawFitted(p, look(), fitted, nameX, nameY, s(25), roles.ink);

    forms::SignState sign;
    sign.shown = sign.capsule = lampOf(entry.outcome);
    const std::size_t points = entry.whole ? 2 : m_model->step(step).say.size();
    sign.beads.assign(points, forms::BeadState::Open);
    if (entry.whole || m_model->marks(step).hasShow) look().lamp(p, c.lamp, yc, 28, sign.shown);
    const QSizeF capsule = forms::capsuleSize(static_cast<int>(points), 28, look().factor());
    if (c.wide || c.capsule + capsule.width() < c.change - s(12))
        look().capsule(p, c.capsule + capsule.width(), yc, 28, sign);
    if (c.wide) {
        const QString word = SettleModel::outcomeWord(entry.outcome);
        drawFitted(p, look(), fitText(look(), word, c.why - c.word - s(8), 2, {20, 18}, true), c.word, yc,
                   s(21), roles.ink);
    }
    const double whyRoom = c.wide ? c.change - c.why - s(12) : c.nameRight - c.name;
    const Fitted why = fitText(look(), entry.why, whyRoom, c.wide ? 2 : 1, {18, 15, 13});
    drawFitted(p, look(), why, c.why, c.wide ? yc : yc + s(15), s(22), c.wide ? roles.ink : roles.muted);
    for (int place = Omit; place <= Unreach; ++place) {
        const QRectF box = changeRect(row, place);
        const bool chosen = entry.outcome == outcomeAt(place);
        look().box(p, box, chosen ? roles.ink : roles.ground, chosen ? roles.ink : roles.line, 1);
        look().centred(p, box.center().x(), box.center().y(), letterAt(place), look().font(20, chosen),
                       chosen ? roles.ground : roles.ink);
    }
}

void SettlePart::paintContent(QPainter& p) {
    const forms::Roles& roles = look().roles();
    look().fill(p, rect(), roles.ground);
    if (m_settle == nullptr) return;
    paintHead(p);
    const int last = std::min(static_cast<int>(m_settle->rows().size()), firstRow() + rowsOnPage());
    for (int row = firstRow(); row < last; ++row)
        if (row != m_settle->current()) paintRow(p, row);
    if (m_settle->current() >= firstRow() && m_settle->current() < last) paintRow(p, m_settle->current());
    const double bottom = s(kRowsTop + (last - firstRow()) * kRow);
    if (last > firstRow())
        look().fill(p, QRectF(s(8), bottom, width() - s(14), look().stroke(1)), roles.line);
    else
        look().text(p, s(24), s(kRowsTop + 40), tr("Nothing is dark. Accept ends the attempt."),
                    look().font(25), roles.ink);
    const QString keys =
        tr("O omitted     U not observed     R not reached     Space the trainee did it     "
           "on a zone name a letter changes the whole zone");
    const auto buttons = pageButtons();
    const double right = buttons.empty() ? width() - s(8) : buttons.front().rect.left() - s(12);
    look().text(p, s(16), bottom + s(16), keys, look().font(15), roles.muted, right - s(16));
    for (const Target& button : buttons)
        paintWideButton(p, look(), button.rect, button.name, {}, {false, !button.enabled});
}

}  // namespace markerlamp::app
