// Week audit.
#include "screens/week_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("what could hurt someone stands above everything else of the week") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Week;
    (void)glass.frame();
    const float severe = glass.spot("week/first/severe/A-0112 outlet-temp").rect.y;
    CHECK(severe < glass.spot("week/first/findings/1 Thimblegate").rect.y);
    CHECK(severe < glass.spot("week/first/samples/A-0111").rect.y);
}

TEST_CASE("what was put right is one row, and each of them by itself when it is asked for") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.drafts.screen = Screen::Week;
    glass.world.week->severe.push_back({"A-0113", "relief-lever", "conforms", true, "Relief flows and closes"});
    glass.world.week->severe.push_back({"A-0114", "relief-lever", "conforms", true, "Relief flows and closes"});
    (void)glass.frame();
    CHECK(glass.shows("week/first/severe/A-0112 outlet-temp"));
    CHECK_FALSE(glass.shows("week/first/severe/A-0113 relief-lever"));
    CHECK(glass.spot("week/first/severe/put right").words.find("2 failed and were put right") != std::string::npos);
    REQUIRE(glass.press("week/first/severe/put right"));
    (void)glass.frame();
    CHECK(glass.shows("week/first/severe/A-0114 relief-lever"));
    REQUIRE(glass.press("week/first/severe/A-0113 relief-lever"));
    REQUIRE(glass.last<OpenJobView>() != nullptr);
    CHECK(glass.last<OpenJobView>()->job == "A-0113");
}

TEST_CASE("a week of a firm with thousands of calls, failures and visits is drawn, and says how much it does not show") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Week;
    auto& week = *glass.world.week;
    const auto numbered = [](int i) { return "A-" + std::to_string(1000 + i); };
    for (int i = 0; i < 3000; ++i) {
        week.severe.push_back({numbered(i), "relief-lever", "does not conform", false, "Relief flows and closes"});
        week.open.push_back({numbered(i), "temp-rise", "", "deferred", 20, "Warms up"});
        week.samples.push_back({numbered(i), "drawn at random, seed 1", "", "if it is in order, at most 7 are not"});
        desk::WeekComplaintView call;
        call.job = numbered(i);
        call.complaint = "C-" + std::to_string(i);
        call.is_open = true;
        call.unproved = {{call.job, "frost-cold-feed", "", "never read", 0, "Cold feed cannot freeze"}};
        week.complaints.push_back(call);
    }
    glass.drafts.week.shows_put_right = true;
    (void)glass.frame();
    CHECK(glass.shows("week/first/severe/A-1000 relief-lever"));
    CHECK_FALSE(glass.shows("week/first/severe/A-3999 relief-lever"));  // pages away, and not drawn
    CHECK(glass.says("And 2960 more: narrow the week to a part, or see its letter."));
}

TEST_CASE("the page begins with what is to be done, and a finding of which somebody removes the cause is not among it") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.drafts.screen = Screen::Week;
    glass.world.week->findings.front().kind = "crew and check";
    (void)glass.frame();
    CHECK(glass.says("This week"));
    CHECK(glass.says("Taps not too hot\u201D can hurt someone."));
    CHECK(glass.says("Hear Thimblegate"));
    for (auto& finding : glass.world.week->findings) finding.actions = {"A-1"};
    (void)glass.frame();
    CHECK_FALSE(glass.says("Hear Thimblegate"));
}

TEST_CASE("each line of what is to be done opens what it stands on with one touch") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.drafts.screen = Screen::Week;
    auto& week = *glass.world.week;
    week.findings.front().kind = "crew and check";
    week.questions = {{"pace", "Owlcroft", "", "Crew Owlcroft wrote fast.", "Ask.", {"A-0107"}}};
    desk::WeekComplaintView call;
    call.job = "A-0098";
    call.complaint = "C-1";
    call.symptom = "burst";
    call.symptom_words = "Something burst, or water sprays";
    week.complaints = {call};
    const std::string lines = "week/first/to do/";
    // In the order of their weight: the call, what can hurt someone, the finding, the action, the question, the visits.
    REQUIRE(glass.press(lines + "3 finding"));
    (void)glass.frame();
    REQUIRE(glass.drafts.week.finding);
    CHECK(glass.drafts.week.finding->subject == "Thimblegate");
    CHECK(glass.shows("week/jobs of/list/A-0110"));
    CHECK(glass.shows("week/jobs of/act"));
    REQUIRE(glass.press(lines + "5 question"));
    (void)glass.frame();
    CHECK(glass.shows("week/jobs of/list/A-0107"));
    CHECK_FALSE(glass.drafts.week.finding);
    REQUIRE(glass.press(lines + "1 call"));
    CHECK(glass.drafts.week.complaint.is_open);
    CHECK(glass.drafts.week.complaint.job == "A-0098");
    REQUIRE(glass.press(lines + "2 severe"));
    REQUIRE(glass.drafts.run.wanted);
    CHECK(glass.drafts.run.wanted->job == "A-0112");
    CHECK(glass.drafts.run.wanted->check == "outlet-temp");
}

