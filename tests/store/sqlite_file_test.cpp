#include "store/sqlite_file.hpp"

#include <doctest/doctest.h>
#include <sqlite3.h>

#include "store/testing.hpp"

using namespace wm::store;
using testing::Folder;

TEST_CASE("text and numbers come back as they were bound, bytes and all") {
    const Folder folder;
    const Database database =
        Database::opened(folder.path() / "d.db", "", OpenFor::Writing).value();
    REQUIRE(database.run("CREATE TABLE t(a TEXT, b INTEGER, c BLOB) STRICT"));
    Statement insert = database.prepared("INSERT INTO t VALUES (?1, ?2, ?3)").value();
    const std::string bytes("\0\xff\0", 3);
    REQUIRE(insert.bind(1, "é").bind(2, std::int64_t{1} << 40).bind_blob(3, bytes).run());
    REQUIRE(insert.bind(1, "").bind(2, -1).bind_blob(3, "").run());
    Statement select = database.prepared("SELECT a, b, c FROM t ORDER BY b DESC").value();
    REQUIRE(select.step().value());
    CHECK(select.text(0) == "é");
    CHECK(select.number(1) == std::int64_t{1} << 40);
    CHECK(select.text(2) == bytes);
    REQUIRE(select.step().value());
    CHECK(select.text(0).empty());
    CHECK_FALSE(select.step().value());
    CHECK(database.number("SELECT count(*) FROM t").value() == 2);
    CHECK(database.text("SELECT a FROM t WHERE b > 0").value() == "é");
}

TEST_CASE("what was not committed is gone") {
    const Folder folder;
    const Database database =
        Database::opened(folder.path() / "d.db", "", OpenFor::Writing).value();
    REQUIRE(database.run("CREATE TABLE t(a INTEGER)"));
    {
        auto transaction = Transaction::begun(database).value();
        REQUIRE(database.run("INSERT INTO t VALUES (1)"));
    }
    CHECK(database.number("SELECT count(*) FROM t").value() == 0);
    {
        auto transaction = Transaction::begun(database).value();
        REQUIRE(database.run("INSERT INTO t VALUES (1)"));
        REQUIRE(transaction.commit());
    }
    CHECK(database.number("SELECT count(*) FROM t").value() == 1);
    CHECK_FALSE(database.is_in_transaction());
}

TEST_CASE("a statement that is none and a file that is none are problems with words") {
    const Folder folder;
    const Database database =
        Database::opened(folder.path() / "d.db", "", OpenFor::Writing).value();
    CHECK_FALSE(database.prepared("SELEKT"));
    CHECK_FALSE(Database::opened(folder.path() / "no" / "d.db", "", OpenFor::Writing));
    const auto missing = Database::opened(folder.path() / "none.db", "", OpenFor::Reading);
    REQUIRE_FALSE(missing);
    CHECK(missing.error().where == (folder.path() / "none.db").string());
}

TEST_CASE("a value for which there is no memory is told, and nothing is stored in its place") {
    const Folder folder;
    const Database database = Database::opened(folder.path() / "d.db", "", OpenFor::Writing).value();
    REQUIRE(database.run("CREATE TABLE t(a TEXT NOT NULL PRIMARY KEY, b BLOB NOT NULL) STRICT"));
    Statement insert = database.prepared("INSERT OR IGNORE INTO t VALUES (?1, ?2)").value();
    const std::string large(8'000'000, 'x');
    sqlite3_hard_heap_limit64(sqlite3_memory_used() + 1'000'000);
    insert.bind(1, "k").bind_blob(2, large);
    sqlite3_hard_heap_limit64(0);
    const auto done = insert.run();
    REQUIRE_FALSE(done);
    CHECK(done.error().what.find("memory") != std::string::npos);
    CHECK(database.number("SELECT count(*) FROM t").value() == 0);
    // It is ready for new values.
    REQUIRE(insert.bind(1, "k").bind_blob(2, large).run());
    CHECK(database.number("SELECT count(*) FROM t").value() == 1);
    // Nor is it read as empty when it cannot be brought into memory.
    Statement select = database.prepared("SELECT b FROM t").value();
    sqlite3_hard_heap_limit64(sqlite3_memory_used() + 1'000'000);
    const auto row = select.step();
    sqlite3_hard_heap_limit64(0);
    CHECK_FALSE(row);
}
