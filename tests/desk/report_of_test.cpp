#include "desk/report_of.hpp"

#include <set>
#include <string>

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

namespace {

handover::ReportInput input_of(Bench& bench) {
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    ReportSurroundings around;
    around.company = "Witnessmark";
    around.date = "2026-11-25";
    for (const auto& [id, check] : hand->state().checks)
        for (const auto& reading : check.readings)
            for (const auto& photo : reading.taken.photos)
                if (auto bytes = bench.desk().journal().attachment(photo.id)) around.files[photo.id] = *bytes;
    return report_input(*hand, bench.view(), around);
}

}  // namespace

TEST_CASE("every failure is on the report with what was done, a slip as taken back") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    bench.correct("coll-tilt", "35°", "Moved the rear legs");
    bench.enter("tank-level", "2.4°");
    REQUIRE(bench.desk().carry_out(UndoLast{bench.job}));
    bench.enter("anchor-torque", "15 N·m", "2");
    const auto input = input_of(bench);
    REQUIRE(input.nonconformities.size() == 3);
    for (const auto& row : input.nonconformities) {
        CAPTURE(row.check_id);
        CHECK_FALSE(row.why.empty());
        if (row.check_id == "coll-tilt") {
            CHECK(row.done == "Moved the rear legs");
            CHECK(row.failing.starts_with("41°"));
            CHECK(row.proving.starts_with("35°"));
        }
        if (row.check_id == "tank-level") CHECK(row.done == "Taken back as a slip; the entry stays on record.");
        CHECK(row.withdrawn == (row.check_id == "tank-level"));
        if (row.check_id == "anchor-torque") CHECK(row.done.empty());
    }
}

TEST_CASE("a reading taken before its hold point says so at its check, by the title of the hold point") {
    Bench bench;
    const auto answer = bench.enter("earth-continuity", "0.04 Ω");
    REQUIRE_FALSE(answer.blocked_by.empty());
    const auto seen = bench.check("earth-continuity").readings;
    REQUIRE(seen.size() == 1);
    CHECK(seen[0].out_of_order);
    CHECK(seen[0].blocked_by == answer.blocked_by);
    std::string note;
    for (const auto& stage : input_of(bench).stages)
        for (const auto& check : stage.checks)
            if (check.id == "earth-continuity") note = check.readings.at(0).note;
    CAPTURE(note);
    CHECK(note == "read before its hold point: " + bench.check("power-locked").title);
}

TEST_CASE("every time in the evidence bears its offset from UTC") {
    Bench bench{house_facts("customer.photo_leave = true\n" + tools(), "customer.photo_leave")};
    auto reading = bench.reading("coll-tilt", "41°");
    reading.photo = testing::photo_bytes();
    reading.photo_name = "tilt.jpg";
    // Read in another zone than it was entered in, at 09:00 of the same clock: both are told.
    reading.read_at = "2026-11-25T09:45:00+05:45";
    bench.take(reading);
    bench.correct("coll-tilt", "35°", "Moved the rear legs");
    bench.do_all();
    REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo Quellaby", {}, ""}));
    const auto input = input_of(bench);
    std::set<std::string> offsets;
    const auto look = [&](const std::string& line) {
        CAPTURE(line);
        // " 09:00 +05:00" at the end.
        REQUIRE(line.size() > 13);
        const auto sign = line.size() - 6;
        CHECK((line[sign] == '+' || line[sign] == '-'));
        CHECK(line[sign - 1] == ' ');
        CHECK(line[sign - 4] == ':');
        offsets.insert(line.substr(sign));
    };
    for (const auto& stage : input.stages)
        for (const auto& check : stage.checks)
            for (const auto& shown : check.readings) look(shown.at);
    REQUIRE(input.nonconformities.size() == 1);
    look(input.nonconformities[0].failing);
    look(input.nonconformities[0].proving);
    CHECK(input.nonconformities[0].failing.ends_with("2026-11-25 09:45 +05:45"));
    REQUIRE_FALSE(input.photos.empty());
    for (const auto& photo : input.photos) look(photo.caption);
    REQUIRE(input.signatures.size() == 1);
    look(input.signatures[0].at);
    // The clock of the crew, the reading from elsewhere, and the zone in which the report is told.
    CHECK(offsets == std::set<std::string>{"+00:00", "+05:00", "+05:45"});
}

TEST_CASE("deferrals and concessions are on the report") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "outlet-temp", "2026-11-26", "Ode Brannick", "not hot yet"}));
    bench.enter("coll-tilt", "40°");
    REQUIRE(bench.desk().carry_out(ConcedeCheck{bench.job, "coll-tilt", "Odrun Vassamy", "The rafters"}));
    const auto input = input_of(bench);
    REQUIRE(input.deferrals.size() == 1);
    CHECK(input.deferrals[0].owner == "Ode Brannick");
    REQUIRE(input.concessions.size() == 1);
    CHECK(input.concessions[0].by == "Odrun Vassamy");
}

TEST_CASE("photos are printed only with leave") {
    for (const bool leave : {true, false}) {
        Bench bench{house_facts(std::string{"customer.photo_leave = "} + (leave ? "true\n" : "false\n") + tools(), "customer.photo_leave")};
        auto reading = bench.reading("coll-tilt", "35°");
        reading.photo = testing::photo_bytes();
        reading.photo_name = "tilt.jpg";
        reading.caption = "Tilt of the collector";
        bench.take(reading);
        const auto input = input_of(bench);
        CHECK(input.photos.size() == (leave ? 1U : 0U));
        if (!leave) continue;
        CHECK(input.photos[0].caption.starts_with("Tilt of the collector, 2026-11-25"));
        // Without its size nothing of a photo is seen on the page.
        CHECK(input.photos[0].width == 64);
        CHECK(input.photos[0].height == 48);
    }
}

TEST_CASE("a void signature is not printed") {
    Bench bench;
    bench.do_all();
    REQUIRE(bench.desk().carry_out(Sign{bench.job, Signer::Crew, "Tindo Quellaby", {}, ""}));
    CHECK(input_of(bench).signatures.size() == 1);
    bench.enter("coll-tilt", "36°");
    CHECK(input_of(bench).signatures.empty());
}

}  // namespace wm::desk
