#include "checklist/judge.hpp"

#include <doctest/doctest.h>

#include <string>

#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

struct House {
    Library library = testing::library_with({"commissioning.toml", "survey.toml", "service.toml"});
    Facts facts = testing::facts_with({{"sys.kind", "indirect"},
                                       {"sys.feed", "mains-pressure"},
                                       {"sys.anchor_nm", "20"},
                                       {"sys.anchor_n", "4"},
                                       {"sys.mount", "roof hook"},
                                       {"sys.az_target", "180"},
                                       {"sys.tilt_target", "35"},
                                       {"site.t_min_c", "-13"},
                                       {"site.latitude", "29.4"},
                                       {"sys.relief_kpa", "600"},
                                       {"heater.relief_kpa", "700"},
                                       {"sys.tank_max_kpa", "800"},
                                       {"pos.gauge_to_relief_m", "0"},
                                       {"customer.vulnerable", "no"},
                                       {"house.taps", "2"},
                                       {"wx.irradiance", "800"}});

    const Check& check(const std::string& id) const {
        const auto* found = library.find(CheckId{id});
        REQUIRE_MESSAGE(found, id);
        return *found;
    }
    Context context(std::string today = "2027-03-04") const {
        return {facts, library, std::move(today), {}, {}, {}, {}};
    }
    Judged reading(const std::string& id, ReadingInput input) const {
        const auto judged = judge_reading(check(id), input, context());
        REQUIRE(judged);
        return *judged;
    }
    Judged whole(const std::string& id, const std::vector<ReadingInput>& latest) const {
        const auto judged = judge_whole(check(id), latest, context());
        REQUIRE(judged);
        return *judged;
    }
};

InstrumentInUse wrench(std::string due) {
    InstrumentInUse used;
    used.card.id = "TW-3";
    used.card.type = "torque wrench";
    used.card.expanded_uncertainty = "0.4 N·m";
    used.card.calibration_due = std::move(due);
    return used;
}

}  // namespace

TEST_CASE("a hold point keeps the uncertainty as distance from each limit") {
    // Source: JCGM 106:2012 clause 8, acceptance [L + U, H - U]; 20 N·m ± 10 % and 4 % of reading.
    const House house;
    struct Row {
        std::string text;
        Outcome outcome;
    };
    for (const Row& row :
         {Row{"20 N·m", Outcome::Conforms}, Row{"21 N·m", Outcome::Conforms},
          Row{"21.5 N·m", Outcome::Inconclusive}, Row{"22.1 N·m", Outcome::DoesNotConform},
          Row{"18.5", Outcome::Inconclusive}, Row{"17,9", Outcome::DoesNotConform}}) {
        CAPTURE(row.text);
        const auto judged =
            house.reading("anchor-torque", {"1", row.text, std::nullopt, PhotoState::Missing});
        CHECK(judged.outcome == row.outcome);
        CHECK(judged.limits.rule == measure::Rule::Guarded);
        CHECK(judged.why.find("weakest permitted torque wrench") != std::string::npos);
        REQUIRE(judged.probability);
    }
}

TEST_CASE("a registered instrument counts with its own uncertainty") {
    const House house;
    const auto judged = house.reading("anchor-torque",
                                      {"1", "21.5 N·m", wrench("2027-08-01"), PhotoState::Missing});
    CHECK(judged.outcome == Outcome::Conforms);
    CHECK(judged.uncertainty == doctest::Approx(0.4));
    CHECK(judged.limits.accept_high->in(*units::unit_named("N·m")) == doctest::Approx(21.6));
    CHECK(judged.why ==
          "21.5 N·m keeps to what is allowed, 18.0 to 22.0 N·m (20.0 N·m ± 10 %), even if the "
          "reading is off by its uncertainty of 0.4 N·m. Read with TW-3.");
}

