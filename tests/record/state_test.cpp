#include "record/state.hpp"

#include <doctest/doctest.h>

#include "record/clock_watch.hpp"
#include "record/testing.hpp"

using namespace wm::record;
using namespace wm::record::testing;

namespace {

JobOpened opened() {
    JobOpened job;
    job.number = "J-1";
    job.customer = "k1";
    job.kind = "commissioning";
    job.checklist = "commissioning";
    job.checklist_version = 1;
    job.checklist_hash = std::string(64, 'b');
    return job;
}

SignedBy signature(SignRole role) {
    SignedBy by;
    by.role = role;
    by.name = committed("Mirela");
    return by;
}

HandedOver handed(HandoverKind kind) {
    HandedOver over;
    over.outcome = kind;
    over.pdf_sha256 = std::string(64, 'd');
    over.head_before = std::string(64, 'e');
    return over;
}

}  // namespace

TEST_CASE("a job knows how it was opened and how many entries it has") {
    Device device{'a'};
    device.write("J-1", opened());
    device.write("J-2", opened());
    device.write("J-1", reading("torque", "", Outcome::Conforms));
    const JobState job = folded("J-1", device.all());
    CHECK(job.number == "J-1");
    CHECK(job.opened->kind == "commissioning");
    CHECK(job.entries == 2);
    CHECK(job.opened_at == device.all()[1].entry.time);
    CHECK(job.last_time == device.all()[3].entry.time);
}

TEST_CASE("the latest fact counts, earlier ones are kept, an undone one steps back") {
    Device device{'a'};
    device.write("J-1", FactsStated{{{"site.t_min_c", "-10"}, {"sys.kind", "direct"}}, "P-02"});
    const std::string later =
        device.write("J-1", FactsStated{{{"site.t_min_c", "-13"}}, "P-02"}).hash;
    JobState job = folded("J-1", device.all());
    CHECK(shown(*job.fact("site.t_min_c")) == "-13");
    CHECK(job.facts.at("site.t_min_c").history.size() == 2);
    CHECK(job.fact("site.latitude") == nullptr);
    device.write("J-1", Undone{later, "P-02"});
    job = folded("J-1", device.all());
    CHECK(shown(*job.fact("site.t_min_c")) == "-10");
    CHECK(job.facts.at("site.t_min_c").history.size() == 2);
    device.write("J-1", Undone{device.all()[1].hash, "P-02"});
    CHECK(folded("J-1", device.all()).fact("sys.kind") == nullptr);
}

TEST_CASE("a job goes from open to signed to handed over and back when it is reopened") {
    Device device{'a'};
    device.write("J-1", opened());
    const auto phase = [&] { return folded("J-1", device.all()).phase(); };
    CHECK(phase() == JobPhase::Open);
    device.write("J-1", signature(SignRole::Crew));
    CHECK(phase() == JobPhase::Open);
    device.write("J-1", signature(SignRole::Customer));
    CHECK(phase() == JobPhase::Signed);
    device.write("J-1", handed(HandoverKind::Restricted));
    CHECK(phase() == JobPhase::Restricted);
    device.write("J-1", JobReopened{committed("Hot now."), "P-02"});
    CHECK(phase() == JobPhase::Open);
    device.write("J-1", handed(HandoverKind::Full));
    const JobState job = folded("J-1", device.all());
    CHECK(job.phase() == JobPhase::HandedOver);
    CHECK(job.earlier_handovers.size() == 1);
    CHECK(job.reopenings.size() == 1);
}

TEST_CASE("a signature is stale once a check has changed after it") {
    Device device{'a'};
    device.write("J-1", signature(SignRole::Crew));
    device.write("J-1", signature(SignRole::Customer));
    device.write("J-1", reading("torque", "", Outcome::DoesNotConform));
    const JobState job = folded("J-1", device.all());
    CHECK(job.phase() == JobPhase::Open);
    CHECK(job.signatures.size() == 2);
    CHECK(job.signatures[0].stale);
}

