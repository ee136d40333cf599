#include "desk/week_to_do.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "audit/finding_words.hpp"
#include "desk/complaints.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

namespace {

std::vector<std::string> words_to_do(const WeekView& week, std::size_t most = 10) {
    std::vector<std::string> words;
    for (const auto& line : to_do_of(week, most)) words.push_back(line.words);
    return words;
}

bool says(const WeekView& week, const std::string& words) {
    for (const auto& line : words_to_do(week, 0))
        if (line.find(words) != std::string::npos) return true;
    return false;
}

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
    finding.jobs = {"J-1", "J-2"};
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
    CHECK(words_to_do(week) == std::vector<std::string>{"Go to J-1, Upper Sill: \"Taps not too hot\" can hurt someone.",
                                                     "Hear Jorvane Pellish: \"Pipe ends closed\", 9 of 31 failed, others 6 of 142.",
                                                     "Call back 1 customer: J-2, Lower Sill has waited 30 days.", "Settle 1 check open for over 14 days.",
                                                     "Plan 1 visit."});
    // The same check at two homes is one errand; they are listed below one by one.
    week.severe.push_back({"J-2", "outlet-temp", "does not conform", false, "Taps not too hot"});
    CHECK(words_to_do(week).front() == "Go to 2 homes: \"Taps not too hot\" can hurt someone.");
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
    CHECK_FALSE(says(week, "Jorvane Pellish"));
    CHECK_FALSE(says(week, "A-1"));
    week.actions[0].due = "2027-01-03";
    CHECK(says(week, "Ask Odrun Vassamy about A-1: due 2027-01-03, not carried out."));
    week.actions[0].done_on = "2026-12-01";
    CHECK_FALSE(says(week, "A-1"));
    EffectView effect;
    effect.is_due = true;
    week.actions[0].effects = {effect};
    CHECK(says(week, "See whether A-1 helped"));
    week.actions[0].is_closed = true;
    CHECK_FALSE(says(week, "A-1"));
}

TEST_CASE("what does not fit is counted") {
    const auto lines = words_to_do(busy(), 3);
    REQUIRE(lines.size() == 3);
    CHECK(lines.back() == "And 3 more below.");
}

TEST_CASE("each kind of finding says what to do in one line") {
    auto week = busy();
    week.findings[0].subject = "X";
    for (const char* kind : {"crew and check", "crew, check and household", "batch and check", "instrument drift", "crew and deferrals"}) {
        week.findings[0].kind = kind;
        week.findings[0].what_to_do = "See to X now. Then look again.";
        CAPTURE(kind);
        const auto line = words_to_do(week)[1];
        CHECK(line.find("X") != std::string::npos);
        CHECK(line.ends_with("."));
    }
    week.findings[0].kind = "recent weeks and check";
    CHECK(words_to_do(week)[1].starts_with("Ask all crews what changed"));
    week.findings[0].kind = "complaints and check";
    CHECK(words_to_do(week)[1].starts_with("Look at"));
}

TEST_CASE("what lost its evidence and can hurt someone is measured again, after what failed") {
    auto week = busy();
    const std::string withdrawn = "its evidence was withdrawn (instrument in doubt: PG-4 from 2026-11-20), open for 9 days";
    week.severe = {{"J-1", "pressure-limit-set", withdrawn, false, "Pressure limited"},
                   {"J-2", "pressure-limit-set", withdrawn, false, "Pressure limited"},
                   {"J-2", "pressure-limit-set", "does not conform", false, "Pressure limited"}};
    const auto lines = to_do_of(week);
    CHECK(lines[0].words == "Go to J-2, Lower Sill: \"Pressure limited\" can hurt someone.");
    CHECK(lines[1].words == "Measure again at 2 homes: \"Pressure limited\" can hurt someone, and its evidence was withdrawn.");
    CHECK(lines[1].jobs == std::vector<std::string>{"J-1", "J-2"});
    CHECK(lines[1].check == "pressure-limit-set");
}

TEST_CASE("a finding that stands comes back when what was done did not help, worse before unproved, and before the others") {
    auto week = busy();
    week.findings.insert(week.findings.begin(), 2, week.findings[0]);
    week.findings[0].subject = "Wend Karradoc";
    week.findings[1].subject = "Odd Quillan";
    week.findings[1].actions = {"A-1"};
    ActionView action;
    action.action = "A-1";
    action.done_on = "2026-11-01";
    EffectView effect;
    effect.after_days = 30;
    effect.is_due = effect.recorded = true;
    effect.verdict = "no proof yet";
    action.effects = {effect};
    week.actions = {action};
    CHECK(says(week, "No proof that A-1 helped: decide anew. Hear Odd Quillan: \"Pipe ends closed\""));
    week.actions[0].effects[0].verdict = "it got worse";
    CHECK(words_to_do(week)[1].starts_with("It got worse after A-1: decide anew. Hear Odd Quillan"));
    CHECK(words_to_do(week)[2].starts_with("Hear Wend Karradoc"));
    week.actions[0].effects[0].verdict = "it helped";
    CHECK_FALSE(says(week, "Odd Quillan"));
    // Another action has begun since, and nothing is known of it.
    week.actions[0].effects[0].verdict = "it got worse";
    week.findings[1].actions = {"A-1", "A-2"};
    action.action = "A-2";
    action.effects[0].recorded = action.effects[0].is_due = false;
    week.actions.push_back(action);
    CHECK_FALSE(says(week, "Odd Quillan"));
    // The second count is due, and is asked for by itself.
    week.findings[1].actions = {"A-1"};
    week.actions[0].effects[0].verdict = "no proof yet";
    effect.after_days = 90;
    effect.recorded = false;
    week.actions[0].effects.push_back(effect);
    CHECK(says(week, "See whether A-1 helped"));
    CHECK_FALSE(says(week, "Odd Quillan"));
}

