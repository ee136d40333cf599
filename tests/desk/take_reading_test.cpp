#include <fmt/format.h>

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

TEST_CASE("a reading is judged at once and kept as it was typed") {
    Bench bench;
    const auto answer = bench.enter("coll-tilt", "36,5°");
    CHECK(answer.outcome == Outcome::Conforms);
    CHECK(answer.why.find("36.5") != std::string::npos);
    const auto check = bench.check("coll-tilt");
    REQUIRE(check.readings.size() == 1);
    CHECK(check.readings[0].text == "36,5°");
    CHECK(*check.readings[0].value == doctest::Approx(36.5));
    CHECK(check.readings[0].instrument == "IN-1");
    CHECK(check.readings[0].by == "Tindo Quellaby");
    CHECK(check.readings[0].entry == answer.entry);
    CHECK(answer.entry.size() == 64);
}

TEST_CASE("a job read again from the folder says what was said before") {
    testing::Folder folder;
    testing::Clock clock;
    std::string job;
    {
        auto desk = Desk::open(testing::setup_in(folder.path(), clock));
        REQUIRE(desk);
        job = *desk->carry_out(OpenJob{"commissioning", house_facts(tools()), "facts.toml", "", false});
        REQUIRE(desk->carry_out(TakeReading{job, "coll-tilt", "", "41°", "", {}, "", "", "", "", false}));
    }
    auto again = Desk::open(testing::setup_in(folder.path(), clock, "again"));
    REQUIRE(again);
    const auto hand = again->in_hand(job);
    REQUIRE(hand);
    CHECK(hand->state().check("coll-tilt")->outcome == Outcome::DoesNotConform);
}

TEST_CASE("several places are entered in one text, and the worst of them counts") {
    Bench bench;
    const auto answers = bench.desk().carry_out(bench.reading("anchor-torque", "1=20.1; 2=16.8; 3=20; 4=19.9 N·m"));
    REQUIRE(answers);
    REQUIRE(answers->size() == 4);
    CHECK((*answers)[0].place_outcome == Outcome::Conforms);
    CHECK((*answers)[1].place_outcome == Outcome::DoesNotConform);
    CHECK(bench.check("anchor-torque").outcome == Outcome::DoesNotConform);
}

TEST_CASE("what stands beside a figure is kept with it as answers of their own, unless it was answered before") {
    Bench bench;
    auto angle = bench.reading("ladder-set", "70°");
    CHECK(bench.desk().carry_out(angle)->size() == 1);
    CHECK(bench.check("ladder-set").readings.size() == 1);
    (void)bench.desk().carry_out(UndoLast{bench.job});

    bench.enter("ladder-set", "no", "tied");
    angle.said = true;
    angle.instrument = "IN-1";
    const auto answers = bench.desk().carry_out(angle);
    REQUIRE_MESSAGE(answers, (answers ? "" : told(answers.error())));
    REQUIRE(answers->size() == 2);
    CHECK(answers->front().place == "above eaves");
    CHECK(answers->back().place.empty());
    auto check = bench.check("ladder-set");
    CHECK(check.outcome == Outcome::DoesNotConform);
    CHECK(check.readings.back().instrument == "IN-1");
    CHECK(check.readings[check.readings.size() - 2].instrument.empty());
    for (const auto& place : check.places) CHECK(place.said.empty());

    // The last entry is the figure: an undo takes it back, and what was said stands.
    (void)bench.desk().carry_out(UndoLast{bench.job});
    check = bench.check("ladder-set");
    const auto above = std::find_if(check.places.begin(), check.places.end(), [](const auto& place) { return place.name == "above eaves"; });
    REQUIRE(above != check.places.end());
    CHECK(above->text == "yes");
}

TEST_CASE("a figure that fits is not shown as conforming while a part of its check stands wrong") {
    Bench bench;
    const auto shown = [&] {
        const auto preview = bench.desk().preview(bench.reading("ladder-set", "70°"));
        REQUIRE_MESSAGE(preview, (preview ? "" : told(preview.error())));
        return *preview;
    };
    CHECK(shown().outcome == Outcome::Conforms);
    bench.enter("ladder-set", "no", "tied");
    CHECK(shown().outcome == Outcome::DoesNotConform);
    CHECK(shown().why.find("tied") != std::string::npos);
    CHECK(bench.enter("ladder-set", "70°").outcome == Outcome::DoesNotConform);
}

TEST_CASE("a check with a place unread stays open") {
    Bench bench;
    for (const char* place : {"1", "2", "3"}) bench.enter("anchor-torque", "20 N·m", place);
    CHECK(bench.check("anchor-torque").outcome == Outcome::Open);
    bench.enter("anchor-torque", "20 N·m", "4");
    CHECK(bench.check("anchor-torque").outcome == Outcome::Conforms);
}

