#include "desk/testing.hpp"
#include "desk/view_parts.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("a check is shown with its question, limits, instruments and cautions before anything is read") {
    Bench bench;
    const auto check = bench.check("anchor-torque");
    CHECK(check.stage == "C");
    CHECK(check.kind == "positions");
    CHECK(check.form == EntryForm::Number);
    CHECK(check.core);
    CHECK(check.hold);
    CHECK(check.severity == "H");
    CHECK(check.unit == "N·m");
    CHECK_FALSE(check.question.empty());
    CHECK_FALSE(check.on_fail.empty());
    REQUIRE(check.cautions.size() == 1);
    CHECK(check.cautions[0].id == "C-LOAD");
    REQUIRE(check.instruments.size() == 1);
    CHECK(check.instruments[0].in_date);
    CHECK(check.places.size() == 5);
    CHECK_FALSE(check.places[4].required);
    CHECK(*check.places[0].limits.low == doctest::Approx(18.0));
    CHECK(check.outcome == Outcome::Open);
    CHECK(check.blocking);
    CHECK_FALSE(check.may_be_conceded);
}

TEST_CASE("a series says how often, how long and what is judged of it") {
    Bench bench;
    const auto hold = bench.check("sun-window");
    CHECK(hold.form == EntryForm::Series);
    CHECK(hold.every_s == 300);
    CHECK(hold.duration_s == 1200);
    CHECK(hold.measurand == "mean");
}

TEST_CASE("what is judged of a holding test can be read, and follows what is known of the set") {
    Bench bench;
    CHECK(bench.check("test-hold").measurand == "the fall from the first reading to the smallest");
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"sys.air_free", "yes"}}}));
    CHECK(bench.check("test-hold").measurand.find("+ the rise that warming from water start to water end") != std::string::npos);
}

TEST_CASE("stages count what is done of what applies") {
    Bench bench;
    const auto stage = [&](const std::string& id) {
        for (const auto& s : bench.view().stages)
            if (s.id == id) return s;
        return StageView{};
    };
    const auto before = stage("D");
    CHECK(before.done == 0);
    CHECK(before.total > 0);
    bench.enter("coll-tilt", "35°");
    CHECK(stage("D").done == 1);
    CHECK(stage("D").total == before.total);
}

TEST_CASE("an implausible fact is asked about, not refused") {
    Bench bench{testing::house_facts(testing::tools() + "", "water.static_kpa") + ""};
    CHECK(bench.view().questions.empty());
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"water.static_kpa", "3100"}}}));
    REQUIRE(bench.view().questions.size() == 1);
    CHECK(bench.view().questions[0].find("3100 kPa") != std::string::npos);
}

TEST_CASE("the row of a job counts failures and names street, not address") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    const auto row = bench.view().row;
    CHECK(row.failed == 1);
    CHECK(row.place == "Dovetail Steps");
    CHECK(row.checklist == "commissioning");
    CHECK_FALSE(row.practice);
    CHECK(row.open > 30);
}

TEST_CASE("limits are shown in the unit of the check") {
    checklist::Limits limits;
    limits.unit = units::unit_named("kPa");
    limits.low = units::Amount{50'000.0, limits.unit->dimension, limits.unit->scale};
    const auto view = limits_view(limits);
    CHECK(view.unit == "kPa");
    CHECK(*view.low == doctest::Approx(50.0));
    CHECK_FALSE(view.high);
    CHECK(view.rule == "none");
}

}  // namespace wm::desk
