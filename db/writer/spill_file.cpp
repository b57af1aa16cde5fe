// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/writer/spill_file.h"

#include "core/attempt/attempt_document.h"
#include "core/trail/trail.h"
#include "db/sqlite/file_id.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iterator>

#include <fcntl.h>
#include <sys/stat.h>
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

/// Makes the folder for nobody else, where it is not there.
bool privateFolder(const std::filesystem::path& folder) {
    std::error_code ec;
    std::filesystem::create_directories(folder.parent_path(), ec);
    return ::mkdir(folder.c_str(), 0700) == 0 || std::filesystem::is_directory(folder, ec);
}

}  // namespace

Result<void> appendPresses(const std::filesystem::path& path, const std::vector<Press>& presses) {
    const int fd = ::open(path.c_str(), O_RDWR | O_CREAT | O_APPEND | O_CLOEXEC, 0600);
    const off_t before = fd < 0 ? -1 : ::lseek(fd, 0, SEEK_END);
    bool good = before >= 0;
    // A line that an end of the power tore has no line end: the next one must not be glued to it.
    char last = '\n';
    if (good && before > 0) good = ::pread(fd, &last, 1, before - 1) == 1;
    std::string text(last == '\n' ? "" : "\n");
    for (const Press& press : presses) text += lineOf(press);
    for (std::size_t done = 0; good && done < text.size();) {
        const ssize_t wrote = ::write(fd, text.data() + done, text.size() - done);
        good = wrote > 0;
        if (good) done += static_cast<std::size_t>(wrote);
    }
    if (good) good = ::fsync(fd) == 0;
    const int why = errno;
    if (!good && before >= 0) (void)!::ftruncate(fd, before);
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
        // No line end, or no end of the object: torn by the end of the power, and never called kept.
        if (in.eof()) break;
        if (!line.ends_with('}')) continue;
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

std::vector<std::filesystem::path> spillPlaces(const std::filesystem::path& programFile) {
    std::vector<std::filesystem::path> places{programFile.string() + ".waiting.jsonl"};
    const char* data = std::getenv("XDG_DATA_HOME");
    const char* home = std::getenv("HOME");
    // XDG Base Directory Specification: a path that is not absolute is ignored.
    std::filesystem::path folder = data != nullptr ? data : "";
    if (!folder.is_absolute() && home != nullptr) folder = std::filesystem::path(home) / ".local/share";
    if (folder.is_absolute())
        places.push_back(folder / "markerlamp" / "waiting" /
                         (core::blake2b(realPath(programFile).string()).substr(0, 32) + ".jsonl"));
    return places;
}

Result<std::vector<Press>> readSpilled(const std::vector<std::filesystem::path>& places) {
    std::vector<Press> all;
    for (const auto& place : places) {
        auto presses = readPresses(place);
        if (!presses) return presses;
        std::move(presses->begin(), presses->end(), std::back_inserter(all));
    }
    // An attempt's presses may have gone to one place and then to the other; a start comes first.
    std::ranges::stable_sort(all, {}, [](const Press& press) {
        return press.header || press.events.empty() ? 0 : press.events.front().n;
    });
    return all;
}

void SpillFile::hold(const std::vector<Press>& waiting) {
    std::vector<Press> fresh;
    for (const Press& press : waiting)
        if (press.ticket > m_upTo) fresh.push_back(press);
    if (fresh.empty()) return;
    for (std::size_t i = 0; i < m_places.size(); ++i) {
        if (i > 0 && !privateFolder(m_places[i].parent_path())) continue;
        if (!appendPresses(m_places[i], fresh)) continue;
        m_upTo = fresh.back().ticket;
        return;
    }
}

void SpillFile::remove() {
    std::error_code ec;
    for (const auto& place : m_places) std::filesystem::remove(place, ec);
}

}  // namespace markerlamp::db
