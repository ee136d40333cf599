#include "desk/supplement.hpp"

#include <algorithm>

#include "desk/attest.hpp"
#include "desk/outbox.hpp"
#include "desk/report_of.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

HandedOverView hand_over(Bench& bench) {
    const auto handed = bench.desk().carry_out(HandOver{bench.job});
    REQUIRE(handed);
    return *handed;
}

HandedOverView first_report(Bench& bench) {
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "outlet-temp", "2026-11-26", "Ode Brannick", "not hot yet"}));
    bench.do_all({"outlet-temp"});
    bench.sign_both();
    return hand_over(bench);
}

handover::ReportInput input_of(Bench& bench) {
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    ReportSurroundings around;
    around.date = "2026-11-26";
    around.zone_minutes = 300;
    return report_input(*hand, bench.view(), around);
}

void read_taps(Bench& bench, const std::string& text) {
    for (const auto& place : bench.check("outlet-temp").places) bench.enter("outlet-temp", text, place.name);
}

}  // namespace

TEST_CASE("a restricted handover becomes full by a supplement that refers to the first report") {
    Bench bench;
    const auto first = first_report(bench);
    CHECK(first.state == "restricted");
    CHECK(first.supplement == 0);
    CHECK_FALSE(bench.desk().carry_out(HandOver{bench.job}));
    bench.clock.pass_days(1);
    read_taps(bench, "42 °C");
    CHECK(bench.view().supplement_due);
    CHECK(bench.view().row.state == "restricted");

    const auto input = input_of(bench);
    REQUIRE(input.supplement);
    CHECK(input.supplement->number == 1);
    CHECK(input.supplement->first_date == "2026-11-25");
    CHECK(input.supplement->first_sha256 == first.sha256);
    CHECK(input.supplement->first_head.size() == 64);
    for (const auto& stage : input.stages)
        for (const auto& check : stage.checks) CHECK(check.id == "outlet-temp");
    CHECK(input.instruments.size() == 1);
    for (const auto& origin : input.origins) CHECK(origin.figure != "wind pressure");

    const auto second = hand_over(bench);
    CHECK(second.state == "full");
    CHECK(second.supplement == 1);
    CHECK(second.sha256 != first.sha256);
    CHECK(bench.view().row.state == "handed over");
    CHECK_FALSE(bench.view().supplement_due);
    CHECK_FALSE(bench.desk().carry_out(HandOver{bench.job}));

    const auto mail = messages(bench.desk());
    REQUIRE(mail);
    REQUIRE(mail->size() == 2);
    CHECK(mail->front().subject.starts_with("Handover report"));
    CHECK(mail->back().subject.starts_with("Supplement 1"));
    const auto files = messages_as_files(bench.desk());
    REQUIRE(files);
    REQUIRE(files->size() == 2);
    CHECK(files->front().file_name != files->back().file_name);

    // Both issues are kept as they were, and both are known to the journal.
    CHECK(*bench.desk().sealed_report(bench.job, 1) == first.report);
    CHECK(*bench.desk().sealed_report(bench.job, 2) == second.report);
    CHECK(*bench.desk().sealed_report(bench.job) == second.report);
    CHECK_FALSE(bench.desk().sealed_report(bench.job, 3));
    for (const auto& issue : {first, second}) {
        const auto seen = attest_file(issue.report, "", &bench.desk().journal());
        CHECK(seen.genuine);
        CHECK(seen.in_journal == true);
    }
}

TEST_CASE("a tap that turns out too hot after the handover stops the supplement until it is put right") {
    Bench bench;
    (void)first_report(bench);
    bench.clock.pass_days(1);
    read_taps(bench, "58 °C");
    CHECK(bench.blocks("outlet-temp"));
    CHECK_FALSE(bench.desk().carry_out(HandOver{bench.job}));
    for (const auto& place : bench.check("outlet-temp").places)
        bench.correct("outlet-temp", "42 °C", "Turned the mixing valve down", place.name);
    const auto input = input_of(bench);
    CHECK_FALSE(input.nonconformities.empty());
    CHECK(hand_over(bench).state == "full");
}

TEST_CASE("what is still put off stands in the supplement") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "day-after", "2026-12-01", "Ode Brannick", "no sun yet"}));
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "outlet-temp", "2026-11-26", "Ode Brannick", "not hot yet"}));
    bench.do_all({"day-after", "outlet-temp"});
    bench.sign_both();
    (void)hand_over(bench);
    bench.clock.pass_days(1);
    read_taps(bench, "42 °C");
    const auto input = input_of(bench);
    REQUIRE(input.supplement);
    CHECK(input.supplement->left == std::vector<std::string>{"Store warms on the first clear day, until 2026-12-01"});
    CHECK(input.supplement->done == std::vector<std::string>{bench.check("outlet-temp").title + ": conforms"});
    CHECK(hand_over(bench).supplement == 1);
    bench.clock.pass_days(5);
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "day-after", "2026-12-06", "Ode Brannick", "rain"}));
    CHECK(hand_over(bench).supplement == 2);
}

}  // namespace wm::desk
