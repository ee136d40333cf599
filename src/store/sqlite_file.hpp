// A SQLite file and its statements as values that clean up after themselves.
// For the sources of this room; no SQLite type is complete here.
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <string_view>

#include "problem/result.hpp"

struct sqlite3;
struct sqlite3_stmt;

namespace wm::store {

enum class OpenFor { Writing, Reading };

/// What a failure means for what may be done next.
enum class Trouble { None, DiskFull, DiskBroken, FileBroken, Other };

class Statement {
public:
    Statement() = default;
    /// A value for which there was no memory is told by the next step(), which then does nothing.
    Statement& bind(int place, std::string_view text);
    Statement& bind(int place, std::int64_t number);
    Statement& bind_blob(int place, std::string_view bytes);

    /// True with a row, false at the end. After either a Problem or the end it is ready for new
    /// values.
    [[nodiscard]] Result<bool> step();
    /// For a statement without rows.
    [[nodiscard]] Result<void> run();
    void reset();

    [[nodiscard]] std::string text(int column) const;
    /// The same where it lies, until the next step().
    [[nodiscard]] std::string_view view(int column) const;
    [[nodiscard]] std::int64_t number(int column) const;

private:
    friend class Database;
    struct Finalize {
        void operator()(sqlite3_stmt* statement) const;
    };
    std::unique_ptr<sqlite3_stmt, Finalize> statement_;
    std::string where_;
    int unbound_ = 0;            ///< why a value was not bound; 0 while all were
    bool* sync_lost_ = nullptr;  ///< of its database, which outlives it
};

class Database {
public:
    Database() = default;
    /// `vfs` empty = the system's own. Nothing is read or changed yet.
    [[nodiscard]] static Result<Database> opened(const std::filesystem::path& path,
                                                 const std::string& vfs, OpenFor purpose);

    /// Statements without values or rows, separated by semicolons.
    [[nodiscard]] Result<void> run(const std::string& sql) const;
    [[nodiscard]] Result<Statement> prepared(std::string_view sql) const;
    /// First column of the first row; 0 or empty without one.
    [[nodiscard]] Result<std::int64_t> number(std::string_view sql) const;
    [[nodiscard]] Result<std::string> text(std::string_view sql) const;

    /// What the last failing call met.
    [[nodiscard]] Trouble trouble() const;
    [[nodiscard]] bool is_in_transaction() const;
    /// A sync failed once, in whichever statement, or the disk reported an error when the log was to be taken into the file
    /// after a commit. That commit stands, but this disk must not be trusted with another one.
    [[nodiscard]] bool sync_was_lost() const { return sync_lost_ && *sync_lost_; }

private:
    struct Close {
        void operator()(sqlite3* database) const;
    };
    std::unique_ptr<bool> sync_lost_;  ///< outlives the connection, which writes it
    std::unique_ptr<sqlite3, Close> database_;
    std::string where_;
};

/// All or nothing: rolled back unless committed.
class Transaction {
public:
    [[nodiscard]] static Result<Transaction> begun(const Database& database);
    /// All reads until its end see one moment, and the file is locked for reading once and not for each of them.
    [[nodiscard]] static Result<Transaction> begun_to_read(const Database& database);
    Transaction(Transaction&& other) noexcept;
    Transaction& operator=(Transaction&&) = delete;
    ~Transaction();
    [[nodiscard]] Result<void> commit();

private:
    explicit Transaction(const Database* database) : database_{database} {}
    const Database* database_;  ///< null once committed or moved from
};

}  // namespace wm::store
