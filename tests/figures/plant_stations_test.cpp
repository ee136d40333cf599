#include "figures/plant_stations.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace wm::figures;

TEST_CASE("no two racks of the drawing overlap") {
    for (const Station a : all_stations) {
        for (const Station b : all_stations) {
            if (a == b) continue;
            CAPTURE(name_of(a));
            CAPTURE(name_of(b));
            const auto one = rack_of(a);
            const auto two = rack_of(b);
            const bool apart = one.right() <= two.left || two.right() <= one.left ||
                               one.bottom() <= two.top || two.bottom() <= one.top;
            CHECK(apart);
        }
    }
}

TEST_CASE("checks of the shipped lists sit at the part they are about") {
    CHECK(station_of("anchor-torque") == Station::Store);
    CHECK(station_of("outlet-temp") == Station::Taps);
    CHECK(station_of("svc-freeze-point") == Station::Loop);
    CHECK(station_of("kit-relief") == Station::Relief);
    CHECK(station_of("sun-shade") == Station::Sky);
}
