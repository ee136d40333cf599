#include <doctest/doctest.h>

#include "handover/report_pages.hpp"

using namespace wm::handover;

TEST_CASE("empty parts leave no dot behind") {
    CHECK(joined({"", "TW-1", "", "09:10"}) == "TW-1 · 09:10");
    CHECK(joined({"", ""}).empty());
}

TEST_CASE("a severity is told by what it does") {
    CHECK(severity_in_words("H") == "could hurt someone");
    CHECK(severity_in_words("D") == "could damage property");
    CHECK(severity_in_words("P") == "costs performance");
    CHECK(severity_in_words("R") == "paperwork");
}