TEST_CASE("what can hurt someone since its evidence was withdrawn says so in its row") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.drafts.screen = Screen::Week;
    glass.world.week->severe.front().outcome = "its evidence was withdrawn (instrument in doubt: PG-4 from 2027-02-01), open for 9 days";
    (void)glass.frame();
    CHECK(glass.says("withdrawn"));
}

TEST_CASE("a finding shows the jobs behind it and a job can be opened from there") {
    Glass glass{1280.0F, 1600.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/findings/1 Thimblegate"));
    REQUIRE(glass.press("week/jobs of/list/A-0110"));
    const auto* open = glass.last<OpenJobView>();
    REQUIRE(open != nullptr);
    CHECK(open->job == "A-0110");
}

TEST_CASE("from a share to the check in the job behind it in two touches") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.drafts.screen = Screen::Week;
    auto& row = glass.world.week->failed.front();
    row.jobs = {"A-0110"};
    row.words = "Pipe ends closed";
    glass.world.week->places["A-0110"] = "Upper Sill";
    (void)glass.frame();
    REQUIRE(glass.press("week/shares/Checks that failed/Pipe ends closed"));
    (void)glass.frame();
    CHECK(glass.spot("week/jobs of/list/A-0110").words.find("A-0110, Upper Sill") != std::string::npos);
    REQUIRE(glass.press("week/jobs of/list/A-0110"));
    REQUIRE(glass.drafts.run.wanted);
    CHECK(glass.drafts.run.wanted->job == "A-0110");
    CHECK(glass.drafts.run.wanted->check == row.check);
}

TEST_CASE("a full stop behind a quotation mark cannot begin a line") {
    Glass glass{1280.0F, 2400.0F, {}};
    glass.drafts.screen = Screen::Week;
    glass.world.week->findings.front().sentence = "It fails more often at \"Pipe ends closed\".";
    (void)glass.frame();
    // A line may break behind a straight mark, not behind a printed one.
    CHECK(glass.says("\u201CPipe ends closed\u201D."));
    CHECK_FALSE(glass.says("\"."));
}

TEST_CASE("a bar, a point and a crew of the charts show the jobs behind them when pressed") {
    Glass glass{1280.0F, 4000.0F, {}};
    glass.drafts.screen = Screen::Week;
    auto& week = *glass.world.week;
    for (auto& row : week.failed) row.words = "Check " + row.name;
    week.failed[1].jobs = {"A-0107"};
    week.trend = {{"2027-W07", 6, 90, 0.07, 0.05, 0.0, 0.12, false, {"A-0090"}}, {"2027-W08", 9, 90, 0.1, 0.05, 0.0, 0.12, false, {"A-0101"}},
                  {"2027-W09", 5, 90, 0.06, 0.05, 0.0, 0.12, false, {"A-0110"}}};
    week.funnel = desk::FunnelView{.target = 0.1, .spread = 1.0, .points = {{"Owlcroft", 12, 180, 0.07, false, {"A-0098"}},
                                                                           {"Thimblegate", 18, 60, 0.3, true, {"A-0111"}}},
                                   .limits = {{1.0, 0.0, 0.5, 0.0, 0.6}, {180.0, 0.05, 0.15, 0.02, 0.2}}};
    (void)glass.frame();
    const std::string charts = "week/shares/charts/";
    REQUIRE(glass.press(charts + "most/coll-azimuth"));
    (void)glass.frame();
    CHECK(glass.shows("week/jobs of/list/A-0107"));
    glass.strike(GLFW_KEY_ESCAPE);
    CHECK_FALSE(glass.shows("week/jobs of/list/A-0107"));
    (void)glass.frame();
    REQUIRE(glass.press(charts + "crews/Thimblegate"));
    (void)glass.frame();
    CHECK(glass.shows("week/jobs of/list/A-0111"));
    CHECK_FALSE(glass.shows("week/jobs of/week"));
    REQUIRE(glass.press("week/jobs of/close"));
    (void)glass.frame();
    REQUIRE(glass.press(charts + "season/2027-W08"));
    (void)glass.frame();
    CHECK(glass.shows("week/jobs of/list/A-0101"));
    CHECK_FALSE(glass.shows("week/jobs of/list/A-0110"));
    REQUIRE(glass.press("week/jobs of/week"));
    const auto* ask = glass.last<AskWeek>();
    REQUIRE(ask != nullptr);
    CHECK(ask->week == "2027-W08");
}

