#include "figures/sketch.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;

namespace {

constexpr int first = static_cast<int>(Sketch::Torque);
constexpr int last = static_cast<int>(Sketch::TapTemperature);

}  // namespace

TEST_CASE("no sketch has words that collide or anything outside its box, large or small") {
    for (const drawing::Box sheet : {drawing::Box{10, 20, 120, 70}, drawing::Box{0, 0, 60, 60}, drawing::Box{5, 5, 200, 70}}) {
        for (int i = first; i <= last; ++i) {
            CAPTURE(i);
            drawing::RecordedCanvas canvas;
            draw_sketch(canvas, sheet, static_cast<Sketch>(i));
            CHECK(canvas.drawn().size() > 8);
            CHECK(drawing::colliding_texts(canvas) == std::vector<std::string>{});
            CHECK(drawing::outside(canvas, sheet) == std::vector<std::string>{});
        }
    }
}

TEST_CASE("each sketch belongs to a check and says in words what it shows") {
    std::set<Sketch> shown;
    std::set<std::string> said;
    for (const auto* check : {"anchor-torque", "coll-tilt", "coll-azimuth", "loop-rise", "loop-freeze-point", "discharge-pipe",
                              "ins-ends", "ladder-set", "temp-rise", "test-hold", "outlet-temp"}) {
        const auto sketch = sketch_of(check);
        REQUIRE(sketch);
        shown.insert(*sketch);
        said.insert(std::string{words_of(*sketch)});
    }
    CHECK(static_cast<int>(shown.size()) == last - first + 1);
    CHECK(said.size() == shown.size());
    CHECK_FALSE(sketch_of("sign-crew"));
}

TEST_CASE("the angle of the ladder in the sketch is one that its check accepts") {
    // The rail from foot to head as it is drawn; 65 to 75 degrees is what `ladder-set` asks for.
    drawing::RecordedCanvas canvas;
    draw_sketch(canvas, {0, 0, 120, 70}, Sketch::Ladder);
    int rails = 0;
    for (const drawing::Drawn& drawn : canvas.drawn()) {
        const auto* stroke = std::get_if<drawing::DrawnStroke>(&drawn);
        if (stroke == nullptr || stroke->points.size() != 2) continue;
        const double up = stroke->points[0].y - stroke->points[1].y;
        const double across = stroke->points[1].x - stroke->points[0].x;
        if (up < 50.0) continue;
        ++rails;
        CHECK(up / across > 2.14);  // tan 65°
        CHECK(up / across < 3.73);  // tan 75°
    }
    CHECK(rails == 2);
}
