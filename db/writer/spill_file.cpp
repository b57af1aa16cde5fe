// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/writer/spill_file.h"

#include "core/attempt/attempt_document.h"

#include <nlohmann/json.hpp>

#include <cerrno>
#include <cstring>
#include <fstream>

#include <fcntl.h>
#include <unistd.h>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

/// A press as a small attempt document: header line where it starts, else its events, behind the attempt's
/// id.
std::string lineOf(const Press& press) {
    nlohmann::ordered_json line;
    line["attempt"] = press.attempt;
    if (press.header) line["header"] = core::writeHeaderLine(*press.header);
    if (!press.by.empty()) line["by"] = press.by;
    line["events"] = nlohmann::ordered_json::array();
    for (const core::Event& event : press.events) line["events"].push_back(core::writeEventLine(event));
    return line.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

std::optional<core::Event> eventOf(const nlohmann::json& o) {
    core::Event event;
    const auto kind = core::eventKindFromWord(o.at("do").get<std::string>());
    if (!kind) return std::nullopt;
    event.kind = *kind;
    event.n = o.at("n").get<int>();
    event.t = o.at("t").get<double>();
    event.step = o.value("step", "");
    event.point = o.value("point", "");
    const auto real = [&](const char* key, std::optional<double>& into) {
        if (o.contains(key)) into = o.at(key).get<double>();
    };
    real("value", event.value);
    real("low", event.low);
    real("high", event.high);
    event.unit = o.value("unit", "");
    event.text = o.value("text", "");
    event.retracts = o.value("event", 0);
    event.by = o.value("by", "");
    event.at = o.value("at", "");
    return event;
}

}  // namespace

Result<void> appendPresses(const std::filesystem::path& path, const std::vector<Press>& presses) {
    std::string text;
    for (const Press& press : presses) text += lineOf(press);
    const int fd = ::open(path.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
    bool good = fd >= 0;
    for (std::size_t done = 0; good && done < text.size();) {
        const ssize_t wrote = ::write(fd, text.data() + done, text.size() - done);
        good = wrote > 0;
        if (good) done += static_cast<std::size_t>(wrote);
    }
    if (good) good = ::fsync(fd) == 0;
    const int why = errno;
    if (fd >= 0) ::close(fd);
    if (!good)
        return core::fail(ErrorKind::Machine, "the waiting presses cannot be written beside the file",
                          std::strerror(why));
    return {};
}

Result<std::vector<Press>> readPresses(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) return core::fail(ErrorKind::Machine, "cannot read " + path.string());
    std::vector<Press> presses;
    std::string line;
    while (std::getline(in, line)) {
        if (in.eof()) break;  // no line end: torn by the end of the power
        try {
            const auto object = nlohmann::json::parse(line);
            Press press;
            press.attempt = object.at("attempt").get<std::string>();
            press.by = object.value("by", "");
            if (object.contains("header")) {
                auto attempt = core::readAttempt(object.at("header").get<std::string>());
                if (!attempt) return core::fail(attempt.error());
                press.header = std::move(attempt->header);
            }
            for (const auto& text : object.at("events")) {
                auto event = eventOf(nlohmann::json::parse(text.get<std::string>()));
                if (!event)
                    return core::fail(ErrorKind::Refused,
                                      path.string() + " holds an event that is not known");
                press.events.push_back(std::move(*event));
            }
            presses.push_back(std::move(press));
        } catch (const nlohmann::json::exception& e) {
            return core::fail(ErrorKind::Refused, path.string() + " cannot be read; it was left as it is",
                              e.what());
        }
    }
    return presses;
}

std::filesystem::path refusedPath(const std::filesystem::path& programFile) {
    return programFile.string() + ".refused.jsonl";
}

void SpillFile::hold(const std::vector<Press>& waiting) {
    std::vector<Press> fresh;
    for (const Press& press : waiting)
        if (press.ticket > m_upTo) fresh.push_back(press);
    if (fresh.empty()) return;
    if (appendPresses(m_path, fresh)) m_upTo = fresh.back().ticket;
}

void SpillFile::remove() {
    std::error_code ec;
    std::filesystem::remove(m_path, ec);
}

}  // namespace markerlamp::db
