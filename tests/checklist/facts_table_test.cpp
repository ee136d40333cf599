#include <doctest/doctest.h>

#include <set>
#include <string>

#include "checklist/facts.hpp"

namespace wm::checklist {

TEST_CASE("every fact has its own key, a unit this tool knows and a meaning") {
    std::set<std::string_view> keys;
    for (const auto& spec : fact_table()) {
        CAPTURE(spec.key);
        CHECK(keys.insert(spec.key).second);
        CHECK(units::unit_named(spec.unit));
        CHECK_FALSE(spec.meaning.empty());
        CHECK((spec.type == FactType::Choice) == !spec.choices.empty());
        if (spec.low && spec.high) CHECK(*spec.low < *spec.high);
        CHECK(fact_named(spec.key) == &spec);
    }
}

TEST_CASE("the facts of the trade's list are there under their literal keys, with unit and range") {
    // Source: the list of entered facts the checklists were written to.
    struct Row {
        std::string_view key, unit;
        double low, high;
    };
    for (const Row row :
         {Row{"site.latitude", "°", -60, 60}, Row{"site.altitude_m", "m", -50, 4500},
          Row{"site.t_min_c", "°C", -30, 20}, Row{"site.wind_ms", "m/s", 20, 60},
          Row{"roof.point_ok_kn", "kN", 0, 20}, Row{"water.static_kpa", "kPa", 20, 1200},
          Row{"heater.max_inlet_c", "°C", 20, 99}, Row{"sys.coll_m2", "m²", 1, 5},
          Row{"sys.anchor_nm", "N·m", 4, 60}, Row{"sys.ua_wk", "W/K", 0.8, 4},
          Row{"wx.irradiance", "W/m²", 0, 1300}, Row{"pos.gauge_to_relief_m", "m", -15, 15}}) {
        CAPTURE(row.key);
        const auto* spec = fact_named(row.key);
        REQUIRE(spec);
        CHECK(spec->unit == row.unit);
        CHECK(spec->low == row.low);
        CHECK(spec->high == row.high);
    }
}

TEST_CASE(
    "what names a customer, a house or a licence is personal, what figures are counted by is not") {
    for (const std::string_view key :
         {"customer.name", "customer.phone", "customer.email", "site.address", "site.latitude",
          "site.longitude", "crew.height_card", "crew.plumb_lic", "job.note"}) {
        CAPTURE(key);
        REQUIRE(fact_named(key));
        CHECK(fact_named(key)->personal);
    }
    for (const std::string_view key :
         {"customer.vulnerable", "sys.tank_l", "batch.relief", "site.frost_class", "crew.lead",
          "site.street"}) {
        CAPTURE(key);
        CHECK_FALSE(fact_named(key)->personal);
    }
}

TEST_CASE("choices are split into their words, commas and slashes inside words left alone") {
    const auto words = fact_named("sys.mount")->choice_words();
    CHECK(words == std::vector<std::string>{"roof hook", "seam clamp", "replacement plate",
                                            "ballast", "drilled", "ground-or-wall frame"});
    CHECK(nearest_fact("site.latitud") == "site.latitude");
    CHECK(nearest_fact("something.else").empty());
}

}  // namespace wm::checklist