TEST_CASE("a customer who will not sign makes the job refused") {
    Device device{'a'};
    device.write("J-1", signature(SignRole::Crew));
    SignedBy no = signature(SignRole::Customer);
    no.refused = committed("The gutter is bent.");
    device.write("J-1", no);
    CHECK(folded("J-1", device.all()).phase() == JobPhase::Refused);
    CHECK(in_words(JobPhase::Refused) == "refused");
}

TEST_CASE("a crew that left is remembered until the job is reopened") {
    Device device{'a'};
    device.write("J-1", Abandoned{true, committed("Storm."), {"cold feed"}, "P-02"});
    CHECK(folded("J-1", device.all()).phase() == JobPhase::Abandoned);
    device.write("J-1", JobReopened{committed("Calm."), "P-02"});
    CHECK(folded("J-1", device.all()).phase() == JobPhase::Open);
}

TEST_CASE("a message keeps its tries in order") {
    Device device{'a'};
    device.write("J-1", MessageQueued{"m1",
                                      "handover",
                                      committed("a@b"),
                                      committed("Report"),
                                      {std::string(64, 'a'), "message/rfc822", "", std::nullopt}});
    device.write("J-1", MessageTried{"m1", MessageState::Waiting, "451 later", "t"});
    device.write("J-1", MessageTried{"m1", MessageState::Sent, "250 ok", ""});
    device.write("J-1", MessageTried{"m2", MessageState::Sent, "250 ok", ""});
    const JobState job = folded("J-1", device.all());
    REQUIRE(job.messages.size() == 1);
    CHECK(job.messages.at("m1").tries.size() == 2);
    CHECK(job.messages.at("m1").tries.back().state == MessageState::Sent);
}

TEST_CASE("notes, near misses, instruments, jumps and unknown kinds are all kept") {
    Device device{'a'};
    device.write("J-1", opened());
    device.write("J-1", NoteMade{committed("Dog."), "", "P-02"});
    device.write("J-1", NearMissNoted{committed("Slip."), "", "P-02"});
    InstrumentRegistered wrench;
    wrench.id = "TW-2";
    wrench.type = "torque wrench";
    device.write("J-1", wrench);
    wrench.due = "2027-05-01";
    device.write("J-1", wrench);
    device.write("", ClockJumped{"a", "b", 180000, "within a boot"});
    device.write("J-1", Unknown{"weather-seen", R"({"kind":"weather-seen","sky":"clear"})"});
    device.write("", CustomerErased{"k1"});
    const JobState job = folded("J-1", device.all());
    CHECK(job.notes.size() == 1);
    CHECK(job.near_misses.size() == 1);
    CHECK(job.instruments.at("TW-2").due == "2027-05-01");
    CHECK(job.clock_jumps.size() == 1);
    CHECK(job.unknown.size() == 1);
    CHECK(job.erased);
}

TEST_CASE("the owner of a deferral that is kept for the house takes the place of the one that goes, and nothing else moves") {
    Device device{'a'};
    device.write("J-1", opened());
    Deferred put_off;
    put_off.check = "outlet-temp";
    put_off.until = "2027-03-18";
    put_off.owner = Personal{std::string(64, 'c'), std::nullopt};
    put_off.why = committed("Cold.");
    const std::string first = device.write("J-1", put_off).hash;
    const auto before = folded("J-1", device.all());
    device.write("J-1", OwnerKept{first, committed("Ode Brannick")});
    device.write("J-1", OwnerKept{std::string(64, 'e'), committed("Nobody")});  // of no deferral
    const auto after = folded("J-1", device.all());
    const auto& check = after.checks.at("outlet-temp");
    REQUIRE(check.deferral);
    CHECK(check.deferral->deferred.owner == committed("Ode Brannick"));
    CHECK(check.deferral->deferred.until == "2027-03-18");
    CHECK(check.deferrals.size() == 1);
    CHECK(check.deferral->origin.order == before.checks.at("outlet-temp").deferral->origin.order);
    CHECK(check.outcome == before.checks.at("outlet-temp").outcome);
    CHECK(after.phase() == before.phase());
}

