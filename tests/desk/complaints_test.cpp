#include "desk/complaints.hpp"

#include <fmt/format.h>

#include <set>

#include "desk/actions.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using namespace testing;

namespace {

const char* const told_words = "Nothing came out this morning, at noon it drips behind the shed";

std::string taken(Bench& bench, TakeComplaint intent) {
    intent.job = bench.job;
    const auto number = bench.desk().carry_out(intent);
    REQUIRE_MESSAGE(number, (number ? "" : told(number.error())));
    return *number;
}

ComplaintSheetView sheet_of(Bench& bench) {
    auto sheet = complaint_sheet(bench.desk(), bench.job);
    REQUIRE_MESSAGE(sheet, (sheet ? "" : told(sheet.error())));
    return std::move(*sheet);
}

template <class Refused>
Problem refusal(const Refused& answer) {
    REQUIRE_FALSE(answer);
    return answer.error();
}

}  // namespace

TEST_CASE("a call is taken with symptom, words, day and temperature, and stands at the house") {
    Bench bench;
    CHECK(sheet_of(bench).complaints.empty());
    const auto number = taken(bench, {.job = "", .symptom = "no-water", .words = told_words, .since = "2026-11-24", .air = "-6", .by = "Odrun Vassamy"});
    CHECK(number.starts_with("C-"));
    const auto sheet = sheet_of(bench);
    CHECK(sheet.place == "Dovetail Steps");
    REQUIRE(sheet.complaints.size() == 1);
    const auto& complaint = sheet.complaints.front();
    CHECK(complaint.complaint == number);
    CHECK(complaint.symptom_words == "No water comes");
    CHECK(complaint.words == told_words);
    CHECK(complaint.air == "-6 °C");
    CHECK(complaint.by == "Odrun Vassamy");
    CHECK(complaint.commissioning == bench.job);
    CHECK(complaint.is_open);
    const auto rows = bench.desk().job_rows();
    REQUIRE(rows);
    CHECK(rows->front().complaints_open == 1);
    // The place in the chain makes the number: a second one has another.
    CHECK(taken(bench, {.job = "", .symptom = "wet"}) != number);
}

TEST_CASE("what is no symptom, no day, no temperature is refused and says what to write") {
    Bench bench;
    const auto take = [&](TakeComplaint intent) {
        intent.job = bench.job;
        return refusal(bench.desk().carry_out(intent));
    };
    CHECK(take({.job = "", .symptom = "no-watr"}).what == "\"no-watr\" is no symptom of the list.");
    CHECK(take({.job = "", .symptom = "no-watr"}).what_to_do.starts_with("Use one of: no-water, no-hot-water"));
    CHECK(take({.job = "", .symptom = ""}).kind == ProblemKind::WrongUse);
    CHECK(take({.job = "", .symptom = "other"}).what == "What the customer says is missing.");
    CHECK(take({.job = "", .symptom = "wet", .since = "yesterday"}).what == "\"yesterday\" is no date.");
    CHECK(take({.job = "", .symptom = "wet", .since = "2026-11-26"}).what == "2026-11-26 is still to come.");
    CHECK(take({.job = "", .symptom = "wet", .air = "3 kPa"}).kind == ProblemKind::Unreadable);
    CHECK(take({.job = "", .symptom = "wet", .air = "90"}).what == "\"90\" is no temperature of the air outside.");
    CHECK_FALSE(bench.desk().carry_out(TakeComplaint{.job = "J-none", .symptom = "wet"}));
    CHECK(sheet_of(bench).complaints.empty());
}

