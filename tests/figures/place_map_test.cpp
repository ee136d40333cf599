#include "figures/place_map.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;

namespace {

std::vector<MapSpot> spots_of(const std::vector<std::string>& places) {
    std::vector<MapSpot> spots;
    for (const auto& place : places) spots.push_back({place, measure::Outcome::Open, spots.empty()});
    return spots;
}

const std::vector<std::string> joints{"collector in", "collector out", "store cold", "store hot", "store loop upper",
                                      "store loop lower", "feed valves", "heater in", "heater out", "water line"};

}  // namespace

TEST_CASE("places that are drawn lie apart, inside the box, and under no words") {
    const drawing::Box sheet{5, 5, 56, 33};
    for (const auto& [check, places] : std::vector<std::pair<std::string, std::vector<std::string>>>{
             {"joints-dry", joints}, {"anchor-torque", {"1", "2", "3", "4"}}, {"anchor-torque", {"1", "2", "3", "4", "5", "6", "7"}},
             {"coll-clamps", {"1", "2", "3", "4", "5", "6", "7", "8"}},
             {"ins-ends", {"collector out", "collector in", "store hot", "store cold", "roof passage", "valves"}}}) {
        CAPTURE(check);
        drawing::RecordedCanvas canvas;
        const auto drawn = draw_place_map(canvas, sheet, check, spots_of(places));
        REQUIRE(drawn.size() == places.size());
        CHECK(drawing::outside(canvas, sheet) == std::vector<std::string>{});
        for (std::size_t i = 0; i < drawn.size(); ++i) {
            CHECK(drawn[i].place == places[i]);
            for (std::size_t j = i + 1; j < drawn.size(); ++j)
                CHECK(std::hypot(drawn[i].centre.x - drawn[j].centre.x, drawn[i].centre.y - drawn[j].centre.y) > 3.0);
            for (const auto& text : drawing::texts_of(canvas)) {
                const auto box = drawing::box_of(text);
                const bool covers = drawn[i].centre.x > box.left - 1.5 && drawn[i].centre.x < box.right() + 1.5 &&
                                    drawn[i].centre.y > box.top - 1.5 && drawn[i].centre.y < box.bottom() + 1.5;
                CHECK_MESSAGE(!covers, (places[i] + " lies on " + text.words));
            }
        }
    }
}

TEST_CASE("brackets go row by row from the upper left, as seen from the ladder") {
    drawing::RecordedCanvas canvas;
    const auto drawn = draw_place_map(canvas, {0, 0, 100, 58}, "anchor-torque", spots_of({"1", "2", "3", "4"}));
    REQUIRE(drawn.size() == 4);
    CHECK(drawn[0].centre.x < drawn[1].centre.x);
    CHECK(drawn[0].centre.y == doctest::Approx(drawn[1].centre.y));
    CHECK(drawn[2].centre.y > drawn[0].centre.y);
    CHECK(drawn[2].centre.x == doctest::Approx(drawn[0].centre.x));
}

TEST_CASE("there is no map of what has no place on it") {
    CHECK_FALSE(has_place_map("outlet-temp", {"1", "2", "3"}));
    CHECK_FALSE(has_place_map("sun-shade", {"9", "10:30", "12"}));
    CHECK_FALSE(has_place_map("anchor-torque", {"1"}));
    CHECK(has_place_map("joints-dry", joints));
    CHECK(has_place_map("anchor-torque", {"1", "2", "3", "4", "wrench"}));
    drawing::RecordedCanvas canvas;
    CHECK(draw_place_map(canvas, {0, 0, 100, 58}, "outlet-temp", spots_of({"1", "2"})).empty());
    CHECK(canvas.drawn().empty());
}
