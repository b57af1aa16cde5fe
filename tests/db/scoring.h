#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A day on which presses are stored while something happens to the file, its place or the machine.

#include "db/copies/verify.h"
#include "db/event_writer.h"
#include "db/program_file.h"
#include "db_support.h"

#include <gtest/gtest.h>

#include <chrono>
#include <condition_variable>
#include <cstdlib>
#include <filesystem>
#include <mutex>
#include <string>

namespace markerlamp::db::testing {

using namespace std::chrono_literals;

/// true: no sync works, as on a full disk. Of the whole process; in trouble_test.cpp.
void noSyncWorks(bool on);

inline core::Event press(int n) {
    core::Event event;
    event.n = n;
    event.t = n;
    event.kind = core::EventKind::Show;
    event.step = n % 2 == 0 ? "start" : "leak-test";
    return event;
}

/// A writer and what it told.
class Scoring {
public:
    /// @param stored that many presses are made and stored
    explicit Scoring(const std::filesystem::path& path, int stored = 0)
        : m_writer(
              path, [this](std::uint64_t upTo) { tell([&] { m_upTo = upTo; }); },
              [this](const core::Error* error, std::size_t) {
                  tell([&] { m_trouble = error != nullptr ? error->message : ""; });
              },
              {1ms, 4ms}) {
        m_writer.startAttempt(sampleAttempt("day").header);
        if (stored == 0) return;
        presses(stored);
        EXPECT_TRUE(this->stored()) << trouble();
    }
    void presses(int count) {
        for (int i = 0; i < count; ++i) m_writer.append("day", {press(++m_pressed)});
    }
    /// All that was pressed is stored, and no trouble is left.
    bool stored() {
        return wait(
            [this] { return m_upTo == static_cast<std::uint64_t>(m_pressed) + 1 && m_trouble.empty(); });
    }
    /// Either that or trouble: true for trouble.
    bool meetsTrouble() {
        const auto all = static_cast<std::uint64_t>(m_pressed) + 1;
        wait([&] { return m_upTo == all || !m_trouble.empty(); });
        const std::lock_guard lock(m_mutex);
        return !m_trouble.empty();
    }
    std::string trouble() {
        wait([this] { return !m_trouble.empty(); });
        const std::lock_guard lock(m_mutex);
        return m_trouble;
    }
    /// Waits till the trouble is in these words.
    bool says(const std::string& words) {
        return wait([&] { return m_trouble.find(words) != std::string::npos; });
    }
    /// Waits till it was told again, so that a further try was made.
    void againInTrouble() {
        const int before = told();
        wait([&] { return m_told > before + 1; });
    }
    [[nodiscard]] int pressed() const { return m_pressed; }
    [[nodiscard]] std::size_t waiting() const { return m_writer.waiting(); }

private:
    template <class Change>
    void tell(const Change& change) {
        const std::lock_guard lock(m_mutex);
        change();
        ++m_told;
        m_changed.notify_all();
    }
    int told() {
        const std::lock_guard lock(m_mutex);
        return m_told;
    }
    template <class Condition>
    bool wait(const Condition& condition) {
        std::unique_lock lock(m_mutex);
        return m_changed.wait_for(lock, 20s, condition);
    }

    std::mutex m_mutex;
    std::condition_variable m_changed;
    std::uint64_t m_upTo = 0;
    std::string m_trouble;
    int m_told = 0, m_pressed = 0;
    EventWriter m_writer;
};

class Trouble : public ::testing::Test {
protected:
    void SetUp() override {
        std::filesystem::create_directory(m_place);
        programWithRubric(m_path);
        ::setenv("XDG_DATA_HOME", (m_folder / "data").c_str(), 1);
    }
    void TearDown() override {
        ::unsetenv("XDG_DATA_HOME");
        noSyncWorks(false);
    }
    void expectAll(const std::filesystem::path& path, int pressed) {
        auto file = ProgramFile::open(path);
        ASSERT_TRUE(file) << file.error().message;
        const auto attempt = (*file)->attempt("day");
        ASSERT_TRUE(attempt) << attempt.error().message;
        EXPECT_EQ(static_cast<int>(attempt->events.size()), pressed);
        file->reset();
        EXPECT_TRUE(verifyProgram(path)->good());
        EXPECT_FALSE(std::filesystem::exists(path.string() + ".refused.jsonl"));
        EXPECT_FALSE(std::filesystem::exists(EventWriter::spillPath(path)));
    }
    [[nodiscard]] std::string bytesOf(const std::filesystem::path& path) const {
        return everything(m_folder / "").at(std::filesystem::relative(path, m_folder / "").string());
    }

    Folder m_folder{true};
    std::filesystem::path m_place = m_folder / "place";
    std::filesystem::path m_path = m_place / "p.markerlamp";
};

}  // namespace markerlamp::db::testing
