// The lead's workshop: looking at a changed list, and publishing it.
#include "desk/workshop.hpp"

#include <algorithm>

#include "checklist/loader.hpp"
#include "checklist/rewrite.hpp"
#include "desk/persons_at_desk.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::file_bytes;

namespace {

std::string shipped() { return testing::shipped_texts().at("commissioning.toml"); }

int shipped_version() { return checklist::load_checklist(shipped(), "commissioning.toml").value().version; }

std::string with(const std::string& check, const std::string& key, const std::string& value) {
    return checklist::with_value(shipped(), "commissioning.toml", {check, key}, value).value();
}

/// The facts that the shipped list and a second text are told apart by.
std::string retitled() { return with("nut-marks", "title", "\"A stroke of paint on every nut\""); }

std::string refusal_of(const Result<PublishedView>& done) { return done ? "published" : done.error().what; }

}  // namespace

TEST_CASE("the published text has neither faults nor differences and cannot be published again") {
    Bench bench;
    const auto view = looked_at(bench.desk(), published_text(bench.desk(), "commissioning").value(), Over::NoPast).value();
    CHECK(view.checklist == "commissioning");
    CHECK(view.published == shipped_version());
    CHECK(view.faults.empty());
    CHECK(view.differences.empty());
    CHECK(view.unready == "Nothing is changed.");
    CHECK_FALSE(view.replay);
    CHECK_FALSE(published_text(bench.desk(), "roofing"));
}

TEST_CASE("a fault stands at its check and keeps the text from being published") {
    Bench bench;
    const auto text = with("coll-tilt", "tolerance", "\"reading within 2 bar of sys.tilt_target\"");
    const auto view = looked_at(bench.desk(), text, Over::AllPast).value();
    REQUIRE_FALSE(view.faults.empty());
    CHECK(view.faults.front().check == "coll-tilt");
    CHECK(view.faults.front().line > 100);
    CHECK(std::any_of(view.checks.begin(), view.checks.end(), [](const DraftCheck& check) { return check.id == "coll-tilt" && check.title == "Collector tilt"; }));
    CHECK_FALSE(view.replay);
    CHECK(view.unready.find("in the text") != std::string::npos);
    const auto done = publish(bench.desk(), text, "a trial");
    REQUIRE_FALSE(done);
    CHECK(done.error().where.starts_with("commissioning.toml:"));
    CHECK(done.error().what == view.faults.front().what);
    CHECK_FALSE(std::filesystem::exists(bench.data() / "checklists"));
    // What is no TOML at all is a fault as well, and no crash.
    CHECK_FALSE(looked_at(bench.desk(), "[[check", Over::AllPast).value().faults.empty());
    CHECK(looked_at(bench.desk(), "", Over::AllPast).value().unready != "");
}

TEST_CASE("what the past would have been is shown before anything is published") {
    Bench bench;
    bench.enter("coll-tilt", "36.5°");
    const auto view = looked_at(bench.desk(), with("coll-tilt", "tolerance", "\"reading within 0.6 ° of sys.tilt_target\""), Over::AllPast).value();
    REQUIRE(view.differences.size() == 1);
    CHECK(view.differences.front().decides);
    // The examples of the list hold no more, and say so; the past is judged all the same.
    CHECK_FALSE(view.faults.empty());
    CHECK_FALSE(view.unready.empty());
    REQUIRE(view.replay);
    REQUIRE(view.replay->flips.size() == 1);
    CHECK(view.replay->flips.front().was == "conforms");
    CHECK(view.replay->flips.front().would_be == "does not conform");
    const auto wider = looked_at(bench.desk(), with("coll-tilt", "plausible", "[0, 89]"), Over::AllPast).value();
    REQUIRE_MESSAGE(wider.faults.empty(), wider.faults.front().what);
    REQUIRE(wider.replay);
    CHECK(wider.replay->changed == std::vector<std::string>{"coll-tilt"});
    CHECK(wider.replay->judged_again == 1);
    CHECK(wider.replay->flips.empty());
    for (const auto& check : wider.checks) CHECK(check.differences == (check.id == "coll-tilt" ? 1 : 0));
}

