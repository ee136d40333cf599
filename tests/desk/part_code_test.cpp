#include "desk/part_code.hpp"

#include <vector>

#include "desk/testing.hpp"
#include "drawing/recorded.hpp"
#include "handover/code_picture.hpp"
#include "handover/square_code.hpp"

namespace wm::desk {

namespace {

constexpr int dots = 12;  // to the millimetre

struct Placed {
    CodedPart part;
    double left = 0.0, top = 0.0;
};

/// Codes of the size of the sheet on white paper, so many millimetres wide and high.
std::string picture_of(const std::vector<Placed>& codes, double side_mm) {
    drawing::RecordedCanvas canvas;
    for (const auto& code : codes) REQUIRE(handover::draw_square_code(canvas, {code.left, code.top, 13, 13}, part_code(code.part)));
    return handover::testing::picture_of(canvas, static_cast<int>(side_mm * dots), dots);
}

}  // namespace

TEST_CASE("the code of a part is read back from its own words alone") {
    const CodedPart part{"J-1A2B-0003", "pipe-discharge"};
    CHECK(part_in_code(part_code(part)) == part);
    for (const char* text : {"", "WM-PART ", "WM-PART J-1A2B-0003", "WM-PART  pipe-loop", "WM-PART J-1A2B-0003 ", "WM-PART J-1A2B-0003 pipe loop",
                             "WM1 J-1A2B-0003 pipe-loop"})
        CHECK_MESSAGE(!part_in_code(text), text);
}

TEST_CASE("a picture names the part whose code it shows, and of several the one on its middle") {
    const CodedPart pipe{"J-1A2B-0003", "pipe-loop"}, valve{"J-1A2B-0003", "relief"};
    const auto alone = part_in_picture(picture_of({{pipe, 3, 3}}, 40), "a.jpg");
    REQUIRE_MESSAGE(alone, (alone ? "" : told(alone.error())));
    CHECK(*alone == pipe);
    const auto aimed = part_in_picture(picture_of({{pipe, 13.5, 2}, {valve, 13.5, 15}}, 40), "b.jpg");
    REQUIRE_MESSAGE(aimed, (aimed ? "" : told(aimed.error())));
    CHECK(*aimed == valve);
    const auto beside = part_in_picture(picture_of({{pipe, 2, 2}, {valve, 25, 25}}, 40), "c.jpg");
    REQUIRE_FALSE(beside);
    CHECK(beside.error().kind == ProblemKind::Unreadable);
    CHECK(beside.error().what == "2 codes stand in this picture, and none of them on its middle.");
    CHECK_FALSE(part_in_picture(testing::photo_bytes(), "d.jpg"));
}

}  // namespace wm::desk
