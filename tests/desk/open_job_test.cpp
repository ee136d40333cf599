#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

namespace {

std::string fact(Bench& bench, const std::string& key) {
    for (const auto& row : bench.view().facts)
        if (row.key == key) return row.text;
    return "";
}

}  // namespace

TEST_CASE("a job number is the letters of the device and a count") {
    Bench bench;
    CHECK(bench.job.starts_with("J-"));
    CHECK(bench.job.ends_with("-0001"));
    const auto second = bench.desk().carry_out(OpenJob{"survey", house_facts(), "facts.toml", "", false});
    REQUIRE(second);
    CHECK(second->ends_with("-0002"));
}

TEST_CASE("a broken facts file opens no job and says where it is broken") {
    Bench bench;
    struct Row {
        std::string text, where;
    };
    for (const auto& row : {Row{"water.static_kpa = \"3 degC\"\n", "facts.toml:1:"}, Row{"\nsite.latitud = 29\n", "facts.toml:2:"},
                            Row{"site = [\n", "facts.toml:"}, Row{"customer.vulnerable = 3\n", "facts.toml:1:"}}) {
        CAPTURE(row.text);
        const auto refusal = bench.desk().carry_out(OpenJob{"survey", row.text, "facts.toml", "", false});
        REQUIRE_FALSE(refusal);
        CHECK(refusal.error().kind == ProblemKind::Unreadable);
        CAPTURE(refusal.error().where);
        CHECK(refusal.error().where.starts_with(row.where));
    }
    CHECK(bench.desk().job_rows()->size() == 1);
    const auto none = bench.desk().carry_out(OpenJob{"tune-up", house_facts(), "facts.toml", "", false});
    REQUIRE_FALSE(none);
    CHECK(none.error().kind == ProblemKind::WrongUse);
}

TEST_CASE("a job after another takes over facts, instruments and customer") {
    Bench bench;
    const auto next = bench.desk().carry_out(OpenJob{"service", "job.kind = \"service\"\n", "service.toml", bench.job, false});
    REQUIRE_MESSAGE(next, (next ? "" : told(next.error())));
    const auto hand = bench.desk().in_hand(*next);
    REQUIRE(hand);
    CHECK(hand->facts().word("job.kind") == "service");
    CHECK(hand->facts().word("roof.covering") == "clay-tile");
    CHECK(hand->instruments().size() == 11);
    CHECK(hand->state().opened->customer == bench.desk().in_hand(bench.job)->state().opened->customer);
    CHECK(hand->earlier != nullptr);
}

TEST_CASE("the weather of one visit is not that of the next") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"wx.irradiance", "820 W/m²"}, {"wx.t_air", "21 °C"}}}));
    REQUIRE(bench.desk().in_hand(bench.job)->facts().knows("wx.irradiance"));
    const auto next = bench.desk().carry_out(OpenJob{"service", "job.kind = \"service\"\n", "service.toml", bench.job, false});
    REQUIRE(next);
    const auto hand = bench.desk().in_hand(*next);
    REQUIRE(hand);
    CHECK_FALSE(hand->facts().knows("wx.irradiance"));
    CHECK_FALSE(hand->facts().knows("wx.t_air"));
}

TEST_CASE("a job pins its checklist by hash and keeps it when the program brings a new one") {
    testing::Folder folder;
    testing::Clock clock;
    std::string job;
    std::string hash;
    {
        auto desk = Desk::open(testing::setup_in(folder.path(), clock));
        REQUIRE(desk);
        job = *desk->carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
        hash = desk->job_view(job)->checklist_hash;
    }
    auto setup = testing::setup_in(folder.path(), clock);
    auto& text = setup.library.find("commissioning.toml")->second;
    const auto at = text.find("reading within 3 ° of sys.tilt_target");
    REQUIRE(at != std::string::npos);
    text.replace(at, 16, "reading within 9");
    auto desk = Desk::open(std::move(setup));
    REQUIRE(desk);
    const auto view = desk->job_view(job);
    REQUIRE(view);
    CHECK(view->checklist_hash == hash);
    const auto judged = desk->carry_out(TakeReading{job, "coll-tilt", "", "41°", "", {}, "", "", "", "", false});
    REQUIRE(judged);
    CHECK(judged->front().outcome == Outcome::DoesNotConform);
    const auto fresh = desk->carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(fresh);
    CHECK(desk->carry_out(TakeReading{*fresh, "coll-tilt", "", "41°", "", {}, "", "", "", "", false})->front().outcome ==
          Outcome::Conforms);
    CHECK(desk->job_view(*fresh)->checklist_hash != hash);
}

