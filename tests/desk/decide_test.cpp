#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

DeferCheck taps_until(const Bench& bench, const std::string& day, const std::string& owner = "Ode Brannick") {
    return {bench.job, "outlet-temp", day, owner, "the heater is not hot yet"};
}

Problem refusal_of(const Result<void>& result) {
    REQUIRE_FALSE(result);
    return result.error();
}

}  // namespace

TEST_CASE("a check is deferred with a day and a person") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(taps_until(bench, "2026-11-26")));
    const auto check = bench.check("outlet-temp");
    CHECK(check.outcome == Outcome::Deferred);
    REQUIRE(check.deferral);
    CHECK(check.deferral->owner == "Ode Brannick");
    CHECK_FALSE(check.blocking);
    CHECK(bench.view().restrictions == std::vector<std::string>{"outlet-temp"});
}

TEST_CASE("a deferral without an owner is kept and blocks") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(taps_until(bench, "2026-11-26", "")));
    CHECK(bench.check("outlet-temp").outcome == Outcome::Deferred);
    CHECK(bench.blocks("outlet-temp"));
}

TEST_CASE("a deferral is refused when it is too far away, past, no date, or not allowed") {
    Bench bench;
    CHECK(refusal_of(bench.desk().carry_out(taps_until(bench, "2026-11-28"))).what ==
          "2026-11-28 is 3 days away; at most 1 are allowed for this check.");
    CHECK(refusal_of(bench.desk().carry_out(taps_until(bench, "2026-11-24"))).what == "2026-11-24 is in the past.");
    CHECK(refusal_of(bench.desk().carry_out(taps_until(bench, "tomorrow"))).kind == ProblemKind::Unreadable);
    CHECK(refusal_of(bench.desk().carry_out(DeferCheck{bench.job, "anchor-torque", "2026-11-26", "Ode", "rain"})).kind ==
          ProblemKind::Refused);
    CHECK(bench.check("outlet-temp").outcome == Outcome::Open);
}

TEST_CASE("a reading after a deferral counts instead of it") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(taps_until(bench, "2026-11-26")));
    for (const char* place : {"1", "2"}) bench.enter("outlet-temp", "46 °C", place);
    CHECK(bench.check("outlet-temp").outcome == Outcome::Conforms);
    CHECK(bench.view().restrictions.empty());
}

TEST_CASE("a concession is never given for what can hurt someone") {
    Bench bench;
    bench.enter("anchor-torque", "15 N·m", "1");
    const auto refusal = refusal_of(bench.desk().carry_out(ConcedeCheck{bench.job, "anchor-torque", "Odrun Vassamy", "fine"}));
    CHECK(refusal.kind == ProblemKind::Refused);
    CHECK(refusal.what == "A concession is never given for what can hurt someone.");
    CHECK(bench.blocks("anchor-torque"));
}

TEST_CASE("a concession wants a failed reading, a person and a reason") {
    Bench bench;
    CHECK(refusal_of(bench.desk().carry_out(ConcedeCheck{bench.job, "coll-tilt", "Odrun Vassamy", "fine"})).kind ==
          ProblemKind::Refused);
    bench.enter("coll-tilt", "39.5°");
    CHECK(refusal_of(bench.desk().carry_out(ConcedeCheck{bench.job, "coll-tilt", "", "fine"})).kind == ProblemKind::WrongUse);
    CHECK(refusal_of(bench.desk().carry_out(ConcedeCheck{bench.job, "coll-tilt", "Odrun Vassamy", ""})).kind ==
          ProblemKind::WrongUse);
    CHECK(bench.blocks("coll-tilt"));
    REQUIRE(bench.desk().carry_out(ConcedeCheck{bench.job, "coll-tilt", "Odrun Vassamy", "The rafters allow no more"}));
    CHECK_FALSE(bench.blocks("coll-tilt"));
    CHECK(bench.check("coll-tilt").concession == "The rafters allow no more (Odrun Vassamy)");
}

TEST_CASE("undo brings the earlier state back and keeps the entry on record") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    bench.enter("coll-tilt", "41°");
    const auto undone = bench.desk().carry_out(UndoLast{bench.job});
    REQUIRE(undone);
    CHECK(undone->words == "the reading of " + bench.check("coll-tilt").title);
    CHECK(undone->check == "coll-tilt");
    const auto check = bench.check("coll-tilt");
    CHECK(check.outcome == Outcome::Conforms);
    CHECK_FALSE(check.failed_once);
    REQUIRE(check.readings.size() == 2);
    CHECK(check.readings[1].undone);
    CHECK_FALSE(bench.blocks("coll-tilt"));
    REQUIRE(bench.desk().carry_out(UndoLast{bench.job}));
    CHECK(bench.check("coll-tilt").outcome == Outcome::Open);
    const auto empty = bench.desk().carry_out(UndoLast{bench.job});
    REQUIRE_FALSE(empty);
    CHECK(empty.error().what == "There is nothing to undo.");
}

