#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "record/state.hpp"
#include "record/testing.hpp"

using namespace wm::record;
using namespace wm::record::testing;

namespace {

const CheckState& check_of(const JobState& job, std::string_view id = "torque") {
    REQUIRE(job.check(id) != nullptr);
    return *job.check(id);
}

FaultCorrected correction(ReadingTaken reading, std::string corrects) {
    return {std::move(reading), std::move(corrects), committed("Tightened.")};
}

}  // namespace

TEST_CASE("a check is the worst of its places and open while one is missing") {
    const std::vector<std::string> both{"1", "2"};
    Device device{'a'};
    device.write("J-1", reading("torque", "1", Outcome::Conforms, both));
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::Open);
    CHECK(check_of(folded("J-1", device.all())).why == "No reading yet for \"2\".");
    device.write("J-1", reading("torque", "2", Outcome::Inconclusive, both));
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::Inconclusive);
    device.write("J-1", reading("torque", "2", Outcome::Conforms, both));
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::Conforms);
}

TEST_CASE("a place that fails is not hidden by one that is missing") {
    Device device{'a'};
    device.write("J-1", reading("torque", "1", Outcome::DoesNotConform, {"1", "2"}));
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::DoesNotConform);
}

TEST_CASE("a place beyond those needed counts once it is read") {
    Device device{'a'};
    device.write("J-1", reading("torque", "extra", Outcome::DoesNotConform));
    device.write("J-1", reading("torque", "", Outcome::Conforms));
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::DoesNotConform);
}

TEST_CASE("the rule over all places together counts with the latest reading") {
    Device device{'a'};
    ReadingTaken bad = reading("torque", "", Outcome::Conforms);
    bad.judged.whole_outcome = Outcome::DoesNotConform;
    bad.judged.whole_why = "The mean is too low.";
    device.write("J-1", bad);
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::DoesNotConform);
    CHECK(check_of(folded("J-1", device.all())).why == "The mean is too low.");
    ReadingTaken good = bad;
    good.judged.whole_outcome = Outcome::Conforms;
    device.write("J-1", good);
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::Conforms);
}

TEST_CASE("a failure stays on record with what corrected it") {
    Device device{'a'};
    const std::string failing =
        device.write("J-1", reading("torque", "1", Outcome::DoesNotConform, {"1"})).hash;
    CHECK(check_of(folded("J-1", device.all())).failures_without_correction() == 1);
    const std::string cure =
        device.write("J-1", correction(reading("torque", "1", Outcome::Conforms, {"1"}), failing))
            .hash;
    const JobState job = folded("J-1", device.all());
    const CheckState& check = check_of(job);
    CHECK(check.outcome == Outcome::Conforms);
    REQUIRE(check.failures.size() == 1);
    CHECK(check.failures[0].reading == failing);
    CHECK(check.failures[0].corrected_by == std::vector<std::string>{cure});
    CHECK(check.failures_without_correction() == 0);
    CHECK(check.readings.size() == 2);
}

TEST_CASE("a plain new reading is no correction") {
    Device device{'a'};
    device.write("J-1", reading("torque", "", Outcome::DoesNotConform));
    device.write("J-1", reading("torque", "", Outcome::Conforms));
    const JobState job = folded("J-1", device.all());
    CHECK(check_of(job).outcome == Outcome::Conforms);
    CHECK(check_of(job).failures_without_correction() == 1);
}

TEST_CASE("an undone slip gives way to what stood before and stays visible") {
    Device device{'a'};
    const std::string first = device.write("J-1", reading("torque", "", Outcome::Conforms)).hash;
    const std::string slip =
        device.write("J-1", reading("torque", "", Outcome::DoesNotConform)).hash;
    const std::string undo = device.write("J-1", Undone{slip, "P-02"}).hash;
    JobState job = folded("J-1", device.all());
    CHECK(check_of(job).outcome == Outcome::Conforms);
    CHECK(check_of(job).standing_at("")->origin.entry == first);
    CHECK(check_of(job).find(slip)->undone_by == "P-02");
    CHECK(check_of(job).failures.at(0).withdrawn);

    device.write("J-1", Undone{undo, "P-02"});
    job = folded("J-1", device.all());
    CHECK(check_of(job).outcome == Outcome::DoesNotConform);
    CHECK_FALSE(check_of(job).failures.at(0).withdrawn);
}

