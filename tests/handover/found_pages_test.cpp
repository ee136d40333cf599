#include <doctest/doctest.h>

#include "handover/report_pages.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

std::string words_for(const ReportInput& input) {
    handover::testing::RecordedBook book;
    Flow flow{book, PaperSize::A4, {"", "", ""}};
    pour_found(flow, input);
    pour_facts(flow, input);
    return book.all_words();
}

}  // namespace

TEST_CASE("a job without a failure says that no check failed") {
    CHECK(words_for({}).find("No check failed.") != std::string::npos);
}

TEST_CASE("deferrals carry their day and their owner, concessions who granted them") {
    const std::string words = words_for(handover::testing::sample_report(0));
    CHECK(words.find("2027-03-11") != std::string::npos);
    CHECK(words.find("Tindo Quellaby") != std::string::npos);
    CHECK(words.find("Odrun Vassamy") != std::string::npos);
}

TEST_CASE("all restrictions stand in full where page one counts them") {
    ReportInput input;
    input.page_one.restrictions = {"One.", "Two.", "Three."};
    const std::string words = words_for(input);
    for (const char* sentence : {"One.", "Two.", "Three."}) {
        CHECK(words.find(sentence) != std::string::npos);
    }
}
