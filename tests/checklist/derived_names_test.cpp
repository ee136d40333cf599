#include "checklist/derived_names.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>

#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

const std::function<std::optional<units::Amount>(const CheckId&)> no_checks;

Facts whole_house() {
    return testing::facts_with({
        {"site.latitude", "29.4"},     {"site.altitude_m", "2310"},  {"site.t_min_c", "-9"},
        {"site.wind_ms", "40"},        {"site.snow_kpa", "0"},       {"sys.kind", "indirect"},
        {"sys.tank_l", "150"},         {"sys.tank_dry_kg", "60"},    {"sys.tank_max_kpa", "800"},
        {"sys.coll_m2", "2"},          {"sys.coll_kg", "38"},        {"sys.coll_l", "2"},
        {"sys.jacket_l", "9"},         {"sys.relief_kpa", "600"},    {"sys.anchor_n", "4"},
        {"sys.fix_kn", "0.8"},         {"sys.tilt_target", "35"},    {"sys.pipe_od_mm", "22"},
        {"sys.run_hot_m", "0.6"},      {"sys.run_cold_m", "0.6"},    {"sys.run_disch_m", "5"},
        {"sys.disch_elbows", "4"},     {"sys.fluid", "concentrate"}, {"sys.ua_wk", "2"},
        {"heater.volume_l", "150"},    {"heater.power_w", "2000"},   {"heater.voltage_v", "230"},
        {"heater.relief_kpa", "700"},  {"heater.max_kpa", "800"},    {"pos.gauge_to_relief_m", "6"},
        {"customer.vulnerable", "no"}, {"wx.irradiance", "400"},     {"wx.day_mj", "20"},
        {"sys.tank_feet", "4"},        {"sys.relief_c", "95"},      {"sys.feed", "mains-pressure"},
        {"wx.dusk_c", "60"},           {"wx.night_air_c", "5"},      {"wx.night_h", "12"},
    });
}

double value_of(std::string_view name, const Facts& facts, const Library& library) {
    const auto* spec = derived_named(name);
    REQUIRE_MESSAGE(spec, name);
    Ingredients ingredients{facts, library, no_checks};
    const auto si = spec->si(ingredients);
    CAPTURE(name);
    REQUIRE(ingredients.missing().empty());
    REQUIRE(si);
    return units::unit_named(spec->unit)->from_si(*si);
}

}  // namespace

TEST_CASE("derived values come out as in the trade's worked figures, to their last digit") {
    // Source: the table of derived values with its test vectors; settings as published. The load
    // is that of the heaviest foot, 1.5·1.3·219 kg·9.81/4; the water is pushed out by 95 °C.
    const auto library = testing::library_with();
    const auto facts = whole_house();
    struct Row {
        std::string_view name;
        double value, last_digit;
    };
    for (const Row row : {Row{"d.p_atm_kpa", 76.5, 0.1},   Row{"d.t_boil_c", 92.3, 0.1},
                          Row{"d.az_equator", 180, 1e-9},  Row{"d.tilt_best", 34.4, 1e-9},
                          Row{"d.load_kg", 274, 1e-6},     Row{"d.point_kn", 1.05, 0.01},
                          Row{"d.q_kpa", 1.0, 0.01},       Row{"d.uplift_kn", 2.6, 0.1},
                          Row{"d.fix_n", 5, 1e-9},         Row{"d.pull_kn", 0.65, 0.01},
                          Row{"d.loop_l", 11.4, 0.1},      Row{"d.fpt_need_c", -14, 1e-9},
                          Row{"d.glycol_pct", 35, 1e-9},   Row{"d.glycol_l", 4.5, 0.1},
                          Row{"d.p_test_kpa", 539, 1},     Row{"d.p_limit_hi", 480, 1e-6},
                          Row{"d.expand_l", 11.6, 0.1},    Row{"d.disch_len_m", 8.2, 1e-9},
                          Row{"d.dt_loop_exp", 7.1, 0.1},  Row{"d.rise_day_k", 28.7, 0.1},
                          Row{"d.night_drop_k", 7.1, 0.1}, Row{"d.element_ohm", 26.5, 0.1},
                          Row{"d.outlet_max_c", 50, 1e-9}}) {
        CAPTURE(row.name);
        CHECK(std::abs(value_of(row.name, facts, library) - row.value) <=
              row.last_digit / 2 + 1e-9);
    }
}

