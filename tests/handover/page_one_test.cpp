#include <doctest/doctest.h>

#include "figures/outcome_mark.hpp"
#include "handover/report_pages.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

std::string words_of(const ReportInput& input) {
    drawing::RecordedCanvas canvas;
    REQUIRE(draw_page_one(canvas, input, 7));
    std::string words;
    for (const auto& text : drawing::texts_of(canvas)) words += text.words + " ";
    return words;
}

}  // namespace

TEST_CASE("page one names outcome, call, care, warranty and fingerprint") {
    const ReportInput input = handover::testing::sample_report(0);
    const std::string words = words_of(input);
    for (const char* part : {"Handed over in full", "000 555 0142", "2027-10-01", "frost check",
                             "until 2029-03-04", "46.4 °C", "must you never do", "14 Dovetail Steps"}) {
        CAPTURE(part);
        CHECK(words.find(part) != std::string::npos);
    }
    CHECK(words.find(input.page_one.fingerprint.substr(0, 4)) != std::string::npos);
}

TEST_CASE(
    "a restricted handover says so in large words and counts what it leaves to a later page") {
    ReportInput input = handover::testing::sample_report(0);
    input.page_one.state = HandoverState::Restricted;
    input.page_one.restrictions = {"The hot taps are not released.", "The timer is not set.", "A",
                                   "B"};
    const std::string words = words_of(input);
    CHECK(words.find("Handed over with a restriction") != std::string::npos);
    CHECK(words.find("The hot taps are not released.") != std::string::npos);
    CHECK(words.find("2 more restrictions on page 7") != std::string::npos);
    CHECK(words.find("ready to use") == std::string::npos);
}

TEST_CASE("what is still open is not called put right") {
    ReportInput input = handover::testing::sample_report(0);
    input.nonconformities.resize(1);
    input.nonconformities[0].done.clear();
    CHECK(words_of(input).find("still open") != std::string::npos);
    input.nonconformities.clear();
    CHECK(words_of(input).find("Nothing was found wrong.") != std::string::npos);
}

TEST_CASE("a safety check that is not done stands on the drawn page, and a slip does not") {
    ReportInput input = handover::testing::sample_report(0);
    input.page_one.unproven = {"Nobody falls"};
    for (auto& item : input.nonconformities) item.withdrawn = true;
    const std::string words = words_of(input);
    CHECK(words.find("Not done yet: Nobody falls.") != std::string::npos);
    CHECK(words.find("Nothing was found wrong.") != std::string::npos);
    CHECK(words.find("Thread cleaned") == std::string::npos);
}

TEST_CASE("the frame of the answer bears the ink of a pass only where every safety check is done") {
    const auto frame_of = [](const ReportInput& input) {
        drawing::RecordedCanvas canvas;
        REQUIRE(draw_page_one(canvas, input, 3));
        for (const auto& drawn : canvas.drawn()) {
            const auto* box = std::get_if<drawing::DrawnBox>(&drawn);
            if (box != nullptr && box->stroke.width_mm > 0.0) return box->stroke.ink;
        }
        return drawing::Ink::Faint;
    };
    ReportInput input = handover::testing::sample_report(0);
    CHECK(frame_of(input) == figures::ink_of(measure::Outcome::Conforms));
    input.page_one.unproven = {"Nobody falls"};
    CHECK(frame_of(input) == figures::ink_of(measure::Outcome::Deferred));
    input.page_one.issue = Issue::Draft;
    CHECK(frame_of(input) == figures::ink_of(measure::Outcome::Open));
}

TEST_CASE("nothing is drawn over the words of page one afterwards") {
    drawing::RecordedCanvas canvas;
    REQUIRE(draw_page_one(canvas, handover::testing::sample_report(0), 3));
    std::vector<drawing::Box> words;
    for (const auto& drawn : canvas.drawn()) {
        if (const auto* text = std::get_if<drawing::DrawnText>(&drawn)) {
            words.push_back(drawing::box_of(*text));
        }
        const auto* box = std::get_if<drawing::DrawnBox>(&drawn);
        if (box == nullptr || box->stroke.width_mm > 0.0) continue;
        for (const auto& word : words) {
            const bool apart = box->box.right() <= word.left || word.right() <= box->box.left ||
                               box->box.bottom() <= word.top || word.bottom() <= box->box.top;
            CHECK(apart);
        }
    }
}
