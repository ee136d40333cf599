#include "desk/desk.hpp"

#include "desk/attest.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

TEST_CASE("a second desk on the same folder may read but not write") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    const auto second = Desk::open(testing::setup_in(bench.data(), bench.clock, "second"));
    REQUIRE_FALSE(second);
    CHECK(second.error().kind == ProblemKind::NotStored);
    CHECK_FALSE(second.error().what_to_do.empty());

    auto setup = testing::setup_in(bench.data(), bench.clock, "second");
    setup.access = Access::Read;
    auto reader = Desk::open(std::move(setup));
    REQUIRE_MESSAGE(reader, (reader ? "" : told(reader.error())));
    const auto view = reader->job_view(bench.job);
    REQUIRE(view);
    CHECK(view->row.job == bench.job);
    CHECK_FALSE(reader->carry_out(bench.reading("coll-tilt", "36°")));
    CHECK(reader->job_view(bench.job)->head == bench.view().head);
    bench.enter("coll-tilt", "35.5°");
}

TEST_CASE("a job that is not there is said to be none") {
    Bench bench;
    const auto nothing = bench.desk().job_view("J-NONE-0001");
    REQUIRE_FALSE(nothing);
    CHECK(nothing.error() == Problem{"There is no job \"J-NONE-0001\".", "the journal",
                                     "Look for its number in the list of jobs (witnessmark job list).", ProblemKind::Unreadable});
}

TEST_CASE("each intent lands in the journal, which verifies after every one of them") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    bench.correct("coll-tilt", "35°", "Moved the legs");
    REQUIRE(bench.desk().carry_out(UndoLast{bench.job}));
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"site.t_min_c", "-15"}}}));
    const auto journal = attest_journal(bench.desk());
    REQUIRE(journal);
    CHECK(journal->genuine);
    CHECK(journal->reasons.empty());
}

TEST_CASE("all jobs are listed with their place, crew and state") {
    Bench bench;
    const auto second = bench.desk().carry_out(OpenJob{"kit", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(second);
    CHECK(*second != bench.job);
    const auto rows = bench.desk().job_rows();
    REQUIRE(rows);
    REQUIRE(rows->size() == 2);
    CHECK(rows->front().place == "Dovetail Steps");
    CHECK(rows->front().crew == "Tindo Quellaby");
    CHECK(rows->front().customer == "Ansa Velmorrin");
    CHECK(rows->front().state == "open");
    CHECK(bench.desk().all_states()->size() == 2);
}

TEST_CASE("erasing a customer deletes the words and leaves readings and chain") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    bench.enter("goods-scan", "ST-1 as on the list");
    REQUIRE(bench.desk().erase_customer(bench.job));
    const auto view = bench.view();
    CHECK(view.row.customer == "(erased)");
    CHECK(bench.check("goods-scan").readings.front().text == "(erased)");
    CHECK(bench.check("coll-tilt").readings.front().text == "41°");
    CHECK(bench.check("coll-tilt").outcome == Outcome::DoesNotConform);
    CHECK(attest_journal(bench.desk())->genuine);
}

}  // namespace wm::desk
