#include "desk/put_off.hpp"

#include <algorithm>

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

// Handed over, with the taps still to be measured hot and the loop not yet seen in the sun.
void hand_over(Bench& bench) {
    for (const char* check : {"tap-retest", "day-after"})
        REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, check, "2026-12-01", "Ode Brannick", "no sun yet"}));
    bench.do_all({"tap-retest", "day-after"});
    bench.sign_both();
    REQUIRE(bench.desk().carry_out(HandOver{bench.job}));
}

}  // namespace

TEST_CASE("after the handover only what was put off may still be entered") {
    Bench bench;
    hand_over(bench);
    const auto retest = bench.desk().carry_out(bench.reading("tap-retest", "42 °C", "1"));
    REQUIRE(retest);
    const auto other = bench.desk().carry_out(bench.reading("coll-tilt", "35°"));
    REQUIRE_FALSE(other);
    CHECK(other.error().what == "The job is handed over; nothing can be entered now.");
    CHECK_FALSE(bench.desk().carry_out(DeferCheck{bench.job, "outlet-temp", "2026-12-01", "Ode Brannick", "why not"}));
    // A second look at the same check, and a new day for the other, are of the same visit.
    CHECK(bench.desk().carry_out(bench.reading("tap-retest", "43 °C", "1")));
    CHECK(bench.desk().carry_out(DeferCheck{bench.job, "day-after", "2026-12-02", "Ode Brannick", "rain"}));
    CHECK(bench.check("day-after").deferral->until == "2026-12-02");
}

TEST_CASE("a check that was read before the handover was not put off, though it was deferred once") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "outlet-temp", "2026-11-26", "Ode Brannick", "not hot yet"}));
    hand_over(bench);
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    CHECK(bench.check("outlet-temp").outcome == Outcome::Conforms);
    CHECK_FALSE(was_put_off(hand->state(), "outlet-temp"));
    CHECK(was_put_off(hand->state(), "day-after"));
    CHECK_FALSE(bench.desk().carry_out(bench.reading("outlet-temp", "42 °C", "1")));
}

TEST_CASE("what is due is listed over all jobs, the earliest first, and leaves the list when it is read") {
    Bench bench;
    hand_over(bench);
    auto due = bench.desk().due();
    REQUIRE(due);
    REQUIRE(due->size() == 2);
    CHECK(due->front().until == "2026-12-01");
    CHECK(due->front().owner == "Ode Brannick");
    CHECK(due->front().days == 6);
    CHECK(bench.view().row.due == "2026-12-01");
    bench.clock.pass_days(8);
    due = bench.desk().due();
    REQUIRE(due);
    CHECK(due->front().days == -2);
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "day-after", "2026-12-10", "Ode Brannick", "rain"}));
    for (const auto& place : bench.check("tap-retest").places) bench.enter("tap-retest", "42 °C", place.name);
    due = bench.desk().due();
    REQUIRE(due);
    for (const auto& each : *due) CHECK(each.check == "day-after");
}

TEST_CASE("nothing behind the report can be taken back, what came after it can") {
    Bench bench;
    hand_over(bench);
    CHECK_FALSE(bench.desk().carry_out(UndoLast{bench.job}));
    REQUIRE(bench.desk().carry_out(bench.reading("tap-retest", "42 °C", "1")));
    CHECK(bench.desk().carry_out(UndoLast{bench.job}));
    CHECK_FALSE(bench.desk().carry_out(UndoLast{bench.job}));
    CHECK(bench.view().signatures.size() == 2);
}

}  // namespace wm::desk
