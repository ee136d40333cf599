#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

TEST_CASE("a job with open checks is not signed, and the refusal names them") {
    Bench bench;
    const auto refusal = bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo Quellaby", {}, ""});
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().kind == ProblemKind::Refused);
    const auto first = bench.check(bench.view().blockers.front().check);
    CHECK(refusal.error().what.find("in the way of signing: " + first.title + "; ") != std::string::npos);
    CHECK(refusal.error().what.find(first.id) == std::string::npos);
    CHECK(refusal.error().what.ends_with(" more; the sign-off screen lists them."));
    const auto early = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_FALSE(early);
    CHECK(early.error().what == refusal.error().what);
    CHECK(bench.check("open-items").why.starts_with("Still open: " + first.title + "; "));
    CHECK(bench.view().signatures.empty());
}

TEST_CASE("a signature wants a name, and the crew cannot refuse its own record") {
    Bench bench;
    CHECK(bench.desk().carry_out(Sign{bench.job, Signer::Crew, "", {}, ""}).error().kind == ProblemKind::WrongUse);
    CHECK(bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo", {}, "no"}).error().kind == ProblemKind::WrongUse);
}

TEST_CASE("a signed job takes no reading until the signature is taken back, and then both sign again") {
    Bench bench;
    bench.do_all();
    bench.sign_both();
    CHECK(bench.view().row.state == "signed");
    const auto late = bench.desk().carry_out(bench.reading("coll-tilt", "36°"));
    REQUIRE_FALSE(late);
    CHECK(late.error().what == "The job is signed; nothing can be entered now.");
    const auto late_deferral = bench.desk().carry_out(DeferCheck{bench.job, "sun-window", "2026-11-30", "Ode", "rain"});
    REQUIRE_FALSE(late_deferral);
    CHECK(late_deferral.error().kind == ProblemKind::Refused);

    CHECK(bench.desk().carry_out(UndoLast{bench.job})->words == "the signature");
    CHECK(bench.check("sign-customer").outcome == Outcome::Open);
    CHECK(bench.check("sign-crew").outcome == Outcome::Open);
    bench.enter("coll-tilt", "36°");
    CHECK_FALSE(bench.desk().carry_out(HandOver{bench.job}));
    bench.sign_both();
    CHECK(bench.view().signatures.size() == 2);
    CHECK(bench.desk().carry_out(HandOver{bench.job}));
}

TEST_CASE("a reading between the two signatures makes the first one void") {
    Bench bench;
    bench.do_all();
    REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo Quellaby", {}, ""}));
    bench.enter("coll-tilt", "36°");
    REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Customer, "Ansa Velmorrin", {}, ""}));
    CHECK(bench.check("sign-crew").outcome == Outcome::Open);
    const auto refusal = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().what == "The record is not signed: Crew signs.");
}

TEST_CASE("a customer who does not sign is on record with the reason, and the job can be handed over") {
    Bench bench;
    bench.do_all();
    REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo Quellaby", {}, ""}));
    REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Customer, "Ansa Velmorrin", {}, "Wants the tiles seen again"}));
    CHECK(bench.view().row.state == "refused");
    CHECK(bench.view().signatures[1].refused_because == "Wants the tiles seen again");
    CHECK(bench.desk().carry_out(HandOver{bench.job}));
}

TEST_CASE("leave to be on the roof is given before the survey and stays given") {
    Bench bench{house_facts(tools()), "survey"};
    REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Customer, "Ansa Velmorrin", {}, ""}));
    CHECK(bench.check("survey-consent").outcome == Outcome::Conforms);
    bench.enter("sun-pitch", "30°");
    CHECK(bench.check("survey-consent").outcome == Outcome::Conforms);
}

TEST_CASE("a survey that finds a house not suited can be signed, and says so") {
    Bench bench{house_facts("sys.fix_kn = 1.2\nsys.tank_feet = 4\nsys.tank_len_m = 1.3\nsys.tank_across_m = 0.5\n"
                            "sys.tank_axis_m = 0.35\nsys.base_m = 0.4\n" + tools()),
                "survey"};
    REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Customer, "Ansa Velmorrin", {}, ""}));
    const auto early = bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo Quellaby", {}, ""});
    REQUIRE_FALSE(early);
    CHECK(early.error().what.find("The survey is not finished") == 0);
    for (const auto& shown : bench.view().checks) {
        if (!shown.applies || shown.form == EntryForm::None || shown.form == EntryForm::Signature) continue;
        const auto now = bench.check(shown.id);
        std::vector<std::pair<std::string, std::string>> entries;
        for (const auto& place : now.places) {
            if (!place.required) continue;
            entries.emplace_back(place.name, place.name.empty()        ? testing::fine_answer(now)
                                             : !place.accepted.empty() ? place.accepted.front()
                                             : !place.unit.empty()     ? testing::fine_number(place.limits, place.unit)
                                                                       : "yes");
        }
        if (entries.empty()) entries.emplace_back("", shown.id == "heater-fit" ? now.refused.front() : testing::fine_answer(now));
        for (const auto& [place, text] : entries) {
            auto reading = bench.reading(shown.id, text, place);
            reading.sure = true;
            reading.photo = testing::photo_bytes();
            reading.photo_name = "photo.jpg";
            CAPTURE(shown.id);
            CAPTURE(text);
            bench.take(reading);
        }
    }
    CAPTURE(bench.check("survey-verdict").why);
    REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo Quellaby", {}, ""}));
    CHECK(bench.check("survey-verdict").outcome == Outcome::DoesNotConform);
    CHECK(bench.check("survey-verdict").why.find("Not suited, because of") == 0);
}

}  // namespace wm::desk