TEST_CASE("after frost a feed that nobody looked at is likelier than one that was in order") {
    Bench bench;
    (void)taken(bench, {.job = "", .symptom = "no-water", .air = "-8 °C"});
    auto cause = sheet_of(bench).complaints.front().causes.front();
    CHECK(cause.failure == "frost-cold-feed");
    CHECK(cause.checks.front().check == "frost-cold-feed");
    CHECK(cause.checks.front().state == "never read");
    REQUIRE(sheet_of(bench).complaints.front().repeat.size() >= 3);
    // Only one failure of the list shows itself by no water at all; wet can be much else.
    (void)taken(bench, {.job = "", .symptom = "wet", .air = "-8 °C"});
    const auto share = [&] {
        for (const auto& complaint : sheet_of(bench).complaints)
            for (const auto& one : complaint.causes)
                if (complaint.symptom == "wet" && one.failure == "frost-cold-feed") return one.share;
        return 0.0;
    };
    const double unread = share();
    auto reading = bench.reading("frost-cold-feed", "insulated and drains itself");
    (void)bench.take(reading);
    const double read = share();
    CHECK(read < unread);
    CHECK(read > 0.0);
    for (const auto& complaint : sheet_of(bench).complaints) {
        double sum = 0.0;
        for (const auto& one : complaint.causes) {
            sum += one.share;
            // Each weight names its source (what stands in the list is common practice).
            for (const auto& reason : one.reasons) CHECK((reason.find("common practice, no source") != std::string::npos || reason.find("our own record") != std::string::npos));
        }
        CHECK(sum == doctest::Approx(1.0));
    }
}

TEST_CASE("a house taken for free of frost is held against the frost that was told") {
    std::string facts = house_facts(tools());
    facts.replace(facts.find("\"regular\""), 9, "\"none\"");
    facts.replace(facts.find("\"indirect\""), 10, "\"direct\"");
    Bench bench{facts};
    (void)taken(bench, {.job = "", .symptom = "burst", .air = "-4 °C"});
    const auto complaint = sheet_of(bench).complaints.front();
    CHECK(complaint.causes.front().failure.starts_with("frost-"));
    const auto& reasons = complaint.causes.front().reasons;
    CHECK(std::any_of(reasons.begin(), reasons.end(), [](const std::string& why) {
        return why.find("surveyed as free of frost, and frost was told") != std::string::npos;
    }));
    // A direct set has no jacket to be filled too early.
    for (const auto& cause : complaint.causes) CHECK(cause.failure != "jacket-first");
}

TEST_CASE("a complaint becomes one visit that knows what was told, and is closed by a check that conforms") {
    Bench bench;
    const auto number = taken(bench, {.job = "", .symptom = "no-water", .words = told_words, .since = "2026-11-24", .air = "-6 °C"});
    const auto visit = bench.desk().carry_out(VisitForComplaint{bench.job, ""});
    REQUIRE_MESSAGE(visit, (visit ? "" : told(visit.error())));
    CHECK(*bench.desk().carry_out(VisitForComplaint{bench.job, number}) == *visit);
    CHECK(sheet_of(bench).complaints.front().revisit == *visit);
    const auto seen = bench.desk().job_view(*visit);
    REQUIRE(seen);
    REQUIRE(seen->notes.size() == 1);
    CHECK(seen->notes.front().find(number + ": No water comes, since 2026-11-24, at -6 °C outside.") != std::string::npos);
    CHECK(seen->notes.front().find(told_words) != std::string::npos);
    CHECK(seen->notes.front().find("Repeat: Cold feed cannot freeze") != std::string::npos);
    const auto* asked = check_named(*seen, "svc-complaints");
    REQUIRE(asked != nullptr);
    CHECK(asked->beforehand == seen->notes);
    // A second call before anyone went is told to the same visit.
    const auto second = taken(bench, {.job = "", .symptom = "noise"});
    CHECK(*bench.desk().carry_out(VisitForComplaint{bench.job, second}) == *visit);
    CHECK(bench.desk().job_view(*visit)->notes.size() == 2);

    CloseComplaint close{.job = bench.job, .complaint = number, .cause = "frost-cold-feed", .found = "The feed lay bare behind the shed; insulated.", .check = "frost-cold-feed"};
    CHECK(refusal(bench.desk().carry_out(close)).what == "The check \"frost-cold-feed\" does not stand as right at this house.");
    (void)bench.enter("frost-cold-feed", "insulated and drains itself");
    const auto proving = [&] {
        std::set<std::string> checks;
        const auto sheet = sheet_of(bench);
        for (const auto& row : sheet.complaints[1].repeat)
            if (row.read_since) checks.insert(row.check);
        return checks;
    };
    CHECK(proving() == std::set<std::string>{"frost-cold-feed"});
    close.visit = *visit;
    REQUIRE(bench.desk().carry_out(close));
    const auto sheet = sheet_of(bench);
    REQUIRE(sheet.complaints.size() == 2);
    CHECK(sheet.complaints[0].complaint == second);
    const auto& closed = sheet.complaints[1];
    CHECK_FALSE(closed.is_open);
    CHECK(closed.cause_words == "Frost burst the cold feed or the discharge");
    CHECK(closed.found == close.found);
    CHECK(closed.visit == *visit);
    CHECK(refusal(bench.desk().carry_out(close)).kind == ProblemKind::Refused);
    // What it came down to counts with the next one like it.
    (void)taken(bench, {.job = "", .symptom = "no-water"});
    const auto reasons = sheet_of(bench).complaints.front().causes.front().reasons;
    CHECK(std::any_of(reasons.begin(), reasons.end(), [](const std::string& why) { return why.starts_with("+ 1: "); }));
}

