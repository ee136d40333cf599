#include "desk/owner.hpp"

#include "desk/testing.hpp"
#include "desk/week.hpp"

namespace wm::desk {

using testing::Bench;
using testing::files_holding;
using testing::house_facts;
using testing::tools;

namespace {

constexpr const char* week = "2026-W48";

void put_off(Bench& bench, const std::string& owner, const std::string& check = "day-after") {
    const auto done = bench.desk().carry_out(DeferCheck{bench.job, check, "2026-12-01", owner, "Ask for the key of the attic."});
    REQUIRE_MESSAGE(done, (done ? "" : done.error().what));
}

/// As programs before locked it: under the key of the customer, whoever it is.
void put_off_as_before(Bench& bench, const std::string& owner) {
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    record::Deferred deferred;
    deferred.check = "day-after";
    deferred.until = "2026-12-01";
    deferred.owner = record::Personal::said(owner);
    deferred.why = record::Personal::said("Ask for the key of the attic.");
    REQUIRE(bench.desk().journal().append({.wall_ms = bench.clock().wall_ms, .customer = hand->state().opened->customer,
                                           .drafts = {{bench.job, deferred}}}));
    const auto setup = bench.desk().setup();
    bench.open_again(setup);
}

std::vector<std::string> owners(Bench& bench) {
    const auto view = week_view(bench.desk(), week, {});
    REQUIRE(view);
    std::vector<std::string> all;
    for (const auto& row : view->open) all.push_back(row.owner);
    return all;
}

}  // namespace

TEST_CASE("who of the crew sees to what was put off stays in the week when the customer is erased") {
    for (const std::string owner : {"Tindo Quellaby", "Ode Brannick", "office"}) {
        CAPTURE(owner);
        Bench bench;
        put_off(bench, owner);
        CHECK(owners(bench) == std::vector{owner});
        const auto before = bench.desk().journal().head().seq;
        REQUIRE(bench.desk().erase_customer(bench.job));
        CHECK(bench.desk().journal().head().seq == before + 1);  // it lay with the house from the first
        CHECK(owners(bench) == std::vector{owner});
        CHECK(bench.check("day-after").deferral->owner == owner);
        CHECK(bench.check("day-after").deferral->why == "(erased)");
        CHECK(bench.desk().due()->front().owner == owner);
        CHECK(bench.desk().journal().verify_journal()->is_genuine());
    }
}

TEST_CASE("a customer who sees to it goes with the customer, and so does a name that nobody knows") {
    for (const std::string owner : {"Ansa Velmorrin", "Zephyrine Quolltasker", "Ode"}) {
        CAPTURE(owner);
        Bench bench;
        put_off(bench, owner);
        CHECK(owners(bench) == std::vector{owner});
        REQUIRE(bench.desk().erase_customer(bench.job));
        CHECK(owners(bench) == std::vector<std::string>{"(erased)"});
        CHECK(files_holding(bench.data(), owner == "Ode" ? "Zephyrine" : owner).empty());
    }
    // A customer who bears the name of one of the crew is a customer all the same.
    Bench bench;
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"customer.name", "Tindo Quellaby"}}}));
    put_off(bench, "Tindo Quellaby");
    REQUIRE(bench.desk().erase_customer(bench.job));
    CHECK(owners(bench) == std::vector<std::string>{"(erased)"});
}

TEST_CASE("one of another crew, or with a PIN, is one of ours") {
    Bench bench;
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    CHECK_FALSE(*is_one_of_ours(bench.desk(), hand->state(), "Orla Finch"));
    const std::string facts = "crew.lead = \"Orla Finch\"\n" + house_facts(tools(), "crew.lead");
    REQUIRE(bench.desk().carry_out(OpenJob{"commissioning", facts, "facts.toml", "", false}));
    CHECK(*is_one_of_ours(bench.desk(), hand->state(), "Orla Finch"));
    CHECK_FALSE(*is_one_of_ours(bench.desk(), hand->state(), "Ilka Marrowby"));
    REQUIRE(bench.desk().journal().put_person({"Ilka Marrowby", store::Role::Owner}, "482913", {1, 8}));
    CHECK(*is_one_of_ours(bench.desk(), hand->state(), "Ilka Marrowby"));
    CHECK_FALSE(*is_one_of_ours(bench.desk(), hand->state(), ""));
}

TEST_CASE("an owner of the crew that an older deferral locked with the customer's words is kept before they go, once") {
    Bench bench;
    put_off_as_before(bench, "Ode Brannick");
    const auto before = bench.check("day-after");
    CHECK(owners(bench) == std::vector<std::string>{"Ode Brannick"});
    const auto seq = bench.desk().journal().head().seq;
    for (const bool is_asked_again : {false, true}) {
        if (is_asked_again) REQUIRE(keep_owners(bench.desk(), bench.desk().in_hand(bench.job)->state().opened->customer));
        else REQUIRE(bench.desk().erase_customer(bench.job));
        CHECK(bench.desk().journal().head().seq == seq + 2);  // who it is, and the erasure
    }
    CHECK(owners(bench) == std::vector<std::string>{"Ode Brannick"});
    CHECK(bench.check("day-after").outcome == before.outcome);
    CHECK(bench.desk().journal().verify_journal()->is_genuine());

    Bench other;
    put_off_as_before(other, "Zephyrine Quolltasker");
    REQUIRE(other.desk().erase_customer(other.job));
    CHECK(owners(other) == std::vector<std::string>{"(erased)"});
    CHECK(files_holding(other.data(), "Zephyrine").empty());
}

}  // namespace wm::desk
