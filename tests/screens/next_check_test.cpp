#include "screens/next_check.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using measure::Outcome;

namespace {

/// Checks a to e, all open, all yes or no.
desk::JobView five() {
    desk::JobView job;
    job.row.job = "J";
    for (const char* id : {"a", "b", "c", "d", "e"})
        job.checks.push_back(testing::check(id, "A", id, desk::EntryForm::YesNo));
    for (auto& check : job.checks) check.outcome = Outcome::Open;
    return job;
}

std::string after(const desk::JobView& job, std::string_view from, const std::vector<SeriesRun>& runs = {}) {
    const auto* next = next_useful(job, from, runs, 1000);
    return next == nullptr ? std::string{"none"} : next->id;
}

}  // namespace

TEST_CASE("next passes over what is done, and comes round to what was left out") {
    auto job = five();
    CHECK(after(job, "a") == "b");
    job.checks[1].outcome = Outcome::Conforms;
    job.checks[2].outcome = Outcome::Deferred;
    CHECK(after(job, "a") == "d");
    job.checks[3].outcome = job.checks[4].outcome = Outcome::Conforms;
    CHECK(after(job, "c") == "a");
    CHECK(after(job, "a") == "none");
}

TEST_CASE("what waits for a hold point comes after what can be read now, and faults after open checks") {
    auto job = five();
    job.checks[1].waits_for = {"a"};
    job.checks[2].outcome = Outcome::DoesNotConform;
    CHECK(after(job, "a") == "d");
    job.checks[3].outcome = job.checks[4].outcome = Outcome::Conforms;
    CHECK(after(job, "a") == "c");
    job.checks[2].concession = "accepted";
    CHECK(after(job, "a") == "b");
}

TEST_CASE("what is left out on the way because it waits is counted, also round the end of the list") {
    auto job = five();
    job.checks[1].waits_for = {"a"};
    job.checks[2].outcome = Outcome::Conforms;
    CHECK(waiting_between(job, "a", "d") == 1);
    CHECK(waiting_between(job, "a", "b") == 0);
    CHECK(waiting_between(job, "d", "c") == 1);
    CHECK(waiting_between(job, "a", "none of these") == 0);
    job.checks[1].outcome = Outcome::Conforms;
    CHECK(waiting_between(job, "a", "d") == 0);
}

TEST_CASE("a signature, a worked-out check and a series that is not due are no visits") {
    auto job = five();
    job.checks[1].form = desk::EntryForm::Signature;
    job.checks[2].form = desk::EntryForm::None;
    job.checks[3].form = desk::EntryForm::Series;
    SeriesRun run;
    run.job = "J";
    run.check = "d";
    run.started_s = 1000;
    run.every_s = 120;
    run.duration_s = 600;
    run.rows = {{0, {"480"}}};
    CHECK(after(job, "a") == "d");
    CHECK(after(job, "a", {run}) == "e");
    run.started_s = 800;
    CHECK(after(job, "a", {run}) == "d");
}