TEST_CASE("an instrument past its date, without one, or failing its own check gives no evidence") {
    const House house;
    auto failed = wrench("2027-08-01");
    failed.preuse = PreUse::Failed;
    auto undated = wrench("");
    undated.card.calibration_due.reset();
    auto gauge = wrench("2027-08-01");
    gauge.card.type = "pressure gauge";
    struct Row {
        InstrumentInUse used;
        std::string why;
    };
    for (const Row& row :
         {Row{wrench("2027-03-03"),
              "The reading of 20.0 N·m is no evidence: the calibration of TW-3 was due on "
              "2027-03-03. Read again with another instrument."},
          Row{failed,
              "The reading of 20.0 N·m is no evidence: TW-3 failed its own check before use. Read "
              "again with another instrument."},
          Row{undated,
              "The reading of 20.0 N·m is no evidence: TW-3 has no date of calibration, and a "
              "torque wrench needs one. Read again with another instrument."},
          Row{gauge,
              "The reading of 20.0 N·m is no evidence: TW-3 measures a pressure, and a torque or "
              "energy is asked for. Read again with another instrument."}}) {
        const auto judged =
            house.reading("anchor-torque", {"1", "20 N·m", row.used, PhotoState::Missing});
        CHECK(judged.outcome == Outcome::Open);
        CHECK(judged.why == row.why);
    }
    CHECK(house.reading("anchor-torque", {"1", "20 N·m", wrench("2027-03-04"), PhotoState::Missing})
              .outcome == Outcome::Conforms);
}

TEST_CASE("several places count as the worst of them, and a missing place keeps the check open") {
    const House house;
    const auto at = [](std::string place, std::string text) {
        return ReadingInput{std::move(place), std::move(text), std::nullopt, PhotoState::Missing};
    };
    const auto needed = needed_places(house.check("anchor-torque"), house.context(), {});
    CHECK(needed.places == std::vector<std::string>{"1", "2", "3", "4"});
    const auto three = house.whole("anchor-torque", {at("1", "20"), at("2", "20"), at("3", "20")});
    CHECK(three.outcome == Outcome::Open);
    CHECK(three.missing_places == std::vector<std::string>{"4"});
    CHECK(house.whole("anchor-torque", {at("1", "20"), at("2", "20"), at("3", "20"), at("4", "20")})
              .outcome == Outcome::Conforms);
    const auto worst =
        house.whole("anchor-torque", {at("1", "20"), at("2", "30"), at("3", "20"), at("4", "20")});
    CHECK(worst.outcome == Outcome::DoesNotConform);
    CHECK(worst.why.starts_with("2: 30.0 N·m is above the highest allowed, 22.0 N·m."));
    CHECK(worst.measured->si == doctest::Approx(30));
}

TEST_CASE("a place that the check does not have is refused with those it has") {
    const House house;
    const auto judged =
        judge_reading(house.check("anchor-torque"),
                      {"7", "20 N·m", std::nullopt, PhotoState::Missing}, house.context());
    REQUIRE(!judged);
    CHECK(judged.error().what == "anchor-torque has no place \"7\".");
    const auto none =
        judge_reading(house.check("anchor-torque"),
                      {"", "20 N·m", std::nullopt, PhotoState::Missing}, house.context());
    REQUIRE(!none);
    CHECK(none.error().what == "anchor-torque is read at several places, and no place was named.");
    CHECK(none.error().what_to_do.starts_with("Its places are 1, 2, 3, 4"));
}

TEST_CASE("a missing fact leaves the check open and is named") {
    House house;
    house.facts = testing::facts_with({{"sys.anchor_n", "4"}});
    const auto judged =
        house.reading("anchor-torque", {"1", "20 N·m", std::nullopt, PhotoState::Missing});
    CHECK(judged.outcome == Outcome::Open);
    CHECK(judged.missing_facts == std::vector<std::string>{"sys.anchor_nm"});
    CHECK(judged.why ==
          "Still to be known: tightening torque of the store anchors (sys.anchor_nm).");
}

