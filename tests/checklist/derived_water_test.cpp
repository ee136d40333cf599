#include <doctest/doctest.h>

#include "checklist/derived_testing.hpp"

namespace wm::checklist {
namespace {

constexpr auto si = testing::derived_si;

}  // namespace

TEST_CASE(
    "premix is bought for the whole loop and a litre, concentrate for its share and half a litre") {
    // Source: the table of derived values, 11.4 L at 35 % give 4.5 L.
    auto facts = testing::facts_with({{"sys.kind", "indirect"},
                                      {"sys.coll_l", "2"},
                                      {"sys.jacket_l", "9"},
                                      {"sys.run_hot_m", "0.6"},
                                      {"sys.run_cold_m", "0.6"},
                                      {"sys.pipe_od_mm", "22"},
                                      {"sys.fluid", "premix"},
                                      {"site.t_min_c", "-9"}});
    CHECK(*si("d.glycol_l", facts) * 1e3 == doctest::Approx(12.4).epsilon(0.01));
    facts.set(*read_fact("sys.fluid", "concentrate"));
    CHECK(*si("d.glycol_l", facts) * 1e3 == doctest::Approx(4.5).epsilon(0.01));
}

TEST_CASE("where no mixture reaches the frost of the place, there is no strength") {
    CHECK_FALSE(si("d.glycol_pct", testing::facts_with({{"site.t_min_c", "-30"}})));
}

TEST_CASE("vulnerable people lower the hottest water allowed") {
    CHECK(*si("d.outlet_max_c", testing::facts_with({{"customer.vulnerable", "yes"}})) ==
          doctest::Approx(318.15));
    CHECK(*si("d.outlet_max_c", testing::facts_with({{"customer.vulnerable", "no"}})) ==
          doctest::Approx(323.15));
}

}  // namespace wm::checklist
