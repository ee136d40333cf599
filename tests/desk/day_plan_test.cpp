#include "desk/day_plan.hpp"

#include <algorithm>

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

namespace {

Result<void> set_day(Bench& bench, const std::string& job, const std::string& day) {
    return bench.desk().carry_out(StateFacts{job, {{std::string{planned_day}, day}}});
}

}  // namespace

TEST_CASE("the plan holds open jobs by their day, with weather, load and what is not in order by then") {
    Bench bench;
    REQUIRE(set_day(bench, bench.job, "2027-03-08"));
    const auto other = bench.desk().carry_out(OpenJob{"commissioning", house_facts("job.date = 2027-03-06\n" + tools()), "f", "", false});
    REQUIRE_MESSAGE(other, (other ? "" : told(other.error())));
    REQUIRE(bench.desk().carry_out(OpenJob{"commissioning", house_facts("job.date = 2027-03-07\n" + tools()), "f", "", true}));
    const auto plan = day_plan(bench.desk(), "2027-03-05", "2027-03-11", "");
    REQUIRE_MESSAGE(plan, (plan ? "" : told(plan.error())));
    REQUIRE(plan->jobs.size() == 2);
    CHECK(plan->jobs[0].job == *other);
    CHECK(plan->jobs[1].day == "2027-03-08");
    const auto& first = plan->jobs[0];
    CHECK(first.not_in_order.empty());
    REQUIRE_FALSE(first.weather.empty());
    // 10 m/s and the three words of the roof: what the check itself demands.
    CHECK(first.weather.front().find(bench.check("site-weather").limits.text) != std::string::npos);
    CHECK(first.weather.front().find("the roof is dry") != std::string::npos);
    CHECK(std::any_of(first.load.begin(), first.load.end(), [](const auto& line) { return line.find("Copper pipe of the loop") != std::string::npos; }));
    CHECK(std::find(first.instruments.begin(), first.instruments.end(), "torque wrench") != first.instruments.end());
    // Of another crew, and of other days, there is nothing.
    CHECK(day_plan(bench.desk(), "2027-03-05", "2027-03-11", "Ode Marrowby")->jobs.empty());
    CHECK(day_plan(bench.desk(), "2027-03-09", "2027-03-11", "")->jobs.empty());
    for (const auto& [from, to] : {std::pair{"2027-3-9", "2027-03-11"}, std::pair{"2027-03-11", "2027-03-09"}}) CHECK_FALSE(day_plan(bench.desk(), from, to, ""));
}

TEST_CASE("an instrument or a paper that runs out before the day of the job is told today") {
    Bench bench;
    REQUIRE(set_day(bench, bench.job, "2031-03-08"));
    const auto plan = day_plan(bench.desk(), "2031-03-01", "2031-03-31", "");
    REQUIRE(plan);
    REQUIRE(plan->jobs.size() == 1);
    std::string all;
    for (const auto& line : plan->jobs[0].not_in_order) all += line + "\n";
    CAPTURE(all);
    CHECK(all.find("TW-1 was due for calibration on") != std::string::npos);
    CHECK(all.find(bench.check("crew-licences").title) != std::string::npos);
    CHECK(bench.check("crew-licences").outcome == Outcome::Conforms);
}

TEST_CASE("no day is set for a house whose survey is open or finds it not suited, and the day of one visit is not that of the next") {
    Bench bench{house_facts(tools()), "survey"};
    // The survey itself may have its day.
    REQUIRE(set_day(bench, bench.job, "2027-03-05"));
    const std::string dated = "[job]\ndate = 2027-03-20\n";
    for (const char* list : {"kit", "commissioning"}) {
        const auto refusal = bench.desk().carry_out(OpenJob{list, dated, "f", bench.job, false});
        REQUIRE_FALSE(refusal);
        CHECK(refusal.error().what.find("No day is set for this house yet. The survey is not finished") == 0);
        CHECK(refusal.error().where == "the survey " + bench.job);
    }
    const auto later = bench.desk().carry_out(OpenJob{"commissioning", "", "f", bench.job, false});
    REQUIRE(later);
    CHECK_FALSE(bench.desk().in_hand(*later)->facts().date(planned_day));
    CHECK_FALSE(set_day(bench, *later, "2027-03-20"));
    CHECK(bench.desk().carry_out(OpenJob{"service", dated, "f", bench.job, false}));
}

