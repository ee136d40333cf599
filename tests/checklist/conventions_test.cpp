#include "checklist/conventions.hpp"

#include <doctest/doctest.h>

#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("the published settings are the defaults the plant was written with") {
    const auto published = conventions_of(testing::library_with());
    const plant::Conventions defaults;
    CHECK(published.uplift_factor == doctest::Approx(defaults.uplift_factor));
    CHECK(published.frame_mass.si() == doctest::Approx(defaults.frame_mass.si()));
    CHECK(published.frost_margin.si() == doctest::Approx(defaults.frost_margin.si()));
    CHECK(published.glycol_least_pct == doctest::Approx(defaults.glycol_least_pct));
    CHECK(published.copper_growth.si() == doctest::Approx(defaults.copper_growth.si()));
    CHECK(published.tilt_most.in_degrees() == doctest::Approx(defaults.tilt_most.in_degrees()));
    CHECK(published.outlet_most.in_celsius() == doctest::Approx(defaults.outlet_most.in_celsius()));
    CHECK(published.uneven_feet_factor == doctest::Approx(defaults.uneven_feet_factor));
    CHECK(published.tank_drag == doctest::Approx(defaults.tank_drag));
    CHECK(published.wind_down_factor == doctest::Approx(defaults.wind_down_factor));
    CHECK(published.collector_loss.si() == doctest::Approx(defaults.collector_loss.si()));
    CHECK(published.stagnation_air.in_celsius() ==
          doctest::Approx(defaults.stagnation_air.in_celsius()));
    CHECK(published.sun_most.si() == doctest::Approx(defaults.sun_most.si()));
    CHECK(published.concentrate_spare.si() == doctest::Approx(defaults.concentrate_spare.si()));
}

TEST_CASE("the settings that hold a set on its roof and free of ice stand on the safe side") {
    // Uplift 1.5 and frost margin 5 K: common practice, no source. Air 1.25 kg/m³: EN 1991-1-4,
    // from memory; thinner air of high places is not counted.
    const auto published = conventions_of(testing::library_with());
    CHECK(published.uplift_factor == doctest::Approx(1.5));
    CHECK(published.frost_margin.si() == doctest::Approx(5.0));
    CHECK(published.air_density.si() == doctest::Approx(1.25));
}

TEST_CASE(
    "a setting that the library does not hold keeps its default, an unknown one changes nothing") {
    Library library;
    library.settings.push_back({"friction", 0.3, "", {"CP"}, "friction"});
    library.settings.push_back({"nothing_of_ours", 3, "m", {"CP"}, "unknown"});
    const auto conventions = conventions_of(library);
    CHECK(conventions.friction == doctest::Approx(0.3));
    CHECK(conventions.uplift_factor == doctest::Approx(plant::Conventions{}.uplift_factor));
    CHECK(is_convention("friction"));
    CHECK_FALSE(is_convention("nothing_of_ours"));
}

}  // namespace wm::checklist
