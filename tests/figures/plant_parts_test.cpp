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

TEST_CASE("what nobody has stated is left out or dashed, and named below") {
    PlantShape shape;
    shape.loop.reset();
    shape.feed.reset();
    shape.store.reset();
    shape.controller.reset();
    CHECK(says(shape, "not known: kind, feed, place of the store, controller, roof covering"));
    CHECK(says(shape, "?"));
    CHECK(!says(shape, "open vent"));
    CHECK(!says(shape, "relief pipe, open at its end"));
    shape = PlantShape{};
    shape.roof_word = "slate";
    CHECK(!says(shape, "?"));
    shape.feed.reset();
    CHECK(says(shape, "not known: feed"));
}

TEST_CASE("a loop of unknown kind carries neither fluid nor water, even when all its checks conform") {
    const auto strokes = [](std::optional<LoopKind> loop, drawing::Ink ink) {
        PlantShape shape;
        shape.loop = loop;
        Finishes all{};
        all.fill(Finish::Complete);
        drawing::RecordedCanvas canvas;
        draw_plant_parts(canvas, Frame{plant_width, plant_height, {0, 0, 200, 128}}, shape, all);
        return std::count_if(canvas.drawn().begin(), canvas.drawn().end(), [&](const drawing::Drawn& drawn) {
            const auto* stroke = std::get_if<drawing::DrawnStroke>(&drawn);
            return stroke != nullptr && stroke->stroke.ink == ink;
        });
    };
    CHECK(strokes(LoopKind::Indirect, drawing::Ink::Fluid) == 2);
    CHECK(strokes(std::nullopt, drawing::Ink::Fluid) == 0);
    CHECK(strokes(LoopKind::Direct, drawing::Ink::Hot) == strokes(std::nullopt, drawing::Ink::Hot) + 1);
    CHECK(strokes(LoopKind::Direct, drawing::Ink::Cold) == strokes(std::nullopt, drawing::Ink::Cold) + 1);
}

TEST_CASE("every station points at a spot inside the drawing") {
    for (const Station station : all_stations) {
        for (const std::optional<StorePlace> place :
             {std::optional{StorePlace::Raised}, std::optional{StorePlace::CloseCoupled}, std::optional<StorePlace>{}}) {
            PlantShape shape;
            shape.store = place;
            if (!place) shape.feed.reset();
            const auto part = part_of(station, shape);
            CHECK(part.x >= 0.0);
            CHECK(part.x <= plant_width);
            CHECK(part.y >= 0.0);
            CHECK(part.y <= plant_height);
        }
    }
}
