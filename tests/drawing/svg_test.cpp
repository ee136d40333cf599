#include "drawing/svg.hpp"

#include <doctest/doctest.h>

using namespace wm::drawing;

TEST_CASE("an SVG file carries its size, its title and its words, with markup escaped") {
    SvgCanvas canvas{{0, 0, 80, 40}};
    canvas.text({10, 20}, "p < 480 & \"rising\"", {});
    const std::string file = canvas.finished("Test <pressure>");
    CHECK(file.find("width=\"80mm\"") != std::string::npos);
    CHECK(file.find("<title>Test &lt;pressure&gt;</title>") != std::string::npos);
    CHECK(file.find("p &lt; 480 &amp; &quot;rising&quot;</text>") != std::string::npos);
}

TEST_CASE("the same calls give the same bytes and numbers without a tail of zeros") {
    const auto drawn = [] {
        SvgCanvas canvas{{0, 0, 10, 10}};
        canvas.line({0.1 + 0.2, 1.0}, {2.5, -0.00001}, {Ink::Bad, 0.25});
        return canvas.finished("x");
    };
    CHECK(drawn() == drawn());
    CHECK(drawn().find("points=\"0.3,1 2.5,0\"") != std::string::npos);
}
