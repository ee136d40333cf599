// The lead's workshop on the glass.
#include "screens/workshop_sheet.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;
using Deed = desk::DraftStep::Deed;

namespace {

const std::string at = "settings/register/workshop/";

struct Bench {
    Glass glass{1280.0F, 1400.0F, {}};

    Bench() {
        glass.drafts.screen = Screen::Settings;
        glass.drafts.registers.shown = desk::Register::Checklists;
        glass.world.registers = std::pair{desk::Register::Checklists,
                                          desk::RegisterTable{{"checklist", "title"}, {{{"commissioning", "Commissioning"}, {"version 5: first"}}}}};
    }
    void comes(desk::ListDraftView view) {
        glass.world.list_draft = std::move(view);
        ++glass.world.list_draft_looks;
        static_cast<void>(glass.frame());
    }
    std::vector<desk::DraftStep> steps() const {
        std::vector<desk::DraftStep> all;
        for (const Request& request : glass.all)
            if (const auto* step = std::get_if<desk::DraftStep>(&request)) all.push_back(*step);
        return all;
    }
};

/// On the bench, with the shipped list changed as in testing::list_draft.
struct Begun : Bench {
    Begun() {
        REQUIRE(glass.press("settings/register/rows/commissioning"));
        REQUIRE(glass.press("settings/register/rows/workshop"));
        REQUIRE(steps().size() == 1);
        CHECK(steps().front().deed == Deed::Look);
        CHECK(glass.says("The list is being read."));
        comes(testing::list_draft());
    }
};


}  // namespace

TEST_CASE("a list is taken to the bench from its register, with fault, form and text side by side") {
    Begun bench;
    auto& glass = bench.glass;
    CHECK(glass.says("This example comes out as"));
    CHECK(glass.shows(at + "form/fields/title"));
    CHECK(glass.shows(at + "lines"));
    CHECK(glass.spot(at + "checks/rows/coll-tilt").small == "1 fault, 2 changed");
    REQUIRE(glass.press(at + "back"));
    CHECK(glass.shows("settings/register/rows/commissioning"));
}

TEST_CASE("what is typed is set by its key, by Enter, and before anything else is asked for") {
    Begun bench;
    auto& glass = bench.glass;
    auto& draft = glass.drafts.registers.workshop;
    draft.typed["title"] = "Tilt";
    REQUIRE(glass.press(at + "form/fields/set title"));
    REQUIRE(bench.steps().size() == 2);
    CHECK(bench.steps().back().deed == Deed::Value);
    CHECK(bench.steps().back().key == "title");
    CHECK(bench.steps().back().text == "Tilt");
    draft.typed["tolerance"] = "reading within 2 ° of sys.tilt_target";
    REQUIRE(glass.press(at + "checks/rows/nut-marks"));
    REQUIRE(bench.steps().size() == 4);
    CHECK(bench.steps()[2].key == "tolerance");
    CHECK(bench.steps()[2].check == "coll-tilt");
    CHECK(bench.steps()[3].deed == Deed::Look);
    CHECK(bench.steps()[3].check == "nut-marks");
    draft.lines += "# a word";
    REQUIRE(glass.press(at + "set lines"));
    CHECK(bench.steps().back().deed == Deed::Lines);
    CHECK(bench.steps().back().text.ends_with("# a word"));
}

TEST_CASE("an answer does not take away what is being typed meanwhile") {
    Begun bench;
    auto& draft = bench.glass.drafts.registers.workshop;
    draft.typed["question"] = "At what angle?";
    auto view = testing::list_draft();
    view.form[0].value = "Another title";
    bench.comes(view);
    CHECK(draft.typed["title"] == "Another title");
    CHECK(draft.typed["question"] == "At what angle?");
    view.check = "nut-marks";
    bench.comes(view);
    CHECK(draft.typed["question"] == view.form[1].value);
}

TEST_CASE("choices of the form are set at a touch, the one that stands is not asked for again") {
    Begun bench;
    REQUIRE(bench.glass.press(at + "form/fields/severity/D"));
    CHECK(bench.steps().back().key == "severity");
    CHECK(bench.steps().back().text == "D");
    const auto before = bench.steps().size();
    REQUIRE(bench.glass.press(at + "form/fields/severity/P"));
    REQUIRE(bench.glass.press(at + "form/fields/hold/no"));
    CHECK(bench.steps().size() == before);
}

TEST_CASE("nothing is published with an error or without a reason") {
    Begun bench;
    auto& glass = bench.glass;
    glass.drafts.registers.workshop.why = "Narrower, after three complaints.";
    static_cast<void>(glass.frame());
    CHECK_FALSE(glass.spot(at + "publish").enabled);
    auto view = testing::list_draft();
    view.about.faults.clear();
    view.about.unready.clear();
    bench.comes(view);
    REQUIRE(glass.press(at + "publish"));
    CHECK(bench.steps().back().deed == Deed::Publish);
    CHECK(bench.steps().back().text == "Narrower, after three complaints.");
    static_cast<void>(glass.frame());
    CHECK_FALSE(glass.spot(at + "publish").enabled);
}

TEST_CASE("the past is asked on its page, and starting anew takes a second touch") {
    Begun bench;
    auto& glass = bench.glass;
    REQUIRE(glass.press(at + "page/past"));
    REQUIRE(glass.press(at + "past"));
    CHECK(bench.steps().back().deed == Deed::Past);
    CHECK(glass.says("1 of 7712 readings would come out otherwise."));
    REQUIRE(glass.press(at + "page/changes"));
    static_cast<void>(glass.frame());
    CHECK(glass.spot(at + "changes/all/difference 1").words.find("(Words only.)") != std::string::npos);
    const auto before = bench.steps().size();
    REQUIRE(glass.press(at + "anew"));
    CHECK(bench.steps().size() == before);
    REQUIRE(glass.press(at + "anew"));
    CHECK(bench.steps().back().deed == Deed::Anew);
}

TEST_CASE("the reason of a publication that was refused is there again, that of one that went through is not") {
    Begun bench;
    auto& glass = bench.glass;
    auto& draft = glass.drafts.registers.workshop;
    auto view = testing::list_draft();
    view.about.faults.clear();
    view.about.unready.clear();
    bench.comes(view);
    draft.why = "Narrower.";
    REQUIRE(glass.press(at + "publish"));
    CHECK(draft.why.empty());
    ++glass.world.answered;
    static_cast<void>(glass.frame());
    CHECK(draft.why == "Narrower.");
    REQUIRE(glass.press(at + "publish"));
    view.about.published = 6;
    ++glass.world.answered;
    bench.comes(view);
    CHECK(draft.why.empty());
}