TEST_CASE("a published version is what new jobs are opened with, and open jobs keep theirs") {
    Bench bench;
    const auto before = bench.desk().in_hand(bench.job).value().state().opened->checklist_hash;
    const auto done = publish(bench.desk(), retitled(), "Nobody knew\nwhat a line was.");
    REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
    CHECK(done->version == shipped_version() + 1);
    const auto folder = bench.data() / "checklists";
    CHECK(file_bytes(folder / "earlier" / ("commissioning-v" + std::to_string(shipped_version()) + ".toml")) == shipped());
    const auto list = checklist::load_checklist(file_bytes(folder / "commissioning.toml"), "commissioning.toml").value();
    CHECK(list.version == done->version);
    CHECK(list.date == "2026-11-25");
    CHECK(list.reason == "Nobody knew\nwhat a line was.");
    const auto log = file_bytes(folder / "published.txt");
    CHECK(log.find("commissioning version " + std::to_string(done->version)) != std::string::npos);
    CHECK(log.find(digest::sha256_hex(file_bytes(folder / "commissioning.toml"))) != std::string::npos);
    CHECK(log.ends_with("Nobody knew what a line was.\n"));

    CHECK(bench.check("nut-marks").title == "Paint line on every nut");
    CHECK(bench.desk().in_hand(bench.job).value().state().opened->checklist_hash == before);
    const auto first = bench.job;
    bench.job = bench.desk().carry_out(OpenJob{"commissioning", testing::house_facts(testing::tools()), "facts.toml", "", false}).value();
    CHECK(bench.check("nut-marks").title == "A stroke of paint on every nut");
    CHECK(bench.desk().in_hand(bench.job).value().state().opened->checklist_version == done->version);
    // The next version goes on from there.
    CHECK(refusal_of(publish(bench.desk(), file_bytes(folder / "commissioning.toml"), "again")) == "Nothing is changed.");
    const auto next = publish(bench.desk(), retitled() + "# the end\n" + "", "again");
    CHECK(refusal_of(next) == "Nothing is changed.");
    CHECK(publish(bench.desk(), shipped(), "back to the words of before").value().version == done->version + 1);
    bench.job = first;
    CHECK(bench.check("nut-marks").title == "Paint line on every nut");
}

TEST_CASE("what was published is found by the next start, and a torn file is named by its path") {
    Bench bench;
    REQUIRE(publish(bench.desk(), retitled(), "clearer"));
    auto& disk = bench.desk().journal().disk();
    const auto here = published_here(bench.data(), disk).value();
    CHECK(here.size() == 1);
    CHECK(here.at("commissioning.toml").find("A stroke of paint") != std::string::npos);
    std::ofstream{bench.data() / "checklists/commissioning.toml", std::ios::app} << "[[check";
    const auto torn = published_here(bench.data(), disk);
    REQUIRE_FALSE(torn);
    CHECK(torn.error().where.find((bench.data() / "checklists/commissioning.toml").string()) != std::string::npos);
    CHECK(torn.error().what_to_do.find("earlier") != std::string::npos);
    CHECK(published_here(bench.data() / "nowhere", disk).value().empty());
}

TEST_CASE("nobody publishes without a reason, under a name that is no file's, or as an installer") {
    Bench bench;
    CHECK(refusal_of(publish(bench.desk(), retitled(), " \n")) == "A version needs a reason.");
    const auto renamed = checklist::with_value(retitled(), "c", {"", "name"}, "\"../commissioning\"").value();
    CHECK(refusal_of(publish(bench.desk(), renamed, "why")) != "published");
    const auto shadows = checklist::with_value(retitled(), "c", {"", "name"}, "\"cautions\"").value();
    CHECK(refusal_of(publish(bench.desk(), shadows, "why")) != "published");
    CHECK_FALSE(std::filesystem::exists(bench.data() / "checklists"));

    const testing::Folder folder;
    const testing::Clock clock;
    auto desk = testing::opened_by(folder, clock, store::Person{"Tindo Quellaby", store::Role::Installer}, "a");
    CHECK(refusal_of(publish(desk, retitled(), "why")).find("only a lead may publish") != std::string::npos);
}

}  // namespace wm::desk
