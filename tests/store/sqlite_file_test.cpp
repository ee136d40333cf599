#include "store/sqlite_file.hpp"

#include <doctest/doctest.h>

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
