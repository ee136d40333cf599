#include "figures/plant_figure.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "drawing/recorded.hpp"
#include "figures/testing.hpp"

using namespace wm;
using namespace wm::figures;
using drawing::Box;
using drawing::RecordedCanvas;
using measure::Outcome;

namespace {

const Box sheet{10, 20, 180, 120};

std::vector<PlantShape> some_shapes() {
    std::vector<PlantShape> shapes;
    for (const StorePlace store : {StorePlace::Raised, StorePlace::CloseCoupled}) {
        for (const Covering covering : {Covering::Tile, Covering::Slate, Covering::MetalSheet,
                                        Covering::FlatSlab, Covering::Other}) {
            for (const FeedKind feed : {FeedKind::Mains, FeedKind::Vented}) {
                PlantShape shape;
                shape.store = store;
                shape.covering = covering;
                shape.feed = feed;
                shape.controller = Fitting::Fitted;
                shape.expansion_vessel = true;
                shape.roof_word = "metal sheet";
                shapes.push_back(shape);
            }
        }
    }
    PlantShape unknown;
    unknown.loop.reset();
    unknown.feed.reset();
    unknown.store.reset();
    unknown.controller.reset();
    unknown.covering = Covering::Other;
    shapes.push_back(unknown);
    return shapes;
}

}  // namespace

TEST_CASE("every commissioning check has its own spot on the drawing") {
    RecordedCanvas canvas;
    const PlantInput input = testing::whole_plant(Outcome::Open);
    const PlantPlaces places = draw_plant(canvas, sheet, input);
    REQUIRE(places.pins.size() == input.pins.size());
    for (std::size_t i = 0; i < places.pins.size(); ++i) {
        CHECK(places.pins[i].check == input.pins[i].check);
        for (std::size_t j = i + 1; j < places.pins.size(); ++j) {
            const auto& a = places.pins[i];
            const auto& b = places.pins[j];
            CAPTURE(a.check);
            CAPTURE(b.check);
            CHECK(std::hypot(a.centre.x - b.centre.x, a.centre.y - b.centre.y) >=
                  a.radius_mm + b.radius_mm);
        }
    }
}

TEST_CASE("no words collide and nothing leaves the sheet, whatever is fitted") {
    for (const PlantShape& shape : some_shapes()) {
        CAPTURE(static_cast<int>(shape.store.value_or(StorePlace::Raised)));
        CAPTURE(static_cast<int>(shape.covering));
        CAPTURE(static_cast<int>(shape.feed.value_or(FeedKind::Mains)));
        RecordedCanvas canvas;
        PlantInput input = testing::whole_plant(Outcome::Conforms);
        input.shape = shape;
        draw_plant(canvas, sheet, input);
        CHECK(drawing::colliding_texts(canvas) == std::vector<std::string>{});
        CHECK(drawing::outside(canvas, sheet) == std::vector<std::string>{});
    }
}

TEST_CASE("a part is drawn in full only when all its checks conform") {
    const auto strokes_in = [](Outcome last, drawing::Ink ink) {
        RecordedCanvas canvas;
        PlantInput input;
        input.pins = {{"tempering-fitted", Outcome::Conforms, "", false},
                      {"outlet-temp", last, "", false}};
        draw_plant(canvas, sheet, input);
        int count = 0;
        for (const drawing::Drawn& drawn : canvas.drawn()) {
            const auto* stroke = std::get_if<drawing::DrawnStroke>(&drawn);
            if (stroke != nullptr && stroke->stroke.ink == ink) ++count;
        }
        return count;
    };
    CHECK(strokes_in(Outcome::Conforms, drawing::Ink::Hot) > 0);
    CHECK(strokes_in(Outcome::Deferred, drawing::Ink::Hot) == 0);
}

TEST_CASE("a check nobody knows still gets a place") {
    RecordedCanvas canvas;
    PlantInput input;
    input.pins = {{"never-heard-of", Outcome::Open, "1", true}};
    const PlantPlaces places = draw_plant(canvas, sheet, input);
    REQUIRE(places.pins.size() == 1);
    REQUIRE(places.stations.size() == 1);
    CHECK(places.stations.front().station == Station::People);
}
