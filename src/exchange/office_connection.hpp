// A connection to PostgreSQL and its answers as values that clean up after themselves.
// For the sources of this room; no type of libpq is complete here.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"

struct pg_conn;
struct pg_result;

namespace wm::exchange {

/// Values of a statement, $1 first. They travel beside the statement and never inside it.
class Values {
public:
    Values& text(std::string_view value);
    Values& number(std::int64_t value);
    Values& bytes(std::string_view value);  ///< for a BYTEA

private:
    friend class Connection;
    struct Value {
        std::string held;
        bool is_binary = false;
    };
    std::vector<Value> values_;
};

class Rows {
public:
    [[nodiscard]] int count() const;
    [[nodiscard]] std::string text(int row, int column) const;
    [[nodiscard]] std::string_view view(int row, int column) const;
    [[nodiscard]] std::int64_t number(int row, int column) const;  ///< 0 for NULL
    [[nodiscard]] std::string bytes(int row, int column) const;
    [[nodiscard]] std::int64_t changed() const;  ///< rows that were inserted, updated or deleted
    [[nodiscard]] std::string_view done() const;     ///< what the server calls what it did, "COMMIT"

private:
    friend class Connection;
    struct Clear {
        void operator()(pg_result* result) const;
    };
    std::unique_ptr<pg_result, Clear> result_;
};

/// What a refusal of the server means for what may be done next.
enum class Refusal { None, Again, Exists, NotAllowed, NoTable, Gone, Other };

class Connection {
public:
    /// A connection string of libpq, "host=/run/postgresql dbname=office user=lead", or its URI form. Gives up after ten
    /// seconds unless the string says otherwise. No message repeats the string: it may hold a password.
    [[nodiscard]] static Result<Connection> opened(const std::string& conninfo);

    /// One statement with its values.
    [[nodiscard]] Result<Rows> run(const std::string& sql, const Values& values = {});
    /// Statements without values or rows, separated by semicolons.
    [[nodiscard]] Result<void> run_all(const std::string& sql);
    /// A name as it may stand in a statement where no value can, in double quotes.
    [[nodiscard]] Result<std::string> quoted_name(std::string_view name);

    /// Of the last statement that failed.
    [[nodiscard]] Refusal refusal() const { return refusal_; }
    [[nodiscard]] const std::string& where() const { return where_; }  ///< "database office at HOST", for messages

private:
    struct Close {
        void operator()(pg_conn* connection) const;
    };
    [[nodiscard]] Problem not_done();
    std::unique_ptr<pg_conn, Close> connection_;
    std::string where_;
    Refusal refusal_ = Refusal::None;
    std::string state_;  ///< SQLSTATE of the last failure
};

/// All or nothing: rolled back unless committed.
class OfficeTransaction {
public:
    /// Each sees the others as if they came one after the other; one that cannot is refused with Refusal::Again.
    [[nodiscard]] static Result<OfficeTransaction> begun(Connection& connection);
    /// All reads until its end see one moment.
    [[nodiscard]] static Result<OfficeTransaction> begun_to_read(Connection& connection);
    OfficeTransaction(OfficeTransaction&& other) noexcept;
    OfficeTransaction& operator=(OfficeTransaction&&) = delete;
    ~OfficeTransaction();
    [[nodiscard]] Result<void> commit();

private:
    explicit OfficeTransaction(Connection* connection) : connection_{connection} {}
    Connection* connection_;  ///< null once committed or moved from
};

}  // namespace wm::exchange
