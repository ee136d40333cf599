#include "units/calendar.hpp"

#include <doctest/doctest.h>

namespace wm::units {

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

TEST_CASE("every day from 1970 to 2100 lies in the week whose Monday is given") {
    for (int n = 0; n < 47482; ++n) {
        const auto day = day_of_number(n);
        CAPTURE(day);
        REQUIRE(day_number(day) == n);
        const auto week = week_of(day);
        REQUIRE(week);
        const auto monday = monday_of(*week);
        REQUIRE(monday);
        const auto since = days_between(*monday, day);
        REQUIRE(since);
        CHECK(*since >= 0);
        CHECK(*since < 7);
    }
}

}  // namespace wm::units
