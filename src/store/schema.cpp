#include "store/schema.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <string_view>

namespace wm::store {
namespace {

// Kept to what distributed PostgreSQL-compatible engines accept but for STRICT and BLOB.
constexpr std::string_view tables_of_version_1 = R"sql(
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

constexpr std::array all_steps{Step{1, tables_of_version_1}};
static_assert(all_steps.back().version == schema_version, "the last step leads to the version of this program");

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

std::int64_t last_version(Steps steps) { return steps.back().version; }

Result<void> check(const Found& found, const std::string& where, Steps steps) {
    if (found.is_empty && found.application == 0) return {};
    if (found.application != application_id) {
        return refused({.what = "This file belongs to another program; it was left as it is.",
                        .where = where,
                        .what_to_do = "Choose another data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    if (found.version > last_version(steps)) {
        return refused(
            {.what = fmt::format("This journal was written by a later version (tables {}, "
                                 "this program knows {}).",
                                 found.version, last_version(steps)),
             .where = where,
             .what_to_do = "Open it with that version; it was left as it is.",
             .kind = ProblemKind::Unreadable});
    }
    return {};
}

/// Brings the tables from `version` to that of the last step. With its mark in the one transaction, no step is half done
/// after a loss of power, and none is done twice.
Result<void> migrate(const Database& database, std::int64_t version, Steps steps) {
    if (version == last_version(steps)) return {};
    auto transaction = Transaction::begun(database);
    if (!transaction) return refused(transaction.error());
    for (const Step& step : steps) {
        if (step.version <= version) continue;
        if (auto made = database.run(std::string{step.statements}); !made) return made;
    }
    const auto marked = database.run(fmt::format(
        "PRAGMA application_id = {}; PRAGMA user_version = {}", application_id, last_version(steps)));
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

/// What the statements make. SQLite keeps the words of each as they are.
void add_parts(Parts& made, std::string_view statements) {
    for (auto end = statements.find(';'); end != std::string_view::npos; end = statements.find(';')) {
        std::string_view statement = statements.substr(0, end);
        statements.remove_prefix(end + 1);
        statement.remove_prefix(std::min(statement.find_first_not_of('\n'), statement.size()));
        const bool is_table = statement.starts_with("CREATE TABLE ");
        if (!is_table && !statement.starts_with("CREATE INDEX ")) continue;
        const std::string_view name = statement.substr(13, statement.find_first_of("( ", 13) - 13);
        made[fmt::format("{} \"{}\"", is_table ? "table" : "index", name)] = std::string{statement};
    }
}

/// What a file of that version holds. One without a version has at least what the first step makes.
Parts parts_made_here(std::int64_t version, Steps steps) {
    Parts made;
    for (const Step& step : steps)
        if (step.version <= std::max(version, steps.front().version)) add_parts(made, step.statements);
    return made;
}

}  // namespace

Steps own_steps() { return all_steps; }

Result<std::vector<std::string>> altered_tables(const Database& database, Steps steps) {
    const auto there = parts_of(database);
    if (!there) return refused(there.error());
    const auto version = database.number("PRAGMA user_version");
    if (!version) return refused(version.error());
    const Parts wanted = parts_made_here(*version, steps);
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

Result<void> set_up_for_writing(const Database& database, const std::string& where, Steps steps) {
    const auto found = look_at(database);
    if (!found) return refused(found.error());
    if (auto fine = check(*found, where, steps); !fine) return fine;
    // FULL: with NORMAL the last commits may be lost at a loss of power.
    const auto set = database.run(
        "PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;"
        "PRAGMA trusted_schema = OFF; PRAGMA secure_delete = ON; PRAGMA cell_size_check = ON");
    if (!set) return set;
    return migrate(database, found->version, steps);
}

Result<std::optional<std::int64_t>> older_version(const Database& database, const std::string& where, Steps steps) {
    const auto found = look_at(database);
    if (!found) return refused(found.error());
    if (auto fine = check(*found, where, steps); !fine) return refused(fine.error());
    if (found->is_empty || found->version >= last_version(steps)) return std::optional<std::int64_t>{};
    return std::optional{found->version};
}

Result<void> check_for_reading(const Database& database, const std::string& where, Steps steps) {
    const auto found = look_at(database);
    if (!found) return refused(found.error());
    if (found->is_empty) {
        return refused({.what = "There is no journal in this folder yet.",
                        .where = where,
                        .what_to_do = "Open a first job, or choose the right data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    if (auto fine = check(*found, where, steps); !fine) return fine;
    return database.run("PRAGMA trusted_schema = OFF; PRAGMA query_only = ON");
}

}  // namespace wm::store
