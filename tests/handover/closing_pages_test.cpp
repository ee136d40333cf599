#include <doctest/doctest.h>

#include "handover/report_pages.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

struct Poured {
    handover::testing::RecordedBook book;
    std::string words;
};

std::unique_ptr<Poured> poured(const ReportInput& input) {
    auto result = std::make_unique<Poured>();
    Flow flow{result->book, PaperSize::A4, {"", "", ""}};
    pour_photos(flow, result->book, input);
    pour_instruments(flow, input);
    pour_signatures(flow, input);
    pour_record(flow, input);
    result->words = result->book.all_words();
    return result;
}

}  // namespace

TEST_CASE("a photo keeps its proportions and its caption") {
    const auto result = poured(handover::testing::sample_report(3));
    REQUIRE(result->book.pictures.size() == 3);
    CHECK(result->book.pictures[0].width / result->book.pictures[0].height ==
          doctest::Approx(4.0 / 3.0).epsilon(0.01));
    CHECK(result->book.pictures[2].width / result->book.pictures[2].height ==
          doctest::Approx(3.0 / 4.0).epsilon(0.01));
    CHECK(result->words.find("Bracket 3 on its rafter") != std::string::npos);
}

TEST_CASE("a customer who does not sign is shown with the reason") {
    ReportInput input;
    input.signatures = {{"customer", "Maribel Ostrander", "", {}, "wants to read it first", ""}};
    CHECK(poured(input)->words.find("not signed: wants to read it first") != std::string::npos);
}

TEST_CASE("a drawn signature is never called more than it is, and the seal is told apart") {
    const auto words = poured(handover::testing::sample_report(0))->words;
    CHECK(words.find("simple electronic signature") != std::string::npos);
    CHECK(words.find("The seal of this file is another thing") != std::string::npos);
    CHECK(words.find("The gutter bracket") != std::string::npos);
}

TEST_CASE("a signature of one dot or of one point twice is drawn without harm") {
    ReportInput input;
    input.signatures = {{"crew", "X", "", {{{5, 5}}}, "", ""},
                        {"customer", "Y", "", {{{5, 5}, {5, 5}}}, "", ""}};
    CHECK(poured(input)->words.find("not signed") == std::string::npos);
}
