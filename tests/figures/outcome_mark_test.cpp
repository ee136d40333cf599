#include "figures/outcome_mark.hpp"

#include <doctest/doctest.h>

#include <set>

#include "drawing/recorded.hpp"

using namespace wm;
using drawing::RecordedCanvas;
using measure::Outcome;

namespace {

constexpr Outcome all[] = {Outcome::Open,         Outcome::Conforms, Outcome::DoesNotConform,
                           Outcome::Inconclusive, Outcome::Deferred, Outcome::NotApplicable};

/// The kinds of commands in drawing order, without any colour.
std::string shape_of(Outcome outcome) {
    RecordedCanvas canvas;
    figures::draw_outcome_mark(canvas, outcome, {10, 10}, 4);
    std::string shape;
    for (const drawing::Drawn& drawn : canvas.drawn()) {
        shape += static_cast<char>('a' + drawn.index());
        if (const auto* stroke = std::get_if<drawing::DrawnStroke>(&drawn)) {
            shape += std::to_string(stroke->points.size());
        }
    }
    return shape;
}

}  // namespace

TEST_CASE("the six outcomes have six different shapes even without colour") {
    std::set<std::string> shapes;
    for (const Outcome outcome : all) shapes.insert(shape_of(outcome));
    CHECK(shapes.size() == 6);
}

TEST_CASE("a mark stays within its size and a stroke") {
    for (const Outcome outcome : all) {
        CAPTURE(measure::in_words(outcome));
        RecordedCanvas canvas;
        figures::draw_outcome_mark(canvas, outcome, {10, 10}, 4);
        CHECK(drawing::outside(canvas, {7.6, 7.6, 4.8, 4.8}).empty());
    }
}
