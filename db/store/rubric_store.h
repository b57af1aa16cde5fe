#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Rubric editions and limit sets: whole documents, never changed once stored.

#include "core/base/result.h"
#include "core/scoring/scorecard.h"
#include "db/program_file.h"
#include "db/sqlite/connection.h"
#include "db/store/trail_store.h"

#include <map>
#include <memory>
#include <string>
#include <vector>

namespace markerlamp::db {

class RubricStore {
public:
    RubricStore(Connection& connection, TrailStore& trail) : m_connection(connection), m_trail(trail) {}

    core::Result<Added> add(const std::string& yaml, const std::string& name);
    core::Result<std::vector<RubricInfo>> list();
    core::Result<std::string> text(const std::string& id, int edition);
    core::Result<std::shared_ptr<const core::Rubric>> rubric(const std::string& id, int edition);
    /// Made ready to score, cached.
    core::Result<const core::Scorer*> scorer(const std::string& id, int edition);
    /// Row number of an edition; NotFound with what would be right.
    core::Result<long long> number(const std::string& id, int edition);

    core::Result<Added> addLimitSet(const std::string& yaml, const std::string& name);
    core::Result<std::vector<core::LimitSet>> limitSets();
    core::Result<std::string> limitSetText(const std::string& id);

    /// After a rollback: rows may be gone again.
    void forget();

private:
    struct Held {
        std::shared_ptr<const core::Rubric> rubric;
        std::unique_ptr<core::Scorer> scorer;
    };

    /// The trail's word about a document, by its digest.
    core::Result<void> tell(const char* what, const std::string& subject, const std::string& title,
                            const std::string& text);

    Connection& m_connection;
    TrailStore& m_trail;
    std::map<std::pair<std::string, int>, Held> m_held;
};

}  // namespace markerlamp::db