TEST_CASE("a check whose condition is false is not applicable and says why") {
    House house;
    house.facts.set(*read_fact("sys.kind", "direct"));
    const auto judged = house.whole("loop-freeze-point", {});
    CHECK(judged.outcome == Outcome::NotApplicable);
    CHECK(judged.why ==
          "It applies only if kind of the set is indirect (kind of the set: direct).");
    const auto unknown = applies(house.check("temp-rise"), house.context());
    CHECK(unknown.answer == Applies::Unknown);
    CHECK(unknown.missing.checks == std::vector<std::string>{"sun-window"});
}

TEST_CASE("limits are known before a reading, with how they came about") {
    const House house;
    const auto limits = limits_for(house.check("anchor-torque"), "1", house.context());
    const auto nm = *units::unit_named("N·m");
    CHECK(limits.text == "18.0 to 22.0 N·m (20.0 N·m ± 10 %)");
    CHECK(limits.low->in(nm) == doctest::Approx(18));
    CHECK(limits.high->in(nm) == doctest::Approx(22));
    // 4 % of 18 and of 22 N·m
    CHECK(limits.accept_low->in(nm) == doctest::Approx(18.72));
    CHECK(limits.accept_high->in(nm) == doctest::Approx(21.12));
    CHECK(limits.derivation ==
          std::vector<std::string>{
              "tightening torque of the store anchors = 20 N·m",
              "tolerance: reading is within 10 % of tightening torque of the store anchors"});
    const auto test = limits_for(house.check("test-pressure"), "", house.context());
    CHECK(test.high->in(*units::unit_named("kPa")) == doctest::Approx(480));
}

TEST_CASE("a bearing is judged by its distance from where it should be, both ways round north") {
    House house;
    house.facts.set(*read_fact("sys.az_target", "0"));
    struct Row {
        std::string text;
        Outcome outcome;
    };
    for (const Row& row :
         {Row{"355°", Outcome::Conforms}, Row{"5°", Outcome::Conforms},
          Row{"340°", Outcome::DoesNotConform}, Row{"20°", Outcome::DoesNotConform}}) {
        CAPTURE(row.text);
        CHECK(house.reading("coll-azimuth", {"", row.text, std::nullopt, PhotoState::Missing})
                  .outcome == row.outcome);
    }
}

TEST_CASE("the limits of a distance have an upper end only") {
    const House house;
    const auto limits = limits_for(house.check("coll-azimuth"), "", house.context());
    CHECK(limits.text == "at most 10°");
    CHECK_FALSE(limits.low);
    CHECK_FALSE(limits.accept_low);
    CHECK(limits.accept_high->in(*units::unit_named("°")) == doctest::Approx(10));
}

TEST_CASE("a holding test is judged by its drop, and not at all when the water changed") {
    const House house;
    const auto hold = [&](const std::string& text) {
        return house.reading("test-hold", {"", text, std::nullopt, PhotoState::Missing});
    };
    const std::string steady = "; water start=18.2 °C; water end=18.3 °C";
    const auto good =
        hold("0 min=478 kPa; 2 min=478; 4 min=477; 6 min=477; 8 min=476; 10 min=476" + steady);
    CHECK(good.outcome == Outcome::Conforms);
    CHECK(good.measured->in(*units::unit_named("kPa")) == doctest::Approx(2));
    CHECK(good.uncertainty == doctest::Approx(4));
    CHECK(hold("0 min=478 kPa; 2 min=474; 4 min=470; 6 min=467; 8 min=463; 10 min=460" + steady)
              .outcome == Outcome::DoesNotConform);
    CHECK(
        hold("0 min=4.78 bar; 2 min=4.78; 4 min=4.77; 6 min=4.77; 8 min=4.76; 10 min=4.76" + steady)
            .outcome == Outcome::Conforms);
    const auto in_bar = hold("0 min=4.78 bar; 2 min=4.78; 4 min=4.77; 6 min=4.77; 8 min=4.76; 10 min=4.76" + steady);
    CHECK(in_bar.why.find("0.02 bar (2") != std::string::npos);
    CHECK(good.why.find("bar") == std::string::npos);
    const auto in_psi = house.reading("test-pressure", {"", "60 psi", std::nullopt, PhotoState::Missing});
    CHECK(in_psi.why.find("60 psi (413.7 kPa)") == 0);
    const auto warm = hold(
        "0 min=478 kPa; 2 min=478; 4 min=477; 6 min=477; 8 min=476; 10 min=476; water start=18.2 "
        "°C; water end=19.2 °C");
    CHECK(warm.outcome == Outcome::Inconclusive);
    CHECK(warm.why.find("The water changed by more than the test allows") == 0);
    const auto early = hold("0 min=478 kPa; 2 min=478" + steady);
    CHECK(early.outcome == Outcome::Open);
    CHECK(early.why == "2 of 6 readings are there.");
}

