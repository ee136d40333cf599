// A customer's call in the window: taken, explained, planned, closed.
#include "screens/complaint_sheet.hpp"

#include <doctest/doctest.h>

#include "screens/complaints_sample.hpp"
#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;
using wm::screens::testing::some_complaints;

TEST_CASE("a call is taken from the list of jobs, by the house, and says at once what to tell the caller") {
    Glass glass{1280.0F, 2400.0F, {}};
    REQUIRE(glass.press("jobs/call"));
    (void)glass.frame();
    CHECK(glass.says("Whose house is it?"));
    REQUIRE(glass.press("jobs/list/A-0116"));
    REQUIRE(glass.last<AskComplaints>() != nullptr);
    CHECK(glass.last<AskComplaints>()->job == "A-0116");
    CHECK(glass.last<OpenJobView>() == nullptr);
    CHECK(glass.drafts.screen == Screen::Jobs);
    (void)glass.frame();
    CHECK(glass.says("The record of this house is being looked up."));
    auto sheet = some_complaints("A-0116");
    sheet.complaints.clear();
    glass.world.complaints = sheet;
    (void)glass.frame();
    CHECK(glass.says("Nobody has complained of this house."));
    REQUIRE(glass.press("jobs/complaints/new"));
    (void)glass.frame();
    CHECK_FALSE(glass.spot("jobs/complaints/keep").enabled);
    REQUIRE(glass.press("jobs/complaints/take/it is burst"));
    (void)glass.frame();
    CHECK(glass.says("Say now: Shut the main"));
    REQUIRE(glass.press("jobs/complaints/take/words"));
    glass.type("It sprays");
    REQUIRE(glass.press("jobs/complaints/take/since today"));
    REQUIRE(glass.press("jobs/complaints/take/air"));
    glass.type("-6");
    REQUIRE(glass.press("jobs/complaints/keep"));
    const auto* taken = glass.last_intent<desk::TakeComplaint>();
    REQUIRE(taken != nullptr);
    CHECK(taken->job == "A-0116");
    CHECK(taken->symptom == "burst");
    CHECK(taken->words == "It sprays");
    CHECK(taken->air == "-6");
    CHECK(taken->since == glass.world.moment.now.substr(0, 10));
}

TEST_CASE("what is on no list is told in words or not kept") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.world.complaints = some_complaints("A-0116");
    Requests asked;
    open_complaints(glass.drafts.jobs.complaint, "A-0116", asked);
    glass.drafts.jobs.complaint.mode = ComplaintMode::Taking;
    REQUIRE(glass.press("jobs/complaints/take/it is other"));
    (void)glass.frame();
    CHECK_FALSE(glass.spot("jobs/complaints/keep").enabled);
    REQUIRE(glass.press("jobs/complaints/take/words"));
    glass.type("A smell");
    (void)glass.frame();
    CHECK(glass.spot("jobs/complaints/keep").enabled);
}

TEST_CASE("likely causes stand with share, reasons and checks, and become a visit at a touch") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.world.complaints = some_complaints("A-0116");
    Requests asked;
    open_complaints(glass.drafts.jobs.complaint, "A-0116", asked);
    (void)glass.frame();
    CHECK(glass.says("80 %  Frost burst the cold feed"));
    CHECK(glass.says("common practice, no source"));
    CHECK(glass.says("Cold feed cannot freeze: never read in A-0116"));
    CHECK(glass.says("Until somebody comes: Leave the taps shut."));
    CHECK(glass.says("A vase fell over."));
    REQUIRE(glass.press("jobs/complaints/told/C-1A2B-00123/visit"));
    const auto* visit = glass.last_intent<desk::VisitForComplaint>();
    REQUIRE(visit != nullptr);
    CHECK(visit->job == "A-0116");
    CHECK(visit->complaint == "C-1A2B-00123");
    // Once it is planned the key leads there.
    glass.world.complaints->complaints[0].revisit = "A-0119";
    REQUIRE(glass.press("jobs/complaints/told/C-1A2B-00123/visit"));
    REQUIRE(glass.last<OpenJobView>() != nullptr);
    CHECK(glass.last<OpenJobView>()->job == "A-0119");
}

