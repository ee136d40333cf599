// What needs no server; with one, tests/whole/office_check.py tries all of it.
#include "exchange/office_store.hpp"

#include <doctest/doctest.h>

#include "exchange/office_inside.hpp"

using namespace wm;
using namespace wm::exchange;

TEST_CASE("a server that is away is named, with what to do") {
    const auto office = OfficeStore::opened("host=/nowhere port=54399 dbname=office user=lead");
    REQUIRE_FALSE(office);
    CHECK(office.error().kind == ProblemKind::NotStored);
    CHECK(office.error().where == "database office at /nowhere");
    CHECK(office.error().what.starts_with("The database of the office does not answer: "));
    CHECK(office.error().what_to_do ==
          "Look whether it runs and whether this computer reaches it, then do it again. What was taken in before is kept.");
}

TEST_CASE("what is no connection string is refused, and a password in it is not repeated") {
    for (const char* said : {"dbname", "pass word=hunter2", "host='hunter2", "postgresql://a:hunter2@[::1"}) {
        CAPTURE(said);
        const auto office = OfficeStore::opened(said);
        REQUIRE_FALSE(office);
        CHECK(office.error().kind == ProblemKind::WrongUse);
        CHECK(office.error().what == "This is no connection string of PostgreSQL.");
        CHECK((office.error().what + office.error().where + office.error().what_to_do).find("hunter2") == std::string::npos);
    }
}

TEST_CASE("a password of a connection string that fits is in no message either") {
    const auto office = OfficeStore::opened("host=/nowhere dbname=office user=lead password=hunter2");
    REQUIRE_FALSE(office);
    CHECK((office.error().what + office.error().where + office.error().what_to_do).find("hunter2") == std::string::npos);
}

TEST_CASE("places of a statement are counted row by row") {
    CHECK(places_for(1, 3) == "($1,$2,$3)");
    CHECK(places_for(2, 2) == "($1,$2),($3,$4)");
    CHECK(places_for(0, 2).empty());
}
