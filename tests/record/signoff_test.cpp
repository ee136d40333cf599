#include "record/signoff.hpp"

#include <doctest/doctest.h>

#include <type_traits>

using namespace wm::record;
using wm::measure::Outcome;

static_assert(!std::is_constructible_v<SignableJob, std::string, std::vector<std::string>>,
              "only the rule can prove that a job may be signed");
static_assert(!std::is_default_constructible_v<SignableJob>);

namespace {

CheckStanding standing(Outcome outcome) {
    CheckStanding check;
    check.id = "coll-tilt";
    check.core = true;
    check.outcome = outcome;
    return check;
}

CheckStanding hold(Outcome outcome) {
    CheckStanding check = standing(outcome);
    check.id = "test-hold";
    check.hold = true;
    check.severity = 'H';
    return check;
}

CheckStanding outlet_temp() {
    CheckStanding check = hold(Outcome::Deferred);
    check.id = "outlet-temp";
    check.restricts = true;
    check.deferral = DeferralStanding{"2027-03-05", "Ilka Brandmoor"};
    return check;
}

bool blocks(const CheckStanding& check) {
    return !blockers({check}).empty();
}

}  // namespace

TEST_CASE("a hold point lets a job through only when it conforms or does not apply") {
    // Source: trade rule S3 (hold points); an inconclusive one counts as not conforming.
    CHECK_FALSE(blocks(hold(Outcome::Conforms)));
    CHECK_FALSE(blocks(hold(Outcome::NotApplicable)));
    for (const Outcome outcome :
         {Outcome::Open, Outcome::DoesNotConform, Outcome::Inconclusive, Outcome::Deferred}) {
        CHECK(blocks(hold(outcome)));
    }
}

TEST_CASE("a hold point is neither conceded nor deferred, not even with owner and date") {
    CheckStanding check = hold(Outcome::DoesNotConform);
    check.severity = 'P';
    check.conceded = true;
    CHECK(blocks(check));
    check.outcome = Outcome::Deferred;
    check.deferral = DeferralStanding{"2027-03-05", "Ilka Brandmoor"};
    CHECK(blocks(check));
}

TEST_CASE(
    "the deferral of the outlet temperature restricts the handover and needs an owner and a date") {
    CHECK_FALSE(blocks(outlet_temp()));
    CHECK(restrictions({outlet_temp(), standing(Outcome::Conforms)}) ==
          std::vector<std::string>{"outlet-temp"});
    CheckStanding nobody = outlet_temp();
    nobody.deferral->owner.clear();
    CHECK(blocks(nobody));
    CheckStanding never = outlet_temp();
    never.deferral->until.clear();
    CHECK(blocks(never));
    CheckStanding unsaid = outlet_temp();
    unsaid.deferral.reset();
    CHECK(blocks(unsaid));
}

TEST_CASE("an open check blocks when it is a core one") {
    CHECK(blocks(standing(Outcome::Open)));
    CheckStanding further = standing(Outcome::Open);
    further.core = false;
    CHECK_FALSE(blocks(further));
}

TEST_CASE("a failed check needs a correction, a deferral or a concession") {
    for (const Outcome outcome : {Outcome::DoesNotConform, Outcome::Inconclusive}) {
        CheckStanding check = standing(outcome);
        check.core = false;
        CHECK(blocks(check));
        check.conceded = true;
        CHECK_FALSE(blocks(check));
    }
    CheckStanding deferred = standing(Outcome::Deferred);
    CHECK(blocks(deferred));
    deferred.deferral = DeferralStanding{"2027-03-18", "Ilka Brandmoor"};
    CHECK_FALSE(blocks(deferred));
    deferred.deferral->owner.clear();
    CHECK(blocks(deferred));
}

TEST_CASE("what can hurt someone is never conceded") {
    CheckStanding check = standing(Outcome::DoesNotConform);
    check.severity = 'H';
    check.conceded = true;
    REQUIRE(blocks(check));
    CHECK(blockers({check}).front().why ==
          "A check that can hurt someone cannot be conceded. Put it right.");
}

TEST_CASE("a failure that vanished without a word blocks") {
    CheckStanding check = standing(Outcome::Conforms);
    check.failures_without_correction = 1;
    CHECK(blocks(check));
}

TEST_CASE("a conflict blocks whatever its readings say") {
    CheckStanding check = standing(Outcome::Conforms);
    check.core = false;
    check.in_conflict = true;
    CHECK(blocks(check));
}

TEST_CASE("a check that does not apply never blocks") {
    CheckStanding check = hold(Outcome::Open);
    check.applies = false;
    check.in_conflict = true;
    CHECK_FALSE(blocks(check));
    CheckStanding deferred = outlet_temp();
    deferred.applies = false;
    CHECK(restrictions({deferred}).empty());
}

TEST_CASE("a job without blockers is handed over fully, or restricted by what is deferred") {
    const auto full = ready_to_sign("J-1", {standing(Outcome::Conforms), hold(Outcome::Conforms)});
    REQUIRE(full);
    CHECK(full->job() == "J-1");
    CHECK(full->handover() == HandoverKind::Full);
    const auto restricted = ready_to_sign("J-1", {standing(Outcome::Conforms), outlet_temp()});
    REQUIRE(restricted);
    CHECK(restricted->handover() == HandoverKind::Restricted);
    CHECK(restricted->restricted_by() == std::vector<std::string>{"outlet-temp"});
}

TEST_CASE("the refusal names every check in the way") {
    CheckStanding open = standing(Outcome::Open);
    open.why = "No reading yet.";
    const auto refusal = ready_to_sign("J-1", {open, hold(Outcome::DoesNotConform)});
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error() ==
          wm::Problem{
              "2 of the checks stand in the way of signing: coll-tilt, test-hold.", "job J-1",
              "Take each reading, record what was corrected, or defer it with an owner and a date.",
              wm::ProblemKind::Refused});
    CHECK(blockers({open}) == std::vector<Blocker>{{"coll-tilt", Outcome::Open,
                                                    "This check is still open. No reading yet."}});
}