TEST_CASE("inside the tolerance but within the guard strip is inconclusive at a hold point") {
    // trade-checks 1.4: 22 - 0.5 < 21.8 < 22 N·m.
    Bench bench;
    CHECK(bench.enter("anchor-torque", "21.8 N·m", "1").place_outcome == Outcome::Inconclusive);
    CHECK(bench.enter("anchor-torque", "22.1 N·m", "2").place_outcome == Outcome::DoesNotConform);
    CHECK(bench.enter("anchor-torque", "21.4 N·m", "3").place_outcome == Outcome::Conforms);
}

TEST_CASE("a failure that was put right stays on record and no longer blocks") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    CHECK(bench.blocks("coll-tilt"));
    const auto answer = bench.correct("coll-tilt", "35.5°", "Moved the rear legs");
    CHECK(answer.outcome == Outcome::Conforms);
    const auto check = bench.check("coll-tilt");
    CHECK(check.failed_once);
    CHECK_FALSE(check.blocking);
    REQUIRE(check.readings.size() == 2);
    CHECK(check.readings[0].superseded);
    CHECK(check.readings[0].outcome == Outcome::DoesNotConform);
    CHECK(check.readings[1].corrects == check.readings[0].entry);
    CHECK(check.readings[1].done == "Moved the rear legs");
}

TEST_CASE("a good reading alone does not make a failure undone") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    bench.enter("coll-tilt", "35.5°");
    CHECK(bench.check("coll-tilt").outcome == Outcome::Conforms);
    CHECK(bench.blocks("coll-tilt"));
}

TEST_CASE("a correction finds the one place that failed") {
    Bench bench;
    bench.enter("anchor-torque", "16.8 N·m", "3");
    CHECK(bench.correct("anchor-torque", "20 N·m", "Tightened again").place == "3");
}

TEST_CASE("nothing is corrected where nothing failed, and nothing is kept of the try") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    auto reading = bench.reading("coll-tilt", "35.5°");
    reading.photo = testing::photo_bytes();
    const auto files = [&] {
        return std::distance(testing::fs::recursive_directory_iterator{bench.data()}, testing::fs::recursive_directory_iterator{});
    };
    const auto before = files();
    const auto refusal = bench.desk().carry_out(CorrectFault{reading, "Nothing"});
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().kind == ProblemKind::Refused);
    CHECK(refusal.error().what == "There is nothing to correct: no reading of this check failed here without a correction.");
    CHECK(files() == before);
    const auto silent = bench.desk().carry_out(CorrectFault{reading, ""});
    REQUIRE_FALSE(silent);
    CHECK(silent.error().kind == ProblemKind::WrongUse);
}

TEST_CASE("an implausible value is stored only when the person is sure") {
    Bench bench;
    auto reading = bench.reading("coll-tilt", "120°");
    const auto refusal = bench.desk().carry_out(reading);
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().kind == ProblemKind::Unreadable);
    CHECK(refusal.error().what_to_do == "Look again. If it is so, enter it with --sure.");
    CHECK(bench.check("coll-tilt").readings.empty());
    reading.sure = true;
    CHECK(bench.take(reading).outcome == Outcome::DoesNotConform);
}

TEST_CASE("what cannot be read as an answer is refused and not stored") {
    Bench bench;
    for (const char* text : {"", "steep", "35 kPa", "1e999°", "35 furlongs", "35°; 36°"}) {
        CAPTURE(text);
        const auto refusal = bench.desk().carry_out(bench.reading("coll-tilt", text));
        REQUIRE_FALSE(refusal);
        CHECK(refusal.error().kind == ProblemKind::Unreadable);
        CHECK_FALSE(refusal.error().what.empty());
        CHECK_FALSE(refusal.error().where.empty());
        CHECK_FALSE(refusal.error().what_to_do.empty());
    }
    CHECK(bench.check("coll-tilt").readings.empty());
}

TEST_CASE("a wrench past its date gives no evidence: the check stays open") {
    Bench bench{house_facts(tools({{"TW-1", "torque wrench", "0.1 N·m", "0.5 N·m", "2026-11-01"}}))};
    const auto answer = bench.enter("anchor-torque", "20 N·m", "1");
    CHECK(answer.place_outcome == Outcome::Open);
    CHECK(answer.no_evidence);
    CHECK(bench.check("anchor-torque").readings.size() == 1);
    CHECK(bench.check("instruments-due").outcome == Outcome::DoesNotConform);
}

