#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Readiness of the open program file for all pages: worked out in the background on a connection of its own,
// one trainee at a time, held while an attempt is being scored. Keeps overrides, and freezes the forecast
// before what it is about begins. Lives on the window's thread.

#include "app/readiness/readiness_source.h"
#include "core/attempt/attempt.h"

#include <QDateTime>
#include <QObject>
#include <QString>
#include <QThreadPool>

#include <atomic>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <optional>

namespace markerlamp::app {

class Session;

/// What the desk knows about one trainee.
struct ReadinessStanding {
    enum class State {
        Idle,       ///< nobody asked yet
        Waiting,    ///< its turn comes
        Held,       ///< waits until scoring is over
        Computing,  ///< see progress
        Known,
        Stopped,  ///< somebody stopped it
        Failed    ///< see error
    };
    State state = State::Idle;
    double progress = 0;  ///< in [0, 1]
    bool known = false;   ///< the answer below is there; it may be old
    bool old = false;     ///< something changed after it was worked out
    ReadinessAnswer answer;
    bool plannerLeftOut = false;  ///< it can be had by asking again
    QDateTime at;                 ///< when it was worked out
    core::Error error;
};

class ReadinessDesk final : public QObject {
    Q_OBJECT

public:
    using Clock = std::function<QDateTime()>;

    /// opener: the session's file unless a test says otherwise; clock: this computer's.
    explicit ReadinessDesk(Session& session, ReadinessOpener opener = {}, Clock clock = {},
                           QObject* parent = nullptr);
    /// Stops what runs and waits for it; what is being frozen is still written.
    ~ReadinessDesk() override;

    /// Works it out where it is not known or old, before everybody else; the answer comes by changed().
    void ask(const QString& trainee);
    /// The same for many, after those that were asked for one by one.
    void askAll(const QStringList& trainees);
    /// Stops what runs and forgets who waits.
    void stop();
    /// While an attempt is being scored: nothing runs, nothing is begun.
    void hold(bool on);
    [[nodiscard]] bool held() const { return m_held; }
    [[nodiscard]] bool idle() const { return !m_job && m_queue.empty(); }
    [[nodiscard]] const ReadinessStanding& of(const QString& trainee) const;
    /// The program's own words and what it asks for.
    [[nodiscard]] core::ReadinessSettings settings() const;
    [[nodiscard]] QDateTime now() const { return m_clock(); }
    [[nodiscard]] Session& session() const { return m_session; }

    /// The instructor's own word in place of the computed one; a reason is required. Stays on file.
    core::Result<void> setOverride(const QString& trainee, core::ReadinessWord word, const QString& reason,
                                   const QString& by);
    /// Takes the standing override back: the computed word counts again.
    core::Result<void> withdrawOverride(const QString& trainee, const QString& reason, const QString& by);
    /// All entries of a trainee, oldest first.
    [[nodiscard]] std::vector<core::Override> overridesOf(const QString& trainee) const;

    /// Keeps the forecast as it is shown before this attempt begins, if the attempt is over all zones of what
    /// was forecast and a forecast of today's state is at hand. Never waits: it is written in the background.
    /// Returns whether there was one.
    bool freezeBefore(const core::AttemptHeader& header);
    /// Keeps it before an official test. Refused while there is none that is up to date.
    core::Result<core::FrozenForecast> sendToTest(const QString& trainee);

    /// Program facts that it depends on were changed.
    void noteSettingsChanged();

signals:
    /// Its standing is another one now.
    void changed(QString trainee);
    void progressed(QString trainee, double share);
    /// Frozen and durable.
    void frozen(QString trainee);
    /// For the status bar.
    void said(QString message);

private:
    struct Job {
        QString trainee;
        std::shared_ptr<std::atomic<bool>> stop;
        quint64 version = 0;  ///< of the file as it was when the job began
        bool withPlanner = false;
        bool again = false;     ///< to be done anew: changed meanwhile, or held
        bool outdated = false;  ///< what comes of it is old already
    };
    void attemptChanged(const QString& id);
    void everythingChanged();
    void forgetSource();
    void noteOld(const QString& trainee);
    void next();
    void begin(const QString& trainee);
    void progress(const QString& trainee, double share);
    void finish(core::Result<ReadinessAnswer> answer, std::shared_ptr<ReadinessSource> source);
    void failAll(const core::Error& error);
    void judgeAnew(ReadinessStanding& standing, const QString& trainee) const;
    void keepFewPlanners();
    [[nodiscard]] bool upToDate(const ReadinessStanding& standing) const;
    [[nodiscard]] core::FrozenForecast toFreeze(const QString& trainee) const;
    core::Result<void> store(core::Override entry);

    Session& m_session;
    ReadinessOpener m_opener;
    Clock m_clock;
    std::map<QString, ReadinessStanding> m_standings;
    std::deque<QString> m_queue;
    std::deque<QString> m_lately;  ///< whose planners are kept, newest first
    QString m_front;               ///< who is looked at
    std::optional<Job> m_job;
    std::shared_ptr<ReadinessSource> m_source;  ///< nullptr: to be read anew
    quint64 m_version = 0;
    bool m_held = false;
    QThreadPool m_worker;
    QThreadPool m_writer;
};

}  // namespace markerlamp::app
