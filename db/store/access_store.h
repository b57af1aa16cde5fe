#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Who may sign in: accounts with Argon2id strings (RFC 9106) as libsodium writes them, failures that were
// counted, the recovery code. Who may change them is ProgramFile's business.

#include "core/access/accounts.h"
#include "core/base/result.h"
#include "db/program_file.h"
#include "db/sqlite/connection.h"
#include "db/store/trail_store.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::db {

class AccessStore {
public:
    AccessStore(Connection& connection, TrailStore& trail) : m_connection(connection), m_trail(trail) {}

    /// For a connection that only reads a file of a form before these tables: empty ones stand in.
    core::Result<void> prepare();
    void setCost(PassphraseCost cost) { m_cost = cost; }

    core::Result<std::vector<core::Account>> accounts();  ///< by name
    core::Result<std::string> start(const core::Account& coordinator, const std::string& passphrase);
    core::Result<void> save(const core::Account& account, const std::optional<std::string>& passphrase);
    core::Result<void> remove(const std::string& name);
    core::Result<void> end();
    core::Result<std::string> newRecoveryCode();

    core::Result<std::int64_t> wait(std::int64_t nowMs);
    core::Result<core::Acting> signIn(const std::string& name, const std::string& passphrase,
                                      std::int64_t nowMs);
    core::Result<std::string> recover(const std::string& code, const std::string& name,
                                      const std::string& passphrase, std::int64_t nowMs);

private:
    struct Guard {
        std::string recovery;
        int failures = 0;
        std::int64_t lastMs = 0;
    };
    struct Stored {
        core::Account account;
        std::string passphrase;
    };

    core::Result<std::string> hashed(const std::string& secret) const;
    core::Result<std::optional<Guard>> guard();
    core::Result<void> setFailures(int failures, std::int64_t lastMs);
    core::Result<std::optional<Stored>> stored(const std::string& name);
    void write(const core::Account& account, const std::string& passphrase);
    /// Counts the try as failed, durably, before anything is looked at. Refused while the wait lasts.
    core::Result<Guard> countTry(std::int64_t nowMs);

    /// What the trail says; never anything of a secret.
    core::Result<void> tell(const char* what, const core::Account* was, const core::Account& is,
                            bool passphrase);

    Connection& m_connection;
    TrailStore& m_trail;
    PassphraseCost m_cost = PassphraseCost::Usual;
};

}  // namespace markerlamp::db
