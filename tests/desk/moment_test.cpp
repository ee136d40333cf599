#include "desk/moment.hpp"

#include <doctest/doctest.h>

namespace wm::desk {

TEST_CASE("a moment is printed as it was read") {
    for (const char* text : {"2027-03-04T09:10:00+02:00", "1969-12-31T23:59:59-03:30", "2024-02-29T00:00:00+00:00"}) {
        CAPTURE(text);
        const auto moment = read_moment(text);
        REQUIRE(moment);
        CHECK(text_of(*moment) == text);
    }
    CHECK(read_moment("2027-03-04T07:10:00.250Z")->wall_ms == read_moment("2027-03-04T09:10:00+02:00")->wall_ms + 250);
}

TEST_CASE("days that no calendar has are refused") {
    for (const char* text : {"2027-02-29T00:00:00Z", "2027-13-01T00:00:00Z", "2027-03-04", "2027-03-04T24:00:00Z",
                             "2027-03-04T09:10:00", "2027-03-04T09:10:00+2", ""}) {
        CAPTURE(text);
        CHECK_FALSE(read_moment(text));
    }
}

TEST_CASE("weeks follow ISO 8601 at the turn of the year") {
    // Source: ISO 8601:2004, 3.2.2 and the dates given as examples with it (from memory).
    struct Row { const char* day; const char* week; };
    for (const Row row : {Row{"2005-01-01", "2004-W53"}, Row{"2005-01-02", "2004-W53"}, Row{"2005-12-31", "2005-W52"},
                          Row{"2007-01-01", "2007-W01"}, Row{"2008-12-28", "2008-W52"}, Row{"2008-12-29", "2009-W01"},
                          Row{"2010-01-03", "2009-W53"}, Row{"2026-11-25", "2026-W48"}}) {
        CAPTURE(row.day);
        CHECK(week_of(row.day) == row.week);
    }
    CHECK(monday_of("2009-W01") == "2008-12-29");
    CHECK(monday_of("2026-W53") == "2026-12-28");
    CHECK_FALSE(monday_of("2025-W53"));
    CHECK_FALSE(monday_of("2025-W00"));
    CHECK_FALSE(monday_of("2025-9"));
}

TEST_CASE("days are counted over a leap day") {
    CHECK(days_between("2024-02-28", "2024-03-01") == 2);
    CHECK(days_between("2024-03-01", "2024-02-28") == -2);
    CHECK(day_after("2024-02-28", 2) == "2024-03-01");
    CHECK_FALSE(days_between("2024-02-30", "2024-03-01"));
}

}  // namespace wm::desk
