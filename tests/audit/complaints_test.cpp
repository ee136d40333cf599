#include "audit/complaints.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "audit/finding_words.hpp"
#include "audit/findings.hpp"
#include "audit/week.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

const SymptomLinks links = {{"no-water", "frost-cold-feed", true}, {"burst", "frost-cold-feed", true}, {"wet", "hook-gap", false}};
const QuestionSpan season{.first_day = "2026-07-01", .last_day = "2026-12-31"};

/// Homes of one street, done one a day from 6 July 2026 on; the check of the feed conforms unless it is said otherwise.
struct Street {
    AuditTable table;

    std::size_t home(const std::string& outcome, const std::string& frost_class = "regular", const std::string& street = "Upper Sill") {
        const auto job = table.jobs.size();
        JobCard card;
        card.job = fmt::format("J-{:02}", job);
        card.crew = "Tindo Quellaby";
        card.street = street;
        card.system = frost_class == "none" ? "direct" : "indirect";
        card.frost_class = frost_class;
        card.kind = "commissioning";
        card.day = units::day_after("2026-07-06", static_cast<int>(job)).value();
        card.week = units::week_of(card.day).value();
        table.jobs.push_back(card);
        table.results.push_back({.job = job, .check = "ladder-set", .failed = false, .inconclusive = false, .corrected = false, .outcome = "conforms", .day = card.day});
        if (!outcome.empty())
            table.results.push_back({.job = job, .check = "frost-cold-feed", .failed = outcome != "conforms", .inconclusive = false, .corrected = false,
                                     .outcome = outcome, .day = card.day});
        return job;
    }
    void homes(int count, const std::string& outcome, const std::string& frost_class = "regular", const std::string& street = "Upper Sill") {
        for (int i = 0; i < count; ++i) (void)home(outcome, frost_class, street);
    }
    void call(std::size_t job, const std::string& symptom, const std::string& day, bool frost = true) {
        table.complaints.push_back({.job = job, .complaint = fmt::format("C-{}", table.complaints.size() + 1), .symptom = symptom, .day = day,
                                    .air = frost ? "-6 °C" : "12 °C", .frost = frost});
    }
};

}  // namespace

TEST_CASE("two of three bare homes and none of seventeen others: chance as counted by hand") {
    Street street;
    street.homes(17, "conforms");
    const auto one = street.home("");
    const auto two = street.home("does not conform");
    const auto third = street.home("does not conform");
    street.homes(5, "conforms");  // done in time
    street.call(one, "no-water", "2026-12-02");
    street.call(one, "burst", "2026-12-09");  // one home, twice
    street.call(two, "burst", "2026-12-10");
    const auto questions = complaint_questions(Columns{street.table}, links, season);
    REQUIRE(questions.size() == 1);
    const auto& question = questions.front();
    CHECK(question.check == "frost-cold-feed");
    CHECK(question.own == Tally{2, 3});
    CHECK(question.others == Tally{0, 22});
    CHECK(question.jobs == std::vector<std::string>{"J-17", "J-18"});
    CHECK(question.alike == std::vector<std::string>{street.table.jobs[third].job});
    const auto test = stratified_exact(question.strata);
    REQUIRE(test);
    // 3 over 2 ways of C(25, 2) = 300 to choose the two that call.
    CHECK(test->greater == doctest::Approx(3.0 / 300.0));
    CHECK(sentence_of(question, {}, test->greater) ==
          "Of 3 homes where \"frost-cold-feed\" had not been proved 2 called about what it guards against; of 22 where it had, 0. Chance alone: about 1 in "
          "100. Same streets, same kinds; all were done before the first of these calls, on 2026-12-02.");
    CHECK(advice_for(question) == "Look at the homes with the same gap before they call: J-19.");
}

TEST_CASE("a cure after the call takes nothing from the comparison, and a home that was looked at since is nobody's next call") {
    Street street;
    street.homes(40, "conforms");
    const auto one = street.home("");
    const auto two = street.home("");
    const auto third = street.home("");
    const auto fourth = street.home("");
    street.call(one, "no-water", "2026-12-02");
    street.call(two, "burst", "2026-12-10");
    const auto before = complaint_questions(Columns{street.table}, links, season);
    for (const auto& [home, day] : {std::pair{one, "2026-12-05"}, std::pair{third, "2026-12-08"}})
        street.table.results.push_back({.job = home, .check = "frost-cold-feed", .failed = false, .inconclusive = false, .corrected = false, .outcome = "conforms", .day = day});
    const auto after = complaint_questions(Columns{street.table}, links, season);
    REQUIRE(before.size() == 1);
    REQUIRE(after.size() == 1);
    CHECK(after.front().own == Tally{2, 4});
    CHECK(after.front().own == before.front().own);
    CHECK(after.front().others == before.front().others);
    CHECK(after.front().alike == std::vector<std::string>{street.table.jobs[fourth].job});
}

TEST_CASE("a home done after the first call, a call without frost, and another symptom count for nothing") {
    Street street;
    street.homes(12, "conforms");
    const auto bare = street.home("");
    street.call(bare, "no-water", "2026-12-02", false);
    street.call(bare, "noise", "2026-12-02");
    CHECK(complaint_questions(Columns{street.table}, links, season).empty());
    street.call(bare, "no-water", "2026-07-14");  // the sixth home was done two days before, the ninth on that day
    const auto questions = complaint_questions(Columns{street.table}, links, season);
    CHECK(questions.empty());  // the bare one itself was done later
    street.call(0, "no-water", "2026-12-03");
    street.table.complaints[2].day = "2026-12-01";
    const auto later = complaint_questions(Columns{street.table}, links, season);
    REQUIRE(later.size() == 1);
    CHECK(later.front().others == Tally{1, 12});
}

