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
    CHECK(published.concentrate_spare.si() == doctest::Approx(defaults.concentrate_spare.si()));
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