TEST_CASE("a difference counts with twice the resolution of a coarse registered gauge") {
    const House house;
    InstrumentInUse gauge;
    gauge.card.id = "PG-1";
    gauge.card.type = "pressure gauge";
    gauge.card.resolution = "5 kPa";
    gauge.card.expanded_uncertainty = "10 kPa";
    gauge.card.calibration_due = "2027-08-01";
    const auto judged =
        house.reading("test-hold", {"",
                                    "0 min=478 kPa; 2 min=478; 4 min=477; 6 min=477; 8 min=476; 10 "
                                    "min=476; water start=18 °C; water end=18 °C",
                                    gauge, PhotoState::Missing});
    CHECK(judged.uncertainty == doctest::Approx(10));
    CHECK(judged.outcome == Outcome::Inconclusive);
}

TEST_CASE("bands tell a concession from a blocking finding") {
    const House house;
    const auto turned =
        house.reading("sun-azimuth", {"", "240°", std::nullopt, PhotoState::Missing});
    CHECK(turned.outcome == Outcome::DoesNotConform);
    CHECK(turned.band == Band::ConcessionPossible);
    CHECK(house.reading("sun-azimuth", {"", "300°", std::nullopt, PhotoState::Missing}).band ==
          Band::Blocking);
    CHECK(house.reading("sun-azimuth", {"", "180°", std::nullopt, PhotoState::Missing}).band ==
          Band::None);
}

TEST_CASE("a reading that is hard to believe is judged and marked") {
    const House house;
    const auto judged =
        house.reading("anchor-torque", {"1", "205 N·m", std::nullopt, PhotoState::Missing});
    CHECK(judged.outside_plausible);
    CHECK_FALSE(house.reading("anchor-torque", {"1", "20.5 N·m", std::nullopt, PhotoState::Missing})
                    .outside_plausible);
}

TEST_CASE("choices and confirmations take their words, and only those") {
    const House house;
    CHECK(house.reading("relief-lever", {"", "Flows and closes", std::nullopt, PhotoState::Missing})
              .outcome == Outcome::Conforms);
    CHECK(house.reading("relief-lever", {"", "drips", std::nullopt, PhotoState::Missing}).outcome ==
          Outcome::DoesNotConform);
    CHECK(house.reading("fall-protection", {"", "no", std::nullopt, PhotoState::Missing}).outcome ==
          Outcome::DoesNotConform);
    const auto unknown =
        judge_reading(house.check("relief-lever"), {"", "flows", std::nullopt, PhotoState::Missing},
                      house.context());
    REQUIRE(!unknown);
    CHECK(unknown.error().what == "\"flows\" is not one of the answers of this check.");
}

TEST_CASE("a photo check waits for its photo") {
    const House house;
    CHECK(house.reading("nut-marks", {"", "yes", std::nullopt, PhotoState::Missing}).outcome ==
          Outcome::Open);
    CHECK(house.reading("nut-marks", {"", "", std::nullopt, PhotoState::Attached}).outcome ==
          Outcome::Conforms);
    CHECK(house.reading("nut-marks", {"", "no", std::nullopt, PhotoState::Attached}).outcome ==
          Outcome::DoesNotConform);
}

