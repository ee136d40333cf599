#include "store/schema.hpp"

#include <fmt/format.h>

namespace wm::store {
namespace {

// Kept to what distributed PostgreSQL-compatible engines accept but for STRICT and BLOB.
constexpr const char* tables_of_version_1 = R"sql(
CREATE TABLE entry(
    device TEXT NOT NULL,
    seq INTEGER NOT NULL,
    prev TEXT NOT NULL,
    hash TEXT NOT NULL,
    time TEXT NOT NULL,
    job TEXT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (device, seq, hash)) STRICT;
CREATE INDEX entry_of_job ON entry(job, time, hash);
CREATE TABLE personal(
    commitment TEXT NOT NULL PRIMARY KEY,
    customer TEXT NOT NULL,
    box BLOB NOT NULL) STRICT;
CREATE INDEX personal_of_customer ON personal(customer);
CREATE TABLE attachment(
    id TEXT NOT NULL PRIMARY KEY,
    customer TEXT NOT NULL) STRICT;
CREATE TABLE erased(customer TEXT NOT NULL PRIMARY KEY) STRICT;
CREATE TABLE head(
    device TEXT NOT NULL,
    seq INTEGER NOT NULL,
    hash TEXT NOT NULL,
    public_key BLOB NOT NULL,
    signature BLOB NOT NULL,
    PRIMARY KEY (device, seq, hash)) STRICT;
CREATE TABLE cache(
    name TEXT NOT NULL PRIMARY KEY,
    made_from TEXT NOT NULL,
    body TEXT NOT NULL) STRICT;
)sql";

struct Found {
    std::int64_t application = 0;
    std::int64_t version = 0;
    bool is_empty = false;
};

Result<Found> look_at(const Database& database) {
    const auto tables = database.number("SELECT count(*) FROM sqlite_schema");
    if (!tables) return refused(tables.error());
    const auto application = database.number("PRAGMA application_id");
    if (!application) return refused(application.error());
    const auto version = database.number("PRAGMA user_version");
    if (!version) return refused(version.error());
    return Found{*application, *version, *tables == 0};
}

Result<void> check(const Found& found, const std::string& where) {
    if (found.is_empty && found.application == 0) return {};
    if (found.application != application_id) {
        return refused({.what = "This file belongs to another program; it was left as it is.",
                        .where = where,
                        .what_to_do = "Choose another data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    if (found.version > schema_version) {
        return refused(
            {.what = fmt::format("This journal was written by a later version (tables {}, "
                                 "this program knows {}).",
                                 found.version, schema_version),
             .where = where,
             .what_to_do = "Open it with that version; it was left as it is.",
             .kind = ProblemKind::Unreadable});
    }
    return {};
}

/// Brings the tables from `version` to the present one, each step in the one transaction.
Result<void> migrate(const Database& database, std::int64_t version) {
    if (version == schema_version) return {};
    auto transaction = Transaction::begun(database);
    if (!transaction) return refused(transaction.error());
    if (version < 1) {
        if (auto made = database.run(tables_of_version_1); !made) return made;
    }
    const auto marked = database.run(fmt::format(
        "PRAGMA application_id = {}; PRAGMA user_version = {}", application_id, schema_version));
    if (!marked) return marked;
    return transaction->commit();
}

}  // namespace

Result<void> set_up_for_writing(const Database& database, const std::string& where) {
    const auto found = look_at(database);
    if (!found) return refused(found.error());
    if (auto fine = check(*found, where); !fine) return fine;
    // FULL: with NORMAL the last commits may be lost at a loss of power.
    const auto set = database.run(
        "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;"
        "PRAGMA trusted_schema = OFF; PRAGMA secure_delete = ON; PRAGMA cell_size_check = ON");
    if (!set) return set;
    return migrate(database, found->version);
}

Result<std::optional<std::int64_t>> older_version(const Database& database, const std::string& where) {
    const auto found = look_at(database);
    if (!found) return refused(found.error());
    if (auto fine = check(*found, where); !fine) return refused(fine.error());
    if (found->is_empty || found->version >= schema_version) return std::optional<std::int64_t>{};
    return std::optional{found->version};
}

Result<void> check_for_reading(const Database& database, const std::string& where) {
    const auto found = look_at(database);
    if (!found) return refused(found.error());
    if (found->is_empty) {
        return refused({.what = "There is no journal in this folder yet.",
                        .where = where,
                        .what_to_do = "Open a first job, or choose the right data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    if (auto fine = check(*found, where); !fine) return fine;
    return database.run("PRAGMA trusted_schema = OFF; PRAGMA query_only = ON");
}

}  // namespace wm::store