TEST_CASE("letters of the charts are as large as the smallest other words of the screen") {
    for (const int percent : {100, 150, 200}) {
        CAPTURE(percent);
        Glass glass{1920.0F, 4000.0F, {.px_per_mm = 5.0F, .text_percent = percent}};
        glass.drafts.screen = Screen::Week;
        auto& week = *glass.world.week;
        week.trend = {{"2027-W08", 9, 90, 0.1, 0.05, 0.0, 0.12, false, {}}, {"2027-W09", 5, 90, 0.06, 0.05, 0.0, 0.12, false, {}}};
        (void)glass.frame();
        int letters = 0;
        for (const auto& one : glass.probe.letters) {
            if (one.path.find("charts") == std::string::npos) continue;
            ++letters;
            CAPTURE(one.words);
            CHECK(one.size_px >= small_em_mm * 1.164F * 5.0F * static_cast<float>(percent) / 100.0F - 0.5F);
        }
        CHECK(letters > 6);
    }
}

TEST_CASE("the count of the week, what was put off, a gauge and a check to look at lead to their evidence") {
    Glass glass{1280.0F, 4000.0F, {}};
    glass.drafts.screen = Screen::Week;
    auto& week = *glass.world.week;
    week.looked_at = {"A-0120", "A-0121"};
    week.ageing = {{"Fenwhistle", 4, 2, 1, 19, std::nullopt, {"A-0077"}}};
    week.gauges = {{"PG-4", 12, 14.5, 6.2, "2027-02-03", 0.001}};
    week.health = {{"roof-hose", "Roof under the hose", "slow", "It takes 75 s.", "Word it shorter.", 30, {"A-0066"}}};
    REQUIRE(glass.press("week/counted"));
    (void)glass.frame();
    CHECK(glass.shows("week/jobs of/list/A-0121"));
    REQUIRE(glass.press("week/jobs of/close"));
    (void)glass.frame();
    REQUIRE(glass.press("week/shares/ageing/Fenwhistle"));
    (void)glass.frame();
    CHECK(glass.shows("week/jobs of/list/A-0077"));
    REQUIRE(glass.press("week/jobs of/close"));
    (void)glass.frame();
    REQUIRE(glass.press("week/shares/health/slow roof-hose"));
    (void)glass.frame();
    REQUIRE(glass.press("week/jobs of/list/A-0066"));
    REQUIRE(glass.drafts.run.wanted);
    CHECK(glass.drafts.run.wanted->check == "roof-hose");
    glass.drafts.screen = Screen::Week;
    glass.drafts.week = {};
    (void)glass.frame();
    REQUIRE(glass.press("week/shares/gauges/PG-4"));
    REQUIRE(glass.last<AskTrace>() != nullptr);
    CHECK(glass.last<AskTrace>()->instrument == "PG-4");
}

TEST_CASE("a finding of a drifting gauge leads to what stands on it") {
    Glass glass{1280.0F, 1600.0F, {}};
    glass.drafts.screen = Screen::Week;
    auto& finding = glass.world.week->findings.front();
    finding.kind = "instrument drift";
    finding.subject = "PG-4";
    REQUIRE(glass.press("week/first/findings/1 PG-4"));
    REQUIRE(glass.press("week/jobs of/trace"));
    const auto* ask = glass.last<AskTrace>();
    REQUIRE(ask != nullptr);
    CHECK(ask->instrument == "PG-4");
    CHECK(glass.drafts.week.trace.is_open);
}

TEST_CASE("an open item leads to its check in its job") {
    Glass glass{1280.0F, 1600.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/open/A-0098 temp-rise"));
    REQUIRE(glass.drafts.run.wanted);
    CHECK(glass.drafts.run.wanted->job == "A-0098");
    CHECK(glass.drafts.run.wanted->check == "temp-rise");
}

TEST_CASE("earlier asks for the week before, and after the last week there is no later one") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/earlier"));
    const auto* ask = glass.last<AskWeek>();
    REQUIRE(ask != nullptr);
    CHECK(ask->week == "2027-W08");
    CHECK_FALSE(glass.spot("week/later").enabled);
}

TEST_CASE("a finding leads to a corrective action in two touches") {
    Glass glass{1280.0F, 1600.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/findings/1 Thimblegate"));
    REQUIRE(glass.press("week/jobs of/act"));
    (void)glass.frame();
    CHECK(glass.drafts.week.action.is_open);
    CHECK(glass.drafts.week.action.intent.subject == "Thimblegate");
    CHECK(glass.drafts.week.action.intent.week == "2027-W09");
}

TEST_CASE("a sample becomes a visit at a touch, and a planned one is shown") {
    Glass glass{1280.0F, 1600.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/samples/A-0111/visit"));
    const auto* visit = glass.last_intent<desk::OpenRevisit>();
    REQUIRE(visit != nullptr);
    CHECK(visit->job == "A-0111");
    REQUIRE(glass.press("week/first/samples/A-0107/visit"));
    const auto* open = glass.last<OpenJobView>();
    REQUIRE(open != nullptr);
    CHECK(open->job == "A-0120");
}