TEST_CASE("computed checks are judged from facts; those with a rule name it") {
    House house;
    for (const auto& value : house.library.checklist_named("survey")->example_facts)
        house.facts.set(value);
    const auto load = house.whole("roof-load", {});
    CHECK(load.outcome == Outcome::Conforms);
    CHECK(load.measured->in(*units::unit_named("kN")) == doctest::Approx(1.047).epsilon(0.001));
    house.facts.set(*read_fact("roof.point_ok_kn", "0.5"));
    CHECK(house.whole("roof-load", {}).outcome == Outcome::DoesNotConform);
    CHECK(computed_by_rule(house.check("open-items")) == ComputedRule::OpenItems);
    CHECK(house.whole("open-items", {}).outcome == Outcome::Open);
}

TEST_CASE("an earlier visit is compared with when its value is known") {
    const House house;
    auto context = house.context();
    context.earlier_value_of = [](const CheckId&) {
        return std::optional{units::Amount::of(350, *units::unit_named("kPa"))};
    };
    const auto judged = judge_reading(house.check("svc-pressure"),
                                      {"", "420 kPa", std::nullopt, PhotoState::Missing}, context);
    REQUIRE(judged);
    CHECK(judged->outcome == Outcome::DoesNotConform);
    const auto unknown =
        judge_reading(house.check("svc-pressure"),
                      {"", "420 kPa", std::nullopt, PhotoState::Missing}, house.context());
    REQUIRE(unknown);
    CHECK(unknown->outcome == Outcome::Open);
    CHECK(unknown->waits_for == std::vector<std::string>{"pressure-limit-set"});
}

TEST_CASE("positions in one entry are split, the unit written last counting for all") {
    const House house;
    const auto places = split_positions(house.check("anchor-torque"), "1=23.5; 2=24; 3 = 23.8 N·m");
    REQUIRE(places);
    CHECK((*places)[0] == std::pair<std::string, std::string>{"1", "23.5 N·m"});
    CHECK((*places)[2] == std::pair<std::string, std::string>{"3", "23.8 N·m"});
    CHECK_FALSE(split_positions(house.check("anchor-torque"), "1=23.5; 1=24"));
    CHECK_FALSE(split_positions(house.check("anchor-torque"), "1=23.5; 24"));
    CHECK(split_positions(house.check("tank-level"), "0.4 °")->front().first.empty());
}

TEST_CASE("a place by number is known by the number as it is counted, and by nothing like it") {
    const House house;
    const auto is_known = [&](const std::string& place) {
        return !why_unreadable(house.check("anchor-torque"), {place, "20 N·m", std::nullopt, PhotoState::Missing},
                               house.context());
    };
    for (const auto* place : {"1", "2", "3", "4"}) {
        CAPTURE(place);
        CHECK(is_known(place));
    }
    for (const auto* place : {"0", "5", "-1", "+1", "01", "1 ", "1x", "", "99999999999"}) {
        CAPTURE(place);
        CHECK_FALSE(is_known(place));
    }
    CHECK(why_unreadable(house.check("anchor-torque"), {"1", "20 K", std::nullopt, PhotoState::Missing},
                         house.context()));
}

TEST_CASE("readings of places in several units each keep their own, and one without a unit is refused") {
    const House house;
    const auto& torque = house.check("anchor-torque");
    const auto places = split_positions(torque, "1=23.5 N·m; 2=0.024 kN·m; 3=23 N·m");
    REQUIRE(places);
    CHECK((*places)[1] == std::pair<std::string, std::string>{"2", "0.024 kN·m"});
    CHECK_FALSE(split_positions(torque, "1=23.5 N·m; 2=0.024 kN·m; 3=23"));
    CHECK_FALSE(split_positions(torque, "1=23; 2=23.5 N·m; 3=0.024 kN·m"));
}

}  // namespace wm::checklist