TEST_CASE("undoing the only reading leaves the check open") {
    Device device{'a'};
    const std::string only = device.write("J-1", reading("torque", "", Outcome::Conforms)).hash;
    device.write("J-1", Undone{only, "P-02"});
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::Open);
}

TEST_CASE("a judgement made again counts and the first one stays") {
    Device device{'a'};
    const std::string hash = device.write("J-1", reading("torque", "", Outcome::Conforms)).hash;
    device.write("J-1",
                 Rejudged{"torque", "", hash, judged(Outcome::DoesNotConform), "TW-2 was faulty"});
    JobState job = folded("J-1", device.all());
    CHECK(check_of(job).outcome == Outcome::DoesNotConform);
    CHECK(check_of(job).find(hash)->judgements.size() == 2);
    CHECK(check_of(job).find(hash)->because == std::vector<std::string>{"TW-2 was faulty"});
    CHECK(check_of(job).failures.size() == 1);
    device.write("J-1", Rejudged{"torque", "", hash, judged(Outcome::Conforms), "it was not"});
    job = folded("J-1", device.all());
    CHECK(check_of(job).outcome == Outcome::Conforms);
    CHECK(check_of(job).failures.at(0).withdrawn);
}

TEST_CASE("a deferral holds until a reading and does not cover what conforms") {
    Device device{'a'};
    const Deferred deferral{"torque",           "2027-03-05", committed("Ilka"),
                            committed("Rain."), "",           "P-02"};
    device.write("J-1", deferral);
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::Deferred);
    CHECK(check_of(folded("J-1", device.all())).why == "Deferred until 2027-03-05.");
    device.write("J-1", reading("torque", "", Outcome::DoesNotConform));
    JobState job = folded("J-1", device.all());
    CHECK(check_of(job).outcome == Outcome::DoesNotConform);
    CHECK_FALSE(check_of(job).deferral.has_value());
    device.write("J-1", deferral);
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::Deferred);
    CHECK(check_of(folded("J-1", device.all())).read_outcome == Outcome::DoesNotConform);
    const std::string good = device.write("J-1", reading("torque", "", Outcome::Conforms)).hash;
    device.write("J-1", deferral);
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::Conforms);
}

TEST_CASE("a concession holds until a reading and is gone when it is undone") {
    Device device{'a'};
    device.write("J-1", reading("torque", "", Outcome::DoesNotConform));
    const std::string leave =
        device.write("J-1", Conceded{"torque", "P-09", committed("Tree.")}).hash;
    CHECK(check_of(folded("J-1", device.all())).concession.has_value());
    CHECK(check_of(folded("J-1", device.all())).outcome == Outcome::DoesNotConform);
    Device other = device;
    other.write("J-1", Undone{leave, "P-09"});
    CHECK_FALSE(check_of(folded("J-1", other.all())).concession.has_value());
    device.write("J-1", reading("torque", "", Outcome::DoesNotConform));
    CHECK_FALSE(check_of(folded("J-1", device.all())).concession.has_value());
}

TEST_CASE("of two devices that had not seen each other the worse reading counts, and both stay") {
    Device a{'a'};
    Device b{'b'};
    const std::string one = a.write("J-1", reading("torque", "", Outcome::Conforms)).hash;
    const std::string two = b.write("J-1", reading("torque", "", Outcome::DoesNotConform)).hash;
    const JobState job = folded("J-1", together(a.all(), b.all()));
    const CheckState& check = check_of(job);
    CHECK(check.outcome == Outcome::DoesNotConform);
    REQUIRE(check.conflicts.size() == 1);
    std::vector<std::string> both = check.conflicts[0].readings;
    std::sort(both.begin(), both.end());
    std::vector<std::string> expected{one, two};
    std::sort(expected.begin(), expected.end());
    CHECK(both == expected);
}

TEST_CASE("readings of different places are no conflict") {
    Device a{'a'};
    Device b{'b'};
    a.write("J-1", reading("torque", "1", Outcome::Conforms, {"1", "2"}));
    b.write("J-1", reading("torque", "2", Outcome::Conforms, {"1", "2"}));
    const JobState job = folded("J-1", together(a.all(), b.all()));
    CHECK(check_of(job).conflicts.empty());
    CHECK(check_of(job).outcome == Outcome::Conforms);
}

