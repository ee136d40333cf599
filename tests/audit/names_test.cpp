#include "audit/names.hpp"

#include <doctest/doctest.h>

namespace wm::audit {

TEST_CASE("a text has one number for ever, and a number its text") {
    Names names;
    CHECK(names.of("PG-4") == 0);
    CHECK(names.of("") == 1);
    for (int i = 0; i < 1000; ++i) names.of(std::to_string(i));
    CHECK(names.of("PG-4") == 0);
    CHECK(names.text(1).empty());
    CHECK(names.text(names.of("77")) == "77");
    CHECK(names.size() == 1002);
    CHECK(names.find("") == 1);
    CHECK_FALSE(names.find("PG-5"));
    const Names copy = names;
    CHECK(copy.find("999") == names.find("999"));
}

}  // namespace wm::audit
