// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/paper_application.h"

#include "forms/style/fonts.h"

#include <cstdio>

namespace markerlamp::app {

namespace {

/// Qt's remarks about the session (no run-time folder, no display) are none of the reader's business.
void onlyTrouble(QtMsgType type, const QMessageLogContext&, const QString& message) {
    if (type == QtCriticalMsg || type == QtFatalMsg) std::fprintf(stderr, "%s\n", qPrintable(message));
}

}  // namespace

PaperApplication::PaperApplication() {
    if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
    qInstallMessageHandler(onlyTrouble);
    m_application.emplace(m_argc, m_argv);
    m_fonts = forms::loadFonts();
}

core::Result<void> PaperApplication::ready() const {
    if (m_fonts) return {};
    return core::fail(core::ErrorKind::Machine, "the program's own fonts could not be loaded");
}

std::optional<forms::Paper> paperFromWord(std::string word) {
    for (char& c : word)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if (word.empty() || word == "letter") return forms::Paper::Letter;
    if (word == "a4") return forms::Paper::A4;
    return std::nullopt;
}

}  // namespace markerlamp::app
