// A list on the lead's bench, step by step.
#include "desk/list_draft.hpp"

#include "desk/persons_at_desk.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::file_bytes;
using Deed = DraftStep::Deed;

namespace {

ListDraftView step(Bench& bench, Deed deed, const std::string& check = "coll-tilt", const std::string& text = "", const std::string& key = "") {
    auto view = carry_out(bench.desk(), DraftStep{"commissioning", check, deed, key, text});
    REQUIRE_MESSAGE(view, (view ? "" : told(view.error())));
    return std::move(*view);
}

std::string value_of(const ListDraftView& view, const std::string& key) {
    for (const auto& field : view.form)
        if (field.key == key) return field.value;
    return "no such field";
}

}  // namespace

TEST_CASE("a draft begins as the published list, with the form and the lines of the check at hand") {
    Bench bench;
    const auto view = step(bench, Deed::Look, "");
    CHECK(view.check == view.about.checks.front().id);
    CHECK(view.about.differences.empty());
    const auto tilt = step(bench, Deed::Look);
    CHECK(value_of(tilt, "title").size() > 3);
    CHECK(value_of(tilt, "tolerance").find("sys.tilt_target") != std::string::npos);
    CHECK(tilt.lines.starts_with("[[check]]"));
    CHECK(tilt.lines.find("id = \"coll-tilt\"") != std::string::npos);
    // Looking writes nothing.
    CHECK_FALSE(std::filesystem::exists(bench.data() / "checklists"));
}

TEST_CASE("each change of the form is a change of the text, kept at once, and undone by starting anew") {
    Bench bench;
    auto view = step(bench, Deed::Value, "nut-marks", "A stroke of paint \"everywhere\"", "title");
    CHECK(value_of(view, "title") == "A stroke of paint \"everywhere\"");
    CHECK(view.about.differences.size() == 1);
    CHECK(view.about.unready.empty());
    view = step(bench, Deed::Value, "nut-marks", "yes", "hold");
    CHECK(value_of(view, "hold") == "yes");
    CHECK(view.lines.find("hold = true") != std::string::npos);
    // As after a start anew of the program: the draft is taken up where it was left.
    view = step(bench, Deed::Look, "nut-marks");
    CHECK(view.about.differences.size() == 2);
    view = step(bench, Deed::Anew, "nut-marks");
    CHECK(view.about.differences.empty());
    CHECK(value_of(view, "title") == "Paint line on every nut");
    CHECK(file_bytes(bench.data() / "checklists/draft/commissioning-before.toml").find("everywhere") != std::string::npos);
}

TEST_CASE("lines that are half written are kept, told as a fault, and put right again") {
    Bench bench;
    const auto good = step(bench, Deed::Look, "nut-marks").lines;
    const auto cut = good.substr(0, good.find("question = ") + 20);
    auto view = step(bench, Deed::Lines, "nut-marks", cut);
    CHECK_FALSE(view.about.faults.empty());
    CHECK(view.about.faults.front().is_error);
    CHECK(view.lines == cut + "\n");
    CHECK(view.check == "nut-marks");
    CHECK_FALSE(carry_out(bench.desk(), DraftStep{"commissioning", "nut-marks", Deed::Publish, "", "why"}));
    view = step(bench, Deed::Lines, "nut-marks", good);
    CHECK(view.about.faults.empty());
    CHECK(view.about.unready == "Nothing is changed.");
}

TEST_CASE("a draft is published with its reason, and the next begins from there") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    static_cast<void>(step(bench, Deed::Value, "nut-marks", "A stroke of paint", "title"));
    const auto past = step(bench, Deed::Past, "nut-marks");
    REQUIRE(past.about.replay);
    CHECK(past.about.replay->results == 1);
    CHECK(past.about.replay->flips.empty());
    const auto done = step(bench, Deed::Publish, "nut-marks", "Clearer words.");
    CHECK(done.said.starts_with("Published as version "));
    CHECK(done.about.differences.empty());
    CHECK(value_of(done, "title") == "A stroke of paint");
    CHECK_FALSE(std::filesystem::exists(bench.data() / "checklists/draft/commissioning.toml"));
}

TEST_CASE("a list nobody knows, a value that reaches too far and an installer are refused") {
    Bench bench;
    CHECK_FALSE(carry_out(bench.desk(), DraftStep{"roofing", "", Deed::Look, "", ""}));
    CHECK_FALSE(carry_out(bench.desk(), DraftStep{"../commissioning", "", Deed::Value, "title", "x"}));
    CHECK_FALSE(carry_out(bench.desk(), DraftStep{"commissioning", "no-such-check", Deed::Value, "title", "x"}));
    CHECK_FALSE(carry_out(bench.desk(), DraftStep{"commissioning", "no-such-check", Deed::Lines, "", "x"}));
    const testing::Folder folder;
    const testing::Clock clock;
    auto desk = testing::opened_by(folder, clock, store::Person{"Tindo Quellaby", store::Role::Installer}, "a");
    CHECK(carry_out(desk, DraftStep{"commissioning", "", Deed::Look, "", ""}).error().where == "access");
}

}  // namespace wm::desk