TEST_CASE("an undone deferral no longer counts") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(taps_until(bench, "2026-11-26")));
    const auto undone = bench.desk().carry_out(UndoLast{bench.job});
    CHECK(undone->words == "the deferral of " + bench.desk().library().checklist_named("commissioning")->find(checklist::CheckId{"outlet-temp"})->title);
    CHECK(undone->check == "outlet-temp");
    CHECK(bench.check("outlet-temp").outcome == Outcome::Open);
}

TEST_CASE("without two readings against each other there is nothing to decide") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    CHECK(refusal_of(bench.desk().carry_out(ResolveConflict{bench.job, "coll-tilt", "", "0123456789"})).what ==
          "No two readings stand against each other here.");
}

namespace {

store::Foreign everything_of(store::Journal& journal) {
    const auto all = journal.read_all();
    REQUIRE(all);
    store::Foreign foreign;
    foreign.entries = all->entries;
    foreign.heads = *journal.signed_heads();
    foreign.words = *journal.words_of(all->entries);
    foreign.files = *journal.files_of(all->entries);
    foreign.customer_keys = journal.keys().customers();
    return foreign;
}

}  // namespace

TEST_CASE("two devices that had not seen each other make a conflict, and a person decides") {
    testing::Folder one;
    testing::Folder two;
    testing::Clock clock;
    const auto desk_in = [&](const testing::fs::path& folder, const std::string& seed) {
        auto desk = Desk::open(testing::setup_in(folder, clock, seed));
        REQUIRE_MESSAGE(desk, (desk ? "" : told(desk.error())));
        return std::move(*desk);
    };
    std::string job;
    {
        auto first = desk_in(one.path(), "one");
        job = *first.carry_out(OpenJob{"commissioning", testing::house_facts(testing::tools()), "f.toml", "", false});
        auto second = desk_in(two.path(), "two");
        const auto merged = second.journal().merge(everything_of(first.journal()), *clock.wall_ms);
        REQUIRE_MESSAGE(merged, (merged ? "" : told(merged.error())));
        const auto reading = [&](const std::string& text) {
            return TakeReading{job, "coll-tilt", "", text, "", {}, "", "", "", "", false};
        };
        REQUIRE(first.carry_out(reading("35°")));
        REQUIRE(second.carry_out(reading("41°")));
        REQUIRE(first.journal().merge(everything_of(second.journal()), *clock.wall_ms));
    }
    auto desk = desk_in(one.path(), "again");
    const auto check = [&] {
        const auto view = desk.job_view(job);
        REQUIRE(view);
        for (const auto& c : view->checks)
            if (c.id == "coll-tilt") return c;
        return CheckView{};
    };
    CHECK(check().conflict);
    CHECK(check().outcome == Outcome::DoesNotConform);
    CHECK(check().blocking);
    REQUIRE(check().readings.size() == 2);
    const auto wrong = desk.carry_out(ResolveConflict{job, "coll-tilt", "", "zzzzzzzz"});
    REQUIRE_FALSE(wrong);
    CHECK(wrong.error().kind == ProblemKind::Unreadable);
    const auto readings = check().readings;
    const auto keep = readings[readings[0].text == "35°" ? 0 : 1].entry;
    REQUIRE(desk.carry_out(ResolveConflict{job, "coll-tilt", "", keep.substr(0, 12)}));
    CHECK_FALSE(check().conflict);
    CHECK(check().outcome == Outcome::Conforms);
    CHECK(check().readings.size() == 2);
    // The last thing done is taken back, not the reading before it.
    CHECK(desk.carry_out(UndoLast{job})->words.starts_with("the choice between readings of "));
    CHECK(check().conflict);
    CHECK(check().outcome == Outcome::DoesNotConform);
}

TEST_CASE("a crew that leaves says how the site was left, and nothing is entered after") {
    Bench bench;
    CHECK(refusal_of(bench.desk().carry_out(AbandonJob{bench.job, "", "storm"})).kind == ProblemKind::WrongUse);
    REQUIRE(bench.desk().carry_out(AbandonJob{bench.job, "Water shut, key with neighbour Pimpernel", "A storm came up"}));
    CHECK(bench.view().row.state == "abandoned");
    const auto late = bench.desk().carry_out(bench.reading("coll-tilt", "35°"));
    REQUIRE_FALSE(late);
    CHECK(late.error().what == "The job is abandoned; nothing can be entered now.");
    CHECK(testing::files_holding(bench.data(), "Pimpernel").empty());
}

TEST_CASE("a near miss is noted") {
    Bench bench;
    CHECK(refusal_of(bench.desk().carry_out(NoteNearMiss{bench.job, ""})).kind == ProblemKind::WrongUse);
    REQUIRE(bench.desk().carry_out(NoteNearMiss{bench.job, "A tile slid past the ladder"}));
    CHECK(bench.desk().in_hand(bench.job)->state().near_misses.size() == 1);
}

}  // namespace wm::desk
