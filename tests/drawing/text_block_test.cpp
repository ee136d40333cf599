#include "drawing/text_block.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm::drawing;

TEST_CASE("no wrapped line is wider than allowed, even without spaces") {
    const RecordedCanvas measure;
    const TextStyle style{3.0};
    for (const char* text :
         {"Never block, plug or turn down a relief valve.",
          "Donaudampfschifffahrtsgesellschaftskapitänsmützenabzeichen", "a  b\tc\n\nd"}) {
        CAPTURE(text);
        for (const std::string& line : wrapped(measure, text, style, 20.0)) {
            CHECK(measure.text_width(line, style) <= 20.0);
        }
    }
}

TEST_CASE("wrapping loses no letter") {
    const RecordedCanvas measure;
    std::string joined;
    for (const auto& line :
         wrapped(measure, "one two threefourfivesixseveneight ümlaut", {3.0}, 15.0)) {
        for (const char c : line) {
            if (c != ' ') joined += c;
        }
    }
    CHECK(joined == "onetwothreefourfivesixseveneightümlaut");
}

TEST_CASE("a line feed always begins a new line and control characters vanish") {
    const RecordedCanvas measure;
    CHECK(wrapped(measure, "up\ndown\x01 side", {3.0}, 90.0) ==
          std::vector<std::string>{"up", "down side"});
    CHECK(wrapped(measure, " \n ", {3.0}, 90.0).empty());
}

TEST_CASE("a shortened text ends with dots and fits") {
    const RecordedCanvas measure;
    const std::string cut = fitted(measure, "pressure behind the limiting valve", {3.0}, 20.0);
    CHECK(cut.ends_with("…"));
    CHECK(measure.text_width(cut, {3.0}) <= 20.0);
    CHECK(fitted(measure, "tilt", {3.0}, 20.0) == "tilt");
}

TEST_CASE("a number and its unit stay on one line, other words do not hang together") {
    const RecordedCanvas measure;
    const TextStyle style{3.0};
    const double width = measure.text_width("at most 50", style) + 0.1;
    CHECK(wrapped(measure, "at most 50 °C, yes", style, width) ==
          std::vector<std::string>{"at most", "50 °C, yes"});
    CHECK(wrapped(measure, "at most 50 people", style, width) ==
          std::vector<std::string>{"at most 50", "people"});
}
