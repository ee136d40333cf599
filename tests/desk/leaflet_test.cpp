// The leaflet from the facts and readings of a job.
#include "desk/leaflet.hpp"

#include "desk/testing.hpp"
#include "handover/leaflet_words.hpp"

namespace wm::desk {

using handover::ControllerKind;
using handover::GrowingWater;
using testing::Bench;
using testing::house_facts;
using testing::tools;

namespace {

handover::Leaflet leaflet_at(Bench& bench) {
    auto leaflet = leaflet_of(bench.desk(), bench.job);
    REQUIRE_MESSAGE(leaflet, (leaflet ? "" : told(leaflet.error())));
    return std::move(*leaflet);
}

}  // namespace

TEST_CASE("before anything is read the leaflet is a draft that knows the facts and no setting") {
    Bench bench;
    const auto leaflet = leaflet_at(bench);
    CHECK_FALSE(leaflet.finished);
    CHECK_FALSE(leaflet.shown);
    CHECK(leaflet.company == "Witnessmark");
    CHECK(leaflet.contact == "555-0100");
    CHECK(leaflet.place == "Dovetail Steps 14");
    CHECK(leaflet.date == "2026-11-25");
    CHECK(leaflet.plant.loop == figures::LoopKind::Indirect);
    CHECK(leaflet.plant.feed == figures::FeedKind::Mains);
    CHECK(leaflet.controller == ControllerKind::None);
    CHECK(leaflet.frost == true);
    CHECK(leaflet.coldest == "-13 °C");
    CHECK(leaflet.set.heater.empty());
    CHECK(leaflet.set.taps.empty());
    CHECK(leaflet.set.pressure.empty());
    CHECK(leaflet.set.freezes.empty());
    // Of the plate, not of a reading.
    CHECK(leaflet.set.relief == "600 kPa (6 bar)");
    CHECK_FALSE(leaflet.growing);
}

TEST_CASE("what was read and holds is the setting, what failed or was taken back is none") {
    Bench bench;
    bench.enter("thermostat-60", "62.5 °C");
    bench.enter("pressure-limit-set", "350 kPa");
    bench.enter("loop-freeze-point", "-20 °C");
    bench.enter("outlet-temp", "45 °C", "1");
    bench.enter("outlet-temp", "46.5 °C", "2");
    bench.enter("expansion-room", "relief drip to a seen drain");
    auto leaflet = leaflet_at(bench);
    CHECK(leaflet.set.heater == "62.5 °C");
    CHECK(leaflet.set.pressure == "350 kPa (3.5 bar)");
    CHECK(leaflet.set.freezes == "-20 °C");
    CHECK(leaflet.set.taps == "46.5 °C");
    CHECK(leaflet.set.taps_allowed == "50 °C");
    CHECK(leaflet.growing == GrowingWater::SeenDrain);
    bench.enter("thermostat-60", "50 °C");
    CHECK(leaflet_at(bench).set.heater.empty());
    bench.correct("thermostat-60", "65 °C", "turned up");
    CHECK(leaflet_at(bench).set.heater == "65 °C");
    const auto back = bench.desk().carry_out(UndoLast{bench.job});
    REQUIRE_MESSAGE(back, (back ? "" : told(back.error())));
    CHECK(leaflet_at(bench).set.heater.empty());
}

TEST_CASE("the household's own words stand on its leaflet, locked in the journal, and go when they are erased") {
    Bench bench;
    bench.enter("customer-shown", "all seven");
    bench.enter("customer-said", "The red tap under the stairs is the water.");
    const auto leaflet = leaflet_at(bench);
    CHECK(leaflet.shown);
    CHECK(leaflet.own_words == "The red tap under the stairs is the water.");
    CHECK(testing::files_holding(bench.data(), "red tap under the stairs").empty());
    const auto state = bench.desk().in_hand(bench.job)->state();
    const auto* said = state.check("customer-said");
    REQUIRE(said != nullptr);
    CHECK(std::holds_alternative<record::Personal>(said->readings.back().taken.text));
    bench.enter("customer-shown", "any missing");
    CHECK_FALSE(leaflet_at(bench).shown);
}

TEST_CASE("the kind of set follows the facts, and what nobody stated stays open") {
    // Facts that stand twice are refused, so each is put in the place of the one of the house.
    std::string facts = house_facts(tools());
    const auto instead = [&](const std::string& key, const std::string& line) {
        const auto at = facts.find("\n" + key + " = ");
        REQUIRE(at != std::string::npos);
        facts.replace(at + 1, facts.find('\n', at + 1) - at - 1, line);
    };
    instead("sys.kind", "sys.kind = \"direct\"");
    instead("sys.feed", "sys.feed = \"vented\"");
    instead("sys.controller", "sys.controller = \"temperature-and-timer\"");
    instead("site.frost_class", "site.frost_class = \"none\"");
    instead("customer.vulnerable", "customer.vulnerable = true");
    instead("site.t_min_c", "");
    Bench bench{facts};
    auto leaflet = leaflet_at(bench);
    CHECK(leaflet.plant.loop == figures::LoopKind::Direct);
    CHECK(leaflet.plant.feed == figures::FeedKind::Vented);
    CHECK(leaflet.controller == ControllerKind::Timer);
    CHECK(leaflet.frost == false);
    CHECK(leaflet.vulnerable);
    CHECK(leaflet.coldest.empty());
    CHECK_FALSE(leaflet.set.program_right);
    bench.enter("controller-program", "all");
    CHECK(leaflet_at(bench).set.program_right);
    instead("sys.kind", "");
    instead("sys.controller", "");
    Bench unknown{facts};
    leaflet = leaflet_at(unknown);
    CHECK_FALSE(leaflet.plant.loop);
    CHECK_FALSE(leaflet.controller);
}

TEST_CASE("a survey has no set to live with") {
    Bench bench{house_facts(tools()), "survey"};
    const auto none = leaflet_of(bench.desk(), bench.job);
    REQUIRE_FALSE(none);
    CHECK(none.error().kind == ProblemKind::Refused);
    CHECK(none.error().what == "In this job nothing is set and nobody is shown anything.");
}

TEST_CASE("once all is done the leaflet is no draft any more") {
    Bench bench;
    bench.do_all();
    bench.sign_both();
    const auto leaflet = leaflet_at(bench);
    CHECK(leaflet.finished);
    CHECK(handover::leaflet_words(leaflet).headline == "How to live with your set");
    CHECK(leaflet.set.heater == "65 °C");
    CHECK_FALSE(leaflet.care.empty());
    CHECK(leaflet.fitted_by == "Tindo Quellaby");
}

}  // namespace wm::desk
