#include "app/testing.hpp"

#include "app/json_views.hpp"

namespace wm::app {

using testing::check_fields;

TEST_CASE("every field that outside scripts were promised is printed") {
    // interface.md: the names are kept, new ones may join them.
    check_fields(in_json(desk::JobRow{}), {"job", "checklist", "kind", "place", "crew", "started", "state", "due", "complaints", "complaints_open"});
    check_fields(in_json(desk::LimitsView{}), {"text", "low", "high", "accept_low", "accept_high", "rule"});
    check_fields(in_json(desk::ReadingView{}),
                 {"entry", "text", "value", "unit", "place", "instrument", "at", "by", "corrects"});
    check_fields(in_json(desk::CheckView{}), {"id", "stage", "kind", "core", "hold", "severity", "outcome", "why", "tolerance",
                                              "readings", "waits_for", "missing_facts"});
    check_fields(in_json(desk::JobView{}), {"job", "checklist", "facts", "checks", "blockers", "state", "head"});
    check_fields(in_json(desk::JobView{})["checklist"], {"name", "version", "hash"});
    check_fields(in_json(desk::Answer{}), {"check", "outcome", "why", "probability_conforming", "entry"});
    check_fields(in_json(desk::MessageView{}), {"message", "to", "subject", "state", "tries", "next_try", "last_answer"});
    check_fields(in_json(desk::WeekView{}),
                 {"week", "jobs", "results", "failed", "by_crew", "by_batch", "severe", "open", "findings", "samples"});
}

TEST_CASE("the rows of a week and the blockers of a job have their fields") {
    desk::WeekView week;
    week.failed.emplace_back();
    week.by_crew.emplace_back();
    week.by_batch.emplace_back();
    week.severe.emplace_back();
    week.open.emplace_back();
    week.findings.emplace_back();
    week.samples.emplace_back();
    const auto json = in_json(week);
    for (const char* list : {"failed", "by_crew", "by_batch"})
        check_fields(json[list][0], {"check", "failed", "tries", "share", "low", "high", "jobs"});
    check_fields(json["severe"][0], {"job", "check", "outcome", "corrected"});
    check_fields(json["open"][0], {"job", "check", "age_days", "owner"});
    check_fields(json["findings"][0], {"kind", "subject", "check", "sentence", "p", "q", "failed", "tries", "others_failed",
                                       "others_tries", "jobs"});
    check_fields(json["samples"][0], {"job", "why"});
    REQUIRE_FALSE(json["to_do_items"].empty());
    REQUIRE(json["to_do"].size() == json["to_do_items"].size());
    for (std::size_t i = 0; i < json["to_do"].size(); ++i) {
        check_fields(json["to_do_items"][i], {"kind", "words", "subject", "check", "jobs", "evidence"});
        CHECK(json["to_do"][i] == json["to_do_items"][i]["words"]);
    }
    check_fields(json["findings"][0], {"low", "high", "others_low", "others_high", "others_jobs", "compared_with"});
    CHECK(json["funnel"].is_null());
    auto& ageing = week.ageing.emplace_back();
    ageing.low = 0.1;
    ageing.high = 0.6;
    auto& gauge = week.gauges.emplace_back();
    gauge.low_kpa = -2.0;
    gauge.high_kpa = 3.0;
    gauge.jobs = {"J-1"};
    gauge.points.emplace_back().job = "J-1";
    week.funnel.emplace();
    week.funnel->points.emplace_back();
    week.funnel->limits.emplace_back();
    const auto more = in_json(week);
    CHECK(more["ageing"][0]["low"] == 0.1);
    CHECK(more["ageing"][0]["high"] == 0.6);
    CHECK(more["gauges"][0]["low_kpa"] == -2.0);
    CHECK(more["gauges"][0]["high_kpa"] == 3.0);
    CHECK(more["gauges"][0]["jobs"][0] == "J-1");
    CHECK(more["gauges"][0]["points"][0]["job"] == "J-1");
    check_fields(more["funnel"], {"target", "spread", "points", "limits"});
    check_fields(more["funnel"]["points"][0], {"crew", "failed", "tries", "share", "low", "high", "outside", "jobs"});
    check_fields(more["funnel"]["limits"][0], {"tries", "low95", "high95", "low998", "high998"});
    desk::JobView job;
    job.blockers.push_back({"a", "open", "b"});
    check_fields(in_json(job)["blockers"][0], {"check", "outcome", "why"});
}

TEST_CASE("what ran ahead of its hold points is told with their ids, by the reading and by the answer") {
    // Source: decisions of the project, number 12.
    desk::ReadingView reading;
    CHECK(in_json(reading)["out_of_order"] == false);
    CHECK(in_json(reading)["blocked_by"] == Json::array());
    reading.out_of_order = true;
    reading.blocked_by = {"power-locked", "ladder-set"};
    CHECK(in_json(reading)["out_of_order"] == true);
    CHECK(in_json(reading)["blocked_by"] == Json{"power-locked", "ladder-set"});
    desk::Answer answer;
    CHECK(in_json(answer)["out_of_order"] == false);
    answer.blocked_by = {"power-locked"};
    CHECK(in_json(answer)["out_of_order"] == true);
    CHECK(in_json(answer)["blocked_by"][0] == "power-locked");
}

TEST_CASE("outcomes are the six words") {
    const std::pair<desk::Outcome, const char*> words[] = {{desk::Outcome::Open, "open"},
                                                          {desk::Outcome::Conforms, "conforms"},
                                                          {desk::Outcome::DoesNotConform, "does not conform"},
                                                          {desk::Outcome::Inconclusive, "inconclusive"},
                                                          {desk::Outcome::Deferred, "deferred"},
                                                          {desk::Outcome::NotApplicable, "not applicable"}};
    for (const auto& [outcome, word] : words) {
        desk::Answer answer;
        answer.outcome = outcome;
        CHECK(in_json(answer)["outcome"] == word);
    }
}

TEST_CASE("a limit is a value with its unit, or null; what is missing is null and not a word") {
    desk::LimitsView limits;
    limits.unit = "kPa";
    limits.low = 50.0;
    const auto json = in_json(limits);
    CHECK(json["low"]["value"] == 50.0);
    CHECK(json["low"]["unit"] == "kPa");
    CHECK(json["high"].is_null());
    CHECK(json["rule"] == "none");
    CHECK(in_json(desk::Answer{})["probability_conforming"].is_null());
    CHECK(in_json(desk::ReadingView{})["corrects"].is_null());
    CHECK(in_json(desk::ReadingView{})["value"].is_null());
    CHECK(in_json(desk::MessageView{})["next_try"].is_null());
    desk::CheckView check;
    check.kind = "confirm";
    CHECK(in_json(check)["tolerance"].is_null());
    check.kind = "quantity";
    CHECK(in_json(check)["tolerance"].is_object());
}

TEST_CASE("a document is one line, also with bytes that are no UTF-8") {
    const auto text = document({{"a", "x\xff\ny"}});
    CHECK(text.find('\n') == text.size() - 1);
    CHECK_FALSE(Json::parse(text).is_discarded());
}

}  // namespace wm::app
