#include "record/clock.hpp"

#include <doctest/doctest.h>

using namespace wm::record;

TEST_CASE("a stamp is written in fixed width and read back") {
    // 1,800,000,000 s after 1970 is 2027-01-15T08:00:00Z (date -u -d @1800000000).
    CHECK(text_of({1'800'000'000'123, 4}) == "2027-01-15T08:00:00.123Z.0004");
    CHECK(text_of({0, 0}) == "1970-01-01T00:00:00.000Z.0000");
    for (const Stamp stamp :
         {Stamp{0, 0}, Stamp{1'835'481'599'999, 9999}, Stamp{253402300799999, 1}}) {
        CHECK(stamp_of(text_of(stamp)) == stamp);
    }
}

TEST_CASE("the order of stamps as text is the order of times") {
    const Stamp rising[] = {
        {999, 9999}, {1000, 0}, {1000, 1}, {86'400'000, 0}, {1'800'000'000'000, 2}};
    for (std::size_t i = 1; i < std::size(rising); ++i) {
        CHECK(rising[i - 1] < rising[i]);
        CHECK(text_of(rising[i - 1]) < text_of(rising[i]));
    }
}

TEST_CASE("what only looks like a stamp is none") {
    for (const char* text : {"", "2027-01-15T08:00:00.123Z", "2027-02-30T08:00:00.123Z.0004",
                             "2027-01-15T24:00:00.123Z.0004", "9999-12-31T24:00:00.000Z.0000", "2027-01-15T08:60:00.123Z.0004",
                             "2027-01-15 08:00:00.123Z.0004", "2027-01-15T08:00:00,123Z.0004",
                             "2027-13-15T08:00:00.123Z.0004", "+027-01-15T08:00:00.123Z.0004",
                             "1969-12-31T23:59:59.999Z.0000"}) {
        CAPTURE(text);
        CHECK_FALSE(stamp_of(text));
    }
}

TEST_CASE("the next stamp is later than the last, whatever the wall clock does") {
    const Stamp last{5000, 3};
    CHECK(next_stamp(last, 6000) == Stamp{6000, 0});
    CHECK(next_stamp(last, 5000) == Stamp{5000, 4});
    CHECK(next_stamp(last, 1000) == Stamp{5000, 4});
    CHECK(next_stamp({5000, 9999}, 1000) == Stamp{5001, 0});
}

TEST_CASE("a clock up to ten minutes ahead is followed and one beyond is not") {
    const Stamp ours{1'000'000, 0};
    CHECK(after_seeing(ours, {1'000'000 + 600'000, 7}, 1'000'000) == Stamp{1'600'000, 7});
    CHECK(after_seeing(ours, {1'000'000 + 600'001, 7}, 1'000'000) == ours);
    CHECK(after_seeing(ours, {900'000, 7}, 1'000'000) == ours);
}
