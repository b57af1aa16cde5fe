// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/access_store.h"

#include "db/sqlite/failure.h"

#include <sodium.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <limits>
#include <string_view>

namespace markerlamp::db {

using core::Account;
using core::ErrorKind;
using core::Result;
using core::Role;

namespace {

// Empty ones stand in where the file is of a form before these tables; nothing can be added to them.
constexpr const char* kNoAccounts =
    "CREATE TEMP TABLE IF NOT EXISTS account (name, role, instructor, passphrase)";
constexpr const char* kNoGuard =
    "CREATE TEMP TABLE IF NOT EXISTS sign_in_guard (one, recovery, failures, last_failure_ms)";

constexpr const char* kDoing = "the accounts cannot be stored";
constexpr const char* kReading = "the accounts cannot be read";
constexpr const char* kCoordinator = "coordinator";

Account accountOf(const SQLite::Statement& row) {
    return {textOf(row, 0), textOf(row, 1) == kCoordinator ? Role::Coordinator : Role::Instructor,
            textOf(row, 2)};
}

/// The number after `name` in "$argon2id$v=19$m=65536,t=2,p=1$...".
std::optional<std::uint32_t> parameter(std::string_view text, std::string_view name) {
    const std::size_t at = text.find(name);
    if (at == std::string_view::npos) return std::nullopt;
    std::uint32_t value = 0;
    const std::string_view rest = text.substr(at + name.size());
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
    return error == std::errc{} ? std::optional(value) : std::nullopt;
}

/// A file from elsewhere must not ask for more memory or time than any passphrase of ours.
bool isBearable(const std::string& hash) {
    constexpr std::uint32_t kMostKibibytes = 1u << 20, kMostPasses = 16;
    const auto memory = parameter(hash, "$m="), passes = parameter(hash, ",t=");
    return hash.size() < crypto_pwhash_STRBYTES && memory && passes && *memory <= kMostKibibytes &&
           *passes <= kMostPasses;
}

bool opens(const std::string& hash, const std::string& secret) {
    if (sodium_init() < 0 || !isBearable(hash)) return false;
    return crypto_pwhash_str_verify(hash.c_str(), secret.data(), secret.size()) == 0;
}

tl::unexpected<core::Error> notInUse() {
    return core::fail(ErrorKind::Refused, "sign-in is not in use in this program file");
}

/// The same whatever was wrong.
tl::unexpected<core::Error> notRight() {
    return core::fail(ErrorKind::Refused,
                      "name and passphrase do not go together; mind capitals and the keyboard layout");
}

bool isCoordinator(const Account& account) {
    return account.role == Role::Coordinator;
}

}  // namespace

Result<void> AccessStore::prepare() {
    if (!m_connection.readOnly()) return {};
    return guarded(kReading, [&]() -> Result<void> {
        if (!m_connection.database().tableExists("account")) m_connection.makeTemporary(kNoAccounts);
        if (!m_connection.database().tableExists("sign_in_guard")) m_connection.makeTemporary(kNoGuard);
        return {};
    });
}

Result<std::string> AccessStore::hashed(const std::string& secret) const {
    const bool least = m_cost == PassphraseCost::Least;
    std::array<char, crypto_pwhash_STRBYTES> text{};
    if (sodium_init() < 0 ||
        crypto_pwhash_str_alg(text.data(), secret.data(), secret.size(),
                              least ? crypto_pwhash_OPSLIMIT_MIN : crypto_pwhash_OPSLIMIT_INTERACTIVE,
                              least ? crypto_pwhash_MEMLIMIT_MIN : crypto_pwhash_MEMLIMIT_INTERACTIVE,
                              crypto_pwhash_ALG_ARGON2ID13) != 0)
        return core::fail(ErrorKind::Machine, "there is not enough memory to keep a passphrase safely");
    return std::string(text.data());
}

Result<std::vector<Account>> AccessStore::accounts() {
    return guarded(kReading, [&]() -> Result<std::vector<Account>> {
        Query query = m_connection.query("SELECT name, role, instructor FROM account ORDER BY name");
        std::vector<Account> list;
        while (query->executeStep()) list.push_back(accountOf(*query));
        return list;
    });
}

Result<std::optional<AccessStore::Stored>> AccessStore::stored(const std::string& name) {
    return guarded(kReading, [&]() -> Result<std::optional<Stored>> {
        Query query =
            m_connection.query("SELECT name, role, instructor, passphrase FROM account WHERE name = ?");
        query->bind(1, name);
        if (!query->executeStep()) return std::optional<Stored>{};
        return std::optional(Stored{accountOf(*query), textOf(*query, 3)});
    });
}

Result<std::optional<AccessStore::Guard>> AccessStore::guard() {
    return guarded(kReading, [&]() -> Result<std::optional<Guard>> {
        Query query = m_connection.query("SELECT recovery, failures, last_failure_ms FROM sign_in_guard");
        if (!query->executeStep()) return std::optional<Guard>{};
        const std::int64_t failures = query->getColumn(1).getInt64();
        return std::optional(Guard{textOf(*query, 0),
                                   static_cast<int>(std::clamp<std::int64_t>(failures, 0, 1'000'000)),
                                   query->getColumn(2).getInt64()});
    });
}

Result<void> AccessStore::setFailures(int failures, std::int64_t lastMs) {
    return guarded(kDoing, [&]() -> Result<void> {
        Query query = m_connection.query("UPDATE sign_in_guard SET failures = ?, last_failure_ms = ?");
        query->bind(1, failures);
        query->bind(2, static_cast<int64_t>(lastMs));
        query->exec();
        return {};
    });
}

Result<void> AccessStore::tell(const char* what, const Account* was, const Account& is, bool passphrase) {
    const auto fields = [](const Account& account) {
        return core::TrailFields{{"role", isCoordinator(account) ? kCoordinator : "instructor"},
                                 {"instructor", account.instructor}};
    };
    core::TrailFields now = fields(is);
    if (passphrase) now.emplace_back("passphrase", was != nullptr ? "set anew" : "set");
    const auto words = core::wordsOfChange(was != nullptr ? fields(*was) : core::TrailFields(), now);
    return words ? m_trail.add({what, {}, is.name, *words, {}}) : Result<void>();
}

void AccessStore::write(const Account& account, const std::string& passphrase) {
    Query query = m_connection.query(
        "INSERT INTO account (name, role, instructor, passphrase) VALUES (?,?,?,?) "
        "ON CONFLICT (name) DO UPDATE SET role = excluded.role, instructor = excluded.instructor, "
        "passphrase = excluded.passphrase");
    query->bind(1, account.name);
    query->bind(2, isCoordinator(account) ? kCoordinator : "instructor");
    query.bindOrNull(3, account.instructor);
    query->bind(4, passphrase);
    query->exec();
}

Result<std::string> AccessStore::start(const Account& coordinator, const std::string& passphrase) {
    if (auto good = core::checkAccount(coordinator); !good) return core::fail(good.error());
    if (!isCoordinator(coordinator))
        return core::fail(ErrorKind::Refused, "the first account must be a coordinator's");
    if (auto good = core::checkPassphrase(passphrase); !good) return core::fail(good.error());
    const std::string code = core::drawRecoveryCode();
    auto hash = hashed(passphrase), recovery = hashed(code);
    if (!hash || !recovery) return core::fail(hash ? recovery.error() : hash.error());
    auto done = guarded(kDoing, [&]() -> Result<void> {
        return m_connection.transaction([&]() -> Result<void> {
            const auto before = accounts();
            if (!before) return core::fail(before.error());
            if (!before->empty())
                return core::fail(ErrorKind::Conflict, "sign-in is in use in this program file already");
            m_connection.query("DELETE FROM sign_in_guard")->exec();
            Query query = m_connection.query(
                "INSERT INTO sign_in_guard (one, recovery, failures, last_failure_ms) VALUES (1, ?, 0, 0)");
            query->bind(1, *recovery);
            query->exec();
            write(coordinator, *hash);
            return tell("sign-in.begun", nullptr, coordinator, true);
        });
    });
    if (!done) return core::fail(done.error());
    return code;
}

Result<void> AccessStore::save(const Account& account, const std::optional<std::string>& passphrase) {
    if (auto good = core::checkAccount(account); !good) return good;
    std::string hash;
    if (passphrase) {
        if (auto good = core::checkPassphrase(*passphrase); !good) return good;
        auto made = hashed(*passphrase);
        if (!made) return core::fail(made.error());
        hash = std::move(*made);
    }
    return guarded(kDoing, [&]() -> Result<void> {
        return m_connection.transaction([&]() -> Result<void> {
            const auto all = accounts();
            if (!all) return core::fail(all.error());
            if (all->empty()) return notInUse();
            const auto before = stored(account.name);
            if (!before) return core::fail(before.error());
            if (!*before && !passphrase)
                return core::fail(ErrorKind::Refused, "a new account needs a passphrase");
            if (*before && isCoordinator((*before)->account) && !isCoordinator(account) &&
                std::ranges::count_if(*all, isCoordinator) == 1)
                return core::fail(ErrorKind::Refused, "this is the only coordinator; make another one first");
            write(account, passphrase ? hash : (*before)->passphrase);
            return tell(*before ? "account.changed" : "account.added",
                        *before ? &(*before)->account : nullptr, account, passphrase.has_value());
        });
    });
}

Result<void> AccessStore::remove(const std::string& name) {
    return guarded(kDoing, [&]() -> Result<void> {
        return m_connection.transaction([&]() -> Result<void> {
            const auto all = accounts();
            if (!all) return core::fail(all.error());
            const auto found = std::ranges::find(*all, name, &Account::name);
            if (found == all->end())
                return core::fail(ErrorKind::NotFound, "there is no account of this name");
            if (isCoordinator(*found) && std::ranges::count_if(*all, isCoordinator) == 1)
                return core::fail(ErrorKind::Refused,
                                  "this is the only coordinator; make another one first, or switch sign-in "
                                  "off altogether");
            Query query = m_connection.query("DELETE FROM account WHERE name = ?");
            query->bind(1, name);
            query->exec();
            return m_trail.add({"account.removed", {}, name, "{}", {}});
        });
    });
}

Result<void> AccessStore::end() {
    return guarded(kDoing, [&]() -> Result<void> {
        return m_connection.transaction([&]() -> Result<void> {
            m_connection.query("DELETE FROM account")->exec();
            m_connection.query("DELETE FROM sign_in_guard")->exec();
            return m_trail.add({"sign-in.ended", {}, {}, "{}", {}});
        });
    });
}

Result<std::string> AccessStore::newRecoveryCode() {
    const std::string code = core::drawRecoveryCode();
    const auto recovery = hashed(code);
    if (!recovery) return core::fail(recovery.error());
    return guarded(kDoing, [&]() -> Result<std::string> {
        auto done = m_connection.transaction([&]() -> Result<void> {
            Query query = m_connection.query("UPDATE sign_in_guard SET recovery = ?");
            query->bind(1, *recovery);
            if (query->exec() == 0) return notInUse();
            return m_trail.add({"recovery.renewed", {}, {}, "{}", {}});
        });
        if (!done) return core::fail(done.error());
        return code;
    });
}

Result<std::int64_t> AccessStore::wait(std::int64_t nowMs) {
    const auto now = guard();
    if (!now) return core::fail(now.error());
    if (!*now) return 0;
    // A clock that was set back would keep the wait at its full length until it caught up.
    if (nowMs < (*now)->lastMs)
        if (auto done = setFailures((*now)->failures, nowMs); !done) return core::fail(done.error());
    return core::waitBeforeNextTry((*now)->failures, (*now)->lastMs, nowMs);
}

Result<AccessStore::Guard> AccessStore::countTry(std::int64_t nowMs) {
    return guarded(kDoing, [&]() -> Result<Guard> {
        Guard found;
        std::int64_t left = 0;
        auto done = m_connection.transaction([&]() -> Result<void> {
            const auto now = guard();
            if (!now) return core::fail(now.error());
            if (!*now) return notInUse();
            found = **now;
            const auto waiting = wait(nowMs);
            if (!waiting) return core::fail(waiting.error());
            left = *waiting;
            return left > 0 ? Result<void>() : setFailures(found.failures + 1, nowMs);
        });
        if (!done) return core::fail(done.error());
        if (left > 0)
            return core::fail(ErrorKind::Refused, "too many tries that failed; wait " +
                                                      std::to_string((left + 999) / 1000) +
                                                      " s before the next one");
        return found;
    });
}

Result<core::Acting> AccessStore::signIn(const std::string& name, const std::string& passphrase,
                                         std::int64_t nowMs) {
    const auto before = countTry(nowMs);
    if (!before) return core::fail(before.error());
    const auto found = stored(name);
    if (!found) return core::fail(found.error());
    // For a name that is not there the same work is done on another string, and its answer thrown away.
    const bool good = opens(*found ? (*found)->passphrase : before->recovery, passphrase);
    if (!*found || !good) return notRight();
    if (auto done = setFailures(0, 0); !done) return core::fail(done.error());
    return core::Acting{(*found)->account.name, (*found)->account.role, (*found)->account.instructor};
}

Result<std::string> AccessStore::recover(const std::string& typed, const std::string& name,
                                         const std::string& passphrase, std::int64_t nowMs) {
    if (auto good = core::checkPassphrase(passphrase); !good) return core::fail(good.error());
    Account account{name, Role::Coordinator, {}};
    if (auto good = core::checkAccount(account); !good) return core::fail(good.error());
    const auto before = countTry(nowMs);
    if (!before) return core::fail(before.error());
    const auto code = core::typedRecoveryCode(typed);
    if (!code || !opens(before->recovery, *code))
        return core::fail(ErrorKind::Refused,
                          "this is not the recovery code of the file; copy it from the newest printed page, "
                          "25 letters and digits");
    const std::string next = core::drawRecoveryCode();
    auto hash = hashed(passphrase), recovery = hashed(next);
    if (!hash || !recovery) return core::fail(hash ? recovery.error() : hash.error());
    auto done = guarded(kDoing, [&]() -> Result<void> {
        return m_connection.transaction([&]() -> Result<void> {
            // Whose attempts are their own stays as it is.
            const auto found = stored(name);
            if (!found) return core::fail(found.error());
            if (*found) account.instructor = (*found)->account.instructor;
            write(account, *hash);
            Query query = m_connection.query(
                "UPDATE sign_in_guard SET recovery = ?, failures = 0, last_failure_ms = 0");
            query->bind(1, *recovery);
            query->exec();
            return tell("account.recovered", *found ? &(*found)->account : nullptr, account, true);
        });
    });
    if (!done) return core::fail(done.error());
    return next;
}

}  // namespace markerlamp::db
