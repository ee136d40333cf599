#include "desk/actions.hpp"

#include "desk/testing.hpp"
#include "desk/week.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

DecideAction decision(const std::string& due = "2026-12-10") {
    return {.finding = "crew and check", .subject = "Tindo Quellaby", .check = "coll-tilt", .week = "2026-W48",
            .cause = "skill", .cause_words = "Nobody had shown the inclinometer to Ode.", .remedy = "Show it at the van.",
            .owner = "Odrun Vassamy", .due = due, .follows = "", .by = "Odrun Vassamy"};
}

std::string decided(Bench& bench) {
    const auto number = bench.desk().carry_out(decision());
    REQUIRE_MESSAGE(number, (number ? "" : told(number.error())));
    return *number;
}

ActionView only_action(Bench& bench) {
    const auto views = action_views(bench.desk());
    REQUIRE(views);
    REQUIRE(views->size() == 1);
    return views->front();
}

}  // namespace

TEST_CASE("an action goes from its decision to an effect that is on record") {
    Bench bench;  // 2026-11-25
    bench.enter("coll-tilt", "41°");
    const auto number = decided(bench);
    CHECK(number.starts_with("A-"));
    CHECK(only_action(bench).state == "decided");
    bench.clock.pass_days(5);
    CHECK(only_action(bench).age_days == 5);
    bench.clock.pass_days(15);
    CHECK(only_action(bench).state == "overdue");
    REQUIRE(bench.desk().carry_out(CarryOutAction{number, "", "Shown, twice.", "Odrun Vassamy"}));
    auto action = only_action(bench);
    CHECK(action.state == "carried out");
    REQUIRE(action.effects.size() == 2);
    CHECK_FALSE(action.effects[0].is_due);
    CHECK(action.effects[0].before_failed == 1);
    const auto early = bench.desk().carry_out(CheckEffect{number, 0, ""});
    REQUIRE_FALSE(early);
    CHECK(early.error().kind == ProblemKind::Refused);
    CHECK(early.error().what_to_do == "Ask again on " + action.effects[0].told_on + ".");
    bench.clock.pass_days(31);
    CHECK(only_action(bench).state == "effect to be checked");
    REQUIRE(bench.desk().carry_out(CheckEffect{number, 30, ""}));
    CHECK(only_action(bench).state == "no proof yet");
    const auto late = bench.desk().carry_out(CheckEffect{number, 90, ""});
    REQUIRE_FALSE(late);
    bench.clock.pass_days(60);
    const auto told_words = bench.desk().carry_out(CheckEffect{number, 0, ""});
    REQUIRE(told_words);
    CHECK(told_words->starts_with("90 days after: no proof yet."));
    CHECK_FALSE(only_action(bench).is_closed);
    REQUIRE_FALSE(bench.desk().carry_out(EndAction{number, "", ""}));
    REQUIRE(bench.desk().carry_out(EndAction{number, "The crew is gone.", ""}));
    action = only_action(bench);
    CHECK(action.is_closed);
    CHECK(action.state == "ended without proof");
    const auto again = bench.desk().carry_out(CarryOutAction{number, "", "", ""});
    REQUIRE_FALSE(again);
    CHECK(again.error().kind == ProblemKind::Refused);
}

TEST_CASE("an open action stands in every week, a closed one in its own") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    const auto number = decided(bench);
    for (const char* name : {"2026-W48", "2026-W50"}) {
        const auto week = week_view(bench.desk(), name);
        REQUIRE(week);
        REQUIRE(week->actions.size() == 1);
        CHECK(week->actions[0].action == number);
        CHECK_FALSE(week->causes.empty());
    }
    REQUIRE(bench.desk().carry_out(EndAction{number, "A mistake.", ""}));
    CHECK(week_view(bench.desk(), "2026-W48")->actions.size() == 1);
    CHECK(week_view(bench.desk(), "2026-W50")->actions.empty());
}

TEST_CASE("an action without cause, words, remedy, owner or day is refused") {
    Bench bench;
    const auto refused_without = [&](auto&& spoil, const std::string& what) {
        auto intent = decision();
        spoil(intent);
        const auto done = bench.desk().carry_out(intent);
        REQUIRE_FALSE(done);
        CHECK(done.error().what == what);
        CHECK_FALSE(done.error().what_to_do.empty());
    };
    refused_without([](DecideAction& i) { i.cause = ""; }, "The cause is missing.");
    refused_without([](DecideAction& i) { i.cause = "haste"; }, "\"haste\" is no cause of the list.");
    refused_without([](DecideAction& i) { i.cause_words = ""; }, "The cause in your own words is missing.");
    refused_without([](DecideAction& i) { i.remedy = ""; }, "What is to be done is missing.");
    refused_without([](DecideAction& i) { i.owner = ""; }, "Who sees to it is missing.");
    refused_without([](DecideAction& i) { i.due = "soon"; }, "\"soon\" is no date.");
    refused_without([](DecideAction& i) { i.due = "2026-11-24"; }, "2026-11-24 is in the past.");
    refused_without([](DecideAction& i) { i.week = "now"; }, "\"now\" is no week.");
    refused_without([](DecideAction& i) { i.follows = "A-9"; }, "There is no corrective action \"A-9\".");
    CHECK(action_views(bench.desk())->empty());
}

TEST_CASE("names and own words of an action lie locked, and the journal still verifies") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    const auto number = decided(bench);
    REQUIRE(bench.desk().carry_out(CarryOutAction{number, "", "Shown to Ode, twice.", "Odrun Vassamy"}));
    const auto report = bench.desk().journal().verify_journal();
    REQUIRE(report);
    CHECK(report->is_genuine());
    bench.close();
    for (const char* words : {"Nobody had shown", "Show it at the van", "Odrun Vassamy", "Shown to Ode"}) {
        CAPTURE(words);
        CHECK(testing::files_holding(bench.data(), words).empty());
    }
}

TEST_CASE("a job to look at again becomes one service job, however often it is asked for") {
    Bench bench;
    bench.enter("relief-lever", "drips");  // what can hurt someone is looked at before the job is handed over
    const auto visit = bench.desk().carry_out(OpenRevisit{bench.job, "drawn at random, seed 1"});
    REQUIRE_MESSAGE(visit, (visit ? "" : told(visit.error())));
    CHECK(*bench.desk().carry_out(OpenRevisit{bench.job, "again"}) == *visit);
    const auto view = bench.desk().job_view(*visit);
    REQUIRE(view);
    CHECK(view->row.after == bench.job);
    CHECK(view->row.kind == "service");
    const auto week = week_view(bench.desk(), "2026-W48");
    REQUIRE(week);
    bool seen = false;
    for (const auto& sample : week->samples)
        if (sample.job == bench.job) seen = sample.revisit == *visit;
    CHECK(seen);
    CHECK_FALSE(bench.desk().carry_out(OpenRevisit{"J-none", ""}));
}

}  // namespace wm::desk
