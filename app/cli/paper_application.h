#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a command needs to set type on paper: an application object without a display, and our fonts.

#include "core/base/result.h"
#include "forms/sheets/sheets.h"

#include <QGuiApplication>

#include <optional>
#include <string>

namespace markerlamp::app {

class PaperApplication {
public:
    PaperApplication();
    PaperApplication(const PaperApplication&) = delete;
    PaperApplication& operator=(const PaperApplication&) = delete;
    /// Whether type can be set.
    [[nodiscard]] core::Result<void> ready() const;

private:
    int m_argc = 1;
    char m_name[11] = "markerlamp";
    char* m_argv[2] = {m_name, nullptr};
    std::optional<QGuiApplication> m_application;
    bool m_fonts = false;
};

/// "letter" or "a4", in any case; nothing for another word. Empty: letter.
[[nodiscard]] std::optional<forms::Paper> paperFromWord(std::string word);

}  // namespace markerlamp::app
