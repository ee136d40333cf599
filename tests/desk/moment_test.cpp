#include "desk/moment.hpp"

#include <doctest/doctest.h>

#include "record/clock.hpp"

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

TEST_CASE("a stamp of the journal is shown in the time of the place, and what is no stamp as it is") {
    const record::Stamp stamp{.wall_ms = read_moment("2027-03-04T22:40:00Z")->wall_ms, .counter = 7};
    CHECK(local_text(record::text_of(stamp), 120) == "2027-03-05T00:40:00+02:00");
    CHECK(local_text(record::text_of(stamp), -210) == "2027-03-04T19:10:00-03:30");
    CHECK(local_text("yesterday", 120) == "yesterday");
}

TEST_CASE("the report prints a moment to the minute and with its offset, and what is no moment as it is") {
    CHECK(printed_text("2027-03-04T09:10:59+02:00") == "2027-03-04 09:10 +02:00");
    CHECK(printed_text("2027-03-04T09:10:00-03:30") == "2027-03-04 09:10 -03:30");
    CHECK(printed_text("2027-03-04 09:10:00.250Z") == "2027-03-04 09:10 +00:00");
    CHECK(printed_text("some time in March") == "some time in March");
}

TEST_CASE("days that no calendar has are refused") {
    for (const char* text : {"2027-02-29T00:00:00Z", "2027-13-01T00:00:00Z", "2027-03-04", "2027-03-04T24:00:00Z",
                             "2027-03-04T09:10:00", "2027-03-04T09:10:00+2", ""}) {
        CAPTURE(text);
        CHECK_FALSE(read_moment(text));
    }
}

}  // namespace wm::desk
