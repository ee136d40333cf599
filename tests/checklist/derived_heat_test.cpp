#include <doctest/doctest.h>

#include "checklist/derived_testing.hpp"

namespace wm::checklist {
namespace {

constexpr auto si = testing::derived_si;

double celsius(std::string_view name, const Facts& facts) {
    return *si(name, facts) - 273.15;
}

}  // namespace

TEST_CASE("a mains store stops at its relief, a vented one where water boils, a maker's where he says") {
    auto facts = testing::facts_with(
        {{"sys.feed", "mains-pressure"}, {"sys.relief_c", "95"}, {"site.altitude_m", "2310"}});
    CHECK(celsius("d.store_max_c", facts) == doctest::Approx(95));
    facts.set(*read_fact("sys.feed", "vented"));
    // 100 °C less 1 K for each 300 m. Source: table of derived values.
    CHECK(celsius("d.store_max_c", facts) == doctest::Approx(92.3));
    facts.set(*read_fact("sys.stag_c", "85"));
    CHECK(celsius("d.store_max_c", facts) == doctest::Approx(85));
    facts.set(*read_fact("sys.store_max_c", "80"));
    CHECK(celsius("d.store_max_c", facts) == doctest::Approx(80));
}

TEST_CASE("the collector's own figures replace those of a usual one") {
    CHECK(celsius("d.stag_c", {}) == doctest::Approx(172.07).epsilon(1e-4));
    const auto better = testing::facts_with({{"sys.coll_a1", "1.5"}, {"sys.coll_a2", "0.01"}});
    CHECK(celsius("d.stag_c", better) > 200);
}

TEST_CASE("a vessel takes what store and heater push out at their hottest") {
    // 230 L from 15 °C to 95 °C push out 8.9 L (densities of Kell 1975, from memory). Boyle from
    // 350 kPa to 540 kPa with 330 kPa of precharge: 31 L. Formula of the table, b'.
    const auto facts = testing::facts_with({{"sys.feed", "mains-pressure"},
                                            {"sys.relief_c", "95"},
                                            {"sys.tank_l", "150"},
                                            {"heater.volume_l", "80"},
                                            {"sys.relief_kpa", "600"},
                                            {"heater.relief_kpa", "700"},
                                            {"sys.limit_set_kpa", "350"}});
    CHECK(*si("d.expand_l", facts) * 1e3 == doctest::Approx(8.9).epsilon(0.01));
    CHECK(*si("d.vessel_l", facts) * 1e3 == doctest::Approx(31.4).epsilon(0.02));
}

TEST_CASE("the fault loop is bound by the breaker on TN, by the residual-current device on TT") {
    // 230 V / (5·16 A)·2/3 = 1.917 Ω, curve C half of it; 50 V / 30 mA = 1667 Ω.
    // Source: IEC 60364-4-41:2005 411.4.4 and 411.5.3; two thirds: IEC 60364-6, from memory.
    auto facts = testing::facts_with({{"elec.system", "TN"},
                                      {"elec.curve", "B"},
                                      {"elec.breaker_a", "16"},
                                      {"elec.rcd_ma", "30"},
                                      {"heater.voltage_v", "230"}});
    CHECK(*si("d.loop_max_ohm", facts) == doctest::Approx(1.9167).epsilon(1e-4));
    facts.set(*read_fact("elec.curve", "C"));
    CHECK(*si("d.loop_max_ohm", facts) == doctest::Approx(0.9583).epsilon(1e-4));
    facts.set(*read_fact("elec.system", "TT"));
    CHECK(*si("d.loop_max_ohm", facts) == doctest::Approx(1666.7).epsilon(1e-4));
    facts.set(*read_fact("elec.rcd_ma", "0"));
    CHECK_FALSE(si("d.loop_max_ohm", facts));
}

}  // namespace wm::checklist