TEST_CASE("two calls from bare homes are a finding, one is not, and calls of homes in order are none") {
    const auto found = [](int bare_calls, int other_calls) {
        Street street;
        street.homes(120, "conforms");
        std::vector<std::size_t> bare;
        for (int i = 0; i < 3; ++i) bare.push_back(street.home(""));
        for (int i = 0; i < bare_calls; ++i) street.call(bare[static_cast<std::size_t>(i)], "no-water", "2026-12-02");
        for (int i = 0; i < other_calls; ++i) street.call(static_cast<std::size_t>(i), "no-water", "2026-12-02");
        FindingRule rule;
        rule.first_day = season.first_day;
        rule.last_day = season.last_day;
        rule.links = links;
        return findings_of(Columns{street.table}, {}, rule);
    };
    const auto two = found(2, 0);
    REQUIRE(two.size() == 1);
    CHECK(two.front().kind == "complaints and check");
    CHECK(two.front().check == "frost-cold-feed");
    CHECK(two.front().jobs.size() == 2);
    CHECK(two.front().q <= 0.02);
    CHECK(found(1, 0).empty());
    CHECK(found(0, 3).empty());
}

TEST_CASE("a complaint leads to the commissioning and the survey before it, and to what was never proved there") {
    Street street;
    street.homes(12, "conforms");
    const auto survey = street.table.jobs.size();
    JobCard card = street.table.jobs.front();
    card.job = "J-survey";
    card.kind = "survey";
    street.table.jobs.push_back(card);
    street.table.results.push_back({.job = survey, .check = "frost-fit", .failed = false, .inconclusive = false, .corrected = false, .outcome = "conforms", .day = card.day});
    const auto bare = street.home("");
    street.table.jobs[bare].after = "J-survey";
    const auto visit = street.home("");
    street.table.jobs[visit].kind = "service";
    street.table.jobs[visit].after = street.table.jobs[bare].job;
    street.call(visit, "no-water", "2026-12-02");
    street.call(0, "no-water", "2026-11-02");
    street.table.complaints.back().closed = "2026-11-05";
    const Columns columns{street.table};
    const auto traces = complaint_traces(columns, links, "2026-11-30", "2026-12-06");
    REQUIRE(traces.size() == 1);
    CHECK(traces.front().survey == "J-survey");
    CHECK(traces.front().commissioning == street.table.jobs[bare].job);
    REQUIRE(traces.front().unproved.size() == 1);
    CHECK(traces.front().unproved.front().check == "frost-cold-feed");
    CHECK(traces.front().unproved.front().what == "never read");
    // What was read after the call could not have caught it, and tells nobody that it was in order; no more does a day's reading of
    // the visit itself.
    for (const char* day : {"2026-12-02", "2026-12-04"}) {
        auto read_late = street.table;
        read_late.results.push_back({.job = bare, .check = "frost-cold-feed", .failed = false, .inconclusive = false, .corrected = false, .outcome = "conforms", .day = day});
        const auto late = complaint_traces(Columns{read_late}, links, "2026-11-30", "2026-12-06");
        REQUIRE(late.size() == 1);
        REQUIRE(late.front().unproved.size() == 1);
        CHECK(late.front().unproved.front().what == "read only after the call");
    }
    auto in_time = street.table;
    in_time.results.push_back({.job = bare, .check = "frost-cold-feed", .failed = false, .inconclusive = false, .corrected = false, .outcome = "conforms", .day = "2026-12-01"});
    CHECK(complaint_traces(Columns{in_time}, links, "2026-11-30", "2026-12-06").front().unproved.empty());
    // Open ones stay on the list, the week of a closed one alone shows it.
    CHECK(complaint_traces(columns, links, "2026-12-14", "2026-12-20").size() == 1);
    CHECK(complaint_traces(columns, links, "2026-11-02", "2026-11-08").size() == 1);
    CHECK(complaint_traces(columns, links, "2026-10-05", "2026-10-11").empty());
}

TEST_CASE("calls after frost from homes taken for free of it lead to the survey of the street") {
    Street street;
    street.homes(8, "conforms", "regular", "Millpond Hollow");
    const auto mild = street.home("", "none", "Millpond Hollow");
    (void)street.home("", "none", "Millpond Hollow");
    street.call(mild, "burst", "2026-12-02");
    const ObservationSpan span{.first_day = season.first_day, .last_day = "2026-12-06", .first_recent_day = "2026-10-12", .first_day_of_week = "2026-11-30", .links = links};
    const auto asked = surveys_behind_complaints(Columns{street.table}, links, span);
    REQUIRE(asked.size() == 1);
    CHECK(asked.front().subject == "Millpond Hollow");
    CHECK(asked.front().jobs == std::vector<std::string>{"J-08"});
    // One of two beside none of eight: 2 · C(8, 0) of C(10, 1) = 10 ways, one in five.
    CHECK(asked.front().sentence ==
          "Calls after frost in Millpond Hollow: -6 °C at J-08. Surveyed as \"none\" for frost, and the neighbours as colder. Of 2 homes taken "
          "for \"none\" 1 have called, of 8 neighbours 0. Chance alone: about 1 in 5.");
    CHECK(asked.front().what_to_do.ends_with("also: J-09."));
    // A home taken for what its neighbours are leads to no survey; nor does a call of an earlier week.
    Street alike;
    alike.homes(8, "conforms", "regular", "Millpond Hollow");
    alike.call(0, "burst", "2026-12-02");
    CHECK(surveys_behind_complaints(Columns{alike.table}, links, span).empty());
    auto later = span;
    later.last_day = "2026-12-20";
    later.first_day_of_week = "2026-12-14";
    CHECK(surveys_behind_complaints(Columns{street.table}, links, later).empty());
}

}  // namespace wm::audit
