#include "desk/ticks.hpp"

#include <algorithm>

#include "desk/pick_list.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

namespace {

void tick(Bench& bench, const std::string& key, const std::string& text) {
    const auto done = bench.desk().carry_out(StateFacts{bench.job, {{key, text}}});
    REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
}

PickRow row(Bench& bench, const std::string& part) {
    const auto list = pick_list(bench.desk(), bench.job);
    REQUIRE_MESSAGE(list, (list ? "" : told(list.error())));
    const auto found = std::find_if(list->rows.begin(), list->rows.end(), [&](const PickRow& each) { return each.part == part; });
    REQUIRE_MESSAGE(found != list->rows.end(), part);
    return *found;
}

}  // namespace

TEST_CASE("a part is ticked at the store and at the van, and the last word counts") {
    Bench bench{house_facts(tools()), "kit"};
    CHECK_FALSE(row(bench, "pipe-loop").store);
    // Two runs of 0.6 m, a tenth more and half a metre: 1.82 m, to be had as 1.9 m.
    tick(bench, "part.pipe-loop.store", "there");
    auto pipe = row(bench, "pipe-loop");
    REQUIRE(pipe.store);
    CHECK(pipe.store->said == Ticked::There);
    CHECK(pipe.store->counted == "1.9 m");
    CHECK_FALSE(pipe.van);
    CHECK(pipe.in_doubt.empty());

    tick(bench, "part.pipe-loop.van", "missing: lies in the yard");
    pipe = row(bench, "pipe-loop");
    REQUIRE(pipe.van);
    CHECK(pipe.van->said == Ticked::Missing);
    CHECK(pipe.van->words == "lies in the yard");
    CHECK(last_tick(pipe) == &*pipe.van);
    REQUIRE(pipe.in_doubt.size() == 1);
    CHECK(pipe.in_doubt.front().find("missing at the van. lies in the yard.") != std::string::npos);

    // The words were said of the tick before.
    tick(bench, "part.pipe-loop.van", "there");
    pipe = row(bench, "pipe-loop");
    CHECK(pipe.van->words.empty());
    CHECK(pipe.in_doubt.empty());

    tick(bench, "part.pipe-loop.van", "missing");
    tick(bench, "part.pipe-loop.van", "open");
    pipe = row(bench, "pipe-loop");
    CHECK_FALSE(pipe.van);
    CHECK(pipe.in_doubt.empty());
}

TEST_CASE("what was counted is held against what is needed, also when the need grows later") {
    Bench bench{house_facts(tools()), "kit"};
    tick(bench, "part.pipe-loop.store", "there, 1,5");
    auto pipe = row(bench, "pipe-loop");
    CHECK(pipe.store->counted == "1,5 m");
    REQUIRE(pipe.in_doubt.size() == 1);
    CHECK(pipe.in_doubt.front().find("1,5 m counted at the store, 1.9 m needed") != std::string::npos);
    // Just what the sum says before it is rounded up is enough.
    tick(bench, "part.pipe-loop.store", "there, 1820 mm");
    CHECK(row(bench, "pipe-loop").in_doubt.empty());
    tick(bench, "part.pipe-loop.store", "there, 1819 mm");
    CHECK(row(bench, "pipe-loop").in_doubt.size() == 1);
    tick(bench, "part.pipe-loop.store", "there");
    CHECK(row(bench, "pipe-loop").in_doubt.empty());
    // Runs of 3 and 0.6 m: 4.46 m.
    tick(bench, "sys.run_hot_m", "3");
    pipe = row(bench, "pipe-loop");
    REQUIRE(pipe.in_doubt.size() == 1);
    CHECK(pipe.in_doubt.front().find("1.9 m counted at the store, 4.5 m needed") != std::string::npos);
    // One piece is written without its plural and read all the same.
    tick(bench, "part.store.store", "there");
    CHECK(row(bench, "store").store->counted == "1 piece");
    CHECK(row(bench, "store").in_doubt.empty());
}

TEST_CASE("a tick that says nothing is refused and nothing is written") {
    Bench bench{house_facts(tools()), "kit"};
    const auto head = bench.desk().journal().head();
    for (const auto& [key, text] : {std::pair{"part.rope.store", "there"}, {"part.pipe-loop.shed", "there"}, {"part.store", "there"},
                                    {"part.", "there"}, {"part.pipe-loop.store.words", "there"}, {"part.pipe-loop.store", "perhaps"},
                                    {"part.pipe-loop.store", ""}, {"part.pipe-loop.store", "changed"}, {"part.pipe-loop.store", "changed: "},
                                    {"part.pipe-loop.store", "missing, 2 m"}, {"part.pipe-loop.store", "there, 2 kg"},
                                    {"part.pipe-loop.store", "there, -2 m"}, {"part.pipe-loop.store", "there, much"}}) {
        CAPTURE(key);
        CAPTURE(text);
        // Neither alone nor with what would be fine.
        const auto refusal = bench.desk().carry_out(StateFacts{bench.job, {{"part.pipe-loop.van", "there"}, {key, text}}});
        REQUIRE_FALSE(refusal);
        CHECK(refusal.error().kind == ProblemKind::Unreadable);
    }
    CHECK(bench.desk().journal().head() == head);
}

TEST_CASE("ticks are no facts of the house, and their words are locked for the customer") {
    Bench bench{house_facts(tools()), "kit"};
    const auto facts = bench.view().facts.size();
    tick(bench, "part.pipe-loop.van", "missing: Selwick took it along");
    CHECK(bench.view().facts.size() == facts);
    CHECK(row(bench, "pipe-loop").van->words == "Selwick took it along");
    CHECK(testing::files_holding(bench.data(), "Selwick took it along").empty());
    REQUIRE(bench.desk().erase_customer(bench.job));
    const auto pipe = row(bench, "pipe-loop");
    REQUIRE(pipe.van);
    CHECK(pipe.van->said == Ticked::Missing);
    CHECK(pipe.van->words.find("Selwick") == std::string::npos);
}

TEST_CASE("ticks are read again by the next start of the program") {
    Bench bench{house_facts(tools()), "kit"};
    tick(bench, "part.vacuum-break.store", "changed: one of another make");
    const auto before = row(bench, "vacuum-break").store;
    bench.open_again(testing::setup_in(bench.data(), bench.clock, "later"));
    CHECK(row(bench, "vacuum-break").store == before);
    CHECK(before->words == "one of another make");
}

}  // namespace wm::desk
