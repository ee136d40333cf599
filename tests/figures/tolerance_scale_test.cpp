#include "figures/tolerance_scale.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;
using drawing::RecordedCanvas;

namespace {

ToleranceScale torque() {
    ToleranceScale scale;
    scale.low = 18.0;
    scale.high = 22.0;
    scale.accept_low = 18.7;
    scale.accept_high = 21.3;
    scale.unit = "N·m";
    return scale;
}

std::vector<std::string> words_of(const RecordedCanvas& canvas) {
    std::vector<std::string> words;
    for (const auto& text : drawing::texts_of(canvas)) words.push_back(text.words);
    return words;
}

}  // namespace

TEST_CASE("both limits are written under the scale, the unit once") {
    RecordedCanvas canvas;
    draw_tolerance_scale(canvas, {0, 0, 80, 11}, torque());
    CHECK(words_of(canvas) == std::vector<std::string>{"18", "22 N·m"});
}

TEST_CASE("limits that read alike are written once") {
    struct Limits {
        std::optional<double> low, high;
        std::string words;
    };
    // Proved dead is 0 V, from above and from below; -0 is the zero of a limit that was negated.
    for (const auto& [low, high, words] : {Limits{0.0, 0.0, "0 V"}, Limits{std::nullopt, 0.0, "0 V"}, Limits{-0.0, 0.0, "0 V"},
                                           Limits{0.0, std::nullopt, "0 V"}, Limits{12.5, 12.5, "12.5 V"}}) {
        for (const std::optional<double> reading : {std::optional<double>{}, std::optional{0.0}, std::optional{230.0}}) {
            CAPTURE(words);
            ToleranceScale scale;
            scale.low = low;
            scale.high = high;
            scale.unit = "V";
            scale.reading = reading;
            RecordedCanvas canvas;
            draw_tolerance_scale(canvas, {0, 0, 80, 11}, scale);
            CHECK(words_of(canvas) == std::vector<std::string>{words});
            CHECK(drawing::outside(canvas, {-0.5, -0.5, 81, 12}) == std::vector<std::string>{});
        }
    }
}

TEST_CASE("a reading stays on the scale however far off it is, and words never collide") {
    for (const double reading : {-1e9, 0.0, 17.99, 20.0, 22.01, 200.0, 1e12}) {
        CAPTURE(reading);
        ToleranceScale scale = torque();
        scale.reading = reading;
        scale.outcome = measure::Outcome::DoesNotConform;
        RecordedCanvas canvas;
        draw_tolerance_scale(canvas, {0, 0, 80, 11}, scale);
        CHECK(drawing::outside(canvas, {-0.5, -0.5, 81, 12}) == std::vector<std::string>{});
        CHECK(drawing::colliding_texts(canvas).empty());
    }
}

TEST_CASE("in a low place with large words the mark is drawn whole") {
    for (const measure::Outcome outcome : {measure::Outcome::Conforms, measure::Outcome::DoesNotConform, measure::Outcome::Inconclusive}) {
        ToleranceScale scale = torque();
        scale.reading = 20.0;
        scale.outcome = outcome;
        scale.text_mm = 3.6;
        RecordedCanvas canvas;
        draw_tolerance_scale(canvas, {0, 0, 90, 9}, scale);
        CHECK(drawing::outside(canvas, {-0.5, -0.1, 91, 20}) == std::vector<std::string>{});
    }
}

TEST_CASE("guard strips are hatched only where guarded acceptance is narrower") {
    RecordedCanvas guarded;
    draw_tolerance_scale(guarded, {0, 0, 80, 11}, torque());
    ToleranceScale simple = torque();
    simple.accept_low = simple.low;
    simple.accept_high = simple.high;
    RecordedCanvas plain;
    draw_tolerance_scale(plain, {0, 0, 80, 11}, simple);
    CHECK(guarded.drawn().size() > plain.drawn().size() + 10);
}
