#include "record/entry.hpp"

#include <doctest/doctest.h>

using namespace wm::record;

TEST_CASE("words are shown while they exist and erased ones say so") {
    CHECK(shown(Words{"29.4"}) == "29.4");
    CHECK(shown(Words{Personal{"c0ffee", "Mirela"}}) == "Mirela");
    CHECK(shown(Words{Personal{"c0ffee", std::nullopt}}) == "(erased)");
}

TEST_CASE("personal words are equal when their commitments are") {
    CHECK(Personal{"c0ffee", "Mirela"} == Personal{"c0ffee", std::nullopt});
    CHECK_FALSE(Personal{"c0ffee", "Mirela"} == Personal{"c0ffef", "Mirela"});
}
