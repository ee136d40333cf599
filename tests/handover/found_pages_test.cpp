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

TEST_CASE("the evidence keeps every failed reading, a check once, and slips apart from what was wrong") {
    ReportInput input;
    input.nonconformities = {{"a", "First", "P", "16 N·m", "Below.", "Turned", "20 N·m"},
                             {"b", "Second", "P", "3 mm", "Below.", "Taken back as a slip.", "", true},
                             {"a", "First", "P", "17 N·m", "Below.", "Turned", "20 N·m"},
                             {"a", "First", "P", "15 N·m", "Below.", "", ""}};
    const std::string words = words_for(input);
    const auto count = [&](const std::string& part) {
        int found = 0;
        for (auto at = words.find(part); at != std::string::npos; at = words.find(part, at + 1)) ++found;
        return found;
    };
    CHECK(count("First") == 1);
    CHECK(count("Turned") == 1);
    for (const char* reading : {"16 N·m", "17 N·m", "15 N·m", "3 mm"}) CHECK(count(reading) == 1);
    CHECK(count("still open") == 1);
    CHECK(words.find("Taken back as slips") > words.find("15 N·m"));
    CHECK(words.find("Second") > words.find("Taken back as slips"));
    input.nonconformities = {input.nonconformities[1]};
    CHECK(words_for(input).find("Nothing was found wrong: all readings that failed were slips.") != std::string::npos);
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
