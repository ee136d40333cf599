#include "store/sqlite_file.hpp"

#include <fmt/format.h>
#include <sqlite3.h>

#include <utility>

namespace wm::store {
namespace {

Trouble trouble_of(int code) {
    switch (code & 0xff) {
        case SQLITE_OK:
        case SQLITE_ROW:
        case SQLITE_DONE:
            return Trouble::None;
        case SQLITE_FULL:
            return Trouble::DiskFull;
        case SQLITE_IOERR:
            return Trouble::DiskBroken;
        case SQLITE_CORRUPT:
        case SQLITE_NOTADB:
            return Trouble::FileBroken;
        default:
            return Trouble::Other;
    }
}

Problem cannot_be_used(std::string_view cause, const std::string& where) {
    return {fmt::format("The journal cannot be used ({}).", cause), where,
            "See that the folder may be read and written and that no other program holds the file.",
            ProblemKind::NotStored};
}

Problem problem_of(sqlite3* database, const std::string& where) {
    const std::string cause = database == nullptr ? "out of memory" : sqlite3_errmsg(database);
    const int code = database == nullptr ? SQLITE_NOMEM : sqlite3_extended_errcode(database);
    switch (trouble_of(code)) {
        case Trouble::DiskFull:
            return {"The disk is full; nothing of this was stored.", where,
                    "Make room on the disk, then do it again.", ProblemKind::NotStored};
        case Trouble::DiskBroken:
            return {fmt::format("The disk reports an error ({}).", cause), where,
                    "Copy the data folder to another disk and look at the disk's health.",
                    ProblemKind::NotStored};
        case Trouble::FileBroken:
            return {fmt::format("The journal file is damaged ({}).", cause), where,
                    "It was not changed. Copy the data folder, then restore the last good copy or "
                    "take the entries from another device's bundle.",
                    ProblemKind::Unreadable};
        case Trouble::None:
        case Trouble::Other:
            break;
    }
    return cannot_be_used(cause, where);
}

constexpr int pages_of_log = 1000;

// SQLite's own hook takes the log into the file likewise and keeps silent when that fails.
int take_in_log(void* sync_lost, sqlite3* database, const char* name, int pages) {
    if (pages < pages_of_log) return SQLITE_OK;
    const int code = sqlite3_wal_checkpoint_v2(database, name, SQLITE_CHECKPOINT_PASSIVE, nullptr, nullptr);
    const auto trouble = trouble_of(code);
    if (trouble == Trouble::DiskBroken || trouble == Trouble::FileBroken) *static_cast<bool*>(sync_lost) = true;
    return SQLITE_OK;
}

// What a sync did not keep the kernel may have dropped, and the next one succeeds all the same.
void note_lost_sync(int code, bool* sync_lost) {
    if (sync_lost != nullptr && (code == SQLITE_IOERR_FSYNC || code == SQLITE_IOERR_DIR_FSYNC)) *sync_lost = true;
}

int size_of(std::string_view text) {
    return static_cast<int>(text.size());
}

}  // namespace

void Statement::Finalize::operator()(sqlite3_stmt* statement) const {
    sqlite3_finalize(statement);
}
void Database::Close::operator()(sqlite3* database) const {
    sqlite3_close_v2(database);
}

Statement& Statement::bind(int place, std::string_view text) {
    const int code = sqlite3_bind_text(statement_.get(), place, text.empty() ? "" : text.data(), size_of(text), SQLITE_TRANSIENT);
    if (code != SQLITE_OK) unbound_ = code;
    return *this;
}

Statement& Statement::bind(int place, std::int64_t number) {
    const int code = sqlite3_bind_int64(statement_.get(), place, number);
    if (code != SQLITE_OK) unbound_ = code;
    return *this;
}

Statement& Statement::bind_blob(int place, std::string_view bytes) {
    const int code = sqlite3_bind_blob(statement_.get(), place, bytes.empty() ? "" : bytes.data(), size_of(bytes), SQLITE_TRANSIENT);
    if (code != SQLITE_OK) unbound_ = code;
    return *this;
}

Result<bool> Statement::step() {
    if (const int unbound = std::exchange(unbound_, SQLITE_OK); unbound != SQLITE_OK) {
        // Left empty it would be stored as nothing, which INSERT OR IGNORE takes without a word.
        sqlite3_reset(statement_.get());
        return refused(cannot_be_used(sqlite3_errstr(unbound), where_));
    }
    const int code = sqlite3_step(statement_.get());
    if (code == SQLITE_ROW) return true;
    if (code == SQLITE_DONE) {
        sqlite3_reset(statement_.get());
        return false;
    }
    note_lost_sync(code, sync_lost_);
    // The cause is asked for before the reset, which may replace it.
    Problem problem = problem_of(sqlite3_db_handle(statement_.get()), where_);
    sqlite3_reset(statement_.get());
    return refused(std::move(problem));
}

Result<void> Statement::run() {
    const auto row = step();
    if (!row) return refused(row.error());
    reset();
    return {};
}

void Statement::reset() {
    sqlite3_reset(statement_.get());
}

std::string Statement::text(int column) const {
    return std::string{view(column)};
}

std::string_view Statement::view(int column) const {
    // The bytes first, then their number: the other way round the number may be of another
    // encoding.
    const void* bytes = sqlite3_column_blob(statement_.get(), column);
    const int size = sqlite3_column_bytes(statement_.get(), column);
    if (bytes == nullptr) return {};
    return {static_cast<const char*>(bytes), static_cast<std::size_t>(size)};
}

std::int64_t Statement::number(int column) const {
    return sqlite3_column_int64(statement_.get(), column);
}

Result<Database> Database::opened(const std::filesystem::path& path, const std::string& vfs,
                                  OpenFor purpose) {
    const int flags = purpose == OpenFor::Writing ? SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE
                                                  : SQLITE_OPEN_READONLY;
    sqlite3* raw = nullptr;
    const int code = sqlite3_open_v2(path.c_str(), &raw, flags | SQLITE_OPEN_EXRESCODE,
                                     vfs.empty() ? nullptr : vfs.c_str());
    Database database;
    database.database_.reset(raw);
    database.where_ = path.string();
    if (code != SQLITE_OK) return refused(problem_of(raw, database.where_));
    sqlite3_busy_timeout(raw, 5000);
    // What somebody may have planted in the file is not run.
    for (const auto& [option, value] : {std::pair{SQLITE_DBCONFIG_DEFENSIVE, 1}, {SQLITE_DBCONFIG_ENABLE_TRIGGER, 0},
                                       {SQLITE_DBCONFIG_ENABLE_VIEW, 0}, {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0}})
        sqlite3_db_config(raw, option, value, nullptr);
    database.sync_lost_ = std::make_unique<bool>(false);
    if (purpose == OpenFor::Writing) sqlite3_wal_hook(raw, &take_in_log, database.sync_lost_.get());
    return database;
}

Result<void> Database::run(const std::string& sql) const {
    const int code = sqlite3_exec(database_.get(), sql.c_str(), nullptr, nullptr, nullptr);
    if (code == SQLITE_OK) return {};
    note_lost_sync(code, sync_lost_.get());
    return refused(problem_of(database_.get(), where_));
}

Result<Statement> Database::prepared(std::string_view sql) const {
    sqlite3_stmt* raw = nullptr;
    const int code = sqlite3_prepare_v2(database_.get(), sql.data(), size_of(sql), &raw, nullptr);
    Statement statement;
    statement.statement_.reset(raw);
    statement.where_ = where_;
    statement.sync_lost_ = sync_lost_.get();
    if (code != SQLITE_OK) return refused(problem_of(database_.get(), where_));
    return statement;
}

Result<std::int64_t> Database::number(std::string_view sql) const {
    auto statement = prepared(sql);
    if (!statement) return refused(statement.error());
    const auto row = statement->step();
    if (!row) return refused(row.error());
    return *row ? statement->number(0) : 0;
}

Result<std::string> Database::text(std::string_view sql) const {
    auto statement = prepared(sql);
    if (!statement) return refused(statement.error());
    const auto row = statement->step();
    if (!row) return refused(row.error());
    return *row ? statement->text(0) : std::string{};
}

Trouble Database::trouble() const {
    return trouble_of(sqlite3_extended_errcode(database_.get()));
}

bool Database::is_in_transaction() const {
    return sqlite3_get_autocommit(database_.get()) == 0;
}

Result<Transaction> Transaction::begun(const Database& database) {
    if (auto begin = database.run("BEGIN IMMEDIATE"); !begin) return refused(begin.error());
    return Transaction{&database};
}

Result<Transaction> Transaction::begun_to_read(const Database& database) {
    if (auto begin = database.run("BEGIN"); !begin) return refused(begin.error());
    return Transaction{&database};
}

Transaction::Transaction(Transaction&& other) noexcept
    : database_{std::exchange(other.database_, nullptr)} {}

Transaction::~Transaction() {
    // A failed rollback changes nothing: the transaction is then rolled back when the file is
    // opened.
    if (database_ != nullptr && database_->is_in_transaction()) {
        static_cast<void>(database_->run("ROLLBACK"));
    }
}

Result<void> Transaction::commit() {
    auto committed = database_->run("COMMIT");
    if (committed) database_ = nullptr;
    return committed;
}

}  // namespace wm::store
