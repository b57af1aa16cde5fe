#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The form before an attempt: who, which bus, what to score. Offers what was used last, so that two actions
// lead to scoring. An unfinished attempt is offered above the form.

#include "app/shell/page.h"
#include "app/start/start_data.h"

#include <functional>
#include <memory>

namespace markerlamp::app {

class Settings;
class Session;
class Theme;

class StartPage final : public Page {
    Q_OBJECT

public:
    using Loader = std::function<core::Result<StartData>()>;

    /// loader: see startDataLoader().
    StartPage(Theme& theme, Settings& settings, Loader loader, QWidget* parent = nullptr);
    ~StartPage() override;

    void aboutToShow() override;
    /// Puts this trainee's row in front ("start an attempt" of a trainee's page).
    void chooseTrainee(const QString& key);
    /// Picks these zones of this edition ("start an attempt with these zones" of a drill). False when the
    /// file has no such edition.
    bool chooseZones(const std::string& rubric, int edition, const std::vector<std::string>& zones);
    /// What is started next is the second scoring of the attempt with this code, on another workstation;
    /// empty: an attempt of its own.
    void secondScoringOf(const QString& code, const std::string& instructor = {});
    [[nodiscard]] StartForm& form() { return *m_form; }

signals:
    void startRequested(markerlamp::core::AttemptHeader header);
    void resumeRequested(QString attemptId);
    void finishRequested(QString attemptId);
    void setAsideRequested(QString attemptId);
    void cancelled();
    /// The form is about this trainee now.
    void traineeChosen(QString key);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    void build();
    QWidget* makeTrainees();
    QWidget* makeBus();
    QWidget* makeFoot();
    void applyTheme();
    void arrange();
    void fillTrainees();
    void fillBus();
    void fillEquipment();
    void refresh();
    void takeEnter();
    void start();

    Theme& m_theme;
    Settings& m_settings;
    Loader m_loader;
    std::unique_ptr<StartForm> m_form;
    struct Widgets;
    std::unique_ptr<Widgets> m_w;
};

/// Reads what the form needs from an open session.
[[nodiscard]] StartPage::Loader startDataLoader(Session& session);
/// Notes in the program file what an attempt was started with: keys of people belong nowhere else.
core::Result<void> keepLastUsed(Session& session, const LastUsed& last);

}  // namespace markerlamp::app
