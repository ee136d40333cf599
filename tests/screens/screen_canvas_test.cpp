// The Canvas on the glass.
#include "screens/screen_canvas.hpp"

#include <doctest/doctest.h>

#include "drawing/typeface.hpp"

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

/// Runs `draw` on a canvas of 100 by 60 mm at the corner (20, 30) of a frame.
template <class Draw>
void on_canvas(Glass& glass, Draw draw) {
    ImGui::NewFrame();
    ImGui::Begin("sheet");
    Touch touch = begin_touch(glass.dress.theme, glass.dress.metrics, glass.dress.fonts,
                              glass.drafts.attention, nullptr);
    {
        ScreenCanvas canvas{touch, {20.0F, 30.0F, touch.mm(100.0F), touch.mm(60.0F)}};
        draw(canvas);
    }
    ImGui::End();
    ImGui::Render();
}

}  // namespace

TEST_CASE("the sheet is measured in millimetres of the glass") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.0F}};
    on_canvas(glass, [](ScreenCanvas& canvas) {
        CHECK(canvas.sheet().width == doctest::Approx(100.0));
        CHECK(canvas.sheet().height == doctest::Approx(60.0));
    });
}

TEST_CASE("text is as wide as the letters' table says, to a twentieth") {
    Glass glass{1280.0F, 800.0F, {}};
    const drawing::TextStyle style{.size_mm = 6.0};
    on_canvas(glass, [&](ScreenCanvas& canvas) {
        const double width = canvas.text_width("Pressure 480 kPa", style);
        CHECK(width ==
              doctest::Approx(drawing::line_width("Pressure 480 kPa", style)).epsilon(0.05));
    });
}

TEST_CASE("lines and polygons of too few points draw nothing") {
    Glass glass{1280.0F, 800.0F, {}};
    on_canvas(glass, [](ScreenCanvas& canvas) {
        const int before = ImGui::GetWindowDrawList()->VtxBuffer.Size;
        const drawing::Point one[] = {{1.0, 1.0}};
        const drawing::Point two[] = {{1.0, 1.0}, {2.0, 2.0}};
        canvas.stroke(one, drawing::Ends::Open, {});
        canvas.fill(two, drawing::Ink::Text);
        CHECK(ImGui::GetWindowDrawList()->VtxBuffer.Size == before);
        canvas.line({1.0, 1.0}, {2.0, 2.0}, {});
        CHECK(ImGui::GetWindowDrawList()->VtxBuffer.Size > before);
    });
}
