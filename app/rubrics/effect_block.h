#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the draft is against its base, in words, and what it would do to the stored attempts: worked out in
// the background a moment after each change, shown as a chart with its counts.

#include "app/rubrics/edition_words.h"
#include "app/support/text_widgets.h"

#include <QPointer>
#include <QWidget>

#include <optional>

class QCheckBox;
class QProgressBar;
class QTimer;

namespace markerlamp::app {

class EffectChart;
class EffectReader;

class EffectBlock final : public QWidget {
    Q_OBJECT

public:
    explicit EffectBlock(const Theme& theme, QWidget* parent = nullptr);
    ~EffectBlock() override;

    /// nullptr: nothing to show. path: program file with the attempts.
    void setDraft(Draft* draft, const QString& path);
    /// The draft changed, or the attempts did.
    void refresh();
    /// Only while the page is looked at.
    void hold(bool on);

    /// Of the draft as it is now; nothing while it is being worked out.
    [[nodiscard]] const core::EditionEffect* effect() const;
    /// One sentence for the status bar and for the question before publishing.
    [[nodiscard]] QString effectWords() const;
    /// The same with what the trial leaves out.
    [[nodiscard]] QString effectInFull() const;
    [[nodiscard]] core::NewThings newThings() const;

signals:
    void effectKnown();
    void listRequested();

private:
    void start();
    void show(const core::EditionEffect& effect, double seconds);
    void showState();
    void toggleRun();

    const Theme& m_theme;
    QPointer<Draft> m_draft;
    QString m_path;
    EffectReader* m_reader;
    QTimer* m_wait;
    std::optional<core::EditionEffect> m_effect;
    bool m_old = true;  ///< the effect is not that of the draft as it is
    bool m_held = true;
    bool m_stopped = false;  ///< by a person
    QString m_trouble;
    BlockHead* m_head;
    EffectChart* m_chart;
    Text *m_count, *m_changed, *m_mean;
    Text *m_countWords, *m_changedWords, *m_meanWords, *m_remark;
    QPushButton* m_list;
    QCheckBox* m_countNew;
    QProgressBar* m_bar;
    QPushButton* m_stop;
};

}  // namespace markerlamp::app
