// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/editing_links.h"

#include "app/support/text_widgets.h"

#include <QHBoxLayout>
#include <QPushButton>

#include <utility>

namespace markerlamp::app {

namespace {

/// Verb and key.
std::pair<QString, QString> wordsOf(PageCommand command) {
    switch (command) {
        case PageCommand::Add:
            return {EditingLinks::tr("Add"), EditingLinks::tr("Ins")};
        case PageCommand::Edit:
            return {EditingLinks::tr("Edit"), EditingLinks::tr("F2")};
        case PageCommand::MoveUp:
            return {EditingLinks::tr("Up"), EditingLinks::tr("Alt+Up")};
        case PageCommand::MoveDown:
            return {EditingLinks::tr("Down"), EditingLinks::tr("Alt+Down")};
        case PageCommand::Retire:
            return {EditingLinks::tr("Retire"), EditingLinks::tr("Del")};
        default:
            return {};
    }
}

bool keyIsShort(PageCommand command) {
    return command != PageCommand::MoveUp && command != PageCommand::MoveDown;
}

}  // namespace

EditingLinks::EditingLinks(const Theme& theme, QWidget* view, const std::vector<PageCommand>& commands,
                           QWidget* parent)
    : QWidget(parent), m_view(view) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(qRound(theme.s(4)));
    for (const PageCommand command : commands) {
        const auto [verb, key] = wordsOf(command);
        QPushButton* link = makeLink(theme, verb);
        QFont small = theme.font(13);
        small.setUnderline(true);
        link->setFont(small);
        link->setToolTip(tr("%1 (%2)", "verb and key").arg(verb, key));
        link->setAccessibleName(tr("%1: %2", "list: verb").arg(view->accessibleName(), verb));
        connect(link, &QPushButton::clicked, this, [this, command] { perform(command); });
        row->addWidget(link);
        if (!keyIsShort(command)) continue;
        auto* hint = new Text(theme, 13, false, Ink::Muted, key);
        hint->setElided();
        hint->setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Preferred);
        hint->setMinimumWidth(1);  // the keys give way first
        row->addWidget(hint);
        row->addSpacing(qRound(theme.s(4)));
    }
}

void EditingLinks::perform(PageCommand command) {
    m_view->setFocus();
    for (QWidget* one = parentWidget(); one != nullptr; one = one->parentWidget())
        if (auto* page = qobject_cast<Page*>(one)) {
            if (page->canPerform(command)) page->perform(command);
            return;
        }
}

}  // namespace markerlamp::app
