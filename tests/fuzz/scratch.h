#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A folder in memory for fuzz targets that need files, a small program file, and changes of single bytes.

#include "core/attempt/attempt_document.h"
#include "db/program_file.h"

#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <string_view>

namespace markerlamp::fuzz {

class Scratch {
public:
    Scratch() {
        const char* place = std::filesystem::is_directory("/dev/shm") ? "/dev/shm" : "/tmp";
        std::string pattern = std::string(place) + "/markerlamp-fuzz-XXXXXX";
        m_path = ::mkdtemp(pattern.data());
    }
    ~Scratch() {
        std::error_code ec;
        std::filesystem::remove_all(m_path, ec);
    }
    Scratch(const Scratch&) = delete;
    Scratch& operator=(const Scratch&) = delete;
    [[nodiscard]] std::filesystem::path operator/(const char* name) const { return m_path / name; }
    /// All but what was kept from the start.
    void clearBut(const std::string& kept) const {
        for (const auto& entry : std::filesystem::directory_iterator(m_path))
            if (entry.path().filename() != kept) std::filesystem::remove_all(entry.path());
    }

private:
    std::filesystem::path m_path;
};

inline std::string bytesOf(const std::filesystem::path& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

inline void write(const std::filesystem::path& path, std::string_view bytes) {
    std::ofstream(path, std::ios::binary) << bytes;
}

/// Four bytes each: a place in three, and the value there. Keeps inputs small where what they change is
/// large.
inline std::string patched(std::string bytes, std::string_view patches) {
    for (; patches.size() >= 4; patches.remove_prefix(4)) {
        const auto at = [&](std::size_t i) {
            return static_cast<std::size_t>(static_cast<std::uint8_t>(patches[i]));
        };
        bytes[(at(0) << 16 | at(1) << 8 | at(2)) % bytes.size()] = patches[3];
    }
    return bytes;
}

inline const std::string kRubric = R"(format: markerlamp.rubric/1
id: small
edition: 1
title: Small rubric
equipment: {air-brakes: Air brakes}
pass: {percent: 80}
limits:
  leak: {high: 3, unit: psi, source: "common practice, no published source"}
zones:
  - id: brakes
    title: Brakes
    steps:
      - {id: start, title: Guarded start, show: Set the brake}
      - id: leak-test
        title: Leak test
        show: Hold the pedal
        say: [{id: limit, text: at most 3 psi}, {id: engine, text: engine off}]
        reading: {quantity: loss, limit: leak}
)";

inline core::AttemptHeader header(const std::string& id) {
    return core::readAttempt(
               R"({"format":"markerlamp.attempt/1","id":")" + id +
               R"(","rubric":"small","edition":1,"trainee":"t-1","instructor":"i-1","bus":"14",)"
               R"("equipment":["air-brakes"],"zones":["brakes"],)"
               R"("started":"2026-03-02T06:10:00-05:00"})"
               "\n")
        .value()
        .header;
}

/// A rubric, people and an attempt with events.
inline void makeProgram(const std::filesystem::path& path) {
    auto file = db::ProgramFile::create(path).value();
    if (!file->addRubric(kRubric) || !file->startAttempt(header("a-1"))) std::abort();
    for (int n = 1; n <= 12; ++n) {
        core::Event event;
        event.n = n;
        event.t = n;
        event.kind = n == 12 ? core::EventKind::End : core::EventKind::Show;
        if (n < 12) event.step = n % 2 == 0 ? "start" : "leak-test";
        if (!file->appendEvents("a-1", std::vector{event})) std::abort();
    }
    if (!file->setFact("program.title", "Invented")) std::abort();
    (void)file->attempts();
}

}  // namespace markerlamp::fuzz