TEST_CASE("a survey that was finished lets a day be set where the house is suited, and says why where it is not") {
    for (const bool suited : {true, false}) {
        CAPTURE(suited);
        Bench bench{house_facts("sys.fix_kn = 1.2\nsys.tank_feet = 4\nsys.tank_len_m = 1.3\nsys.tank_across_m = 0.5\n"
                                "sys.tank_axis_m = 0.35\nsys.base_m = 0.4\n" + tools()),
                    "survey"};
        REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Customer, "Ansa Velmorrin", {}, ""}));
        for (const auto& shown : bench.view().checks) {
            if (!shown.applies || shown.form == EntryForm::None || shown.form == EntryForm::Signature) continue;
            for (const auto& [place, text] : testing::fine_entries(bench.check(shown.id))) {
                auto reading = bench.reading(shown.id, shown.id == "access-safe" && !suited ? "no stance" : shown.id == "sun-azimuth" ? "180°" : text, place);
                reading.sure = true;
                reading.photo = testing::photo_bytes();
                reading.photo_name = "photo.jpg";
                bench.take(reading);
            }
        }
        const auto later = bench.desk().carry_out(OpenJob{"commissioning", "", "f", bench.job, false});
        REQUIRE(later);
        CHECK_FALSE(set_day(bench, *later, "2027-03-20"));
        const auto signed_by_crew = bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo Quellaby", {}, ""});
        REQUIRE_MESSAGE(signed_by_crew, (signed_by_crew ? "" : told(signed_by_crew.error())));
        const auto set = set_day(bench, *later, "2027-03-20");
        CAPTURE(bench.check("survey-verdict").why);
        CHECK(bool(set) == suited);
        if (!set) CHECK(set.error().what.find("No day is set for this house yet. Not suited, because of") == 0);
    }
}

TEST_CASE("without leave of the one who decides no day is set, however good the house is") {
    for (const bool refuses : {true, false}) {
        CAPTURE(refuses);
        Bench bench{house_facts("sys.fix_kn = 1.2\nsys.tank_feet = 4\nsys.tank_len_m = 1.3\nsys.tank_across_m = 0.5\n"
                                "sys.tank_axis_m = 0.35\nsys.base_m = 0.4\n" + tools()),
                    "survey"};
        if (refuses) REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Customer, "Ansa Velmorrin", {}, "not on my roof"}));
        for (const auto& shown : bench.view().checks) {
            if (!shown.applies || shown.form == EntryForm::None || shown.form == EntryForm::Signature) continue;
            const auto hand = bench.desk().in_hand(bench.job);
            REQUIRE(hand);
            Assessment assessment{*hand};
            for (const auto& [place, text] : testing::fine_entries(check_view(assessment, *hand->list->find(checklist::CheckId{shown.id})))) {
                auto reading = bench.reading(shown.id, shown.id == "sun-azimuth" ? "180°" : text, place);
                reading.sure = true;
                bench.take(reading);
            }
        }
        REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo Quellaby", {}, ""}));
        const auto later = bench.desk().carry_out(OpenJob{"commissioning", "", "f", bench.job, false});
        REQUIRE(later);
        const auto set = set_day(bench, *later, "2027-03-20");
        REQUIRE_FALSE(set);
        CHECK(set.error().what.find(refuses ? "No day is set for this house yet. Not suited, because of Leave to work on the roof."
                                            : "No day is set for this house yet. The survey is not finished: Leave to work on the roof is open.") == 0);
    }
}

TEST_CASE("the kit is ready when its instruments last for a week after the day of the job") {
    Bench bench{house_facts("crew.fall_gear = 2027-01-10\n" + tools()), "kit"};
    CHECK(bench.check("kit-ready").outcome == Outcome::Conforms);
    // The tools are calibrated until 2027-06-30.
    for (const auto& [day, outcome] : {std::pair{"2027-06-23", Outcome::Conforms}, std::pair{"2027-06-24", Outcome::DoesNotConform}}) {
        CAPTURE(day);
        REQUIRE(set_day(bench, bench.job, day));
        CHECK(bench.check("kit-ready").outcome == outcome);
    }
}

}  // namespace wm::desk
