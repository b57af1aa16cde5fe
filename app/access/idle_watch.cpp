// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/access/idle_watch.h"

#include <QCoreApplication>
#include <QEvent>

#include <ctime>

namespace markerlamp::app {

namespace {

constexpr int kLookEvery = 5000;
constexpr qint64 kMinute = 60'000;

/// Unlike the steady clock of the standard library it goes on while the computer sleeps.
qint64 sinceBoot() {
    timespec now{};
    ::clock_gettime(CLOCK_BOOTTIME, &now);
    return qint64{now.tv_sec} * 1000 + now.tv_nsec / 1'000'000;
}

bool isTouch(QEvent::Type type) {
    switch (type) {
        case QEvent::KeyPress:
        case QEvent::ShortcutOverride:
        case QEvent::MouseButtonPress:
        case QEvent::MouseButtonDblClick:
        case QEvent::MouseMove:
        case QEvent::Wheel:
        case QEvent::TouchBegin:
        case QEvent::TouchUpdate:
        case QEvent::TabletPress:
        case QEvent::TabletMove:
            return true;
        default:
            return false;
    }
}

}  // namespace

IdleWatch::IdleWatch(QObject* parent) : QObject(parent), m_clock(sinceBoot) {
    m_timer.setInterval(kLookEvery);
    connect(&m_timer, &QTimer::timeout, this, &IdleWatch::look);
}

IdleWatch::~IdleWatch() {
    QCoreApplication::instance()->removeEventFilter(this);
}

void IdleWatch::setMinutes(int minutes) {
    m_minutes = minutes;
    m_last = m_clock();
    if (minutes > 0) {
        QCoreApplication::instance()->installEventFilter(this);
        m_timer.start();
    } else {
        QCoreApplication::instance()->removeEventFilter(this);
        m_timer.stop();
    }
}

bool IdleWatch::isOver() const {
    return m_minutes > 0 && m_clock() - m_last >= m_minutes * kMinute;
}

void IdleWatch::look() {
    if (isOver()) emit idle();
}

bool IdleWatch::eventFilter(QObject* watched, QEvent* event) {
    if (!isTouch(event->type())) return QObject::eventFilter(watched, event);
    if (isOver()) {
        m_last = m_clock();
        emit idle();
        return true;
    }
    m_last = m_clock();
    return false;
}

}  // namespace markerlamp::app
