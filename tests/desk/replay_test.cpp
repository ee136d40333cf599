#include "desk/replay.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

std::string shipped(const std::string& file) { return testing::shipped_texts().at(file); }

// The text with one piece replaced; the piece must be there.
std::string with(std::string text, const std::string& piece, const std::string& other) {
    const auto at = text.find(piece);
    REQUIRE(at != std::string::npos);
    return text.replace(at, piece.size(), other);
}

std::string check_block(const std::string& text, const std::string& id) {
    const auto name = text.find("id = \"" + id + "\"");
    REQUIRE(name != std::string::npos);
    const auto from = text.rfind("[[check]]", name);
    const auto to = text.find("[[check]]", name);
    return text.substr(from, to == std::string::npos ? to : to - from);
}

checklist::Item document(const std::string& text) {
    auto read = checklist::read_document(text, "commissioning.toml");
    REQUIRE(read);
    return std::move(*read);
}

std::string narrower_tilt() {
    const auto text = shipped("commissioning.toml");
    const auto block = check_block(text, "coll-tilt");
    const auto line = block.find("tolerance = ");
    REQUIRE(line != std::string::npos);
    const auto end = block.find('\n', line);
    auto changed = block;
    changed.replace(line, end - line, "tolerance = \"reading within 0.6 ° of sys.tilt_target\"");
    // The examples of the old tolerance no longer hold; replaying needs none.
    std::string bare = changed.substr(0, changed.find("[[check.example]]"));
    return with(text, block, bare + "\n");
}

}  // namespace

TEST_CASE("the shipped list over its own readings flips nothing") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    bench.correct("coll-tilt", "35°", "Moved the legs");
    bench.enter("anchor-torque", "20 N·m", "1");
    const auto view = replay(bench.desk(), shipped("commissioning.toml"), "commissioning.toml");
    REQUIRE_MESSAGE(view, (view ? "" : told(view.error())));
    CHECK(view->results == 3);
    CHECK(view->judged_again == 0);
    CHECK(view->changed.empty());
    CHECK(view->flips.empty());
    CHECK(view->share_before == doctest::Approx(1.0 / 3.0));
    CHECK(view->share_after == view->share_before);
}

TEST_CASE("a narrower tolerance flips the reading that it no longer allows, and writes nothing") {
    Bench bench;
    bench.enter("coll-tilt", "36°");
    bench.enter("anchor-torque", "20 N·m", "1");
    const auto head = bench.desk().journal().head();
    const auto view = replay(bench.desk(), narrower_tilt(), "commissioning.toml");
    REQUIRE_MESSAGE(view, (view ? "" : told(view.error())));
    CHECK(view->changed == std::vector<std::string>{"coll-tilt"});
    CHECK(view->results == 2);
    CHECK(view->judged_again == 1);
    REQUIRE(view->flips.size() == 1);
    CHECK(view->flips[0].job == bench.job);
    CHECK(view->flips[0].check == "coll-tilt");
    CHECK(view->flips[0].was == "conforms");
    CHECK(view->flips[0].would_be == "does not conform");
    CHECK_FALSE(view->flips[0].why.empty());
    CHECK(view->share_before == 0.0);
    CHECK(view->share_after == 0.5);
    // Of the check that changed one of one, whatever the list holds beside it.
    CHECK(view->after.failed == 1);
    CHECK(view->after.results == 2);
    REQUIRE(view->by_check.size() == 1);
    CHECK(view->by_check[0].check == "coll-tilt");
    CHECK(view->by_check[0].before.failed == 0);
    CHECK(view->by_check[0].before.results == 1);
    CHECK(view->by_check[0].after.failed == 1);
    CHECK(view->by_check[0].after.results == 1);
    // statsmodels 0.13.5 proportion_confint(0, 1, method="wilson"): 0 to 0.7934506856; 1 of 1 is its mirror.
    CHECK(view->by_check[0].before.high == doctest::Approx(0.7934506856));
    CHECK(view->by_check[0].after.low == doctest::Approx(1.0 - 0.7934506856));
    CHECK(bench.desk().journal().head() == head);
}

