// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/draft.h"

#include "app/support/display.h"

#include <algorithm>

namespace markerlamp::app {

namespace {

constexpr int kMostUndo = 300;
constexpr std::size_t kAtTheEnd = 1u << 20;

/// Index behind the item of this id.
template <class Items>
std::size_t behind(const Items& items, const QString& id) {
    const auto found = std::ranges::find_if(items, [&](const auto& item) { return item.id == ss(id); });
    return found == items.end() ? kAtTheEnd : static_cast<std::size_t>(found - items.begin()) + 1;
}

template <class Items, class Item>
void replaceById(Items& items, const Item& item) {
    for (auto& one : items)
        if (one.id == item.id) one = item;
}

}  // namespace

/// Keeps both rubrics whole: a rubric is small, and nothing can then come back changed.
class Draft::Change final : public QUndoCommand {
public:
    Change(Draft& draft, const QString& words, RubricPtr after, DraftSpot spot, QString merge)
        : QUndoCommand(words),
          m_draft(draft),
          m_before(draft.m_rubric),
          m_after(std::move(after)),
          m_spot(std::move(spot)),
          m_merge(std::move(merge)) {}

    void undo() override { m_draft.put(m_before, m_spot); }
    void redo() override { m_draft.put(m_after, m_spot); }
    [[nodiscard]] int id() const override { return m_merge.isEmpty() ? -1 : 1; }
    bool mergeWith(const QUndoCommand* other) override {
        const auto* later = static_cast<const Change*>(other);
        if (later->m_merge != m_merge) return false;
        m_after = later->m_after;
        setObsolete(*m_after == *m_before);
        return true;
    }

private:
    Draft& m_draft;
    RubricPtr m_before, m_after;
    DraftSpot m_spot;
    QString m_merge;
};

Draft::Draft(core::Rubric rubric, std::vector<RubricPtr> editions, int base, QObject* parent)
    : QObject(parent),
      m_rubric(std::make_shared<const core::Rubric>(std::move(rubric))),
      m_edition(m_rubric->edition) {
    for (const RubricPtr& edition : editions) {
        m_used.note(*edition);
        if (!m_base || m_base->edition != base) m_base = edition;
    }
    m_used.note(*m_rubric);
    m_stack.setUndoLimit(kMostUndo);
}

const core::DraftCheck& Draft::check() const {
    if (!m_check) m_check = core::checkDraft(*m_rubric);
    return *m_check;
}

std::vector<core::EditionChange> Draft::difference() const {
    return m_base ? core::editionDifference(*m_base, *m_rubric) : std::vector<core::EditionChange>();
}

bool Draft::isNewStep(const QString& step) const {
    return m_base && m_base->step(ss(step)) == nullptr;
}

void Draft::setEdition(int edition) {
    if (edition == m_edition) return;
    m_edition = edition;
    put(m_rubric, {});
}

void Draft::put(RubricPtr rubric, const DraftSpot& spot) {
    if (rubric->edition != m_edition) {  // what undo brings back may be older than the number
        auto renumbered = std::make_shared<core::Rubric>(*rubric);
        renumbered->edition = m_edition;
        rubric = std::move(renumbered);
    }
    m_rubric = std::move(rubric);
    m_check.reset();
    emit changed(spot);
}

bool Draft::change(const QString& words, const DraftSpot& spot,
                   const std::function<void(core::Rubric&)>& edit, const QString& merge) {
    auto after = std::make_shared<core::Rubric>(*m_rubric);
    edit(*after);
    if (*after == *m_rubric) return false;
    m_used.note(*after);
    m_stack.push(new Change(*this, words, std::move(after), spot,
                            merge.isEmpty() ? merge : merge + QString::number(m_sealed)));
    return true;
}

QString Draft::addZone(const QString& title, const QString& after) {
    core::Rubric changed = *m_rubric;
    const std::string id = core::addZone(changed, m_used, ss(title), behind(changed.zones, after));
    change(tr("add zone %1").arg(title), {qs(id), {}, {}}, [&](core::Rubric& rubric) { rubric = changed; });
    return qs(id);
}

QString Draft::addStep(const QString& zone, const QString& title, const QString& after) {
    core::Rubric changed = *m_rubric;
    const core::Zone* target = changed.zone(ss(zone));
    if (target == nullptr) return {};
    // Without a step to follow it is the first of its zone.
    const std::size_t at = after.isEmpty() ? 0 : behind(target->steps, after);
    const std::string id = core::addStep(changed, m_used, ss(zone), ss(title), at);
    change(tr("add step %1").arg(title), {zone, qs(id), {}}, [&](core::Rubric& rubric) { rubric = changed; });
    return qs(id);
}

QString Draft::addPoint(const QString& step, const core::Point& point, const QString& after) {
    core::Rubric changed = *m_rubric;
    core::Step* target = core::findStep(changed, ss(step));
    if (target == nullptr) return {};
    const std::string id = core::addPoint(changed, m_used, ss(step), point.text, behind(target->say, after));
    core::Point whole = point;
    whole.id = id;
    replaceById(core::findStep(changed, ss(step))->say, whole);
    change(tr("add a point to %1").arg(titleOfStep(step)),
           {qs(changed.zoneOfStep(ss(step))->id), step, qs(id)},
           [&](core::Rubric& rubric) { rubric = changed; });
    return qs(id);
}

void Draft::changePoint(const QString& step, const core::Point& point) {
    const core::Zone* zone = m_rubric->zoneOfStep(ss(step));
    if (zone == nullptr) return;
    change(tr("change a point of %1").arg(titleOfStep(step)), {qs(zone->id), step, qs(point.id)},
           [&](core::Rubric& rubric) { replaceById(core::findStep(rubric, ss(step))->say, point); });
}

bool Draft::move(const DraftSpot& spot, int by) {
    if (!spot.point.isEmpty())
        return change(tr("move a point of %1").arg(titleOfStep(spot.step)), spot, [&](core::Rubric& rubric) {
            core::movePoint(rubric, ss(spot.step), ss(spot.point), by);
        });
    if (!spot.step.isEmpty()) {
        core::Rubric changed = *m_rubric;
        core::moveStep(changed, ss(spot.step), by);
        const core::Zone* zone = changed.zoneOfStep(ss(spot.step));
        return zone != nullptr &&
               change(tr("move step %1").arg(titleOfStep(spot.step)), {qs(zone->id), spot.step, {}},
                      [&](core::Rubric& rubric) { rubric = changed; });
    }
    return change(tr("move zone %1").arg(titleOfZone(spot.zone)), spot,
                  [&](core::Rubric& rubric) { core::moveZone(rubric, ss(spot.zone), by); });
}

QString Draft::retire(const DraftSpot& spot) {
    if (!spot.point.isEmpty()) {
        const bool done =
            change(tr("retire a point of %1").arg(titleOfStep(spot.step)), {spot.zone, spot.step, {}},
                   [&](core::Rubric& rubric) { core::retirePoint(rubric, ss(spot.step), ss(spot.point)); });
        return done ? tr("Point retired") : QString();
    }
    core::Rubric changed = *m_rubric;
    const bool step = !spot.step.isEmpty();
    if (!step && spot.zone.isEmpty()) return {};
    const core::Retired retired =
        step ? core::retireStep(changed, ss(spot.step)) : core::retireZone(changed, ss(spot.zone));
    const QString title = step ? titleOfStep(spot.step) : titleOfZone(spot.zone);
    const bool done = change(step ? tr("retire step %1").arg(title) : tr("retire zone %1").arg(title),
                             {spot.zone, {}, {}}, [&](core::Rubric& rubric) { rubric = changed; });
    if (!done) return {};
    QStringList words{tr("%1 retired").arg(title)};
    const auto name = [&words](const QString& what, const std::vector<std::string>& ids) {
        QStringList list;
        for (const std::string& id : ids) list << qs(id);
        if (!list.isEmpty()) words << what.arg(list.join(tr(", ")));
    };
    name(tr("order rules without it now: %1"), retired.rulesChanged);
    name(tr("order rules dropped: %1"), retired.rulesDropped);
    name(tr("sections without it now: %1"), retired.sectionsChanged);
    name(tr("sections dropped: %1"), retired.sectionsDropped);
    return words.join(tr("; "));
}

QString Draft::addLimit(const core::Limit& limit) {
    change(tr("add limit %1").arg(qs(limit.id)), {},
           [&](core::Rubric& rubric) { rubric.limits.push_back(limit); });
    return qs(limit.id);
}

void Draft::changeLimit(const core::Limit& limit) {
    change(tr("change limit %1").arg(qs(limit.id)), {},
           [&](core::Rubric& rubric) { replaceById(rubric.limits, limit); });
}

core::Result<void> Draft::retireLimit(const QString& limit) {
    const std::vector<std::string> users = core::usersOfLimit(*m_rubric, ss(limit));
    if (!users.empty()) {
        QStringList titles;
        for (const std::string& user : users) titles << titleOfStep(qs(user));
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("%1 is still used by %2").arg(limit, titles.join(tr("; ")))));
    }
    change(tr("retire limit %1").arg(limit), {}, [&](core::Rubric& rubric) {
        std::erase_if(rubric.limits, [&](const core::Limit& one) { return one.id == ss(limit); });
    });
    return {};
}