TEST_CASE("a heater of the same zone limits the test pressure, one without pressure does not") {
    const auto library = testing::library_with();
    auto facts = whole_house();
    // 0.8 × 600 kPa + 59 kPa = 539 kPa, and 0.8 × 600 kPa at the heater. Source: the same table.
    facts.set(*read_fact("heater.relief_kpa", "600"));
    CHECK(value_of("d.p_test_kpa", facts, library) == doctest::Approx(480));
    facts.set(*read_fact("heater.same_zone", "no"));
    CHECK(value_of("d.p_test_kpa", facts, library) == doctest::Approx(538.86));
    facts.set(*read_fact("heater.same_zone", "yes"));
    facts.set(*read_fact("heater.max_kpa", "0"));
    CHECK(value_of("d.p_test_kpa", facts, library) == doctest::Approx(538.86));
}

TEST_CASE("settings of the library change the derived values") {
    auto library = testing::library_with();
    for (auto& setting : library.settings)
        if (setting.name == "frost_margin") setting.value = 8;
    CHECK(value_of("d.fpt_need_c", whole_house(), library) == doctest::Approx(-17));
}

TEST_CASE("a derived value names every fact it still needs") {
    const Facts nothing;
    const Library library;
    for (const auto& spec : derived_table()) {
        CAPTURE(spec.name);
        CHECK(units::unit_named(spec.unit));
        Ingredients ingredients{nothing, library, no_checks};
        (void)spec.si(ingredients);
        // The collector without flow has figures of its own where no label is at hand.
        CHECK(ingredients.missing().empty() == spec.needs.empty());
        for (const auto& key : ingredients.missing()) CHECK(fact_named(key) != nullptr);
        for (const auto key : spec.needs) CHECK(fact_named(key) != nullptr);
    }
}

TEST_CASE("the sun of the day is that of the check, the fact only where there is none") {
    const Library library;
    const auto facts = testing::facts_with({{"wx.irradiance", "400"}});
    const std::function<std::optional<units::Amount>(const CheckId&)> measured =
        [](const CheckId& id) {
            return id.text == "sun-window"
                       ? std::optional{units::Amount::of(800, *units::unit_named("W/m²"))}
                       : std::nullopt;
        };
    Ingredients ingredients{facts, library, measured};
    // 10 K at 800 W/m² is the convention. Common practice, no source.
    CHECK(*derived_named("d.dt_loop_exp")->si(ingredients) == doctest::Approx(10));
}

TEST_CASE("derived values that are kept are those worked out afresh, also where facts are missing") {
    const auto library = testing::library_with();
    const auto house = whole_house();
    const auto some = testing::facts_with({{"site.latitude", "29.4"}, {"sys.kind", "direct"}});
    const Facts none;
    for (const auto* facts : {&house, &some, &none}) {
        DerivedValues kept{*facts, library, no_checks};
        for (const auto& spec : derived_table()) {
            CAPTURE(spec.name);
            Ingredients fresh{*facts, library, no_checks};
            const auto si = spec.si(fresh);
            const auto& value = kept.of(spec);
            CHECK(&kept.of(spec) == &value);
            CHECK(value.missing == fresh.missing());
            REQUIRE(value.si.has_value() == si.has_value());
            if (value.is_known()) CHECK(*value.si == *si);
        }
        CHECK(kept.count() == derived_table().size());
    }
}

}  // namespace wm::checklist
