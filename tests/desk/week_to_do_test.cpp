#include "desk/week_to_do.hpp"

#include <doctest/doctest.h>

namespace wm::desk {

namespace {

WeekView busy() {
    WeekView week;
    week.week = "2026-W53";
    week.places = {{"J-1", "Upper Sill"}, {"J-2", "Lower Sill"}};
    week.choices.checks = {{"ins-ends", "Pipe ends closed"}};
    week.severe = {{"J-1", "outlet-temp", "does not conform", false, "Taps not too hot"}, {"J-2", "relief-lever", "conforms", true, "Relief flows"}};
    FindingView finding;
    finding.kind = "crew and check";
    finding.subject = "Jorvane Pellish";
    finding.check = "ins-ends";
    finding.failed = 9;
    finding.tries = 31;
    finding.others_failed = 6;
    finding.others_tries = 142;
    week.findings = {finding};
    WeekComplaintView call;
    call.job = "J-2";
    call.is_open = true;
    call.age_days = 30;
    week.complaints = {call, call};
    week.complaints[1].is_open = false;
    week.complaints[1].age_days = 90;
    week.open = {{"J-1", "temp-rise", "", "deferred", 20, "Warms up"}, {"J-2", "temp-rise", "", "deferred", 14, "Warms up"}};
    week.samples = {{"J-1", "why", ""}, {"J-2", "why", "J-3"}};
    return week;
}

}  // namespace

TEST_CASE("what can still hurt someone comes first, then findings, customers, what waits, and roofs") {
    auto week = busy();
    CHECK(to_do_of(week) == std::vector<std::string>{"Go to J-1, Upper Sill: \"Taps not too hot\" can hurt someone.",
                                                     "Hear Jorvane Pellish: \"Pipe ends closed\", 9 of 31 failed, others 6 of 142.",
                                                     "Call back 1 customer: J-2, Lower Sill has waited 30 days.", "Settle 1 check open for over 14 days.",
                                                     "Plan 1 visit."});
    // The same check at two homes is one errand; they are listed below one by one.
    week.severe.push_back({"J-2", "outlet-temp", "does not conform", false, "Taps not too hot"});
    CHECK(to_do_of(week).front() == "Go to 2 homes: \"Taps not too hot\" can hurt someone.");
    CHECK(to_do_of(WeekView{}).empty());
}

TEST_CASE("a finding somebody works on is not asked for again, until its day has passed or its effect can be counted") {
    auto week = busy();
    week.findings[0].actions = {"A-1"};
    ActionView action;
    action.action = "A-1";
    action.owner = "Odrun Vassamy";
    action.due = "2027-01-04";  // the week ends on 3 January 2027 (ISO 8601)
    week.actions = {action};
    const auto says = [&](const std::string& words) {
        for (const auto& line : to_do_of(week))
            if (line.find(words) != std::string::npos) return true;
        return false;
    };
    CHECK_FALSE(says("Jorvane Pellish"));
    CHECK_FALSE(says("A-1"));
    week.actions[0].due = "2027-01-03";
    CHECK(says("Ask Odrun Vassamy about A-1: due 2027-01-03, not carried out."));
    week.actions[0].done_on = "2026-12-01";
    CHECK_FALSE(says("A-1"));
    EffectView effect;
    effect.is_due = true;
    week.actions[0].effects = {effect};
    CHECK(says("See whether A-1 helped"));
    week.actions[0].is_closed = true;
    CHECK_FALSE(says("A-1"));
}

TEST_CASE("what does not fit is counted") {
    const auto lines = to_do_of(busy(), 3);
    REQUIRE(lines.size() == 3);
    CHECK(lines.back() == "And 3 more below.");
}

TEST_CASE("each kind of finding says what to do in one line") {
    auto week = busy();
    week.findings[0].subject = "X";
    for (const char* kind : {"crew and check", "crew, check and household", "batch and check", "instrument drift", "crew and deferrals"}) {
        week.findings[0].kind = kind;
        CAPTURE(kind);
        const auto line = to_do_of(week)[1];
        CHECK(line.find("X") != std::string::npos);
        CHECK(line.ends_with("."));
    }
    week.findings[0].kind = "recent weeks and check";
    CHECK(to_do_of(week)[1].starts_with("Ask all crews what changed"));
    week.findings[0].kind = "complaints and check";
    CHECK(to_do_of(week)[1].starts_with("Look at"));
}

}  // namespace wm::desk
