// What is half written on the sign-off screen and of a call, across an end of the window.
#include "screens/half_written.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "screens/complaints_sample.hpp"
#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;
using wm::screens::testing::some_complaints;

namespace {

/// What the disk would hold, as it comes back from there.
KeptNumber kept_by(const Glass& glass) {
    const auto* kept = glass.last<KeepNumber>();
    REQUIRE(kept != nullptr);
    if (kept->number.job.empty()) return {};
    const auto back = read_number_kept(written(kept->number));
    REQUIRE(back);
    CHECK(*back == kept->number);
    return *back;
}

long kept_times(const Glass& glass) {
    return std::count_if(glass.all.begin(), glass.all.end(), [](const Request& one) { return std::holds_alternative<KeepNumber>(one); });
}

void open_signing(Glass& glass) {
    glass.world.job->blockers.clear();
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
}

}  // namespace

TEST_CASE("the name of who signs and why a customer does not stand there again, and no stroke does") {
    KeptNumber before;
    {
        Glass glass{1280.0F, 800.0F, {}};
        open_signing(glass);
        CHECK(kept_times(glass) == 0);
        REQUIRE(glass.press("sign/customer"));
        REQUIRE(glass.press("sign/name"));
        glass.type("Ansa Velmorrin");
        REQUIRE(glass.press("sign/refuses"));
        REQUIRE(glass.press("sign/reason"));
        glass.type("wants to wait");
        before = kept_by(glass);
        CHECK(before.job == glass.world.job->row.job);
        CHECK(before.words.at("name") == "Ansa Velmorrin");
    }
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.run.from_before = before;
    glass.open_check("fall-protection");
    CHECK(glass.drafts.sign.name.empty());
    open_signing(glass);
    CHECK(glass.drafts.sign.name == "Ansa Velmorrin");
    CHECK(glass.drafts.sign.refused_because == "wants to wait");
    CHECK(glass.drafts.sign.role == desk::Signer::Customer);
    CHECK(glass.drafts.sign.mode == SignMode::Refusing);
    CHECK(glass.drafts.sign.strokes.empty());
    CHECK_FALSE(glass.drafts.run.from_before);
    REQUIRE(glass.press("sign/sign"));
    REQUIRE(glass.last_intent<desk::Sign>() != nullptr);
    CHECK(glass.last_intent<desk::Sign>()->name == "Ansa Velmorrin");
    // Until it is known to be saved it is kept; from then on it is not.
    CHECK_FALSE(glass.drafts.sign.name.empty());
    glass.world.job->signatures = {{"customer", "Ansa Velmorrin", "2027-03-04T11:02:00+02:00", "wants to wait"}};
    (void)glass.frame();
    (void)glass.frame();
    CHECK(glass.drafts.sign.name.empty());
    CHECK(kept_by(glass).job.empty());
}

TEST_CASE("a signature that was saved just before the end is not asked for again, and one of another job is not put here") {
    Glass glass{1280.0F, 800.0F, {}};
    KeptNumber before{"A-9999", std::string{signing_words}, "", "", "", "", std::string{signing_words}, {{"name", "Tindo Quellaby"}, {"role", "crew"}}};
    glass.drafts.run.from_before = before;
    open_signing(glass);
    CHECK(glass.drafts.sign.name.empty());
    CHECK(kept_times(glass) == 0);
    before.job = glass.world.job->row.job;
    glass.drafts.run.from_before = before;
    glass.world.job->signatures = {{"crew", "Tindo Quellaby", "2027-03-04T11:02:00+02:00", ""}};
    (void)glass.frame();
    CHECK(glass.drafts.sign.name.empty());
    CHECK(kept_by(glass).job.empty());
}

