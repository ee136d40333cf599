#include "checklist/functions.hpp"

#include <doctest/doctest.h>

#include <string>

#include "checklist/expression.hpp"

namespace wm::checklist {

TEST_CASE("the example shown for each function is itself an expression that calls it") {
    for (const std::string_view name :
         {"min",   "max",           "abs",         "ceil",          "floor",        "round",
          "sqrt",  "clamp",         "bearing_gap", "known",         "outcome",      "answer",
          "value", "commissioning", "first",       "last",          "smallest",     "largest",
          "mean",  "count",         "duration",    "smallest_late", "largest_late", "mean_late"}) {
        CAPTURE(name);
        const auto* spec = function_named(name);
        REQUIRE(spec);
        const auto e = Expression::parse(std::string{spec->example});
        REQUIRE(e);
        CHECK(e->node(e->root()).word == name);
        CHECK(static_cast<int>(e->node(e->root()).operands.size()) >= spec->fewest);
    }
    CHECK(function_named("sine") == nullptr);
}

TEST_CASE("functions over readings and functions of other checks are told apart") {
    CHECK(is_over_points(Function::Mean));
    CHECK(is_late(Function::MeanLate));
    CHECK_FALSE(is_late(Function::Mean));
    CHECK(asks_a_check(Function::EarlierValueOf));
    CHECK_FALSE(asks_a_check(Function::Min));
}

}  // namespace wm::checklist
