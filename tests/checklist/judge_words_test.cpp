#include "checklist/judge_words.hpp"

#include <doctest/doctest.h>

#include "checklist/testing.hpp"

namespace wm::checklist {

TEST_CASE("a condition is said with what its facts mean and what they are here") {
    const auto e = Expression::parse("sys.mount is not 'ballast' and site.wind_ms at least 30 m/s");
    REQUIRE(e);
    const auto facts = testing::facts_with({{"sys.mount", "roof hook"}});
    CHECK(condition_in_words(*e, facts) ==
          "way of mounting is not ballast and peak gust of the place is at least 30 m/s (way of "
          "mounting: roof hook; peak gust of the place: not known)");
}

TEST_CASE("what is missing is said with meaning and key") {
    CHECK(missing_in_words({{"site.t_min_c"}, {"sun-window"}, ""}) ==
          "Still to be known: lowest air temperature in 20 years (site.t_min_c) and the check "
          "sun-window.");
    CHECK(missing_in_words({{}, {}, "a division by zero"}) ==
          "It cannot be worked out: a division by zero.");
    CHECK(missing_in_words({}).empty());
}

TEST_CASE("a derivation names facts, formula and result") {
    const auto facts = testing::facts_with({{"site.t_min_c", "-13"}});
    const Library library;
    const Context context{facts, library, "2027-03-04", {}, {}, {}, {}};
    const auto e = Expression::parse("reading at most d.fpt_need_c");
    REQUIRE(e);
    CHECK(derivation_of(*e, {context, {}, nullptr}) ==
          std::vector<std::string>{"lowest air temperature in 20 years = -13 °C",
                                   "freezing point needed = lowest air temperature − 5 K = -18 °C",
                                   "tolerance: reading is at most freezing point needed"});
}

TEST_CASE("each reason of the decision rule has its own sentence") {
    const NumberWords words{"20 mm", "at least 5 mm", "5 mm", "", "1 mm"};
    using measure::Reason;
    for (const auto reason :
         {Reason::InsideGuarded, Reason::InGuardStrip, Reason::BelowLow, Reason::AboveHigh,
          Reason::InsideSimple, Reason::TooCoarse, Reason::EmptyAcceptance, Reason::NoLimit}) {
        measure::Judgement judgement;
        judgement.reason = reason;
        const auto sentence = reason_in_words(judgement, words);
        CHECK(sentence.starts_with("20 mm "));
        CHECK(sentence.ends_with("."));
    }
}

}  // namespace wm::checklist
