#include "figures/plant_parts.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;

namespace {

bool says(const PlantShape& shape, const std::string& words) {
    drawing::RecordedCanvas canvas;
    draw_plant_parts(canvas, Frame{plant_width, plant_height, {0, 0, 200, 128}}, shape, Finishes{});
    const auto texts = drawing::texts_of(canvas);
    return std::any_of(texts.begin(), texts.end(),
                       [&](const drawing::DrawnText& text) { return text.words == words; });
}

}  // namespace

TEST_CASE("a vented set shows its open vent, a set on mains pressure its relief pipe") {
    PlantShape shape;
    CHECK(says(shape, "relief pipe, open at its end"));
    CHECK(!says(shape, "open vent"));
    shape.feed = FeedKind::Vented;
    CHECK(says(shape, "open vent"));
    CHECK(!says(shape, "relief pipe, open at its end"));
}

TEST_CASE("every station points at a spot inside the drawing") {
    for (const Station station : all_stations) {
        for (const StorePlace place : {StorePlace::Raised, StorePlace::CloseCoupled}) {
            PlantShape shape;
            shape.store = place;
            const auto part = part_of(station, shape);
            CHECK(part.x >= 0.0);
            CHECK(part.x <= plant_width);
            CHECK(part.y >= 0.0);
            CHECK(part.y <= plant_height);
        }
    }
}