TEST_CASE("an entry is dated by hand from where its device says so to where it reads its clock again") {
    Device device{'a'}, other{'b'};
    device.write("J-1", opened());
    device.write("J-1", reading("torque", "", Outcome::Conforms));
    device.write("", TimeSourceChanged{"given by hand"});
    const std::string by_hand = device.write("J-1", reading("torque", "", Outcome::Conforms)).hash;
    device.write("J-2", opened());
    device.write("", TimeSourceChanged{"the clock"});
    device.write("J-1", reading("torque", "", Outcome::Conforms));
    other.write("J-1", reading("torque", "", Outcome::Conforms));
    auto all = device.all();
    all.insert(all.end(), other.all().begin(), other.all().end());
    const JobState job = folded("J-1", all);
    CHECK(job.entries == 5);
    CHECK(job.by_hand == std::set<std::string>{by_hand});
    // A source that this version does not know is no clock.
    CHECK(time_source_of(TimeSourceChanged{"a star"}) == TimeSource::Hand);
}

TEST_CASE("a complaint is open until it is closed, and again when the closing is taken back") {
    Device device{'a'};
    device.write("J-1", opened());
    const auto told = [](std::string number) {
        ComplaintTold complaint;
        complaint.complaint = std::move(number);
        complaint.symptom = "no-water";
        return complaint;
    };
    device.write("J-1", told("C-1"));
    const std::string mistaken = device.write("J-1", told("C-2")).hash;
    ComplaintClosed closed;
    closed.complaint = "C-1";
    closed.found = committed("The feed lay bare.");
    const std::string closing = device.write("J-1", closed).hash;
    closed.complaint = "C-9";  // of no complaint that is known here
    device.write("J-1", closed);
    JobState job = folded("J-1", device.all());
    REQUIRE(job.standing_complaints().size() == 2);
    REQUIRE(job.closing_of(job.complaints[0]) != nullptr);
    CHECK(job.closing_of(job.complaints[0])->found.text == "The feed lay bare.");
    CHECK(job.closing_of(job.complaints[1]) == nullptr);

    device.write("J-1", Undone{mistaken, "P-02"});
    device.write("J-1", Undone{closing, "P-02"});
    job = folded("J-1", device.all());
    REQUIRE(job.standing_complaints().size() == 1);
    CHECK(job.standing_complaints().front()->told.complaint == "C-1");
    CHECK(job.closing_of(job.complaints[0]) == nullptr);
}

TEST_CASE("a complaint moves no check and leaves the signatures as they are") {
    Device device{'a'};
    device.write("J-1", opened());
    device.write("J-1", SignedBy{SignRole::Crew, committed("Tindo"), std::nullopt, "", std::nullopt, "P-02"});
    device.write("J-1", SignedBy{SignRole::Customer, committed("Mirela"), std::nullopt, "", std::nullopt, "P-02"});
    device.write("J-1", ComplaintTold{"C-1", "leak", committed("Wet."), "", "", "", std::nullopt});
    const JobState job = folded("J-1", device.all());
    CHECK(job.phase() == JobPhase::Signed);
    CHECK(job.checks.empty());
}

TEST_CASE("folding entry by entry gives the state of folding at once") {
    Device device{'a'};
    device.write("J-1", opened());
    device.write("J-1", reading("torque", "", Outcome::DoesNotConform));
    device.write("J-1", FaultCorrected{reading("torque", "", Outcome::Conforms),
                                       device.all().back().hash, committed("Done.")});
    JobState job;
    for (const Written& written : device.all()) {
        if (written.entry.job == "J-1") job = after(std::move(job), written);
    }
    const JobState at_once = folded("J-1", device.all());
    CHECK(job.check("torque")->outcome == at_once.check("torque")->outcome);
    CHECK(job.check("torque")->latest == at_once.check("torque")->latest);
    CHECK(job.entries == at_once.entries);
}
