#include "handover/square_code.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "drawing/recorded.hpp"
#include "handover/paper_proof.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

/// The recorded boxes as a picture of the page, `dots` to the millimetre.
photo::Pixels picture_of(const drawing::RecordedCanvas& canvas, double side_mm, int dots,
                         double lean) {
    const int side = static_cast<int>(side_mm * dots);
    photo::Pixels pixels{side, side,
                         std::vector<std::uint8_t>(
                             static_cast<std::size_t>(side) * static_cast<std::size_t>(side) * 3u,
                             std::uint8_t{245})};
    const double c = std::cos(lean);
    const double s = std::sin(lean);
    for (const auto& drawn : canvas.drawn()) {
        const auto* box = std::get_if<drawing::DrawnBox>(&drawn);
        if (box == nullptr || box->stroke.ink != drawing::Ink::Text) continue;
        for (double y = box->box.top; y < box->box.bottom(); y += 0.4 / dots) {
            for (double x = box->box.left; x < box->box.right(); x += 0.4 / dots) {
                const double dx = x - side_mm / 2.0;
                const double dy = y - side_mm / 2.0;
                const auto px = static_cast<int>((side_mm / 2.0 + dx * c - dy * s) * dots);
                const auto py = static_cast<int>((side_mm / 2.0 + dx * s + dy * c) * dots);
                if (px < 0 || py < 0 || px >= side || py >= side) continue;
                const auto at =
                    3u * (static_cast<std::size_t>(py) * static_cast<std::size_t>(side) +
                          static_cast<std::size_t>(px));
                for (std::size_t i = 0; i < 3; ++i) pixels.rgb[at + i] = 30;
            }
        }
    }
    return pixels;
}

}  // namespace

TEST_CASE("the square code of page one is read back from a picture, straight and turned") {
    const std::string text = handover::testing::sample_report(0).page_one.paper_proof;
    drawing::RecordedCanvas canvas;
    REQUIRE(draw_square_code(canvas, {10, 10, 50, 50}, text));
    for (const double lean : {0.0, 0.12, 1.7}) {
        CAPTURE(lean);
        const auto picture = photo::encoded_jpeg(picture_of(canvas, 70, 12, lean), 80);
        const auto read = read_square_code(picture, "scan.jpg");
        REQUIRE(read);
        CHECK(*read == text);
        CHECK(digest::is_signed_by_company(handover::testing::sample_company().root_certificate,
                                           read_paper_proof(*read)->covered, read_paper_proof(*read)->signature));
    }
}

TEST_CASE("the code keeps its quiet zone and its square") {
    drawing::RecordedCanvas canvas;
    REQUIRE(draw_square_code(canvas, {10, 10, 50, 50}, "WM1"));
    double left = 100.0;
    for (const auto& drawn : canvas.drawn()) {
        const auto& box = std::get<drawing::DrawnBox>(drawn);
        if (box.stroke.ink == drawing::Ink::Text) left = std::min(left, box.box.left);
    }
    // Four modules of the smallest code: 21 modules and 8 of quiet zone on 50 mm.
    CHECK(left == doctest::Approx(10.0 + 4.0 * 50.0 / 29.0));
    CHECK(drawing::outside(canvas, {10, 10, 50, 50}).empty());
}

TEST_CASE("no text and too much text are refused") {
    drawing::RecordedCanvas canvas;
    CHECK(!draw_square_code(canvas, {0, 0, 50, 50}, ""));
    CHECK(!draw_square_code(canvas, {0, 0, 50, 50}, std::string(4000, 'x')));
    CHECK(canvas.drawn().empty());
}

TEST_CASE("a picture without a code says how to take a better one") {
    const auto read = read_square_code(photo::testing::jpeg_scene(400, 300, 1), "roof.jpg");
    REQUIRE(!read);
    CHECK(read.error().where == "picture roof.jpg");
    CHECK(read.error().what == "No square code could be read in this picture.");
}
