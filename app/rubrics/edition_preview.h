#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What people will work with before an edition is in use: the scoring page itself over the draft, where
// nothing that is pressed is kept; and the question before the edition is put in use.

#include "app/rubrics/edition_words.h"
#include "app/settings/settings.h"
#include "app/support/text_widgets.h"

#include <QDialog>

namespace markerlamp::app {

class ScoringPage;

class ScoringPreview final : public QDialog {
    Q_OBJECT

public:
    /// The draft must be sound. A bus that has everything the rubric knows.
    ScoringPreview(Theme& theme, Settings& settings, std::shared_ptr<const core::Rubric> draft,
                   QWidget* parent);
    [[nodiscard]] ScoringPage& page() { return *m_page; }

private:
    ScoringPage* m_page;
};

/// Says what is different and what that does to stored attempts.
class PublishDialog final : public QDialog {
    Q_OBJECT

public:
    PublishDialog(const Theme& theme, const Draft& draft, const QString& effect, QWidget* parent);
    /// The trial went on meanwhile.
    void setEffect(const QString& effect);

private:
    Text* m_effect;
};

}  // namespace markerlamp::app
