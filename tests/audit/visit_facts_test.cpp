#include "audit/visit_facts.hpp"

#include <doctest/doctest.h>

namespace wm::audit {

namespace {

record::JobState job_with(const std::vector<std::pair<std::string, std::string>>& facts) {
    record::JobState job;
    for (const auto& [key, text] : facts) {
        job.facts[key].value = record::Words{text};
        job.facts[key].history.emplace_back(record::Origin{}, record::Words{text});
    }
    return job;
}

}  // namespace

TEST_CASE("both runs of the loop count together, in whatever unit they were stated") {
    const auto facts = visit_facts_of(job_with({{"sys.run_hot_m", "1.9"}, {"sys.run_cold_m", "160 cm"}, {"site.t_min_c", "-9"}, {"house.pipe", "mixed"}}));
    REQUIRE(facts.loop_run_m);
    CHECK(*facts.loop_run_m == doctest::Approx(3.5));
    REQUIRE(facts.coldest_c);
    CHECK(*facts.coldest_c == doctest::Approx(-9.0));
    CHECK(facts.pipe == "mixed");
    CHECK_FALSE(facts.air_c);
}

TEST_CASE("half a loop, or a text that is no length, is no run") {
    CHECK_FALSE(visit_facts_of(job_with({{"sys.run_hot_m", "4"}})).loop_run_m);
    CHECK_FALSE(visit_facts_of(job_with({{"sys.run_hot_m", "4"}, {"sys.run_cold_m", "long"}})).loop_run_m);
}

TEST_CASE("a job is finished on the day of the handover that stands") {
    auto job = job_with({});
    CHECK(visit_facts_of(job).handed_over.empty());
    job.handover.emplace();
    job.handover->origin.time = "2026-11-25T14:03:00.000Z";
    job.handover->origin.entry = "f00d";
    CHECK(visit_facts_of(job).handed_over == "2026-11-25");
    CHECK(visit_facts_of(job).handed_by == "f00d");
}

}  // namespace wm::audit
