#include <doctest/doctest.h>

#include "handover/report_pages.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

TEST_CASE("each figure leads to its equation, its source and the command that explains it") {
    ReportInput input;
    input.origins = {{"wind pressure", "0.5 × air density × gust²", "EN 1991-1-4:2005, 4.5", "wind-pressure"},
                     {"Warmest cold water", "set to 25 °C", "common practice, no source", ""}};
    handover::testing::RecordedBook book;
    Flow flow{book, PaperSize::A4, {"", "", ""}};
    pour_origins(flow, input);
    const auto words = book.all_words();
    for (const char* part : {"Where the figures come from", "wind pressure", "0.5 × air density × gust²", "EN 1991-1-4:2005, 4.5",
                             "witnessmark work-out wind-pressure --help", "set to 25 °C"}) {
        CAPTURE(part);
        CHECK(words.find(part) != std::string::npos);
    }
    handover::testing::RecordedBook empty;
    Flow none{empty, PaperSize::A4, {"", "", ""}};
    pour_origins(none, ReportInput{});
    CHECK(empty.all_words().find("figures") == std::string::npos);
}