TEST_CASE("a complaint is closed by a check that conforms, and not without words") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.world.complaints = some_complaints("A-0116");
    Requests asked;
    open_complaints(glass.drafts.jobs.complaint, "A-0116", asked);
    REQUIRE(glass.press("jobs/complaints/told/C-1A2B-00123/close"));
    (void)glass.frame();
    CHECK_FALSE(glass.shows("jobs/complaints/end/checks/frost-cold-feed"));  // it was never read
    CHECK(glass.shows("jobs/complaints/end/checks/drain-low"));
    glass.world.complaints->complaints[0].repeat[1].read_since = false;
    (void)glass.frame();
    CHECK_FALSE(glass.shows("jobs/complaints/end/checks/drain-low"));  // it stood as right before the call
    glass.world.complaints->complaints[0].repeat[1].read_since = true;
    (void)glass.frame();
    REQUIRE(glass.press("jobs/complaints/end/causes/frost-cold-feed"));
    REQUIRE(glass.press("jobs/complaints/end/found"));
    glass.type("The feed lay bare");
    (void)glass.frame();
    CHECK_FALSE(glass.spot("jobs/complaints/close").enabled);
    REQUIRE(glass.press("jobs/complaints/end/checks/drain-low"));
    REQUIRE(glass.press("jobs/complaints/close"));
    const auto* close = glass.last_intent<desk::CloseComplaint>();
    REQUIRE(close != nullptr);
    CHECK(close->complaint == "C-1A2B-00123");
    CHECK(close->cause == "frost-cold-feed");
    CHECK(close->found == "The feed lay bare");
    CHECK(close->check == "drain-low");
}

TEST_CASE("the week names who called, and leads to the house in one touch") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.drafts.screen = Screen::Week;
    glass.world.week->complaints = {{.job = "A-0116", .complaint = "C-1A2B-00123", .symptom = "no-water", .symptom_words = "No water comes",
                                     .told_on = "2027-03-03", .air = "-6 °C", .survey = "", .commissioning = "A-0116", .is_open = true, .age_days = 1,
                                     .unproved = {{"A-0116", "frost-cold-feed", "", "never read", 0, "Cold feed cannot freeze"}}}};
    (void)glass.frame();
    const auto& row = glass.spot("week/first/calls/C-1A2B-00123");
    CHECK(row.words.find("A-0116") != std::string::npos);
    CHECK(glass.says("Cold feed cannot freeze: never read"));
    REQUIRE(glass.press("week/first/calls/C-1A2B-00123"));
    REQUIRE(glass.last<AskComplaints>() != nullptr);
    CHECK(glass.last<AskComplaints>()->job == "A-0116");
    glass.world.complaints = some_complaints("A-0116");
    (void)glass.frame();
    CHECK(glass.says("80 %  Frost burst the cold feed"));
}

TEST_CASE("a call that is refused is there again with all that was written") {
    Glass glass{1280.0F, 2400.0F, {}};
    open_complaints(glass.drafts.jobs.complaint, "A-0116", glass.all);
    glass.world.complaints = some_complaints("A-0116");
    REQUIRE(glass.press("jobs/complaints/new"));
    glass.drafts.jobs.complaint.take.symptom = "burst";
    glass.drafts.jobs.complaint.take.words = "It sprays";
    glass.drafts.jobs.complaint.take.since = "2026-11-2 5";
    REQUIRE(glass.press("jobs/complaints/keep"));
    CHECK(glass.drafts.jobs.complaint.mode == ComplaintMode::Reading);
    glass.world.saving = true;
    static_cast<void>(glass.frame());
    glass.world.saving = false;
    ++glass.world.answered;
    glass.world.problem = Problem{"\"2026-11-2 5\" is no day.", "since", "Write it as 2026-11-25."};
    glass.world.problem_at = glass.world.answered + 1;
    static_cast<void>(glass.frame());
    CHECK(glass.drafts.jobs.complaint.mode == ComplaintMode::Taking);
    CHECK(glass.drafts.jobs.complaint.take.words == "It sprays");
    glass.world.problem.reset();
    REQUIRE(glass.press("jobs/complaints/keep"));
    ++glass.world.answered;
    static_cast<void>(glass.frame());
    CHECK(glass.drafts.jobs.complaint.mode == ComplaintMode::Reading);
    CHECK_FALSE(glass.drafts.jobs.complaint.sent);
}

TEST_CASE("a refused call comes back also where the message covers the whole sheet") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.906F, .text_percent = 200}};
    open_complaints(glass.drafts.jobs.complaint, "A-0116", glass.all);
    glass.world.complaints = some_complaints("A-0116");
    auto& draft = glass.drafts.jobs.complaint;
    draft.mode = ComplaintMode::Reading;
    draft.take = {.job = "A-0116", .symptom = "burst"};
    draft.sent = ComplaintMode::Taking;
    draft.sent_after = glass.world.answered;
    glass.world.saving = true;
    glass.world.problem = Problem{"\"2026-13-45\" is no date.", "since", "Write it as 2026-11-25."};
    glass.world.problem_at = glass.world.answered + 1;
    static_cast<void>(glass.frame());
    glass.world.saving = false;
    ++glass.world.answered;
    static_cast<void>(glass.frame());
    glass.world.problem.reset();
    static_cast<void>(glass.frame());
    CHECK(draft.mode == ComplaintMode::Taking);
    CHECK(draft.take.symptom == "burst");
}