TEST_CASE("a reading of one who had seen the other replaces it, even with a slow clock") {
    Device ahead{'a', 1'900'000'000'000};
    Device behind{'b', 1'800'000'000'000};
    ahead.write("J-1", reading("torque", "", Outcome::DoesNotConform));
    behind.receive(ahead);
    behind.write("J-1", reading("torque", "", Outcome::Conforms));
    const JobState job = folded("J-1", together(ahead.all(), behind.all()));
    CHECK(check_of(job).conflicts.empty());
    CHECK(check_of(job).outcome == Outcome::Conforms);
}

TEST_CASE("a person's decision ends a conflict for the reading kept") {
    for (const bool keep_first : {true, false}) {
        CAPTURE(keep_first);
        Device a{'a'};
        Device b{'b'};
        const std::string one = a.write("J-1", reading("torque", "", Outcome::Conforms)).hash;
        const std::string two = b.write("J-1", reading("torque", "", Outcome::DoesNotConform)).hash;
        a.receive(b);
        a.write("J-1", ConflictResolved{"torque", "", keep_first ? one : two, "P-02"});
        const JobState job = folded("J-1", together(a.all(), b.all()));
        CHECK(check_of(job).conflicts.empty());
        CHECK(check_of(job).outcome == (keep_first ? Outcome::Conforms : Outcome::DoesNotConform));
        CHECK(check_of(job).failures.size() == 1);
    }
}

TEST_CASE("a decision does not cover a reading its maker had not seen") {
    Device a{'a'};
    Device b{'b'};
    Device c{'c'};
    const std::string one = a.write("J-1", reading("torque", "", Outcome::Conforms)).hash;
    b.write("J-1", reading("torque", "", Outcome::DoesNotConform));
    c.write("J-1", reading("torque", "", Outcome::DoesNotConform));
    a.receive(b);
    a.write("J-1", ConflictResolved{"torque", "", one, "P-02"});
    const JobState job = folded("J-1", together(a.all(), together(b.all(), c.all())));
    REQUIRE(check_of(job).conflicts.size() == 1);
    CHECK(check_of(job).conflicts[0].readings.size() == 2);
}

TEST_CASE("three devices with random histories fold to one state in every order of arrival") {
    std::mt19937 random{20270304};
    for (int history = 0; history < 200; ++history) {
        std::vector<Device> devices{Device{'a'}, Device{'b', 1'800'000'300'000},
                                    Device{'c', 1'799'000'000'000}};
        std::vector<std::string> hashes{"none"};
        for (int step = 0; step < 24; ++step) {
            Device& device = devices[random() % 3];
            const std::string place = std::to_string(random() % 2);
            const auto outcome = random() % 2 == 0 ? Outcome::Conforms : Outcome::DoesNotConform;
            const std::string& earlier = hashes[random() % hashes.size()];
            const auto taken = reading("torque", place, outcome, {"0", "1"});
            switch (random() % 6) {
                case 0:
                    device.receive(devices[random() % 3]);
                    break;
                case 1:
                    hashes.push_back(device.write("J-1", correction(taken, earlier)).hash);
                    break;
                case 2:
                    hashes.push_back(device.write("J-1", Undone{earlier, "P"}).hash);
                    break;
                case 3:
                    device.write("J-1", ConflictResolved{"torque", place, earlier, "P"});
                    break;
                default:
                    hashes.push_back(device.write("J-1", taken).hash);
                    break;
            }
        }
        std::vector<Written> all;
        for (const Device& device : devices) all = together(all, device.all());
        const JobState expected = folded("J-1", all);
        std::shuffle(all.begin(), all.end(), random);
        const JobState other = folded("J-1", all);
        if (expected.check("torque") == nullptr) continue;
        CHECK(check_of(other).outcome == check_of(expected).outcome);
        CHECK(check_of(other).latest == check_of(expected).latest);
        CHECK(check_of(other).conflicts.size() == check_of(expected).conflicts.size());
        CHECK(check_of(other).failures.size() == check_of(expected).failures.size());
    }
}
