#include "checklist/type_words.hpp"

#include <doctest/doctest.h>

#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("a remedy names the kind of quantity and one sensible value") {
    CHECK(remedy_for(Type::number(*units::unit_named("kPa"))) ==
          "Give it in a unit of pressure, for example 3 bar.");
    CHECK(remedy_for(Type::number(*units::unit_named("°C"))) ==
          "Give it in a unit of temperature, for example 60 °C.");
    CHECK(remedy_for(Type::number(*units::unit_named("K"))) ==
          "Give it in a unit of temperature difference, for example 5 K.");
    CHECK(remedy_for(Type::number(*units::unit_named("°"))) ==
          "Give it in a unit of angle, for example 3°.");
    CHECK(remedy_for(Type::number(units::Unit{})) ==
          "Give a bare number, or divide by a value of the same unit.");
    CHECK(remedy_for(Type::of(Sort::Word)) ==
          "Compare with a word in single quotes, for example 'indirect'.");
}

TEST_CASE("each place of a checklist may name what is there when it is looked at") {
    const auto library = testing::library_with({"commissioning.toml"});
    const auto& list = library.checklists.front();
    const auto* hold = list.find(CheckId{"test-hold"});
    REQUIRE(hold);
    const auto tolerance = scope_of_tolerance(*hold, &list, &library);
    CHECK(tolerance.names.contains("reading"));
    CHECK(tolerance.names.contains("uncertainty"));
    CHECK(tolerance.names.contains("water_start"));
    CHECK_FALSE(scope_of_measurand(*hold, &list, &library).names.contains("reading"));
    CHECK_FALSE(scope_of_facts(&list, &library).names.contains("reading"));
}

}  // namespace wm::checklist
