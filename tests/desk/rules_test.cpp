#include "desk/rules.hpp"

#include "checklist/facts.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

namespace {

/// A job of hand-made facts, without a journal.
JobInHand job_with(const std::string& facts, const std::string& today = "2026-11-25") {
    static const auto library = read_library(testing::shipped_texts());
    REQUIRE(library);
    const auto file = checklist::load_facts(facts, "facts.toml");
    REQUIRE_MESSAGE(file, (file ? "" : told(file.error())));
    JobInHand job;
    job.folded = std::make_shared<const record::JobState>();
    job.read = std::make_shared<const ReadFacts>(ReadFacts{file->facts, file->instruments});
    job.library = *library;
    job.list = job.library->checklist_named("commissioning");
    job.today = today;
    return job;
}

std::string crew(const std::string& members = "Tindo Quellaby, Ode Brannick", const std::string& height = "H-77 2028-03-31") {
    return "[crew]\nlead = \"Tindo Quellaby\"\nmembers = \"" + members +
           "\"\nplumb_lic = \"P-118 2028-03-31\"\nelec_lic = \"E-204 2028-03-31\"\nheight_card = \"" + height + "\"\n";
}

record::CheckStanding standing(const std::string& id, Outcome outcome, bool hold = false, bool conceded = false) {
    record::CheckStanding row;
    row.id = id;
    row.outcome = outcome;
    row.hold = hold;
    row.core = true;
    row.conceded = conceded;
    return row;
}

}  // namespace

TEST_CASE("a crew is two people with cards that run out today or later") {
    CHECK(crew_licences(job_with(crew())).outcome == Outcome::Conforms);
    CHECK(crew_licences(job_with(crew(), "2028-03-31")).outcome == Outcome::Conforms);
    const auto late = crew_licences(job_with(crew("Tindo Quellaby, Ode Brannick", "H-77 2026-11-24")));
    CHECK(late.outcome == Outcome::DoesNotConform);
    CHECK(late.why == "Not ready to begin: the height card ran out on 2026-11-24.");
}

TEST_CASE("nobody works on a roof alone, however the names are written") {
    for (const char* pair : {"Tindo Quellaby, Ode Brannick", "Ode Brannick", "Ode Brannick and Thea Moundrel",
                             "Tindo Quellaby; Ode Brannick"}) {
        CAPTURE(pair);
        CHECK(crew_licences(job_with(crew(pair))).outcome == Outcome::Conforms);
    }
    for (const char* alone : {"Tindo Quellaby", "Tindo Quellaby, ", "Tindo Quellaby;;"}) {
        CAPTURE(alone);
        CHECK(crew_licences(job_with(crew(alone))).outcome == Outcome::DoesNotConform);
    }
}

TEST_CASE("missing facts about the crew keep the check open and are named") {
    const auto answer = crew_licences(job_with("crew.lead = \"Tindo Quellaby\"\n"));
    CHECK(answer.outcome == Outcome::Open);
    CHECK(answer.missing_facts ==
          std::vector<std::string>{"crew.height_card", "crew.plumb_lic", "crew.elec_lic", "crew.members"});
}

TEST_CASE("before any reading every registered instrument counts") {
    CHECK(instruments_due(job_with(crew())).outcome == Outcome::Open);
    const std::string wrench = testing::tools({{"TW-1", "torque wrench", "0.1 N·m", "0.5 N·m", "2026-11-25"}});
    CHECK(instruments_due(job_with(crew() + wrench)).outcome == Outcome::Conforms);
    const auto late = instruments_due(job_with(crew() + wrench, "2026-11-26"));
    CHECK(late.outcome == Outcome::DoesNotConform);
    CHECK(late.why.find("TW-1 was due for calibration on 2026-11-25") != std::string::npos);
}

TEST_CASE("a reading without its instrument is told by the title of the check, with what to do") {
    testing::Bench bench{testing::house_facts("")};
    auto reading = bench.reading("anchor-torque", "20 N·m", "1");
    reading.instrument.clear();
    REQUIRE(bench.desk().carry_out(reading));
    const auto why = bench.check("instruments-due").why;
    CAPTURE(why);
    CHECK(bench.check("instruments-due").outcome == Outcome::DoesNotConform);
    CHECK(why == "No torque wrench is named at “" + bench.check("anchor-torque").title +
                     "”: take the reading again and name the one you use.");
}

