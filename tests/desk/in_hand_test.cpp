#include "desk/in_hand.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

TEST_CASE("facts and instruments are read again from the texts of the journal") {
    Bench bench;
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    CHECK(hand->facts().number("site.t_min_c").has_value());
    CHECK(hand->facts().word("customer.name") == "Ansa Velmorrin");
    CHECK(hand->facts().yes("customer.vulnerable") == false);
    REQUIRE(instrument_named(*hand, "TW-1") != nullptr);
    CHECK(instrument_named(*hand, "TW-1")->preuse == checklist::PreUse::Passed);
    CHECK(instrument_named(*hand, "TW-2") == nullptr);
    CHECK(hand->today == "2026-11-25");
}

TEST_CASE("the only instrument of a type is taken, of two one must be named") {
    Bench one;
    const auto hand = one.desk().in_hand(one.job);
    CHECK(instrument_for(*hand, "torque wrench", "")->card.id == "TW-1");
    CHECK_FALSE(instrument_for(*hand, "pull tester", ""));
    CHECK_FALSE(instrument_for(*hand, "torque wrench", "TW-2"));

    Bench two{house_facts(tools({{"TW-1", "torque wrench", "0.1 N·m", "0.5 N·m"}, {"TW-2", "torque wrench", "0.1 N·m", "0.4 N·m"}}))};
    const auto both = two.desk().in_hand(two.job);
    CHECK_FALSE(instrument_for(*both, "torque wrench", ""));
    CHECK(instrument_for(*both, "torque wrench", "TW-2")->card.id == "TW-2");
    const auto unnamed = two.enter("anchor-torque", "20 N·m", "1");
    CHECK(two.check("anchor-torque").readings[0].instrument.empty());
    CHECK(two.check("instruments-due").outcome == Outcome::DoesNotConform);
}

TEST_CASE("a check that does not apply here says why, and what was read of it does not count") {
    Bench bench;
    const auto check = bench.check("anchor-pull");
    CHECK(check.outcome == Outcome::NotApplicable);
    CHECK(check.why.find("Does not apply") == 0);
    CHECK_FALSE(check.applies);
}

TEST_CASE("a missing fact keeps a check open and is named") {
    Bench bench{house_facts(tools(), "sys.anchor_nm")};
    const auto check = bench.check("anchor-torque");
    CHECK(check.outcome == Outcome::Open);
    CHECK(check.missing_facts == std::vector<std::string>{"sys.anchor_nm"});
    const auto answer = bench.enter("anchor-torque", "20 N·m", "1");
    CHECK(answer.place_outcome == Outcome::Open);
    CHECK_FALSE(answer.no_evidence);
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"sys.anchor_nm", "20"}}}));
    CHECK(bench.check("anchor-torque").missing_facts.empty());
    CHECK(bench.check("anchor-torque").places[0].outcome == Outcome::Conforms);
}

TEST_CASE("a check waits for the hold points before it") {
    Bench bench;
    CHECK(bench.check("water-off").waits_for == std::vector<std::string>{"power-locked"});
    bench.enter("power-locked", "0 V");
    CHECK(bench.check("water-off").waits_for.empty());
}

TEST_CASE("standings leave signatures and the list of open items out") {
    Bench bench;
    const auto hand = bench.desk().in_hand(bench.job);
    Assessment assessment{*hand};
    for (const auto& row : assessment.standings()) {
        CAPTURE(row.id);
        CHECK(row.id != "open-items");
        CHECK(row.id != "sign-crew");
    }
}

TEST_CASE("a job of which an entry cannot be read is neither signed nor handed over") {
    JobInHand job;
    record::JobState state;
    state.number = "J-1";
    job.folded = std::make_shared<const record::JobState>(std::move(state));
    CHECK(is_whole(job));
    job.damaged = {"Entry 7 of device ab12 is not what was written."};
    const auto refusal = is_whole(job);
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().kind == ProblemKind::Refused);
    CHECK(refusal.error().what.find("Entry 7") != std::string::npos);
}

}  // namespace wm::desk
