// An instrument in doubt; the intents are in src/desk/doubts.cpp.
#include "desk/judged.hpp"
#include "desk/testing.hpp"
#include "desk/week.hpp"

namespace wm::desk {

using testing::Bench;

TEST_CASE("what an instrument in doubt has read is no evidence, and the check is open again") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    auto torque = bench.reading("anchor-torque", "20 N·m", "1");
    torque.instrument = "TW-1";
    bench.take(torque);
    REQUIRE(bench.check("coll-tilt").outcome == Outcome::Conforms);
    const auto moved = bench.desk().carry_out(DoubtInstrument{"IN-1", "2026-11-01", "", "2°", "It fell from the van.", ""});
    REQUIRE_MESSAGE(moved, (moved ? "" : told(moved.error())));
    CHECK(*moved == 1);
    const auto tilt = bench.check("coll-tilt");
    CHECK(tilt.outcome == Outcome::Open);
    CHECK(tilt.why.find("IN-1") != std::string::npos);
    CHECK(tilt.readings.size() == 1);
    CHECK(bench.blocks("coll-tilt"));
    CHECK(bench.check("anchor-torque").places.front().outcome == Outcome::Conforms);
    // Once more finds nothing that still counted; a fact stated again brings nothing back.
    CHECK(*bench.desk().carry_out(DoubtInstrument{"IN-1", "2026-11-01", "", "", "As before.", ""}) == 0);
    REQUIRE(bench.desk().carry_out(StateFacts{bench.job, {{"sys.tilt_target", "36"}}}));
    CHECK(bench.check("coll-tilt").outcome == Outcome::Open);
    // A reading with a sound instrument closes it.
    bench.enter("coll-tilt", "35.5°");
    CHECK(bench.check("coll-tilt").outcome == Outcome::Conforms);
    CHECK(bench.desk().journal().verify_journal()->is_genuine());
}

TEST_CASE("the week lists what an instrument in doubt had proved, until it is read again") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    const auto open = [&] {
        const auto week = week_view(bench.desk(), "2026-W48");  // 2026-11-25 is a Wednesday of week 48 (ISO 8601)
        REQUIRE(week);
        return week->open;
    };
    CHECK(open().empty());
    REQUIRE(bench.desk().carry_out(DoubtInstrument{"IN-1", "2026-11-01", "", "2°", "It fell from the van.", ""}));
    REQUIRE(open().size() == 1);
    CHECK(open()[0].check == "coll-tilt");
    CHECK(open()[0].what == "its evidence was withdrawn (instrument in doubt: IN-1 from 2026-11-01)");
    bench.enter("coll-tilt", "35.5°");
    CHECK(open().empty());
}

TEST_CASE("readings outside the days in doubt stay evidence") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    for (const auto& [from, until] : {std::pair{"2026-11-26", ""}, std::pair{"2026-11-01", "2026-11-24"}}) {
        const auto moved = bench.desk().carry_out(DoubtInstrument{"IN-1", from, until, "", "It fell.", ""});
        REQUIRE(moved);
        CHECK(*moved == 0);
    }
    CHECK(bench.check("coll-tilt").outcome == Outcome::Conforms);
}

TEST_CASE("a doubt without a day, a reason or a known instrument is refused") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    CHECK_FALSE(bench.desk().carry_out(DoubtInstrument{"IN-1", "soon", "", "", "It fell.", ""}));
    CHECK_FALSE(bench.desk().carry_out(DoubtInstrument{"IN-1", "2026-11-01", "2026-10-01", "", "It fell.", ""}));
    CHECK_FALSE(bench.desk().carry_out(DoubtInstrument{"IN-1", "2026-11-01", "", "", "", ""}));
    CHECK_FALSE(bench.desk().carry_out(DoubtInstrument{"XX-9", "2026-11-01", "", "", "It fell.", ""}));
    CHECK_FALSE(bench.desk().carry_out(DoubtBatch{"RV-K17", "Levers stick.", ""}));
}

TEST_CASE("a batch in doubt is on record") {
    Bench bench{testing::house_facts("batch.relief = \"RV-K17\"\n" + testing::tools())};
    bench.enter("coll-tilt", "35°");
    const auto done = bench.desk().carry_out(DoubtBatch{"RV-K17", "Levers stick.", ""});
    REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
    CHECK_FALSE(bench.desk().carry_out(DoubtBatch{"RV-K17", "", ""}));
}

}  // namespace wm::desk
