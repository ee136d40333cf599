#include "exchange/office_connection.hpp"

#include <fmt/format.h>
#include <libpq-fe.h>

#include <array>
#include <charconv>
#include <utility>

#include "digest/hash.hpp"

namespace wm::exchange {
namespace {

/// The first line of what the server or the library said, without its label.
std::string first_line(std::string_view said) {
    said = said.substr(0, said.find('\n'));
    for (const std::string_view label : {"ERROR:  ", "FATAL:  "}) {
        if (const auto at = said.find(label); at != std::string_view::npos) said.remove_prefix(at + label.size());
    }
    return std::string{said};
}

Refusal meaning_of(std::string_view state, bool is_gone) {
    if (is_gone || state.starts_with("57P") || state.starts_with("08")) return Refusal::Gone;
    if (state == "40001" || state == "40P01") return Refusal::Again;
    if (state == "23505") return Refusal::Exists;
    if (state == "42501") return Refusal::NotAllowed;
    if (state == "42P01") return Refusal::NoTable;
    return Refusal::Other;
}

Problem is_away(const std::string& where, const std::string& said) {
    return {.what = fmt::format("The database of the office does not answer: {}.", said.empty() ? "the connection ended" : said),
            .where = where,
            .what_to_do = "Look whether it runs and whether this computer reaches it, then do it again. What was taken in before is kept.",
            .kind = ProblemKind::NotStored};
}

}  // namespace

Values& Values::text(std::string_view value) {
    values_.push_back({std::string{value}, false});
    return *this;
}

Values& Values::number(std::int64_t value) { return text(std::to_string(value)); }

Values& Values::bytes(std::string_view value) {
    values_.push_back({std::string{value}, true});
    return *this;
}

void Rows::Clear::operator()(pg_result* result) const { PQclear(result); }
void Connection::Close::operator()(pg_conn* connection) const { PQfinish(connection); }

int Rows::count() const { return PQntuples(result_.get()); }

std::string_view Rows::view(int row, int column) const {
    return {PQgetvalue(result_.get(), row, column), static_cast<std::size_t>(PQgetlength(result_.get(), row, column))};
}

std::string Rows::text(int row, int column) const { return std::string{view(row, column)}; }

std::int64_t Rows::number(int row, int column) const {
    const std::string_view digits = view(row, column);
    std::int64_t value = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), value);
    return value;
}

std::string Rows::bytes(int row, int column) const {
    std::string_view shown = view(row, column);
    if (!shown.starts_with("\\x")) return {};
    shown.remove_prefix(2);
    return digest::from_hex(shown).value_or("");
}

std::int64_t Rows::changed() const {
    const std::string_view digits = PQcmdTuples(result_.get());
    std::int64_t value = 0;
    std::from_chars(digits.data(), digits.data() + digits.size(), value);
    return value;
}

std::string_view Rows::done() const { return PQcmdStatus(result_.get()); }

Result<Connection> Connection::opened(const std::string& conninfo) {
    char* complaint = nullptr;
    PQconninfoOption* options = PQconninfoParse(conninfo.c_str(), &complaint);
    const bool is_readable = options != nullptr;
    PQconninfoFree(options);
    PQfreemem(complaint);
    if (!is_readable || conninfo.find('\0') != std::string::npos) {
        return refused({.what = "This is no connection string of PostgreSQL.",
                        .where = "--connect",
                        .what_to_do = "Write it as \"host=HOST dbname=DATABASE user=USER\"; a password belongs into the file ~/.pgpass.",
                        .kind = ProblemKind::WrongUse});
    }
    // What stands later counts: the string may set its own patience, never another encoding or way of writing bytes.
    const std::array names{"connect_timeout", "fallback_application_name", "dbname", "client_encoding", static_cast<const char*>(nullptr)};
    const std::array texts{"10", "witnessmark", conninfo.c_str(), "UTF8", static_cast<const char*>(nullptr)};
    Connection connection;
    connection.connection_.reset(PQconnectdbParams(names.data(), texts.data(), 1));
    pg_conn* made = connection.connection_.get();
    connection.where_ = "database of the office";
    if (made != nullptr && PQdb(made) != nullptr && PQhost(made) != nullptr)
        connection.where_ = fmt::format("database {} at {}", PQdb(made), PQhost(made));
    if (made == nullptr || PQstatus(made) != CONNECTION_OK)
        return refused(is_away(connection.where_, made == nullptr ? std::string{} : first_line(PQerrorMessage(made))));
    PQsetNoticeProcessor(made, [](void*, const char*) {}, nullptr);
    if (auto set = connection.run_all("SET bytea_output = 'hex'"); !set) return refused(set.error());
    const auto encoding = connection.run("SHOW server_encoding");
    if (!encoding) return refused(encoding.error());
    if (encoding->text(0, 0) != "UTF8") {
        return refused({.what = fmt::format("The database keeps texts as {}; an entry is kept byte for byte, in UTF-8.", encoding->text(0, 0)),
                        .where = connection.where_,
                        .what_to_do = "Make the database anew: createdb --encoding=UTF8 --template=template0.",
                        .kind = ProblemKind::Refused});
    }
    return connection;
}

