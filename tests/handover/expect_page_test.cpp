#include <doctest/doctest.h>

#include "handover/report_pages.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

Expectation sample_expectation() {
    Expectation expected;
    for (const char* name : {"Jan", "Feb", "Mar"}) expected.months.push_back({name, 90, 160, 420});
    expected.months.push_back({"Apr", 0.0, 0.0, 0.0});
    expected.year = {{"Heat from the sun", "1300 to 2250 kWh a year"}};
    expected.today = {{"Loop carries the heat", "conforms: 11.7 K"}};
    expected.see_for_yourself = {"Look at the meter."};
    expected.assumptions = {{"Hot water", "30 to 60 litres"}};
    expected.left_out = {"Money: the price is not on record."};
    return expected;
}

struct Poured {
    explicit Poured(const ReportInput& input) {
        Flow flow{book, input.paper, {"left", "right", "foot"}};
        pour_expectation(flow, input);
    }
    handover::testing::RecordedBook book;
};

}  // namespace

TEST_CASE("the page of expectations says that it is no promise, and what it leaves out") {
    ReportInput input;
    input.expectation = sample_expectation();
    const Poured poured{input};
    const std::string words = poured.book.all_words();
    for (const char* part : {"no promise", "1300 to 2250 kWh", "Look at the meter.", "11.7 K",
                             "30 to 60 litres", "Left out. Money", "kWh a month"}) {
        CAPTURE(part);
        CHECK(words.find(part) != std::string::npos);
    }
}

TEST_CASE("each month's band lies where its figures are, inside its need") {
    ReportInput input;
    input.expectation = sample_expectation();
    const Poured poured{input};
    std::vector<drawing::Box> needs;
    std::vector<drawing::Box> bands;
    for (const auto& drawn : poured.book.leaves.front()->drawn()) {
        const auto* box = std::get_if<drawing::DrawnBox>(&drawn);
        if (box == nullptr) continue;
        (box->stroke.width_mm > 0.0 ? needs : bands).push_back(box->box);
    }
    // The last of each is the key.
    REQUIRE(needs.size() == 5);
    REQUIRE(bands.size() == 5);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(bands[i].left > needs[i].left);
        CHECK(bands[i].right() < needs[i].right());
        // 90 to 160 of 420.
        CHECK(std::abs(bands[i].height / needs[i].height - 70.0 / 420.0) < 1e-9);
        CHECK(std::abs((needs[i].bottom() - bands[i].bottom()) / needs[i].height - 90.0 / 420.0) < 1e-9);
    }
}

TEST_CASE("a job without anything to expect has no such page") {
    const Poured poured{ReportInput{}};
    CHECK(poured.book.pages() == 0);
}
