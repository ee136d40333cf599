#include <doctest/doctest.h>

#include <functional>

#include "checklist/derived_equations.hpp"
#include "checklist/testing.hpp"

namespace wm::checklist {
namespace {

double si(std::string_view name, const Facts& facts) {
    const Library library;
    const std::function<std::optional<units::Amount>(const CheckId&)> no_checks;
    Ingredients ingredients{facts, library, no_checks};
    const auto value = derived_named(name)->si(ingredients);
    REQUIRE(value);
    return *value;
}

}  // namespace

TEST_CASE("the best tilt is the latitude and five degrees, kept between 20 and 50") {
    // Source: worked figures of the trade content, 29.4 gives 34.4 and 5 gives 20.
    constexpr double degree = 3.14159265358979323846 / 180.0;
    CHECK(si("d.tilt_best", testing::facts_with({{"site.latitude", "29.4"}})) ==
          doctest::Approx(34.4 * degree));
    CHECK(si("d.tilt_best", testing::facts_with({{"site.latitude", "5"}})) ==
          doctest::Approx(20 * degree));
    CHECK(si("d.az_equator", testing::facts_with({{"site.latitude", "-18"}})) == 0);
}

TEST_CASE(
    "a direct set has no jacket to weigh, and a frame's own weight wins over the convention") {
    auto facts = testing::facts_with({{"sys.kind", "direct"},
                                      {"sys.tank_dry_kg", "60"},
                                      {"sys.tank_l", "150"},
                                      {"sys.coll_kg", "38"},
                                      {"sys.coll_l", "2"}});
    CHECK(si("d.load_kg", facts) == doctest::Approx(60 + 150 + 38 + 2 + 15));
    facts.set(*read_fact("sys.frame_kg", "25"));
    CHECK(si("d.load_kg", facts) == doctest::Approx(60 + 150 + 38 + 2 + 25));
}

}  // namespace wm::checklist
