#include "record/clock_watch.hpp"

#include <doctest/doctest.h>

#include <random>
#include <string>

#include "record/clock.hpp"

namespace wm::record {
namespace {

constexpr std::int64_t minute_ms = 60'000;
constexpr std::int64_t day_ms = 24 * 60 * minute_ms;
constexpr std::int64_t noon = 1'804'000'000'000;  // 2027-03-02

/// A tablet: a true time that nobody sees, a wall clock that people and time servers set, and the count
/// of the machine. Also what a careful person beside it would write down. It has no zone: what is watched are
/// clocks in UTC, so a zone cannot reach them (tests/whole/zones_check.py shows it on the program).
struct Tablet {
    std::int64_t true_ms = noon;
    std::int64_t wall_lead_ms = 0;
    std::int64_t booted_at = noon - 5 * minute_ms;
    int boots = 1;
    // The notebook of the person beside it.
    std::int64_t moved_in_this_boot = 0;
    bool restarted = false;
    std::int64_t wall_at_last_intent = 0;

    [[nodiscard]] std::int64_t wall() const { return true_ms + wall_lead_ms; }
    [[nodiscard]] ClockReading reading() const {
        return {wall(), {"boot-" + std::to_string(boots), true_ms - booted_at}};
    }
    void move(std::int64_t by) {
        wall_lead_ms += by;
        moved_in_this_boot += by;
    }
    void restart() {
        true_ms += minute_ms;
        booted_at = true_ms;
        ++boots;
        restarted = true;
        moved_in_this_boot = 0;
    }
};

}  // namespace

TEST_CASE("a move of more than two minutes within a boot is a jump, whichever way") {
    const ClockKept before{{noon, {"b", 1000}}, noon, 4};
    const auto after = [&](std::int64_t by) { return ClockReading{noon + day_ms + by, {"b", 1000 + day_ms}}; };
    CHECK_FALSE(jump_between(before, 0, after(0)));
    CHECK_FALSE(jump_between(before, 0, after(clock_tolerance_ms)));
    CHECK_FALSE(jump_between(before, 0, after(-clock_tolerance_ms)));
    const auto forward = jump_between(before, 0, after(clock_tolerance_ms + 1000));
    REQUIRE(forward);
    CHECK(*forward == ClockJumped{"2027-03-03T15:06:40Z", "2027-03-03T15:08:41Z", 121'000, "within a boot"});
    const auto back = jump_between(before, 0, after(-60 * minute_ms));
    REQUIRE(back);
    CHECK(back->by_ms == -60 * minute_ms);
}

TEST_CASE("across a restart only a clock that went back is a jump") {
    const ClockKept before{{noon, {"b", 9 * day_ms}}, noon, 4};
    CHECK_FALSE(jump_between(before, 0, {noon + 400 * day_ms, {"c", 1000}}));
    CHECK_FALSE(jump_between(before, 0, {noon - clock_tolerance_ms, {"c", 1000}}));
    const auto back = jump_between(before, 0, {noon - day_ms, {"c", 1000}});
    REQUIRE(back);
    CHECK(back->seen == "across a restart");
    CHECK(back->by_ms == -day_ms);
    // What was last written counts, where it came after the reading that was kept.
    CHECK(jump_between(before, noon + 2 * day_ms, {noon + day_ms, {"c", 1000}}));
    // Within a boot it does not: the count knows better.
    CHECK_FALSE(jump_between(before, noon + 2 * day_ms, {noon + day_ms, {"b", 10 * day_ms}}));
}

TEST_CASE("a wall clock outside the years of a stamp is told and does not end the program") {
    const ClockKept before{{noon, {"b", 1000}}, noon, 4};
    CHECK(jump_between(before, 0, {-5000, {"b", 2000}})->to == "1970-01-01T00:00:00Z");
    CHECK(jump_between(before, 0, {999'999'999'999'999, {"b", 2000}})->to == "9999-12-31T23:59:59Z");
}

TEST_CASE("what is kept of the clocks is written and read back, and nothing else is read") {
    const ClockKept kept{{noon, {"3b1c-77", 12'345}}, noon + 5, 17};
    CHECK(text_of(kept) == "3b1c-77 12345 1804000000000 1804000000005 17\n");
    CHECK(clock_kept_of(text_of(kept)) == kept);
    for (const char* text : {"", "\n", "b 1 2 3\n", "b 1 2 3 4", "b 1 2 3 4 5\n", "b x 2 3 4\n", " 1 2 3 4\n", "B! 1 2 3 4\n",
                             "b 1 2 3 4 \n", "b 1 99999999999999999999 3 4\n"}) {
        CAPTURE(text);
        CHECK_FALSE(clock_kept_of(text));
    }
}

// Of 10,000 walks of a clock: each entry later than the one before, each move told at the first entry after
// it, nothing told that was none. The notebook of the tablet above says what should be told.
TEST_CASE("in random walks of the clock the order holds, every jump is told, and nothing else is") {
    std::mt19937_64 random{20270302};
    const auto one_of = [&](std::int64_t low, std::int64_t high) { return std::uniform_int_distribution<std::int64_t>{low, high}(random); };
    int jumps_within = 0;
    int jumps_across = 0;
    int small_moves = 0;
    for (int walk = 0; walk < 10'000; ++walk) {
        Tablet tablet;
        tablet.true_ms += one_of(0, 300 * day_ms);
        tablet.booted_at = tablet.true_ms - one_of(0, day_ms);
        std::optional<ClockKept> kept;
        Stamp last;
        std::int64_t seq = 0;
        std::int64_t wall_after_kept = 0;
        for (int step = 0; step < 24; ++step) {
            tablet.true_ms += one_of(0, 30) == 0 ? one_of(0, 3 * day_ms) : one_of(0, 10 * minute_ms);
            switch (one_of(0, 9)) {
                case 0: tablet.move(one_of(-3 * day_ms, 3 * day_ms)); break;          // a leap, a rollback
                case 1: tablet.move(one_of(-70'000, 70'000)); ++small_moves; break;    // a time server
                case 2: tablet.restart(); break;
                default: break;
            }
            if (one_of(0, 2) == 0) continue;
            // An intent, as the store does it.
            const Stamp stamp = next_stamp(last, tablet.wall());
            const auto watch = watched(kept, wall_after_kept, tablet.reading(), stamp, seq);
            const std::int64_t back = tablet.wall_at_last_intent - tablet.wall();
            const bool expected = seq == 0 ? false
                                  : tablet.restarted ? back > clock_tolerance_ms
                                                     : std::abs(tablet.moved_in_this_boot) > clock_tolerance_ms;
            CAPTURE(walk);
            CAPTURE(step);
            REQUIRE(watch.jump.has_value() == expected);
            if (watch.jump) {
                CHECK(watch.jump->seen == (tablet.restarted ? "across a restart" : "within a boot"));
                CHECK(watch.jump->by_ms == (tablet.restarted ? -back : tablet.moved_in_this_boot));
                ++(tablet.restarted ? jumps_across : jumps_within);
            }
            REQUIRE(stamp > last);
            REQUIRE(text_of(stamp) > text_of(last));
            last = stamp;
            ++seq;
            if (watch.keep) {
                if (watch.jump || tablet.restarted || !kept) tablet.moved_in_this_boot = 0;
                kept = clock_kept_of(text_of(*watch.keep));
                REQUIRE(kept);
                wall_after_kept = 0;
            }
            if (stamp.counter == 0) wall_after_kept = stamp.wall_ms;
            tablet.restarted = false;
            tablet.wall_at_last_intent = tablet.wall();
        }
    }
    CHECK(jumps_within > 10'000);
    CHECK(jumps_across > 500);
    CHECK(small_moves > 5'000);
}

}  // namespace wm::record
