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

TEST_CASE("a judgement tells reading, limit and uncertainty, and what they mean for the person who reads it") {
    const NumberWords words{"5.5 mm", "at least 5.0 mm", "5.0 mm", "", "1.0 mm"};
    using measure::Reason;
    const auto said = [&](Reason reason, const NumberWords& of) {
        measure::Judgement judgement;
        judgement.reason = reason;
        return reason_in_words(judgement, of);
    };
    CHECK(said(Reason::InGuardStrip, words) ==
          "5.5 mm reads as allowed, at least 5.0 mm, but lies too close to the limit for this instrument: the reading may be "
          "off by its uncertainty of 1.0 mm. Measure with a finer one; if there is none, treat it as not conforming.");
    for (const auto reason : {Reason::InsideGuarded, Reason::InGuardStrip, Reason::InsideSimple, Reason::TooCoarse,
                              Reason::EmptyAcceptance}) {
        const auto sentence = said(reason, words);
        CAPTURE(sentence);
        for (const auto* kept : {"5.5 mm", "at least 5.0 mm", "uncertainty of 1.0 mm", "off by"})
            CHECK(sentence.find(kept) != std::string::npos);
        for (const auto* learned : {"guarded", "decision", "doubt", "tolerance"})
            CHECK(sentence.find(learned) == std::string::npos);
    }
    const NumberWords counted{"4 pieces", "at least 4 pieces", "4 pieces", "", ""};
    for (const auto reason : {Reason::InsideGuarded, Reason::InsideSimple})
        CHECK(said(reason, counted) == "4 pieces keeps to what is allowed, at least 4 pieces.");
}

}  // namespace wm::checklist
