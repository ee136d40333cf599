#include <doctest/doctest.h>

#include "handover/report.hpp"
#include "handover/report_pages.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

ReportInput supplement() {
    auto input = handover::testing::sample_report(1);
    input.supplement = ReportSupplement{2, "2026-11-25", std::string(64, 'a'), std::string(64, 'b'),
                                        {"Taps again with a hot solar store: conforms"},
                                        {"Store warms on the first clear day, until 2026-12-01"}};
    return input;
}

std::string words_of(const ReportInput& input) {
    handover::testing::RecordedBook book;
    REQUIRE(pour_report(book, input));
    return book.all_words();
}

}  // namespace

TEST_CASE("a supplement names the report it follows, what was read and what is left") {
    const auto words = words_of(supplement());
    for (const auto& part : {std::string{"of 2026-11-25, which stays as it is"}, std::string(64, 'a'), std::string(64, 'b'),
                             std::string{"Taps again with a hot solar store: conforms"},
                             std::string{"Still to be done"}, std::string{"until 2026-12-01"}}) {
        CAPTURE(part);
        CHECK(words.find(part) != std::string::npos);
    }
}

TEST_CASE("what the first report holds is not said again") {
    const auto words = words_of(supplement());
    const auto whole = words_of(handover::testing::sample_report(1));
    for (const char* part : {"The plant and where each check was made", "The house and the job", "Words used here", "Signatures"}) {
        CAPTURE(part);
        CHECK(whole.find(part) != std::string::npos);
        CHECK(words.find(part) == std::string::npos);
    }
    CHECK(whole.find("What this supplement adds") == std::string::npos);
    // Page one is there in both: it says how hot the water may be and how the paper is checked.
    CHECK(words.find("What must you never do?") != std::string::npos);
}
