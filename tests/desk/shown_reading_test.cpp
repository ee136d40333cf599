#include "desk/shown_reading.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

TakeShownReading shown(Bench& bench, const std::string& text, const std::string& instrument) {
    TakeShownReading intent{bench.reading("coll-tilt", text), "sent: 01\nreceived: 02\n"};
    intent.reading.instrument = instrument;
    return intent;
}

}  // namespace

TEST_CASE("what an instrument sent is kept with its reading, and stays when the reading is taken back") {
    Bench bench;
    const auto answers = bench.desk().carry_out(shown(bench, "36.5°", "IN-1"));
    REQUIRE_MESSAGE(answers, told(answers.error()));
    REQUIRE(answers->size() == 1);
    auto check = bench.check("coll-tilt");
    REQUIRE(check.readings.size() == 1);
    CHECK(check.readings[0].entry == answers->front().entry);
    CHECK(check.readings[0].instrument == "IN-1");
    const auto evidence = [&] { return evidence_in(bench.desk().in_hand(bench.job).value(), "coll-tilt"); };
    REQUIRE(evidence().size() == 1);
    CHECK(evidence()[0].text == "sent: 01\nreceived: 02\n");
    CHECK(evidence_in(bench.desk().in_hand(bench.job).value(), "anchor-torque").empty());
    // It is no remark on the visit.
    CHECK(bench.view().notes.empty());

    REQUIRE(bench.desk().carry_out(UndoLast{bench.job}));
    CHECK(bench.check("coll-tilt").readings[0].undone);
    CHECK(evidence().size() == 1);
    // The note is nothing to be undone.
    CHECK_FALSE(bench.desk().carry_out(UndoLast{bench.job}));
}

TEST_CASE("an instrument that is not registered, or a value that cannot be, leaves nothing behind") {
    Bench bench;
    const auto stranger = bench.desk().carry_out(shown(bench, "36.5°", "IN-77"));
    REQUIRE_FALSE(stranger);
    CHECK(stranger.error().what == "The instrument \"IN-77\" is not registered for this job.");
    CHECK_FALSE(bench.desk().carry_out(shown(bench, "120°", "IN-1")));
    CHECK(evidence_in(bench.desk().in_hand(bench.job).value(), "").empty());
}

TEST_CASE("an erasure takes what an instrument sent with the customer's words") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(shown(bench, "36.5°", "IN-1")));
    REQUIRE(bench.desk().erase_customer(bench.job));
    const auto evidence = evidence_in(bench.desk().in_hand(bench.job).value(), "coll-tilt");
    REQUIRE(evidence.size() == 1);
    CHECK(evidence[0].text == "(erased)");
}

}  // namespace wm::desk
