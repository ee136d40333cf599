#include "desk/report_of.hpp"
#include "desk/report_words.hpp"

#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;

namespace {

handover::PageOne page_of(Bench& bench) {
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    handover::ReportInput input;
    ReportSurroundings around;
    around.company = "Witnessmark";
    around.contact = "555-0100";
    around.date = "2026-11-25";
    fill_page_one(input, *hand, bench.view(), around);
    return input.page_one;
}

}  // namespace

TEST_CASE("page one says not handed over while anything blocks") {
    Bench bench;
    CHECK(page_of(bench).state == handover::HandoverState::NotHandedOver);
}

TEST_CASE("page one names the safety checks that are not done, and no other") {
    Bench bench;
    bench.do_all();
    const auto has = [&](const std::string& id) {
        const auto unproven = page_of(bench).unproven;
        return std::find(unproven.begin(), unproven.end(), bench.check(id).title) != unproven.end();
    };
    CHECK(page_of(bench).state == handover::HandoverState::Full);
    CHECK(bench.check("water-off").outcome == Outcome::Open);
    CHECK(has("water-off"));
    CHECK_FALSE(has("anchor-torque"));
    CHECK_FALSE(has("sign-customer"));
    const auto words = bench.desk().page_one(bench.job);
    REQUIRE(words);
    CHECK(words->at(0) == "Not handed over yet: checks are left");
    CHECK(words->at(1).starts_with("Is it safe? Not all is checked yet."));
    CHECK(words->at(2).starts_with("Not done yet: "));
    for (const auto& line : *words) CHECK(line.find("ready to use") == std::string::npos);
    bench.enter("water-off", "yes");
    CHECK_FALSE(has("water-off"));
    // Failed, too, it is not done.
    bench.take(bench.reading("anchor-torque", "15 N·m", "1"));
    CHECK(has("anchor-torque"));
}

TEST_CASE("page one names the hottest tap that was measured and what is allowed") {
    Bench bench;
    CHECK(page_of(bench).hottest_tap.empty());
    bench.enter("outlet-temp", "45.5 °C", "1");
    bench.enter("outlet-temp", "47.2 °C", "2");
    const auto page = page_of(bench);
    CHECK(page.hottest_tap == "47.2 °C");
    CHECK(page.hottest_allowed == "50 °C");
}

TEST_CASE("page one tells a restricted house which taps to leave alone, and until when") {
    Bench bench;
    bench.do_all({"outlet-temp"});
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "outlet-temp", "2026-11-26", "Ode Brannick", "not hot yet"}));
    const auto page = page_of(bench);
    CHECK(page.state == handover::HandoverState::Restricted);
    REQUIRE(page.restrictions.size() == 1);
    CHECK(page.restrictions[0] == "Do not use hot washing taps until they are measured, by 2026-11-26.");
}

TEST_CASE("care dates follow the kind of system, and the office is named") {
    Bench bench;
    const auto page = page_of(bench);
    REQUIRE(page.care.size() == 4);
    CHECK(page.care[0].date == "2026-12-25");
    CHECK(page.care[2].date == "2027-11-25");
    REQUIRE(page.call.size() == 1);
    CHECK(page.call[0].text == "555-0100");
    CHECK(page.fitted.front().text == "glass box that catches the sun, 2 m², facing south");
}

TEST_CASE("a deferred check stands among the care dates under a key of its own") {
    Bench bench;
    REQUIRE(bench.desk().carry_out(DeferCheck{bench.job, "outlet-temp", "2026-11-26", "Ode Brannick", "not hot yet"}));
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    ReportSurroundings around;
    around.date = "2026-11-25";
    const auto care = report_input(*hand, bench.view(), around).page_one.care;
    REQUIRE(care.size() == 5);
    CHECK(care[0].date == "2026-11-26");
    CHECK(care[0].key == "check-outlet-temp");
    CHECK(care[0].what == "the crew still checks: Taps not too hot");
    CHECK(care[1].key == "first-visit");
}

}  // namespace wm::desk
