// What else can be done with a check.
#include "screens/more_panel.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("putting off needs a reason, a day and a person") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/put off"));
    (void)glass.frame();
    CHECK_FALSE(glass.spot("run/more/put off").enabled);
    REQUIRE(glass.press("run/more/fields/thunder"));
    REQUIRE(glass.press("run/more/fields/2027-03-06"));
    REQUIRE(glass.press("run/more/fields/Bramblewisp"));
    REQUIRE(glass.press("run/more/put off"));
    const auto* defer = glass.last_intent<desk::DeferCheck>();
    REQUIRE(defer != nullptr);
    CHECK(defer->check == "roof-clear");
    CHECK(defer->until == "2027-03-06");
    CHECK(defer->owner == "Bramblewisp");
    CHECK(defer->why == "thunder");
}

TEST_CASE("a concession is offered only where the check may have one") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/more"));
    (void)glass.frame();
    CHECK_FALSE(glass.spot("run/more/keys/accept").enabled);
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/accept"));
    REQUIRE(glass.press("run/more/fields/by"));
    glass.type("Odrun Vassamy");
    REQUIRE(glass.press("run/more/fields/why"));
    glass.type("no harm");
    REQUIRE(glass.press("run/more/accept"));
    const auto* concede = glass.last_intent<desk::ConcedeCheck>();
    REQUIRE(concede != nullptr);
    CHECK(concede->by == "Odrun Vassamy");
}

TEST_CASE("a missing fact is stated by its name") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("coll-tilt");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/fact"));
    REQUIRE(glass.press("run/more/fields/fact"));
    glass.type("30");
    REQUIRE(glass.press("run/more/state"));
    const auto* facts = glass.last_intent<desk::StateFacts>();
    REQUIRE(facts != nullptr);
    REQUIRE(facts->facts.size() == 1);
    CHECK(facts->facts[0].first == "sys.tilt_target");
    CHECK(facts->facts[0].second == "30");
}

TEST_CASE("a job that stops says how the site was left") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/leave"));
    REQUIRE(glass.press("run/more/fields/left safe"));
    glass.type("water shut, collector covered");
    REQUIRE(glass.press("run/more/fields/why"));
    glass.type("storm");
    REQUIRE(glass.press("run/more/leave"));
    const auto* left = glass.last_intent<desk::AbandonJob>();
    REQUIRE(left != nullptr);
    CHECK(left->left_safe == "water shut, collector covered");
}

TEST_CASE("days are counted over the ends of months and years") {
    CHECK(day_after("2027-02-27T09:00:00+02:00", 2) == "2027-03-01");
    CHECK(day_after("2027-12-31T09:00:00Z", 1) == "2028-01-01");
    CHECK(day_after("2028-02-28T09:00:00Z", 1) == "2028-02-29");
    CHECK(day_after("not a time", 1) == "");
}

TEST_CASE("an instrument that other jobs know is added by one touch, a new one by what its plate says") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/instrument"));
    (void)glass.frame();
    REQUIRE(glass.last<AskRegister>() != nullptr);
    desk::RegisterTable table;
    table.columns = {"mark"};
    desk::RegisterRow known;
    known.cells = {"TW-8"};
    desk::RegisterRow here;
    here.cells = {"PG-1"};  // the pressure check of this job has it already
    table.rows = {known, here};
    glass.world.registers = std::pair{desk::Register::Instruments, table};
    (void)glass.frame();
    CHECK_FALSE(glass.shows("run/more/fields/PG-1"));
    REQUIRE(glass.press("run/more/fields/TW-8"));
    REQUIRE(glass.press("run/more/register"));
    const auto* taken = glass.last_intent<desk::RegisterInstrument>();
    REQUIRE(taken != nullptr);
    CHECK(taken->id == "TW-8");
    CHECK(taken->type.empty());
    glass.all.clear();
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/instrument"));
    glass.drafts.run.added = {.id = "PG-9", .type = "pressure gauge", .resolution = "2 kPa", .uncertainty = "", .due = "2027-06-30"};
    (void)glass.frame();
    // Without its uncertainty no reading of it could be judged.
    CHECK_FALSE(glass.spot("run/more/register").enabled);
    glass.drafts.run.added.uncertainty = "8 kPa";
    (void)glass.frame();
    REQUIRE(glass.press("run/more/register"));
    const auto* fresh = glass.last_intent<desk::RegisterInstrument>();
    REQUIRE(fresh != nullptr);
    CHECK(fresh->type == "pressure gauge");
    CHECK(fresh->uncertainty == "8 kPa");
    CHECK(fresh->due == "2027-06-30");
}

TEST_CASE("what cannot be done with a check says so on its key, before anything is typed") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/more"));
    (void)glass.frame();
    CHECK_FALSE(glass.spot("run/more/keys/put off").enabled);
    CHECK(glass.spot("run/more/keys/put off").small == "the set is not handed over without it");
    CHECK(glass.spot("run/more/keys/accept").small == "never for what can hurt someone");
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/more"));
    (void)glass.frame();
    CHECK(glass.spot("run/more/keys/put off").enabled);
}

TEST_CASE("the days to put off to have their weekdays") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/put off"));
    (void)glass.frame();
    // 4 March 2027 is a Thursday (ISO 8601 calendar; checked with the standard library of Python).
    CHECK(glass.spot("run/more/fields/2027-03-05").small == "tomorrow, Friday");
    CHECK(glass.spot("run/more/fields/2027-03-06").small == "Saturday");
    CHECK(glass.spot("run/more/fields/2027-03-11").small == "Thursday");
}

TEST_CASE("a day that is none, has passed or comes too late is told in the form, which keeps what was written") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "roof-clear") check.defer_days = 7;
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/put off"));
    REQUIRE(glass.press("run/more/fields/thunder"));
    REQUIRE(glass.press("run/more/fields/Bramblewisp"));
    for (const auto& [day, told] : {std::pair{"2027-13-40", "is no day"}, std::pair{"2027-03-03", "has passed"}, std::pair{"2027-03-12", "At most 7 days"}}) {
        CAPTURE(day);
        glass.drafts.run.defer.until = day;
        (void)glass.frame();
        (void)glass.frame();
        CHECK(glass.says(told));
        CHECK_FALSE(glass.spot("run/more/put off").enabled);
    }
    glass.drafts.run.defer.until = "2027-03-11";
    (void)glass.frame();
    CHECK(glass.spot("run/more/put off").enabled);
    CHECK(glass.drafts.run.defer.why == "thunder");
}

TEST_CASE("a licence is asked for in words, with the day it ends") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "coll-tilt") {
            check.missing_facts = {"crew.elec_lic"};
            check.missing_words = {"electrical licence"};
        }
    glass.open_check("coll-tilt");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/fact"));
    glass.drafts.run.fact = "eb 4711";
    (void)glass.frame();
    (void)glass.frame();
    CHECK(glass.says("Not known yet: electrical licence"));
    CHECK(glass.says("The day is missing"));
    CHECK_FALSE(glass.spot("run/more/state").enabled);
    glass.drafts.run.fact = "eb 4711 2028-03-31";
    (void)glass.frame();
    CHECK(glass.spot("run/more/state").enabled);
}
