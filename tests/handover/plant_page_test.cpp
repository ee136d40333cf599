#include <doctest/doctest.h>

#include "handover/report_pages.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

TEST_CASE("the list under the drawing numbers every check in the order of the stages") {
    const ReportInput input = handover::testing::sample_report(0);
    handover::testing::RecordedBook book;
    Flow flow{book, PaperSize::A4, {"", "", ""}};
    pour_plant(flow, input);
    const std::string words = book.all_words();
    CHECK(words.find("1 Wind and rain allow work") != std::string::npos);
    CHECK(words.find("12 Store anchors tightened") != std::string::npos);
    CHECK(words.find("53 Signed by the customer") != std::string::npos);
}

TEST_CASE("a list longer than its page goes on over the next") {
    ReportInput input = handover::testing::sample_report(0);
    for (int i = 0; i < 6; ++i) input.stages.push_back(input.stages[4]);
    for (int i = 0; i < 20; ++i) input.stages.push_back(input.stages[5]);
    handover::testing::RecordedBook book;
    Flow flow{book, PaperSize::Letter, {"", "", ""}};
    pour_plant(flow, input);
    CHECK(book.pages() == 2);
    for (const auto& leaf : book.leaves) CHECK(drawing::colliding_texts(*leaf).empty());
}
