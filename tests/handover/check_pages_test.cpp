#include <doctest/doctest.h>

#include "handover/report_pages.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

std::string words_for(ReportCheck check) {
    ReportInput input;
    input.stages = {{"C  Store", {std::move(check)}}};
    handover::testing::RecordedBook book;
    Flow flow{book, PaperSize::A4, {"", "", ""}};
    pour_checks(flow, input);
    return book.all_words();
}

ReportCheck torque() {
    ReportCheck check;
    check.id = "anchor-torque";
    check.title = "Store anchors tightened";
    check.outcome = measure::Outcome::Conforms;
    check.tolerance = "18 to 22 N·m";
    check.rule = "guarded";
    check.hold = true;
    check.severity = "H";
    return check;
}

}  // namespace

TEST_CASE("places read one after the other with one instrument stand in one run") {
    ReportCheck check = torque();
    check.readings = {{"20 N·m", "1", "TW-1", "09:20", "Tindo", measure::Outcome::Conforms, ""},
                      {"21 N·m", "2", "TW-1", "09:22", "Tindo", measure::Outcome::Conforms, ""}};
    const std::string words = words_for(check);
    CHECK(words.find("1: 20 N·m; 2: 21 N·m") != std::string::npos);
    CHECK(words.find("TW-1 · 09:20 to 09:22 · Tindo") != std::string::npos);
}

TEST_CASE("a failed reading keeps its own line and says that it failed") {
    ReportCheck check = torque();
    check.corrected = true;
    check.readings = {
        {"16 N·m", "1", "TW-1", "09:20", "Tindo", measure::Outcome::DoesNotConform, ""},
        {"20 N·m", "1", "TW-1", "09:30", "Tindo", measure::Outcome::Conforms, ""}};
    const std::string words = words_for(check);
    CHECK(words.find("1: 16 N·m (does not conform)") != std::string::npos);
    CHECK(words.find("after correction") != std::string::npos);
}

TEST_CASE("tolerance, rule, hold point and severity stand beside the reading") {
    const std::string words = words_for(torque());
    CHECK(words.find("18 to 22 N·m") != std::string::npos);
    CHECK(words.find("rule: guarded acceptance") != std::string::npos);
    CHECK(words.find("hold point") != std::string::npos);
    CHECK(words.find("could hurt someone") != std::string::npos);
}

TEST_CASE("a check without a reading gives its reason") {
    ReportCheck check = torque();
    check.outcome = measure::Outcome::NotApplicable;
    check.why = "The mount is ballast.";
    CHECK(words_for(check).find("The mount is ballast.") != std::string::npos);
}
