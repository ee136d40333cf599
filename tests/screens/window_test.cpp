// The real window, as far as it can be told without one.
#include "screens/window.hpp"

#include <doctest/doctest.h>

#include <cstdlib>

using namespace wm::screens;

TEST_CASE("without a display the window says so and what to do") {
    if (std::getenv("DISPLAY") != nullptr || std::getenv("WAYLAND_DISPLAY") != nullptr) return;
    const auto done = run_window({}, {});
    REQUIRE_FALSE(done);
    CHECK(done.error().what == "The window could not be opened: no display answered.");
    CHECK(done.error().where == "display");
    CHECK_FALSE(done.error().what_to_do.empty());
}
