#include "checklist/expression.hpp"

#include <doctest/doctest.h>

namespace wm::checklist {

TEST_CASE("an expression knows the names and the checks it asks for, each once") {
    const auto e = Expression::parse(
        "reading at most d.p_limit_hi and reading within 50 kPa of "
        "commissioning('pressure-limit-set') "
        "and outcome('sun-window') is 'conforms' and d.p_limit_hi more than 0 kPa");
    REQUIRE(e);
    CHECK(e->names() == std::vector<std::string>{"reading", "d.p_limit_hi"});
    CHECK(e->checks_named() == std::vector<std::string>{"pressure-limit-set", "sun-window"});
}

TEST_CASE("an expression keeps its text and the text of each part") {
    const std::string text = "reading at least 5 mm";
    const auto e = Expression::parse(text, {12, 13});
    REQUIRE(e);
    CHECK(e->text() == text);
    CHECK(e->at() == Position{12, 13});
    CHECK(e->text_of(e->root()) == text);
    CHECK(e->text_of(e->node(e->root()).operands[1]) == "5 mm");
    CHECK(e->mentions(e->root(), "reading"));
    CHECK_FALSE(e->mentions(e->root(), "target"));
}

}  // namespace wm::checklist
