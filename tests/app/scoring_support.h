#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A small rubric, a clock that tests turn, and a sink that stores when it is told to.

#include "app/scoring/attempt_clock.h"
#include "app/scoring/event_sink.h"
#include "core/attempt/attempt_document.h"
#include "core/rubric/rubric_reader.h"

#include <QKeyEvent>

#include <memory>
#include <stdexcept>
#include <string>
#include <vector>

namespace markerlamp::testing {

class TurnedClock final : public app::AttemptClock {
public:
    [[nodiscard]] double steadySeconds() const override { return m_steady; }
    [[nodiscard]] double bootSeconds() const override { return m_boot; }
    [[nodiscard]] QDateTime wallTime() const override { return m_wall; }
    void pass(double seconds) {
        m_steady += seconds;
        m_boot += seconds;
        m_wall = m_wall.addMSecs(qRound64(seconds * 1000));
    }
    /// The computer sleeps: the steady clock stands still.
    void sleep(double seconds) {
        m_boot += seconds;
        m_wall = m_wall.addMSecs(qRound64(seconds * 1000));
    }
    void setWallTime(const QDateTime& time) { m_wall = time; }

private:
    double m_steady = 1000;
    double m_boot = 5000;
    QDateTime m_wall = QDateTime::fromString(QStringLiteral("2026-03-02T06:10:00-05:00"), Qt::ISODate);
};

/// Keeps what it is given; a press becomes durable at once, or when store() is called.
class KeptSink final : public app::EventSink {
public:
    quint64 startAttempt(const core::AttemptHeader& given) override {
        header = given;
        return next();
    }
    quint64 append(const QString& attemptId, std::vector<core::Event> given) override {
        id = attemptId;
        presses.push_back(given);
        events.insert(events.end(), given.begin(), given.end());
        return next();
    }
    void store() { emit stored(ticket); }
    void fail(const QString& message, int waiting) { emit trouble(message, waiting); }

    /// "show a", "say a p1", "retract 3": one line each, joined by "; ".
    [[nodiscard]] std::string words(std::size_t from = 0) const {
        std::string all;
        for (std::size_t i = from; i < events.size(); ++i) {
            const core::Event& event = events[i];
            if (!all.empty()) all += "; ";
            all += core::toWord(event.kind);
            if (!event.step.empty()) all += " " + event.step;
            if (!event.point.empty()) all += " " + event.point;
            if (event.kind == core::EventKind::Retract) all += " " + std::to_string(event.retracts);
            if (event.kind == core::EventKind::Reading)
                all += " " + std::to_string(*event.value).substr(0, 5);
        }
        return all;
    }
    [[nodiscard]] std::string lastPress() const {
        return presses.empty() ? std::string() : words(events.size() - presses.back().size());
    }

    bool storesAtOnce = true;
    core::AttemptHeader header;
    QString id;
    std::vector<std::vector<core::Event>> presses;
    std::vector<core::Event> events;
    quint64 ticket = 0;

private:
    quint64 next() {
        ++ticket;
        if (storesAtOnce) emit stored(ticket);
        return ticket;
    }
};

/// Three zones: a left side with plain steps, a rear, and brakes with readings. The limits are those of the
/// model commercial driver manual, section 5.3 (applied leakage of a single vehicle: 3 psi; spring brakes 20
/// to 45 psi).
inline constexpr const char* kSmallRubric = R"(format: markerlamp.rubric/1
id: small
edition: 3
title: Small
equipment: {air-brakes: Air brakes, lift: Wheelchair lift}
pass: {percent: 80}
limits:
  applied-leak: {high: 3, unit: psi, source: "model commercial driver manual, section 5.3"}
  spring-brakes: {low: 20, high: 45, unit: psi, source: "model commercial driver manual, section 5.3"}
zones:
  - id: left-side
    title: Left side
    steps:
      - {id: a, title: Tire tread depth, show: Point, say: [{id: p1, text: even}, {id: p2, text: deep}, {id: p3, text: no cuts}]}
      - {id: b, title: Rims, show: Point, must_pass: true, say: [{id: p1, text: not bent, like: [straight]}, {id: p2, text: no weld}]}
      - {id: c, title: Lug nuts, show: Point, say: [{id: p1, text: all there}, {id: p2, text: tight}]}
      - {id: d, title: Drum, show: Point, say: [{id: p1, text: dry}]}
      - {id: e, title: Horn, show: Sound}
      - {id: f, title: Report, say: [{id: p1, text: written}]}
  - id: rear
    title: Rear end
    steps:
      - {id: g, title: Tail lamps, show: Point, say: [{id: p1, text: red}, {id: p2, text: clean}]}
      - {id: h, title: Lift door, show: Point, when: [lift], say: [{id: p1, text: latched}]}
      - {id: i, title: Bumper, show: Point, say: [{id: p1, text: tight}]}
  - id: air-brakes
    title: Air brakes
    steps:
      - {id: chocks, title: "Level ground, chocks", show: Point, caution: Wheels chocked, say: [{id: p1, text: level}]}
      - {id: leak, title: Applied leakage, show: Hold, must_pass: true, say: [{id: p1, text: full minute}, {id: p2, text: at most 3 psi}],
         reading: {quantity: loss, limit: applied-leak, tolerance: 0.5}}
      - {id: spring, title: Spring brakes, show: Pump, say: [{id: p1, text: knob pops}], reading: {quantity: pressure, limit: spring-brakes, tolerance: 1}}
order:
  - {id: left-order, chain: [a, b, c, d, e, f], why: the walk goes this way}
)";

inline std::shared_ptr<const core::Rubric> smallRubric() {
    auto rubric = core::readRubric(kSmallRubric, "small");
    if (!rubric) {
        std::string all = rubric.error().message;
        for (const core::Problem& problem : rubric.error().problems) all += "\n" + core::toText(problem);
        throw std::runtime_error(all);
    }
    return std::make_shared<const core::Rubric>(*rubric);
}

inline core::AttemptHeader smallHeader() {
    core::AttemptHeader header;
    header.id = "5b1c6c52-0000-4000-8000-0000000000ab";
    header.rubric = "small";
    header.edition = 3;
    header.trainee = "t-a";
    header.instructor = "i-a";
    header.bus = "14";
    header.equipment = {"air-brakes"};
    header.zones = {"left-side", "rear", "air-brakes"};
    header.started = "2026-03-02T06:10:00-05:00";
    return header;
}

/// A key as X11 and Wayland report it: the kernel's code + 8 (linux/input-event-codes.h).
inline QKeyEvent keyEvent(int key, const QString& text = {}, Qt::KeyboardModifiers modifiers = Qt::NoModifier,
                          quint32 kernelCode = 0, bool repeat = false) {
    return QKeyEvent(QEvent::KeyPress, key, modifiers, kernelCode == 0 ? 0 : kernelCode + 8, 0, 0, text,
                     repeat);
}

}  // namespace markerlamp::testing
