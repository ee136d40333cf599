#include "desk/judged.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

record::Judged judged_of(Bench& bench, const std::string& check, const std::string& place = "") {
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    const auto* reading = hand->state().check(check)->standing_at(place);
    REQUIRE(reading != nullptr);
    return reading->judged();
}

}  // namespace

TEST_CASE("with an outcome stand the limits, the uncertainty, the rule and the checklist it came from") {
    Bench bench;
    bench.enter("anchor-torque", "20 N·m", "2");
    const auto judged = judged_of(bench, "anchor-torque", "2");
    CHECK(judged.place_outcome == Outcome::Conforms);
    CHECK(judged.outcome == Outcome::Open);
    CHECK(judged.low == "18");
    CHECK(judged.high == "22");
    CHECK(judged.accept_low == "18.5");
    CHECK(judged.accept_high == "21.5");
    CHECK(judged.uncertainty == "0.5");
    CHECK(judged.unit == "N·m");
    CHECK(judged.rule == "guarded");
    CHECK(judged.places_needed == std::vector<std::string>{"1", "2", "3", "4"});
    CHECK(judged.checklist_hash == bench.view().checklist_hash);
    CHECK(judged.engine == engine_version);
    CHECK_FALSE(judged.place_why.empty());
}

TEST_CASE("a part nobody had to answer counts once it is answered") {
    Bench bench;
    for (const char* place : {"1", "2", "3", "4"}) bench.enter("anchor-torque", "20 N·m", place);
    CHECK(bench.check("anchor-torque").outcome == Outcome::Conforms);
    bench.enter("anchor-torque", "no torque wrench", "wrench");
    CHECK(bench.check("anchor-torque").outcome == Outcome::DoesNotConform);
}

TEST_CASE("a limit is printed in the unit of the check, none as nothing") {
    const auto newton_metre = units::unit_named("N·m");
    REQUIRE(newton_metre);
    CHECK(limit_text(std::nullopt, newton_metre).empty());
    CHECK(limit_text(units::Amount{21.2, newton_metre->dimension, newton_metre->scale}, newton_metre) == "21.2");
}

}  // namespace wm::desk