TEST_CASE("a refusal to sign names five checks by title and counts the rest") {
    auto job = job_with(crew());
    const auto refusal_of = [&](std::initializer_list<const char*> ids) {
        std::vector<record::CheckStanding> open;
        for (const char* id : ids) open.push_back(standing(id, Outcome::Open));
        return in_the_way_of_signing(job, open);
    };
    const auto title = [&](const char* id) { return job.list->find(checklist::CheckId{id})->title; };
    CHECK(refusal_of({"coll-tilt"}).what == "1 check stands in the way of signing: " + title("coll-tilt") + ".");
    const auto many = refusal_of({"coll-tilt", "test-hold", "outlet-temp", "anchor-torque", "sun-window", "non-return", "ladder-set"});
    CHECK(many.kind == ProblemKind::Refused);
    CHECK(many.what == "7 checks stand in the way of signing: " + title("coll-tilt") + "; " + title("test-hold") + "; " +
                           title("outlet-temp") + "; " + title("anchor-torque") + "; " + title("sun-window") +
                           "; and 2 more; the sign-off screen lists them.");
}

TEST_CASE("an instrument that failed its check before use is no instrument") {
    auto text = testing::tools({{"TW-1", "torque wrench", "0.1 N·m", "0.5 N·m"}});
    text.replace(text.find("preuse = true"), 13, "preuse = false");
    const auto answer = instruments_due(job_with(crew() + text));
    CHECK(answer.outcome == Outcome::DoesNotConform);
    CHECK(answer.why.find("TW-1 failed its check before use") != std::string::npos);
}

TEST_CASE("the kit leaves with instruments in date for a week and fall gear seen within a year") {
    const std::string wrench = testing::tools({{"TW-1", "torque wrench", "0.1 N·m", "0.5 N·m", "2026-12-02"}});
    const std::string gear = "crew.fall_gear = 2026-01-15\n";
    CHECK(kit_ready(job_with(gear + wrench)).outcome == Outcome::Conforms);
    CHECK(kit_ready(job_with(gear + wrench, "2026-11-26")).outcome == Outcome::DoesNotConform);
    CHECK(kit_ready(job_with(wrench)).outcome == Outcome::Open);
    const auto old = kit_ready(job_with("crew.fall_gear = 2025-11-24\n" + wrench));
    CHECK(old.outcome == Outcome::DoesNotConform);
    CHECK(old.why == "Swap before the van leaves: the fall gear was last inspected on 2025-11-24.");
}

TEST_CASE("open items names what is open, at most six, and counts the rest") {
    CHECK(open_items({standing("a", Outcome::Conforms)}).outcome == Outcome::Conforms);
    std::vector<record::CheckStanding> many;
    for (const char* id : {"a", "b", "c", "d", "e", "f", "g", "h"}) many.push_back(standing(id, Outcome::Open));
    const auto answer = open_items(many);
    CHECK(answer.outcome == Outcome::Open);
    CHECK(answer.why == "Still open: a; b; c; d; e; f and 2 more.");
}

TEST_CASE("a survey is suited, suited with conditions, or not suited") {
    CHECK(survey_verdict({standing("a", Outcome::Conforms, true)}).why == "Suited.");
    CHECK(survey_verdict({standing("a", Outcome::DoesNotConform)}).why == "Suited with conditions: a.");
    CHECK(survey_verdict({standing("a", Outcome::DoesNotConform, true, true)}).why == "Suited with conditions: a.");
    const auto no = survey_verdict({standing("a", Outcome::DoesNotConform, true), standing("b", Outcome::Inconclusive, true)});
    CHECK(no.outcome == Outcome::DoesNotConform);
    CHECK(no.why == "Not suited, because of a; b.");
    CHECK(survey_verdict({standing("a", Outcome::Open)}).outcome == Outcome::Open);
    auto beside = standing("a", Outcome::Open);
    beside.applies = false;
    CHECK(survey_verdict({beside}).why == "Suited.");
    const auto found = survey_findings({standing("a", Outcome::DoesNotConform, true), standing("b", Outcome::DoesNotConform), standing("c", Outcome::Open),
                                        standing("d", Outcome::Deferred, true), standing("e", Outcome::DoesNotConform, true, true), beside});
    CHECK(found.blocking == std::vector<std::string>{"a", "d"});
    CHECK(found.conditions == std::vector<std::string>{"b", "e"});
    CHECK(found.open == std::vector<std::string>{"c"});
}

}  // namespace wm::desk