TEST_CASE("a fact stated later is kept beside the old one, and readings it moves are judged again") {
    Bench bench;
    bench.enter("coll-tilt", "40°");
    CHECK(bench.check("coll-tilt").outcome == Outcome::DoesNotConform);
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"sys.tilt_target", "39"}}}));
    CHECK(bench.check("coll-tilt").outcome == Outcome::Conforms);
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    const auto* state = hand->state().check("coll-tilt");
    REQUIRE(state->rejudgements.size() == 1);
    CHECK(state->rejudgements[0].second.because == "facts stated: sys.tilt_target");
    CHECK(state->readings[0].judgements.size() == 2);
    CHECK(hand->state().facts.at("sys.tilt_target").history.size() == 2);
    CHECK(fact(bench, "sys.tilt_target") == "39");
}

TEST_CASE("a fact that moves nothing judges nothing again") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"site.snow_kpa", "0.5"}}}));
    CHECK(bench.desk().in_hand(bench.job)->state().check("coll-tilt")->rejudgements.empty());
}

TEST_CASE("an instrument that has fallen due since makes no earlier reading worthless") {
    Bench bench;
    for (const char* place : {"1", "2", "3", "4"}) bench.enter("anchor-torque", "20 N·m", place);
    bench.clock.pass_days(300);
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"sys.anchor_nm", "20.5"}}}));
    CHECK(bench.check("anchor-torque").outcome == Outcome::Conforms);
}

TEST_CASE("unknown facts, wrong units and empty lists are refused") {
    Bench bench;
    CHECK(bench.desk().carry_out(StateFacts{bench.job, {}}).error().kind == ProblemKind::WrongUse);
    CHECK_FALSE(bench.desk().carry_out(StateFacts{bench.job, {{"sys.tilt", "35"}}}));
    CHECK_FALSE(bench.desk().carry_out(StateFacts{bench.job, {{"sys.tilt_target", "35 kPa"}}}));
    CHECK(fact(bench, "sys.tilt_target") == "35");
}

TEST_CASE("a coordinate that points at a house is locked, a coarse one is not") {
    Bench bench;
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    CHECK(std::holds_alternative<std::string>(*hand->state().fact("site.latitude")));
    CHECK(std::holds_alternative<record::Personal>(*hand->state().fact("site.longitude")));
    CHECK(std::holds_alternative<record::Personal>(*hand->state().fact("customer.name")));
}

TEST_CASE("the list to try the tool with is always practice, and writes to nobody") {
    Bench bench;
    const auto tried = bench.desk().carry_out(OpenJob{"tutorial", "", "", "", false});
    REQUIRE_MESSAGE(tried, (tried ? "" : told(tried.error())));
    const auto view = bench.desk().job_view(*tried);
    REQUIRE(view);
    CHECK(view->row.practice);
    CHECK(view->checks.size() >= 6);
}

TEST_CASE("each step of the list to try the tool with does what its text says") {
    Bench bench{"", "tutorial"};
    // Who goes on by itself must not be told to touch Next; after putting off nothing goes on.
    for (const auto& check : bench.view().checks) {
        CAPTURE(check.id);
        const bool says_next = (check.question + check.how).find("touch Next") != std::string::npos;
        CHECK(says_next == (check.id == "try-later"));
    }
    CHECK(bench.enter("try-yes", "yes").outcome == Outcome::Conforms);
    CHECK(bench.enter("try-number", "20.5").outcome == Outcome::Conforms);
    CHECK(bench.enter("try-places", "8", "left").outcome == Outcome::Open);
    CHECK(bench.enter("try-places", "6", "middle").outcome == Outcome::Open);
    CHECK(bench.enter("try-places", "7", "right").outcome == Outcome::Conforms);
    CHECK(bench.enter("try-correct", "27").outcome == Outcome::DoesNotConform);
    CHECK(bench.correct("try-correct", "35", "leg lengthened").outcome == Outcome::Conforms);
    CHECK_FALSE(bench.desk().carry_out(bench.reading("try-slip", "120")));
    CHECK(bench.enter("try-slip", "12").outcome == Outcome::Conforms);
    CHECK(bench.enter("try-close", "5.5").outcome == Outcome::Inconclusive);
    CHECK(bench.enter("try-close", "8").outcome == Outcome::Conforms);
    CHECK_FALSE(bench.check("try-close").failed_once);
    const auto later = bench.check("try-later");
    REQUIRE(later.defer_reasons.front() == "no sun today");
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "try-later", "2026-11-26", "Ode Brannick", "no sun today"}));
    CHECK(bench.view().row.due.empty());
    CHECK(bench.enter("try-done", "leave it, begin with New job").outcome == Outcome::Conforms);
    CHECK(bench.view().blockers.empty());
}

}  // namespace wm::desk