TEST_CASE("an instrument is judged by the day it was read on") {
    Bench bench{house_facts(tools({{"TW-1", "torque wrench", "0.1 N·m", "0.5 N·m", "2026-11-20"}}))};
    auto reading = bench.reading("anchor-torque", "20 N·m", "1");
    reading.read_at = "2026-11-19T10:00:00+05:00";
    CHECK(bench.take(reading).place_outcome == Outcome::Conforms);
    reading.read_at = "2026-11-21T10:00:00+05:00";
    CHECK(bench.take(reading).place_outcome == Outcome::Open);
}

TEST_CASE("a time that is none is refused") {
    Bench bench;
    for (const char* text : {"yesterday", "2026-11-25", "2026-02-30T10:00:00Z"}) {
        auto reading = bench.reading("coll-tilt", "35°");
        reading.read_at = text;
        const auto refusal = bench.desk().carry_out(reading);
        REQUIRE_FALSE(refusal);
        CHECK(refusal.error().what == "\"" + std::string{text} + "\" is no time.");
    }
}

TEST_CASE("an instrument nobody registered is not taken") {
    Bench bench;
    auto reading = bench.reading("anchor-torque", "20 N·m", "1");
    reading.instrument = "TW-99";
    const auto refusal = bench.desk().carry_out(reading);
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().what == "The instrument \"TW-99\" is not registered for this job.");
}

TEST_CASE("a reading ahead of a hold point is kept and marked") {
    Bench bench;
    const auto answer = bench.enter("earth-continuity", "0.04 Ω");
    REQUIRE(answer.blocked_by.size() == 1);
    CHECK(answer.blocked_by[0] == "power-locked");
    CHECK(bench.check("earth-continuity").readings[0].out_of_order);
}

TEST_CASE("what the tool decides, and signatures, are not entered") {
    Bench bench;
    for (const char* check : {"crew-licences", "sign-crew"}) {
        const auto refusal = bench.desk().carry_out(bench.reading(check, "yes"));
        REQUIRE_FALSE(refusal);
        CHECK(refusal.error().kind == ProblemKind::WrongUse);
    }
    const auto nowhere = bench.desk().carry_out(bench.reading("no-such-check", "yes"));
    REQUIRE_FALSE(nowhere);
    CHECK(nowhere.error().what == "The checklist \"commissioning\" has no check \"no-such-check\".");
}

TEST_CASE("a preview writes nothing and warns of slips") {
    Bench bench;
    const auto before = bench.view().head;
    const auto slip = bench.desk().preview(bench.reading("anchor-torque", "200", "1"));
    REQUIRE(slip);
    CHECK(slip->needs_sure);
    CHECK(slip->warnings.size() == 2);
    const auto fine = bench.desk().preview(bench.reading("anchor-torque", "20", "1"));
    REQUIRE(fine);
    CHECK(fine->outcome == Outcome::Conforms);
    CHECK(fine->warnings.empty());
    CHECK(*fine->limits.low == doctest::Approx(18.0));
    CHECK(bench.view().head == before);
}

TEST_CASE("a figure read in the unit of another gauge is asked about by that unit") {
    Bench bench;
    const auto check = bench.check("test-pressure");
    REQUIRE(check.limits.low);
    REQUIRE(check.limits.high);
    // 1 bar = 100 kPa, by definition (SI brochure, 9th edition, table 8: 1 bar = 100 kPa).
    const double middle = (*check.limits.low + *check.limits.high) / 2.0;
    const auto preview = bench.desk().preview(bench.reading("test-pressure", fmt::format("{:.2f} kPa", middle / 100.0)));
    REQUIRE(preview);
    REQUIRE(preview->warnings.size() == 1);
    CHECK(preview->warnings.front().find(" bar would fit, ") != std::string::npos);
    CHECK(preview->needs_sure);
    // Written with that unit it is right.
    const auto right = bench.desk().preview(bench.reading("test-pressure", fmt::format("{:.2f} bar", middle / 100.0)));
    REQUIRE(right);
    CHECK(right->warnings.empty());
}

TEST_CASE("a preview asks about a slip that the tolerance allows, at a check and at a part") {
    Bench bench;
    const auto asks = [&](const char* check, const char* text, const char* place) {
        const auto preview = bench.desk().preview(bench.reading(check, text, place));
        REQUIRE(preview);
        CHECK(preview->needs_sure == !preview->warnings.empty());
        return preview->needs_sure;
    };
    CHECK(asks("insulation-res", "500", ""));
    CHECK_FALSE(asks("insulation-res", "50", ""));
    CHECK(asks("expansion-room", "3", "vessel size"));
    CHECK_FALSE(asks("expansion-room", "35", "vessel size"));
}

}  // namespace wm::desk
