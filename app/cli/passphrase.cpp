// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/passphrase.h"

#include "core/base/files.h"

#include <termios.h>
#include <unistd.h>

#include <cstdio>
#include <iostream>
#include <optional>

namespace markerlamp::app {

namespace {

using core::ErrorKind;

constexpr std::size_t kMostBytes = 4096;

/// Letters do not appear while this lives.
class NoEcho {
public:
    NoEcho() {
        m_known = ::tcgetattr(STDIN_FILENO, &m_before) == 0;
        if (!m_known) return;
        termios quiet = m_before;
        quiet.c_lflag &= ~static_cast<tcflag_t>(ECHO);
        ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &quiet);
    }
    ~NoEcho() {
        if (m_known) ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &m_before);
    }
    NoEcho(const NoEcho&) = delete;
    NoEcho& operator=(const NoEcho&) = delete;

private:
    termios m_before{};
    bool m_known = false;
};

std::optional<std::string> typed(const char* words) {
    std::fprintf(stderr, "%s: ", words);
    std::string line;
    bool got = false;
    {
        const NoEcho quiet;
        got = static_cast<bool>(std::getline(std::cin, line));
    }
    std::fputc('\n', stderr);
    return got ? std::optional(line) : std::nullopt;
}

}  // namespace

core::Result<std::string> passphraseFor(const Arguments& arguments, bool twice) {
    return readPassphrase(kPassphraseOption, arguments.value(kPassphraseOption), twice);
}

core::Result<std::string> readPassphrase(const char* option, const std::optional<std::string>& path,
                                         bool twice) {
    if (path) {
        auto text = core::readDocument(*path, kMostBytes);
        if (!text) return core::fail(text.error());
        if (text->size() > kMostBytes)
            return core::fail(ErrorKind::Refused,
                              *path + " is too long for a passphrase; write it on its first line");
        text->erase(std::min(text->find_first_of("\r\n"), text->size()));
        return text;
    }
    if (::isatty(STDIN_FILENO) == 0)
        return core::fail(ErrorKind::Usage,
                          std::string("give the passphrase with ") + option + " F, or type it at a terminal");
    const auto first = typed("Passphrase");
    if (!first) return core::fail(ErrorKind::Usage, "no passphrase was typed");
    if (!twice) return *first;
    if (typed("The same again") != first)
        return core::fail(ErrorKind::Refused, "the two passphrases differ; nothing was written");
    return *first;
}

db::OpenedCopy::Open askingFor(const Arguments& arguments) {
    return
        [&arguments](const std::filesystem::path& sealed) -> core::Result<std::unique_ptr<db::SealReader>> {
            const auto passphrase = passphraseFor(arguments, false);
            if (!passphrase) return core::fail(passphrase.error());
            return db::SealReader::open(sealed, *passphrase);
        };
}

}  // namespace markerlamp::app