TEST_CASE("what stood as right before the customer called proves nothing, nor does a visit where nothing was read") {
    Bench bench;
    (void)bench.enter("frost-cold-feed", "insulated and drains itself");
    (void)taken(bench, {.job = "", .symptom = "no-water", .words = "", .since = "", .air = "-6 °C"});
    const auto visit = bench.desk().carry_out(VisitForComplaint{bench.job, ""});
    REQUIRE(visit);
    CloseComplaint close{.job = bench.job, .complaint = "", .cause = "frost-cold-feed", .found = "Insulated.", .check = "frost-cold-feed", .visit = *visit};
    const auto before = refusal(bench.desk().carry_out(close));
    CHECK(before.what == "The check \"frost-cold-feed\" stood as right already when the customer called.");
    CHECK(before.what_to_do == "Read it again, or name the visit alone.");
    CHECK(before.kind == ProblemKind::Refused);
    CHECK_FALSE(sheet_of(bench).complaints.front().repeat.front().read_since);
    close.check = "";
    CHECK(refusal(bench.desk().carry_out(close)).what == fmt::format("Nothing was read in {} since the customer called.", *visit));
    auto look = bench.reading("svc-complaints", "No water on Monday");
    look.job = *visit;
    (void)bench.take(look);
    CHECK(sheet_of(bench).complaints.front().is_open);
    close.check = "frost-cold-feed";
    CHECK_FALSE(bench.desk().carry_out(close));
    (void)bench.enter("frost-cold-feed", "insulated and drains itself");
    REQUIRE(bench.desk().carry_out(close));
    CHECK_FALSE(sheet_of(bench).complaints.front().is_open);
}

TEST_CASE("a complaint is not closed without saying what it was and what proves it") {
    Bench bench;
    const auto close = [&](CloseComplaint intent) {
        intent.job = bench.job;
        return refusal(bench.desk().carry_out(intent));
    };
    CHECK(close({.job = "", .complaint = "", .cause = "", .found = "x"}).what == "No complaint of this job is open.");
    const auto number = taken(bench, {.job = "", .symptom = "noise"});
    CHECK(close({.job = "", .complaint = "C-9", .cause = "", .found = "x"}).what == "This job has no complaint C-9.");
    CHECK(close({.job = "", .complaint = "", .cause = "gremlins", .found = "x"}).what == "\"gremlins\" is no failure of the list.");
    CHECK(close({.job = "", .complaint = "", .cause = "", .found = ""}).what == "What it was, and what was done is missing.");
    CHECK(close({.job = "", .complaint = "", .cause = "", .found = "x"}).what == "What proves that it is right now is missing.");
    CHECK(close({.job = "", .complaint = "", .cause = "", .found = "x", .check = "", .visit = "J-9"}).what == "J-9 is no job at this house.");
    (void)taken(bench, {.job = "", .symptom = "wet"});
    CHECK(close({.job = "", .complaint = "", .cause = "", .found = "x"}).what.starts_with("Several complaints of this job are open: " + number));
}

