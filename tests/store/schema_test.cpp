#include "store/schema.hpp"

#include <doctest/doctest.h>

#include "store/testing.hpp"

using namespace wm::store;
using testing::Folder;

TEST_CASE("a fresh file becomes a journal that survives the next opening") {
    const Folder folder;
    const auto file = folder.path() / "journal.db";
    for (int round = 0; round < 2; ++round) {
        const Database database = Database::opened(file, "", OpenFor::Writing).value();
        REQUIRE(set_up_for_writing(database, "journal.db"));
        CHECK(database.number("PRAGMA application_id").value() == application_id);
        CHECK(database.number("PRAGMA user_version").value() == schema_version);
        CHECK(database.text("PRAGMA journal_mode").value() == "wal");
        CHECK(database.number("PRAGMA synchronous").value() == 2);
        CHECK(database.number("PRAGMA secure_delete").value() == 1);
    }
}

TEST_CASE("the tables refuse values of another type") {
    const Folder folder;
    const Database database =
        Database::opened(folder.path() / "journal.db", "", OpenFor::Writing).value();
    REQUIRE(set_up_for_writing(database, "journal.db"));
    CHECK_FALSE(database.run("INSERT INTO entry VALUES ('d', 'many', 'p', 'h', 't', 'j', 'b')"));
    CHECK(database.run("INSERT INTO entry VALUES ('d', 1, 'p', 'h', 't', 'j', 'b')"));
    CHECK(database.run("INSERT INTO entry VALUES ('d', 1, 'p', 'other', 't', 'j', 'b')"));
    CHECK_FALSE(database.run("INSERT INTO entry VALUES ('d', 1, 'p', 'h', 't', 'j', 'b')"));
}

TEST_CASE("an empty file is no journal to a reader") {
    const Folder folder;
    const Database database =
        Database::opened(folder.path() / "journal.db", "", OpenFor::Writing).value();
    const auto checked = check_for_reading(database, "journal.db");
    REQUIRE_FALSE(checked);
    CHECK(checked.error().what == "There is no journal in this folder yet.");
}
