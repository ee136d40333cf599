#include "audit/visit_worth.hpp"

#include <doctest/doctest.h>

namespace wm::audit {

TEST_CASE("what clean visits leave possible, counted by hand") {
    // Two of twelve drawn without return are both in order in C(12 - D, 2) of C(12, 2) = 66 ways: 6 for D = 8, 3 for D = 9, and
    // 5 % of 66 is 3.3. One of twenty: 1 in 20 for D = 19.
    CHECK(most_wanting(12, 2) == 8);
    CHECK(most_wanting(12, 1) == 11);
    CHECK(most_wanting(20, 1) == 19);
    CHECK(most_wanting(19, 1) == 18);
    CHECK(most_wanting(5, 5) == 0);
    CHECK_FALSE(most_wanting(5, 6));
    CHECK_FALSE(most_wanting(5, 0));
    CHECK(narrowed_by_clean_visit(12, 2) == "if it is in order, at most 8 of the week's 12 jobs are not (95 %), instead of 11");
    CHECK(narrowed_by_clean_visit(1, 1) == "if it is in order, at most 0 of the week's 1 jobs are not (95 %), instead of 1");
    CHECK(narrowed_by_clean_visit(0, 1).empty());
}

TEST_CASE("every further clean visit leaves fewer possible") {
    for (std::int64_t lot = 1; lot <= 40; ++lot)
        for (std::int64_t visits = 2; visits <= lot; ++visits) CHECK(*most_wanting(lot, visits) <= *most_wanting(lot, visits - 1));
}

TEST_CASE("one more try moves the interval of a finding as it comes out") {
    Finding finding;
    finding.kind = "crew and check";
    finding.own = {9, 31};
    // statsmodels proportion_confint(…, method="wilson"): 9 in 31 0.1610 to 0.4659, 10 in 32 0.1796 to 0.4857, 9 in 32 0.1555 to 0.4537.
    CHECK(narrowed_by_one_more(finding) == "the share of 9 in 31, likely 16 to 47 %, becomes 16 to 45 % if it is in order now, 18 to 49 % if not (95 %)");
    finding.kind = "instrument drift";
    CHECK(narrowed_by_one_more(finding).empty());
    finding.kind = "crew and check";
    finding.own = {0, 0};
    CHECK(narrowed_by_one_more(finding).empty());
}

TEST_CASE("one answer leaves much open: in order in one of one is up to 79 % wanting") {
    Observation question;
    CHECK(narrowed_by_answer(question).empty());
    question.jobs = {"J-1", "J-2", "J-3"};
    // Wilson, 0 of 1: z² / (1 + z²) with z = 1.96 is 0.793.
    CHECK(narrowed_by_answer(question) == "of these 3 jobs nobody knows how many are wanting, 0 to 100 %; if this one is in order, 0 to 79 % (95 %)");
}

}  // namespace wm::audit