TEST_CASE("an order of a batch or a gauge is the one the finding gives, with its caveat, and none where nothing is left to hold") {
    auto week = busy();
    auto& finding = week.findings[0];
    audit::Question question;
    question.kind = audit::QuestionKind::Material;
    question.subject = "fluid PGC-0777";
    question.only_later = true;
    finding.kind = "batch and check";
    finding.subject = question.subject;
    finding.what_to_do = audit::advice_for(question);
    CHECK(says(week, "until you know; the season may be behind it as well. \"Pipe ends closed\": 9 of 31 failed, others 6 of 142."));
    finding.sentence = "Weaker than the usual 1 in 100: look before you speak.";
    CHECK(says(week, "others 6 of 142. Weak: look before you speak."));
    finding.what_to_do = audit::advice_for(question, {.last_fitted = "2026-10-01", .is_in_use = false, .waiting = 3});
    CHECK(says(week, "Trace fluid PGC-0777: none was fitted after 2026-10-01"));
    finding.what_to_do = audit::advice_for(question, {.last_fitted = "2026-10-01", .is_in_use = false, .waiting = 0});
    CHECK_FALSE(says(week, "PGC-0777"));
    audit::GaugeDrift drift;
    drift.instrument = finding.subject = "PG-4";
    drift.days = {"2026-09-10", "2026-09-20"};
    finding.kind = "instrument drift";
    finding.what_to_do = audit::advice_for(drift);
    CHECK(says(week, "Hold PG-4 beside a second gauge at one tap today."));
    finding.what_to_do = audit::advice_for(drift, {.calibrated_since = "2026-10-01"});
    CHECK_FALSE(says(week, "Hold PG-4"));
    CHECK(says(week, "Trace what stands on PG-4"));
}

TEST_CASE("open calls about what hurts or floods come before everything, and closed ones are not called") {
    auto week = busy();
    week.complaints[0].age_days = 2;
    WeekComplaintView burst;
    burst.job = "J-1";
    burst.complaint = "C-7";
    burst.symptom = "burst";
    burst.symptom_words = "Something burst, or water sprays";
    burst.is_open = true;
    burst.age_days = 88;
    week.complaints.push_back(burst);
    auto first = to_do_of(week).front();
    CHECK(first.words == "Go to J-1, Upper Sill: \"Something burst, or water sprays\", told 88 days ago.");
    CHECK(first.evidence == "C-7");
    CHECK(first.jobs == std::vector<std::string>{"J-1"});
    CHECK(says(week, "Call back 1 customer: J-2, Lower Sill has waited 2 days."));
    burst.job = "J-2";
    burst.age_days = 90;
    week.complaints.push_back(burst);
    first = to_do_of(week).front();
    CHECK(first.words == "See to 2 calls: \"Something burst, or water sprays\". J-2, Lower Sill has waited 90 days.");
    for (auto& call : week.complaints) call.is_open = false;
    CHECK_FALSE(says(week, "burst"));
}

TEST_CASE("what is urgent is in the shipped catalogue, which tells the caller what to do at once") {
    testing::Bench bench;
    const auto list = failure_list(bench.desk());
    REQUIRE(list);
    for (const auto id : urgent_symptoms()) {
        CAPTURE(id);
        const auto* symptom = list->symptom(id);
        REQUIRE(symptom != nullptr);
        CHECK_FALSE(symptom->at_once.empty());
    }
    // Every other one with such advice neither hurts nor floods at once: a dry tap, lukewarm water.
    for (const auto& symptom : list->symptoms) {
        CAPTURE(symptom.id);
        const bool is_urgent = std::ranges::find(urgent_symptoms(), symptom.id) != urgent_symptoms().end();
        CHECK((is_urgent || symptom.at_once.empty() || symptom.id == "no-water" || symptom.id == "lukewarm"));
    }
}

TEST_CASE("each question is named with what it asks, and what frost may burst comes before findings") {
    auto week = busy();
    week.questions = {{"pace", "Ilka Trosmere", "", "Crew Ilka Trosmere wrote.", "Ask.", {"J-1", "J-2"}},
                      {"neighbours differ", "Millpond Hollow", "",
                       "Homes in Millpond Hollow were surveyed differently for frost: 6 as \"none\", 9 as \"regular\". Neighbours share one climate. 6 of those "
                       "taken for \"none\" have a direct system, which bursts when it freezes.",
                       "Find out.", {"J-1"}}};
    const auto lines = to_do_of(week);
    CHECK(lines[1].words ==
          "Settle the frost class of Millpond Hollow before the first frost: neighbours were surveyed differently. 6 of those taken for \"none\" have a direct "
          "system, which bursts when it freezes.");
    CHECK(lines[1].subject == "Millpond Hollow");
    CHECK(lines[2].kind == ToDoKind::Finding);
    CHECK(says(week, "Ask Ilka Trosmere whether readings were noted on paper first: 1 to 3 s apart in 2 jobs."));
}

TEST_CASE("a line carries what it stands on") {
    const auto lines = to_do_of(busy());
    for (const auto& line : lines) {
        CAPTURE(line.words);
        CHECK_FALSE(line.jobs.empty());
    }
    CHECK(lines[1].evidence == "crew and check");
    CHECK(lines[1].subject == "Jorvane Pellish");
    CHECK(lines[1].check == "ins-ends");
}

}  // namespace wm::desk