TEST_CASE("over kept readings the same flips come out, with their entries, as over a journal folded anew") {
    Bench bench;
    std::vector<std::string> entries;
    for (int i = 0; i < 20; ++i) {
        const auto job = bench.desk().carry_out(OpenJob{"commissioning", testing::house_facts(testing::tools()), "f", "", i == 19});
        REQUIRE(job);
        auto reading = bench.reading("coll-tilt", i % 4 == 0 ? "36°" : "35.1°");
        reading.job = *job;
        const auto answer = bench.take(reading);
        if (i % 4 == 0) entries.push_back(answer.entry);
    }
    const auto anew = replay(bench.desk(), narrower_tilt(), "commissioning.toml");
    REQUIRE_MESSAGE(anew, (anew ? "" : told(anew.error())));
    const auto look = past_readings(bench.desk());
    REQUIRE(look);
    REQUIRE(look->made_anew == 0);
    const auto kept = replay(bench.desk(), narrower_tilt(), "commissioning.toml");
    REQUIRE(kept);
    for (const auto* view : {&*anew, &*kept}) {
        CHECK(view->results == 19);  // the practice job is left out
        CHECK(view->judged_again == 19);
        CHECK(view->share_after == doctest::Approx(5.0 / 19.0));
        REQUIRE(view->by_check.size() == 1);
        CHECK(view->by_check[0].after.failed == 5);
        CHECK(view->by_check[0].after.results == 19);
        REQUIRE(view->flips.size() == 5);
        for (std::size_t i = 0; i < 5; ++i) CHECK(view->flips[i].entry == entries[i]);
    }
}

TEST_CASE("each house is judged by its own facts, and one without the fact by none of its neighbour's") {
    Bench bench;
    const auto facts = testing::house_facts(testing::tools());
    const std::string target = "sys.tilt_target = 35";
    REQUIRE(facts.find(target) != std::string::npos);
    struct House {
        const char* stated;
        const char* read;
        const char* would_be;  ///< "" = as it was
    };
    for (const House& house : {House{"sys.tilt_target = 35", "36°", "does not conform"}, House{"sys.tilt_target = 36", "36°", ""},
                               House{"", "36°", ""}, House{"sys.tilt_target = 36", "35.2°", "does not conform"}, House{"sys.tilt_target = 35", "35.2°", ""}}) {
        const auto job = bench.desk().carry_out(OpenJob{"commissioning", with(facts, target, house.stated), "f", "", false});
        REQUIRE_MESSAGE(job, (job ? "" : told(job.error())));
        auto reading = bench.reading("coll-tilt", house.read);
        reading.job = *job;
        bench.take(reading);
    }
    const auto view = replay(bench.desk(), narrower_tilt(), "commissioning.toml");
    REQUIRE_MESSAGE(view, (view ? "" : told(view.error())));
    CHECK(view->judged_again == 5);
    REQUIRE(view->flips.size() == 2);
    const auto rows = bench.desk().job_rows();
    REQUIRE(rows);
    CHECK(view->flips[0].job == (*rows)[1].job);
    CHECK(view->flips[1].job == (*rows)[4].job);
    for (const auto& flip : view->flips) CHECK(flip.would_be == "does not conform");
}

TEST_CASE("a check that asks for another check is judged in its whole job") {
    const auto text = shipped("commissioning.toml");
    const auto block = check_block(text, "coll-tilt");
    const auto line = block.find("tolerance = ");
    auto changed = block;
    changed.replace(line, block.find('\n', line) - line,
                    "tolerance = \"reading within 5 ° of sys.tilt_target and outcome('fall-protection') is 'conforms'\"");
    const auto asking = with(text, block, changed.substr(0, changed.find("[[check.example]]")) + "\n");
    for (const auto& [answer, flips] : {std::pair{"yes", 0U}, std::pair{"no", 1U}}) {
        CAPTURE(answer);
        Bench bench;
        bench.enter("coll-tilt", "36°");
        bench.enter("fall-protection", answer);
        const auto view = replay(bench.desk(), asking, "commissioning.toml");
        REQUIRE_MESSAGE(view, (view ? "" : told(view.error())));
        CHECK(view->judged_again == 1);
        REQUIRE(view->flips.size() == flips);
        if (flips > 0) CHECK(view->flips[0].would_be == "does not conform");
    }
}

TEST_CASE("another wording is no change, another tolerance is one, another setting changes all") {
    const auto text = shipped("commissioning.toml");
    const auto before = document(text);
    const auto block = check_block(text, "coll-tilt");
    const auto title = block.find("title = \"");
    REQUIRE(title != std::string::npos);
    auto reworded = block;
    reworded.insert(title + 9, "Still: ");
    CHECK(changed_checks(before, document(with(text, block, reworded))).empty());
    CHECK(changed_checks(before, document(narrower_tilt())) == std::vector<std::string>{"coll-tilt"});
    CHECK(changed_checks(before, document(with(text, block, ""))).empty());
    // A new version with its reason is what every change brings along.
    CHECK(changed_checks(before, document(with(text, "\nversion = ", "\nversion = 9"))).empty());
    const auto all = changed_checks(before, document("replayed_setting = 1\n" + text));
    CHECK(all.size() == before.find("check")->items.size());
}

TEST_CASE("what is no checklist is refused with its place") {
    Bench bench;
    const auto view = replay(bench.desk(), "name = \"commissioning\"\n[[check]]\nid = 3\n", "mine.toml");
    REQUIRE_FALSE(view);
    CHECK(view.error().where.find("mine.toml") != std::string::npos);
}

}  // namespace wm::desk