TEST_CASE("a complaint after the handover leaves the job as it was, and is taken back as any entry") {
    Bench bench;
    bench.do_all();
    bench.sign_both();
    REQUIRE(bench.desk().carry_out(HandOver{bench.job}));
    (void)taken(bench, {.job = "", .symptom = "wet", .words = "A drop, now and then"});
    CHECK(bench.view().row.state == "handed over");
    CHECK_FALSE(bench.view().supplement_due);
    const auto back = bench.desk().carry_out(UndoLast{bench.job});
    REQUIRE_MESSAGE(back, (back ? "" : told(back.error())));
    CHECK(back->words == "the complaint");
    CHECK(sheet_of(bench).complaints.empty());
    CHECK_FALSE(bench.desk().carry_out(UndoLast{bench.job}));
}

TEST_CASE("erasing the customer takes the words of a complaint, and leaves what the audit counts") {
    Bench bench;
    (void)bench.enter("ladder-set", "70°");
    (void)taken(bench, {.job = "", .symptom = "no-water", .words = told_words, .air = "-6 °C"});
    (void)bench.enter("frost-cold-feed", "insulated and drains itself");
    REQUIRE(bench.desk().carry_out(CloseComplaint{.job = bench.job, .complaint = "", .cause = "frost-cold-feed", .found = "Ansa's shed had no door", .check = "frost-cold-feed"}));
    const auto counted = [&] {
        const auto columns = bench.desk().audit_columns();
        REQUIRE(columns);
        return (*columns)->rest().complaints;
    };
    const auto before = counted();
    REQUIRE(before.size() == 1);
    CHECK(before.front().frost);
    CHECK(before.front().cause == "frost-cold-feed");
    REQUIRE(bench.desk().erase_customer(bench.job));
    CHECK(counted() == before);
    const auto complaint = sheet_of(bench).complaints.front();
    CHECK(complaint.words == "(erased)");
    CHECK(complaint.found == "(erased)");
    bench.close();
    CHECK(files_holding(bench.data(), told_words).empty());
    CHECK(files_holding(bench.data(), "Ansa's shed").empty());
}

TEST_CASE("the list over all jobs has the open ones first and leaves practice out") {
    Bench bench;
    const auto first = taken(bench, {.job = "", .symptom = "wet"});
    const auto other = bench.desk().carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
    REQUIRE(other);
    const auto practice = bench.desk().carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", true});
    REQUIRE(practice);
    REQUIRE(bench.desk().carry_out(TakeComplaint{.job = *practice, .symptom = "wet"}));
    const auto second = bench.desk().carry_out(TakeComplaint{.job = *other, .symptom = "noise"});
    REQUIRE(second);
    auto all = complaint_list(bench.desk());
    REQUIRE(all);
    REQUIRE(all->size() == 2);
    CHECK(all->front().complaint == first);
    const auto visit = bench.desk().carry_out(VisitForComplaint{bench.job, first});
    REQUIRE(visit);
    auto look = bench.reading("svc-complaints", "A vase fell over");
    look.job = *visit;
    (void)bench.take(look);
    REQUIRE(bench.desk().carry_out(CloseComplaint{.job = bench.job, .complaint = first, .cause = "", .found = "A vase", .check = "", .visit = *visit}));
    all = complaint_list(bench.desk());
    REQUIRE(all);
    CHECK(all->front().complaint == *second);
    CHECK_FALSE(all->back().is_open);
}

}  // namespace wm::desk
