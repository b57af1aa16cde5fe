#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The editing commands that a list takes, as links with their keys: a click does there what the key does.

#include "app/shell/page.h"
#include "app/support/theme.h"

#include <QWidget>

#include <vector>

namespace markerlamp::app {

class EditingLinks final : public QWidget {
    Q_OBJECT

public:
    /// view: takes the keys, then the page on which it stands performs the command.
    EditingLinks(const Theme& theme, QWidget* view, const std::vector<PageCommand>& commands,
                 QWidget* parent = nullptr);

private:
    void perform(PageCommand command);

    QWidget* m_view;
};

}  // namespace markerlamp::app