TEST_CASE("in a job that is only looked at no signer's name is put, and none that was kept is lost") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->with = "Orla Finch";
    glass.drafts.run.from_before =
        KeptNumber{glass.world.job->row.job, std::string{signing_words}, "", "", "", "", std::string{signing_words}, {{"name", "Tindo Quellaby"}, {"role", "crew"}}};
    open_signing(glass);
    CHECK(glass.drafts.sign.name.empty());
    CHECK(glass.drafts.run.from_before);
    CHECK(kept_times(glass) == 0);
}

TEST_CASE("what a customer said stands there again, and is kept no longer once the call is") {
    KeptNumber before;
    {
        Glass glass{1280.0F, 2400.0F, {}};
        glass.world.complaints = some_complaints("A-0116");
        Requests asked;
        open_complaints(glass.drafts.jobs.complaint, "A-0116", asked);
        glass.drafts.jobs.complaint.mode = ComplaintMode::Taking;
        (void)glass.frame();
        CHECK(kept_times(glass) == 0);
        REQUIRE(glass.press("jobs/complaints/take/it is other"));
        REQUIRE(glass.press("jobs/complaints/take/words"));
        glass.type("A smell of");
        before = kept_by(glass);
    }
    Glass glass{1280.0F, 2400.0F, {}};
    glass.drafts.run.from_before = before;
    (void)glass.frame();
    REQUIRE(glass.last<AskComplaints>() != nullptr);
    CHECK(glass.last<AskComplaints>()->job == "A-0116");
    glass.world.complaints = some_complaints("A-0116");
    (void)glass.frame();
    CHECK(glass.drafts.jobs.complaint.mode == ComplaintMode::Taking);
    CHECK(glass.drafts.jobs.complaint.take.symptom == "other");
    CHECK(glass.drafts.jobs.complaint.take.words == "A smell of");
    REQUIRE(glass.press("jobs/complaints/keep"));
    REQUIRE(glass.last_intent<desk::TakeComplaint>() != nullptr);
    CHECK(glass.last_intent<desk::TakeComplaint>()->job == "A-0116");
    CHECK(glass.last_intent<desk::TakeComplaint>()->words == "A smell of");
    // The file is emptied behind what saves the call, never before it.
    CHECK(kept_by(glass).job.empty());
    const auto is_call = [](const Request& one) {
        const auto* intent = std::get_if<desk::Intent>(&one);
        return intent != nullptr && std::holds_alternative<desk::TakeComplaint>(*intent);
    };
    const auto is_emptied = [](const Request& one) {
        const auto* kept = std::get_if<KeepNumber>(&one);
        return kept != nullptr && kept->number.job.empty();
    };
    const bool in_order = std::find_if(glass.all.begin(), glass.all.end(), is_call) < std::find_if(glass.all.begin(), glass.all.end(), is_emptied);
    CHECK(in_order);
}

TEST_CASE("what a complaint came down to stands there again") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.world.complaints = some_complaints("A-0116");
    const std::string form{closing_words};
    glass.drafts.run.from_before =
        KeptNumber{"A-0116", form, "", "", "", "", form, {{"complaint", "C-1A2B-00123"}, {"found", "The feed had burst"}, {"visit", "A-0119"}}};
    (void)glass.frame();
    CHECK(glass.drafts.jobs.complaint.mode == ComplaintMode::Closing);
    CHECK(glass.says("What was it?"));
    CHECK(glass.drafts.jobs.complaint.close.found == "The feed had burst");
    // Back gives it up.
    REQUIRE(glass.press("jobs/complaints/back"));
    CHECK(kept_by(glass).job.empty());
}

TEST_CASE("a name that waits on the sign-off screen is kept while one looks at the jobs") {
    Glass glass{1280.0F, 800.0F, {}};
    open_signing(glass);
    REQUIRE(glass.press("sign/name"));
    glass.type("Tindo");
    const auto times = kept_times(glass);
    CHECK(times > 0);
    glass.drafts.screen = Screen::Jobs;
    (void)glass.frame();
    CHECK(kept_times(glass) == times);
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
    CHECK(kept_times(glass) == times);
}
