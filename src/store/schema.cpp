#include "store/schema.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string_view>

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

/// Kind and name → how it was made.
using Parts = std::map<std::string, std::string>;

Result<Parts> parts_of(const Database& database) {
    auto select = database.prepared("SELECT type || ' \"' || name || '\"', sql FROM sqlite_schema WHERE sql IS NOT NULL");
    if (!select) return refused(select.error());
    Parts parts;
    auto row = select->step();
    for (; row && *row; row = select->step()) parts[select->text(0)] = select->text(1);
    if (!row) return refused(row.error());
    return parts;
}

/// What this program makes. SQLite keeps the words of each statement as they are.
Parts parts_made_here() {
    Parts made;
    std::string_view rest = tables_of_version_1;
    for (auto end = rest.find(';'); end != std::string_view::npos; end = rest.find(';')) {
        std::string_view statement = rest.substr(0, end);
        rest.remove_prefix(end + 1);
        statement.remove_prefix(std::min(statement.find_first_not_of('\n'), statement.size()));
        const bool is_table = statement.starts_with("CREATE TABLE ");
        const std::string_view name = statement.substr(13, statement.find_first_of("( ", 13) - 13);
        made[fmt::format("{} \"{}\"", is_table ? "table" : "index", name)] = std::string{statement};
    }
    return made;
}

}  // namespace

Result<std::vector<std::string>> altered_tables(const Database& database) {
    const auto there = parts_of(database);
    if (!there) return refused(there.error());
    const Parts wanted = parts_made_here();
    std::vector<std::string> altered;
    for (const auto& [name, made] : *there) {
        const auto found = wanted.find(name);
        if (found == wanted.end())
            altered.push_back(fmt::format("The journal file holds a {} that this program never made: somebody altered it.", name));
        else if (found->second != made)
            altered.push_back(fmt::format("The {} of the journal file was made anew by somebody else.", name));
    }
    for (const auto& [name, made] : wanted)
        if (!there->contains(name)) altered.push_back(fmt::format("The {} of the journal file is missing.", name));
    return altered;
}

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