QString Draft::addRule(core::OrderRule rule) {
    core::Rubric changed = *m_rubric;
    const auto half = [](const std::vector<std::string>& names) {
        return names.empty() ? std::vector<std::string>() : std::vector<std::string>{names.front()};
    };
    // The id speaks of the first thing on either side.
    const bool chain = !rule.chain.empty();
    rule.id = core::addRule(changed, m_used, half(chain ? rule.chain : rule.first),
                            chain ? std::vector<std::string>{rule.chain.back()} : half(rule.then));
    changed.order.back() = rule;
    change(tr("add order rule %1").arg(qs(rule.id)), {}, [&](core::Rubric& rubric) { rubric = changed; });
    return qs(rule.id);
}

void Draft::changeRule(const core::OrderRule& rule) {
    change(tr("change order rule %1").arg(qs(rule.id)), {},
           [&](core::Rubric& rubric) { replaceById(rubric.order, rule); });
}

void Draft::retireRule(const QString& rule) {
    change(tr("retire order rule %1").arg(rule), {}, [&](core::Rubric& rubric) {
        std::erase_if(rubric.order, [&](const core::OrderRule& one) { return one.id == ss(rule); });
    });
}

QString Draft::titleOfStep(const QString& step) const {
    const core::Step* found = m_rubric->step(ss(step));
    return found == nullptr || found->title.empty() ? step : qs(found->title);
}

QString Draft::titleOfZone(const QString& zone) const {
    const core::Zone* found = m_rubric->zone(ss(zone));
    return found == nullptr || found->title.empty() ? zone : qs(found->title);
}

QString Draft::titleOfEntry(const std::string& entry) const {
    return entry.rfind("zone:", 0) == 0 ? tr("all of %1").arg(titleOfZone(qs(entry.substr(5))))
                                        : titleOfStep(qs(entry));
}

QString Draft::circleInWords() const {
    const core::OrderCircle& circle = check().circle;
    if (circle.steps.empty()) return {};
    QString words = titleOfStep(qs(circle.steps.front()));
    for (std::size_t i = 0; i + 1 < circle.steps.size(); ++i)
        words = tr("%1 before %2 (%3)", "step, next step, rule")
                    .arg(words, titleOfStep(qs(circle.steps[i + 1])), qs(circle.rules[i]));
    return words;
}

}  // namespace markerlamp::app