Result<Rows> Connection::run(const std::string& sql, const Values& values) {
    std::vector<const char*> starts;
    std::vector<int> lengths, formats;
    for (const auto& value : values.values_) {
        starts.push_back(value.held.c_str());
        lengths.push_back(static_cast<int>(value.held.size()));
        formats.push_back(value.is_binary ? 1 : 0);
    }
    Rows rows;
    rows.result_.reset(PQexecParams(connection_.get(), sql.c_str(), static_cast<int>(starts.size()), nullptr, starts.data(),
                                    lengths.data(), formats.data(), 0));
    const auto status = PQresultStatus(rows.result_.get());
    if (status == PGRES_TUPLES_OK || status == PGRES_COMMAND_OK) return rows;
    const char* state = PQresultErrorField(rows.result_.get(), PG_DIAG_SQLSTATE);
    state_ = state == nullptr ? "" : state;
    return refused(not_done());
}

Result<void> Connection::run_all(const std::string& sql) {
    Rows rows;
    rows.result_.reset(PQexec(connection_.get(), sql.c_str()));
    const auto status = PQresultStatus(rows.result_.get());
    if (status == PGRES_TUPLES_OK || status == PGRES_COMMAND_OK) return {};
    const char* state = PQresultErrorField(rows.result_.get(), PG_DIAG_SQLSTATE);
    state_ = state == nullptr ? "" : state;
    return refused(not_done());
}

Problem Connection::not_done() {
    const std::string said = first_line(PQerrorMessage(connection_.get()));
    refusal_ = meaning_of(state_, PQstatus(connection_.get()) != CONNECTION_OK);
    switch (refusal_) {
        case Refusal::Gone: return is_away(where_, said);
        case Refusal::NotAllowed:
            return {.what = fmt::format("The database does not let {} do this: {}.", PQuser(connection_.get()), said),
                    .where = where_,
                    .what_to_do = "Let a lead do it, or have whoever owns the database give the role: witnessmark office --role.",
                    .kind = ProblemKind::Refused};
        case Refusal::NoTable:
            return {.what = "The tables of the office are not in this database.",
                    .where = where_,
                    .what_to_do = "Have whoever owns the database run witnessmark office --connect once.",
                    .kind = ProblemKind::Unreadable};
        case Refusal::Again:
            return {.what = "Somebody else was writing the same rows meanwhile.",
                    .where = where_,
                    .what_to_do = "Nothing was taken. Do it again.",
                    .kind = ProblemKind::NotStored};
        case Refusal::None:
        case Refusal::Exists:
        case Refusal::Other: break;
    }
    return {.what = fmt::format("The database of the office refused a statement: {}.", said),
            .where = where_,
            .what_to_do = "Nothing was changed. Look at the disk and the log of the database, then do it again.",
            .kind = ProblemKind::NotStored};
}

Result<std::string> Connection::quoted_name(std::string_view name) {
    char* quoted = PQescapeIdentifier(connection_.get(), name.data(), name.size());
    if (quoted == nullptr)
        return refused({.what = "This is no name.", .where = where_, .what_to_do = "Use letters and digits.", .kind = ProblemKind::WrongUse});
    std::string text{quoted};
    PQfreemem(quoted);
    return text;
}

Result<OfficeTransaction> OfficeTransaction::begun(Connection& connection) {
    if (auto done = connection.run_all("BEGIN ISOLATION LEVEL SERIALIZABLE"); !done) return refused(done.error());
    return OfficeTransaction{&connection};
}

Result<OfficeTransaction> OfficeTransaction::begun_to_read(Connection& connection) {
    if (auto done = connection.run_all("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY"); !done) return refused(done.error());
    return OfficeTransaction{&connection};
}

OfficeTransaction::OfficeTransaction(OfficeTransaction&& other) noexcept : connection_{std::exchange(other.connection_, nullptr)} {}

OfficeTransaction::~OfficeTransaction() {
    if (connection_ != nullptr) static_cast<void>(connection_->run_all("ROLLBACK"));
}

Result<void> OfficeTransaction::commit() {
    Connection& connection = *std::exchange(connection_, nullptr);
    const auto done = connection.run("COMMIT");
    if (done && done->done() == "COMMIT") return {};
    // A transaction in which a statement failed ends without an error, and without its rows.
    if (done)
        return refused({.what = "The database of the office took back what was written.", .where = connection.where(),
                        .what_to_do = "Nothing was taken. Do it again.", .kind = ProblemKind::NotStored});
    if (connection.refusal() != Refusal::Gone) return refused(done.error());
    Problem problem = done.error();
    problem.what_to_do = "Whether the last of it was taken is not known. Do it again: what is there already is taken for known.";
    return refused(std::move(problem));
}

}  // namespace wm::exchange
